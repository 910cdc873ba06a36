package cli

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/debrief"
	"crankbay/sim/unit"
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

func writeDebrief(w io.Writer, d *debriefed) error {
	fmt.Fprintf(w, "\nWhat was inside: %s\n", faultWords(d.Truth.Faults))
	fmt.Fprintln(w, "\nReadings against what there was (last stroke, psi)")
	t := table{head: []string{"cylinder", "test", "written", "dial", "needle", "in the hose", "highest inside", "by the book"}}
	for _, r := range d.Readings {
		test := "dry"
		if r.Wet {
			test = "wet"
		}
		if r.Run == 0 {
			t.add(fmt.Sprint(r.Cylinder), test, "", "not taken", "", "", "", psi(r.Book))
			continue
		}
		written := "nothing"
		if r.Written != nil {
			written = psi(*r.Written)
		}
		t.add(fmt.Sprint(r.Cylinder), test, written, psi(r.Shown), psi(r.Needle), psi(r.Hose), psi(r.Peak), psi(r.Book))
	}
	if err := t.write(w); err != nil {
		return err
	}
	writeMistakes(w, d.Mistakes)
	if d.Inside != nil {
		writeInside(w, *d.Inside)
	}
	writePlan(w, d.Plan)
	return nil
}

func psi(pa float64) string { return fmt.Sprintf("%.1f", unit.Gauge(pa).PSI()) }

// plainWords makes a key readable.
func plainWords(key string) string { return strings.ReplaceAll(key, "_", " ") }

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
	if len(out) == 0 {
		return "nothing wrong with the engine"
	}
	return strings.Join(out, "; ")
}

// writeInside says where the gas of a cylinder went between bottom and top.
func writeInside(w io.Writer, in debrief.Inside) {
	fmt.Fprintf(w, "\nWhere the gas of cylinder %d went, tested by the book: it reached %s psi, a sound engine %s\n", in.Cylinder, psi(in.PeakPa), psi(in.SoundPeakPa))
	for _, l := range in.Losses {
		if math.Abs(l.Share) >= 0.001 || math.Abs(l.Sound) >= 0.001 {
			fmt.Fprintf(w, "  %s: %.1f %%, sound %.1f %%\n", l.Path, 100*l.Share, 100*l.Sound)
		}
	}
	if in.Lost {
		fmt.Fprintf(w, "  half of the loss had gone %.0f° before the top\n", -in.LostDeg)
	}
}

// effectsShown is how many readings of one mistake the text names.
const effectsShown = 4

func writeMistakes(w io.Writer, m debrief.Mistakes) {
	fmt.Fprintln(w, "\nWhat mistakes did to the readings (each played again without it)")
	if len(m.List) == 0 {
		fmt.Fprintln(w, "  none found")
	}
	for _, x := range m.List {
		note := ""
		if x.Corrected {
			note = ", done again without it"
		}
		fmt.Fprintf(w, "  %s (%.0f min%s)\n", plainWords(x.Key), x.Minutes, note)
		for i, e := range x.Effects {
			if i == effectsShown {
				fmt.Fprintf(w, "    and %d more\n", len(x.Effects)-i)
				break
			}
			fmt.Fprintf(w, "    %s\n", effectLine(e))
		}
		if len(x.Effects) == 0 {
			fmt.Fprintln(w, "    changed nothing that can be read")
		}
		if v := x.Verdict; v != nil {
			fmt.Fprintf(w, "    rule %s: %s, without it %s\n", v.Before.Rule, kept(v.Before.Passed), kept(v.After.Passed))
		}
	}
}

func kept(passed bool) string {
	if passed {
		return "kept"
	}
	return "not kept"
}

func effectLine(e debrief.Effect) string {
	where := "whole engine"
	if e.Cylinder > 0 {
		where = fmt.Sprintf("cylinder %d", e.Cylinder)
	}
	if e.Unit == "%" {
		return fmt.Sprintf("%s, %s: %.0f %%, without it %.0f %% (%+.0f)", where, e.On, e.Before, e.After, e.Delta)
	}
	s := fmt.Sprintf("%s, %s: %s psi, without it %s (%+.1f)", where, e.On, psi(e.Before), psi(e.After), unit.Gauge(e.Delta).PSI())
	if e.Delta == 0 {
		s = fmt.Sprintf("%s, %s: %s psi either way", where, e.On, psi(e.Before))
	}
	if e.FirstDelta != 0 {
		s += fmt.Sprintf("; first stroke %s, without it %s (%+.1f)", psi(e.FirstBefore), psi(e.FirstAfter), unit.Gauge(e.FirstDelta).PSI())
	}
	return s
}

func writePlan(w io.Writer, p debrief.Plan) {
	fmt.Fprintln(w, "\nThe cheapest tests that would have told it, after a dry test by the card")
	if len(p.Rivals) == 0 {
		fmt.Fprintln(w, "  none needed: nothing else on the list reads the same")
		return
	}
	fmt.Fprintf(w, "  reads the same: %s\n", rivalWords(p, nil))
	for _, s := range p.Steps {
		fmt.Fprintf(w, "  %s, %.0f min: rules out %s\n", plainWords(s.Test), s.Minutes, rivalWords(p, s.RulesOut))
		for _, x := range s.Shows {
			fmt.Fprintf(w, "    %s\n", shownLine(x))
		}
	}
	if len(p.Left) > 0 {
		fmt.Fprintf(w, "  no test on the list rules out %s\n", rivalWords(p, p.Left))
	}
	fmt.Fprintf(w, "  %.0f min in all; your tests (%s) took %.0f min by the same list and left open: %s\n",
		p.Minutes, orNone(plainWords(strings.Join(p.Yours.Tests, ", "))), p.Yours.Minutes, rivalWords(p, p.Yours.Open))
}

func shownLine(x debrief.Shown) string {
	s := plainWords(x.Name)
	if x.Cylinder > 0 {
		s += fmt.Sprintf(" of cylinder %d", x.Cylinder)
	}
	if x.Unit != "" {
		s += fmt.Sprintf(": %.0f %s", math.Round(x.Value), x.Unit)
	}
	return s + " (" + orNone(plainWords(x.Means)) + ")"
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// rivalWords names rivals by their first fault; all of them when the list is nil.
func rivalWords(p debrief.Plan, list []int) string {
	var out []string
	for i, r := range p.Rivals {
		if list != nil && !slices.Contains(list, i) {
			continue
		}
		if len(r.Faults) == 0 {
			out = append(out, plainWords(r.Family))
			continue
		}
		out = append(out, plainWords(r.Faults[0].Kind))
	}
	return orNone(strings.Join(out, ", "))
}
