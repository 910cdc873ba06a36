package cli

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"crankbay/diagnose/report"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/debrief"
	"crankbay/sim/unit"
	"crankbay/web/strings/words"
)

// debriefed is what `verify --debrief` prints besides the grade: the facts that the
// page's Debrief shows.
type debriefed struct {
	Truth    debrief.Truth     `json:"truth"`
	Readings []debrief.Reading `json:"readings"`
	Mistakes debrief.Mistakes  `json:"mistakes"`
	Plan     debrief.Plan      `json:"plan"`
	Inside   *debrief.Inside   `json:"inside,omitempty"` // of the first cylinder of the answer, by the book
	Timeline []debrief.Event   `json:"timeline"`
	Runs     []debrief.Run     `json:"runs"`
}

// debriefOf works everything out.
func debriefOf(v attempt.Report) (*debriefed, error) {
	facts, err := debrief.Of(v)
	if err != nil {
		return nil, err
	}
	mistakes, err := debrief.MistakesOf(v, nil)
	if err != nil {
		return nil, err
	}
	plan, err := debrief.PlanOf(v, nil)
	if err != nil {
		return nil, err
	}
	inside, err := debrief.InsideOf(v, suspect(facts.Truth), 0)
	out := &debriefed{facts.Truth, facts.Readings, mistakes, plan, &inside, facts.Timeline, facts.Runs}
	switch {
	case errors.Is(err, debrief.ErrNoTurn):
		out.Inside = nil
	case err != nil:
		return nil, err
	}
	return out, nil
}

// suspect is the cylinder to look into: the first of the answer, else the lowest.
func suspect(t debrief.Truth) int {
	if len(t.Key.Cylinders) > 0 {
		return t.Key.Cylinders[0]
	}
	low := t.Readings[0]
	for _, r := range t.Readings {
		if r.FinalPSI < low.FinalPSI {
			low = r
		}
	}
	return low.Cylinder
}

// writeDebrief says it in the sentences of the page.
func writeDebrief(out io.Writer, d *debriefed, lang words.Words) error {
	w := teller{out, lang, report.NewPrinter(lang)}
	w.title("inside")
	for _, f := range d.Truth.Faults {
		w.line(w.fault(f, true))
	}
	if len(d.Truth.Faults) == 0 {
		w.line(lang.Say("fault.none"))
	}
	w.title("readings")
	w.line(lang.Say("debrief.readings.caption", "unit", "psi"))
	t := table{head: []string{lang.Say("column.cylinder")}}
	for _, c := range []string{"written", "dial", "hose", "peak", "book"} {
		t.head = append(t.head, lang.Say("debrief.column."+c))
	}
	for _, r := range d.Readings {
		who := fmt.Sprint(r.Cylinder)
		if r.Wet {
			who = lang.Say("debrief.readings.wet", "cylinder", r.Cylinder)
		}
		written := "-"
		if r.Written != nil {
			written = psi(*r.Written)
		}
		if r.Run == 0 {
			t.add(who, written, lang.Say("debrief.readings.never"), "-", "-", psi(r.Book))
			continue
		}
		t.add(who, written, psi(r.Shown), psi(r.Hose), psi(r.Peak), psi(r.Book))
	}
	if err := t.write(out); err != nil {
		return err
	}
	w.mistakes(d.Mistakes, slices.ContainsFunc(d.Readings, func(r debrief.Reading) bool { return r.Run > 0 }))
	if d.Inside != nil {
		w.inside(*d.Inside)
	}
	w.plan(d.Plan)
	return nil
}

func psi(pa float64) string { return fmt.Sprintf("%.1f", unit.Gauge(pa).PSI()) }

// plainWords makes a key readable.
func plainWords(key string) string { return strings.ReplaceAll(key, "_", " ") }

// faultWords names faults for a list of variants.
func faultWords(list []scenarios.Fault) string {
	var out []string
	for _, f := range list {
		s := plainWords(f.Kind)
		switch {
		case f.Cylinder > 0:
			s += fmt.Sprintf(" on cylinder %d", f.Cylinder)
		case len(f.Cylinders) > 0:
			s += fmt.Sprintf(" %d and %d", f.Cylinders[0], f.Cylinders[1])
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// A teller writes a debrief in one language.
type teller struct {
	out  io.Writer
	lang words.Words
	p    *report.Printer
}

func (w teller) title(part string) { fmt.Fprintf(w.out, "\n%s\n", w.lang.Say("debrief.part."+part)) }

func (w teller) line(says ...string) { fmt.Fprintln(w.out, " ", strings.Join(says, " ")) }

func (w teller) minutes(m float64) string {
	return w.lang.Say("time.minutes", "m", fmt.Sprintf("%.0f", m))
}

// fault says one fault, with where it is unless that is known.
func (w teller) fault(f scenarios.Fault, place bool) string {
	list := f.Cylinders
	if f.Cylinder > 0 {
		list = []int{f.Cylinder}
	}
	if f.Kind != scenarios.CamTiming {
		s := w.lang.Say("fault." + f.Kind)
		if place && len(list) > 0 {
			s += ", " + w.p.Place(list)
		}
		return s
	}
	key := "fault.cam_timing.late"
	if f.TeethLate < 0 {
		key = "fault.cam_timing.early"
	}
	s := w.lang.Say(key, "n", max(f.TeethLate, -f.TeethLate), "cam", w.lang.Say("cam."+f.Cam))
	switch {
	case place && f.Bank > 0:
		s += ", " + w.lang.Say("fault.bank", "bank", f.Bank)
	case place:
		s += ", " + w.lang.Say("cylinders.all")
	}
	return s
}

// inside says where the gas of a cylinder went between bottom and top.
func (w teller) inside(in debrief.Inside) {
	fmt.Fprintf(w.out, "\n%s, %s\n", w.lang.Say("cylinder", "cylinder", in.Cylinder), w.lang.Say("debrief.inside.book"))
	peak, sound := psi(in.PeakPa)+" psi", psi(in.SoundPeakPa)+" psi"
	switch {
	case in.Lost && len(in.Losses) > 0:
		most := slices.MaxFunc(in.Losses, func(a, b debrief.Loss) int { return cmp.Compare(a.Share-a.Sound, b.Share-b.Sound) })
		w.line(w.lang.Say("debrief.lost", "peak", peak, "sound", sound, "deg", fmt.Sprintf("%.0f", math.Abs(in.LostDeg)),
			"path", w.lang.Say("path."+most.Path), "share", fmt.Sprintf("%.0f", 100*(most.Share-most.Sound))))
	case math.Abs(in.PeakPa-in.SoundPeakPa) < 0.03*in.SoundPeakPa:
		w.line(w.lang.Say("debrief.lost.nothing", "peak", peak, "sound", sound))
	default:
		w.line(w.lang.Say("debrief.lost.elsewhere", "peak", peak, "sound", sound))
	}
	w.line(w.lang.Say("debrief.losses.caption"))
	for _, l := range in.Losses {
		if math.Abs(l.Share) >= 0.001 || math.Abs(l.Sound) >= 0.001 {
			w.line(fmt.Sprintf("  %s: %.1f %% (%s %.1f %%)", w.lang.Say("path."+l.Path), 100*l.Share, lowerFirst(w.lang.Say("debrief.column.sound")), 100*l.Sound))
		}
	}
}

// effectsShown is how many readings of one mistake the text names.
const effectsShown = 4

func (w teller) mistakes(m debrief.Mistakes, read bool) {
	w.title("mistakes")
	switch {
	case len(m.List) > 0:
	case !read:
		w.line(w.lang.Say("debrief.mistakes.unread"))
	default:
		w.line(w.lang.Say("debrief.mistakes.none"))
	}
	for _, x := range m.List {
		w.line(w.p.Fill(w.lang.Say("mistake."+x.Key), x.Facts))
		when := w.lang.Say("debrief.when", "time", w.p.Duration(x.Minutes))
		if x.Corrected {
			when += ", " + w.lang.Say("debrief.mistakes.corrected")
		}
		w.line("  (" + when + ")")
		for i, e := range x.Effects {
			if i == effectsShown {
				w.line("  " + w.lang.Say("debrief.mistakes.all", "n", len(x.Effects)) + " …")
				break
			}
			w.line("  " + w.effect(e))
		}
		if len(x.Effects) == 0 {
			w.line("  " + w.lang.Say("effect.none"))
		}
		if v := x.Verdict; v != nil {
			key := "effect.turned.in"
			if v.Before.Passed {
				key = "effect.turned.out"
			}
			w.line("  " + w.lang.Say(key, "rule", w.lang.Say("limit."+v.Before.Rule)))
		}
	}
}

// effect says what a mistake did to one reading.
func (w teller) effect(e debrief.Effect) string {
	value := func(v float64) string {
		if e.Unit == "%" {
			return fmt.Sprintf("%.0f %%", v)
		}
		if e.On == "vacuum" {
			return fmt.Sprintf("%.1f kPa", v/1000)
		}
		return psi(v) + " psi"
	}
	what := w.lang.Say("effect.on."+e.On, "cylinder", e.Cylinder)
	first := func(key string) string {
		return w.lang.Say(key, "what", what, "before", value(e.FirstBefore), "after", value(e.FirstAfter))
	}
	if e.Delta == 0 {
		return first("effect.first.only")
	}
	key := "effect.added"
	if e.Delta < 0 {
		key = "effect.cost"
	}
	s := w.lang.Say(key, "delta", value(math.Abs(e.Delta)), "what", what, "before", value(e.Before), "after", value(e.After))
	if e.FirstDelta != 0 {
		s += " " + first("effect.first")
	}
	return s
}

func (w teller) plan(p debrief.Plan) {
	w.title("plan")
	if len(p.Rivals) == 0 {
		w.line(w.lang.Say("debrief.plan.none"))
		return
	}
	w.line(w.lang.Say("debrief.plan.shape."+p.Shape, "n", len(p.Suspects), "where", w.p.Place(p.Suspects)), w.lang.Say("debrief.plan.rivals", "list", w.rivals(p, nil)))
	for _, s := range p.Steps {
		head := upperFirst(w.test(s.Test)) + ", " + w.minutes(s.Minutes)
		if s.Test == debrief.TestDry {
			head = w.lang.Say("debrief.plan.dry")
		}
		w.line(head + ". " + w.ruledOut(p, s))
		for _, x := range s.Shows {
			if says := w.shown(x); says != "" {
				w.line("  " + says)
			}
		}
	}
	if len(p.Left) > 0 {
		w.line(w.lang.Say("debrief.plan.left", "list", w.rivals(p, p.Left)))
		for _, test := range p.Elsewhere {
			w.line(w.lang.Say("debrief.plan.elsewhere", "test", w.test(test)))
		}
	}
	if p.Minutes > 0 {
		w.line(w.lang.Say("debrief.plan.sum", "time", w.minutes(p.Minutes)))
	}
	mine := w.tests(p.Yours.Tests)
	if len(mine) == 0 {
		mine = []string{w.lang.Say("debrief.plan.yours.none")}
	}
	w.line(w.lang.Say("debrief.plan.yours", "list", w.p.And(mine), "time", w.minutes(p.Yours.Minutes)))
	if nothing := w.tests(p.Yours.Nothing); len(nothing) > 0 {
		w.line(w.lang.Say("debrief.plan.nothing.yours", "list", w.p.And(nothing)))
	}
	w.line(w.lang.Say("debrief.plan."+p.Yours.Verdict, "list", w.rivals(p, p.Yours.Open), "next", w.test(p.Yours.Next)))
}

func (w teller) tests(list []string) []string {
	var out []string
	for _, test := range list {
		out = append(out, w.test(test))
	}
	return out
}

func (w teller) test(test string) string {
	switch test {
	case "":
		return ""
	case debrief.TestDry:
		return w.lang.Say("debrief.plan.dry.short")
	}
	return lowerFirst(w.lang.Say("next." + test))
}

func (w teller) ruledOut(p debrief.Plan, s debrief.Step) string {
	switch {
	case len(s.RulesOut) == 0:
		return w.lang.Say("debrief.plan.nothing")
	case len(s.RulesOut) == len(p.Rivals) && len(p.Rivals) > 1:
		return w.lang.Say("debrief.plan.out.all")
	}
	return w.lang.Say("debrief.plan.out", "list", w.rivals(p, s.RulesOut))
}

// shown says what a test shows on this engine; empty for a speed as it should be.
func (w teller) shown(x debrief.Shown) string {
	key := "shown." + x.Name + "." + x.Means
	if x.Unit == "" && x.Means != "" && !w.lang.Has(key) {
		var out []string
		for _, f := range strings.Fields(x.Means) {
			if w.lang.Has("fact." + f) {
				out = append(out, w.lang.Say("fact."+f, "cylinder", max(x.Cylinder, 1)))
			}
		}
		return strings.Join(out, " ")
	}
	if !w.lang.Has(key) {
		return ""
	}
	digits := 0
	if x.Unit == "mm" {
		digits = 2
	}
	return w.lang.Say(key, "cylinder", x.Cylinder, "value", fmt.Sprintf("%.*f %s", digits, math.Abs(x.Value), x.Unit))
}

// rivals names rivals by their first fault, each once; all of them when the list is nil.
func (w teller) rivals(p debrief.Plan, list []int) string {
	var out []string
	for i, r := range p.Rivals {
		if list != nil && !slices.Contains(list, i) {
			continue
		}
		s := ""
		switch {
		case len(r.Faults) > 0:
			s = w.fault(r.Faults[0], false)
		case w.lang.Has("noun." + r.Family):
			s = w.lang.Say("noun." + r.Family)
		default:
			s = w.lang.Say("family." + r.Family)
		}
		if s = lowerFirst(s); !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return w.p.And(out)
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}
