package script

import (
	"errors"
	"fmt"
	"strings"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Run plays a script on its scenario. The error names the line.
func Run(s Script, find attempt.Lookup) (*attempt.Session, error) {
	scenario := find(s.Scenario)
	if scenario == nil {
		return nil, fmt.Errorf("script: scenario %q is not known", s.Scenario)
	}
	a, err := attempt.New(scenario, attempt.Header{Mode: s.Mode, Who: s.Who})
	if err != nil {
		return nil, err
	}
	h := &hands{a: a, s: scenario}
	for _, l := range s.lines {
		if err := h.line(l); err != nil {
			return a, fmt.Errorf("script: line %d: %w", l.number, err)
		}
	}
	return a, nil
}

// Compile parses and runs a script.
func Compile(text string, find attempt.Lookup) (*attempt.Session, error) {
	s, err := Parse(text)
	if err != nil {
		return nil, err
	}
	return Run(s, find)
}

// hands does actions until one is refused.
type hands struct {
	a   *attempt.Session
	s   *scenarios.Scenario
	err error
}

func (h *hands) act(a record.Action) {
	if h.err != nil {
		return
	}
	if err := h.a.Do(a); err != nil {
		h.err = fmt.Errorf("%s %s (cylinder %d): %w", a.Kind, a.Choice, a.Cylinder, err)
	}
}

func (h *hands) do(kind, choice string) { h.act(record.Action{Kind: kind, Choice: choice}) }

func (h *hands) on(kind string, cylinder int, choice string) {
	h.act(record.Action{Kind: kind, Cylinder: cylinder, Choice: choice})
}

func (h *hands) number(kind string, number float64) {
	h.act(record.Action{Kind: kind, Number: number})
}

// line runs one line.
func (h *hands) line(l line) error {
	h.err = nil
	if l.words[0] == "remark" {
		h.act(record.Action{Kind: attempt.KindRemark, Text: l.rest})
		return h.err
	}
	if l.words[0] == "refused" {
		return h.refused(l)
	}
	w := &words{left: l.words}
	h.intent(w)
	if err := w.end(); err != nil {
		return err
	}
	return h.err
}

// refused runs the line after the colon and wants it refused for a reason.
func (h *hands) refused(l line) error {
	key, rest, _ := strings.Cut(l.rest, ":")
	list := strings.Fields(rest)
	if len(list) == 0 || list[0] == "refused" {
		return fmt.Errorf("a line follows \"refused KEY:\"")
	}
	err := h.line(line{l.number, list, strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(rest), list[0]))})
	var r *bench.Refusal
	switch {
	case err == nil:
		return fmt.Errorf("it was not refused")
	case !errors.As(err, &r):
		return err
	case r.Key != "refusal."+strings.TrimSpace(key):
		return fmt.Errorf("refused for %s", r.Key)
	}
	return nil
}

// intent reads one line and does what it means.
func (h *hands) intent(w *words) {
	first := w.next()
	switch first {
	case "prepare":
		h.prepare(w)
	case "write":
		h.write(w)
	case "tick":
		h.tick(w)
	case "heard":
		place := w.next()
		h.on(attempt.KindHeard, w.count(), place)
	case "conclude":
		h.conclude(w)
	case "sure":
		h.do(attempt.KindSure, w.next())
	case "because":
		for len(w.left) > 0 {
			h.do(attempt.KindEvidence, w.next())
		}
	case "next":
		h.do(attempt.KindNextTest, w.next())
	case "put":
		w.want("back")
		h.putBack()
	case "hand":
		w.want("in")
		h.do(attempt.KindHandIn, "")
	case "crank":
		h.crank(w)
	case "do":
		h.raw(w)
	default:
		if !h.test(first, w) {
			h.amount(first, w)
		}
	}
}

// test reads lines that are a confirming test, or lead to one.
func (h *hands) test(first string, w *words) bool {
	switch first {
	case "leakage":
		h.leakageTest(w)
	case "current":
		h.watched(bench.KindClamp, w)
	case "vacuum":
		h.watched(bench.KindVacuumGauge, w)
	case "running":
		h.runningTest(w)
	case "plugs":
		h.plugs(w)
	case "connect":
		h.connect(true)
	case "disconnect":
		h.connect(false)
	default:
		return false
	}
	return true
}

// amount reads lines that begin with a number: strokes and oil.
func (h *hands) amount(first string, w *words) {
	if w.take("ml") {
		ml, err := number(first)
		w.want("in")
		cylinder := w.count()
		if w.err = errors.Join(w.err, err); w.err == nil {
			h.act(record.Action{Kind: bench.KindOil, Cylinder: cylinder, Number: ml})
		}
		return
	}
	n, err := count(first)
	w.want("strokes", "on")
	cylinder := w.count()
	if err != nil {
		w.err = fmt.Errorf("%q is not understood", first)
	}
	parked, stay := w.take("as"), false
	if parked {
		w.want("parked")
	}
	if w.take("and") {
		w.want("stay")
		stay = true
	}
	if w.err == nil {
		h.strokes(n, cylinder, parked, stay)
	}
}

// raw does any action by its own words.
func (h *hands) raw(w *words) {
	a := record.Action{Kind: w.next()}
	for len(w.left) > 0 {
		switch {
		case len(w.left) > 1 && w.left[0] == "on" && w.left[1] != "number":
			w.want("on")
			a.Cylinder = w.count()
		case w.take("number"):
			a.Number = w.number()
		default:
			a.Choice = w.next() // also a last "on", as in "do glasses on"
		}
	}
	if w.err == nil {
		h.act(a)
	}
}
