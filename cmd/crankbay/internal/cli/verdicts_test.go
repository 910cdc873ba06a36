package cli_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/library"
	"crankbay/diagnose"
	"crankbay/diagnose/reason"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/sim/record"
)

// settled is what a careful technician does after the dry test of each engine, and what
// it rests on: the cylinder that is read once more, the tests that settle it, the
// evidence cited beside "dry spec", and how to put the answer.
//
// Steps: air, wet (first the suspects, then after + a healthy one), lash, bore, second,
// run with cylinders; marks, cool, clamp, vacuum of the whole engine.
var settled = map[string]struct{ repeat, steps, because, next string }{
	"burnt-exhaust-inline-four":            {"3", "air 3", "leakage", "lash"},
	"holed-piston-turbo":                   {"2", "air 2", "leakage", "none"},
	"not-compression-inline-five":          {"", "", "", "none"},
	"part-stroke-inline-five":              {"", "", "", "none"},
	"sound-inline-four":                    {"", "", "", "none"},
	"sound-inline-three":                   {"", "", "", "none"},
	"sound-odd-fire-v6":                    {"", "", "", "none"},
	"sound-old-inline-four":                {"", "", "", "none"},
	"sound-v6":                             {"", "", "", "none"},
	"sound-v8":                             {"", "", "", "none"},
	"weak-battery-inline-four":             {"", "", "speed voltage", "charge_battery"},
	"worn-rings-inline-four":               {"2", "wet 2 + 3", "wet", "leakage"},
	"all-rings-worn-inline-four":           {"1", "wet 1 2 3 4", "wet", "leakage"},
	"bank-late-flat-four":                  {"2", "air 2; air 4; marks 2", "leakage timing_marks", "none"},
	"bent-valves-inline-five":              {"2", "air 2; air 4", "leakage", "borescope"},
	"burnt-exhaust-v6":                     {"5", "air 5", "leakage", "lash"},
	"carbon-inline-four":                   {"1", "bore 1", "borescope", "none"},
	"cracked-head-v8-twin-cam":             {"7", "cool; air 7", "cooling_pressure leakage", "none"},
	"false-gain-inline-three":              {"2", "air 2", "leakage", "none"},
	"gasket-inline-four":                   {"2", "air 2", "leakage", "none"},
	"gasket-outside-single":                {"1", "air 1", "leakage", "none"},
	"gauge-reads-low-v6":                   {"1", "second 1", "second_gauge", "none"},
	"leaking-intake-inline-four":           {"2", "air 2", "leakage", "lash"},
	"needle-wanders-v8-twin-cam":           {"1", "second 1", "second_gauge", "none"},
	"no-start-v6":                          {"1", "air 1; marks", "leakage timing_marks", "none"},
	"pushrod-off-old-inline-four":          {"3", "lash 3", "lash", "none"},
	"slow-crank-old-inline-four":           {"", "", "speed voltage", "charge_battery"},
	"sound-atkinson-hybrid":                {"", "", "", "none"},
	"sound-high-mountain":                  {"", "", "", "none"},
	"sound-single":                         {"", "", "", "none"},
	"stood-odd-fire-v6":                    {"1", "wet 1 2 3 4 5 6", "wet", "repeat"},
	"stuck-ring-hybrid":                    {"3", "air 3", "leakage", "none"},
	"tester-at-overlap-flat-four":          {"", "air 1; air 2; air 3; air 4", "leakage", "none"},
	"throttle-closed-inline-four":          {"", "", "throttle", "none"},
	"throttle-closed-plugs-in-inline-four": {"", "", "throttle", "none"},
	"tight-lash-mountain":                  {"2", "air 2; lash 2", "leakage lash", "none"},
	"timing-late-inline-four":              {"1", "air 1; marks", "leakage timing_marks", "none"},
	"washed-inline-six":                    {"1", "look 1; wet 1 2 3 4 5 6", "wet plug_look", "repeat"},
	"bank-tight-flat-four":                 {"2", "lash 2; lash 4", "lash", "none"},
	"bank-two-late-v6":                     {"2", "air 2; marks 2", "leakage timing_marks", "none"},
	"broken-land-turbo":                    {"3", "air 3", "leakage", "borescope"},
	"dead-exhaust-v8":                      {"", "clamp", "current", "none"},
	"flake-v8-twin-cam":                    {"6", "air 6", "leakage", "none"},
	"gasket-neighbors-v8":                  {"5", "air 5", "leakage", "none"},
	"gasket-unequal-inline-six":            {"3", "air 3", "leakage", "none"},
	"liquid-hybrid":                        {"1", "bore 1", "borescope", "none"},
	"restricted-exhaust-v8-twin-cam":       {"", "run 1 2", "running", "back_pressure"},
	"scored-bore-inline-three":             {"1", "air 1", "leakage", "none"},
	"throttle-shut-over-burnt-inline-four": {"4", "air 4", "leakage throttle", "lash"},
	"timing-early-inline-four":             {"1", "marks", "timing_marks", "none"},
	"weak-spring-turbo":                    {"", "run 2 3", "running", "none"},
	"worn-lobe-v8":                         {"", "run 5 7", "running", "none"},
	"worn-rings-flat-four":                 {"3", "air 3", "leakage", "none"},
}

// byTheBook plays the dry test and what settles it, and puts the engine back.
func byTheBook(t *testing.T, s *scenarios.Scenario, confirm bool) *attempt.Session {
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	n := (s.Card.StrokesMin + s.Card.StrokesMax) / 2
	line("scenario %s\nmode grade\nprepare\nwrite spec", s.ID)
	for c := 1; c <= s.Engine.Cylinders; c++ {
		line("%d strokes on %d\nwrite dry %d", n, c, c)
	}
	line("write speed\nwrite voltage\nwrite temperature\nwrite throttle")
	plan := settled[s.ID]
	if plan.repeat != "" {
		line("%d strokes on %s\nwrite repeat %s", n, plan.repeat, plan.repeat)
	}
	if confirm {
		for _, step := range strings.Split(plan.steps, ";") {
			if w := strings.Fields(step); len(w) > 0 {
				stepLines(line, s, n, w[0], w[1:])
			}
		}
	}
	line("tick all\nput back")
	a, err := script.Compile(b.String(), scenarios.Find)
	require.NoError(t, err, b.String())
	return a
}

func stepLines(line func(string, ...any), s *scenarios.Scenario, n int, step string, cylinders []string) {
	switch step {
	case "marks":
		line("do timing-check")
		return
	case "cool":
		line("do cooling-pressure")
		return
	case "clamp":
		line("plugs in\ndo plug-torque\ncurrent for 5 s\nwrite humps")
		return
	}
	for i, c := range cylinders {
		switch step {
		case "air":
			line("leakage on %s\nwrite leakage %s", c, c)
		case "wet":
			if c != "+" {
				line("%g ml in %s\n%d strokes on %s\nwrite wet %s\nwrite oil %s", s.Card.OilML, c, n, c, c, c)
			}
		case "lash":
			line("do lash-check on %s", c)
		case "bore":
			line("do borescope on %s", c)
		case "look":
			line("do plug-look on %s", c)
		case "second":
			line("do gauge %s\ndo gauge-prove\n%d strokes on %s\nwrite second %s", s.Tools.Gauges[1].ID, n, c, c)
		case "run":
			if i == 0 {
				line("do throttle shut\nplugs in but %s\ndo plug-torque\nconnect\nrunning on %s\nwrite running %s\ndo plug-in hand on %s\ndo plug-torque", c, c, c, c)
			} else {
				line("do plug-out ordered on %s\nrunning on %s\nwrite running %s", c, c, c)
			}
		}
	}
}

// say puts a conclusion on the sheet in place of the one before, and grades it.
func say(t *testing.T, a *attempt.Session, j attempt.Judge, sure, next string, list ...diagnose.Finding) diagnose.Result {
	do := func(x record.Action) { require.NoError(t, a.Do(x)) }
	do(record.Action{Kind: attempt.KindFindingClear})
	for _, f := range list {
		for _, c := range f.Cylinders {
			do(record.Action{Kind: attempt.KindFinding, Choice: f.Family, Cylinder: c})
		}
		if len(f.Cylinders) == 0 {
			do(record.Action{Kind: attempt.KindFinding, Choice: f.Family})
		}
	}
	do(record.Action{Kind: attempt.KindSure, Choice: sure})
	do(record.Action{Kind: attempt.KindNextTest, Choice: next})
	return a.GradeBy(j)
}

// generous is a judge that finds everything well founded: what does not pass before him
// passes before no judge.
type generous struct{}

func (generous) Library() string { return "" }

func (generous) Judge(diagnose.Input) []diagnose.Opinion {
	return []diagnose.Opinion{
		{Row: diagnose.RowConclude, Rule: reason.RuleAllowed, Share: 6, Part: 1, Passed: true},
		{Row: diagnose.RowChoose, Rule: reason.RuleBest, Share: 4, Part: 1, Passed: true},
	}
}

// Whoever tests by the book and says what is so passes. With the same hands, any other
// name put down as the last word does not: another family, another cylinder, the whole
// engine for one cylinder, nothing wrong where something is, something where nothing is,
// everything at once. A test by the gauge alone makes no difference.
func TestOnlyTheRightNamePassesAsTheLastWord(t *testing.T) {
	j := reason.NewJudge(library.Open(), reason.Priors{})
	for _, s := range scenarios.Catalogue() {
		t.Run(s.ID, func(t *testing.T) {
			plan, ok := settled[s.ID]
			require.True(t, ok, "say what settles it")
			for _, confirm := range []bool{true, false} {
				a := byTheBook(t, s, confirm)
				cite(t, a, plan.repeat, plan.because, confirm)
				if confirm {
					key := diagnose.Finding{Family: s.Key.Family, Cylinders: s.Key.Cylinders}
					g := say(t, a, j, diagnose.SureLikely, plan.next, key)
					assert.True(t, g.Pass, "%v, and %g points: %v", key, g.Points, missed(g))
				}
				for _, list := range wrong(s) {
					for _, sure := range diagnose.Sureness() {
						g := say(t, a, generous{}, sure, "none", list...)
						assert.False(t, g.Pass, "%v, %s, more tests %v: %g points", list, sure, confirm, g.Points)
					}
				}
			}
		})
	}
}

// cite names the evidence that was made.
func cite(t *testing.T, a *attempt.Session, repeat, because string, confirm bool) {
	list := []string{"dry", "spec"}
	if repeat != "" {
		list = append(list, "repeat")
	}
	for _, e := range strings.Fields(because) {
		if confirm || slices.Contains([]string{"speed", "voltage", "throttle"}, e) {
			list = append(list, e)
		}
	}
	for _, e := range list {
		require.NoError(t, a.Do(record.Action{Kind: attempt.KindEvidence, Choice: e}))
	}
}

func missed(g diagnose.Result) []string {
	var out []string
	for _, row := range g.Rows {
		for _, l := range row.Lines {
			if !l.Passed {
				out = append(out, l.Rule)
			}
		}
	}
	return out
}

// closed are families that say that the engine seals as it should.
var closed = []string{
	diagnose.FamilySound, diagnose.FamilyNormalByDesign, diagnose.FamilyNotCompression, diagnose.FamilyAltitude,
}

// wrong lists conclusions that are plainly not so.
func wrong(s *scenarios.Scenario) [][]diagnose.Finding {
	good := append([]diagnose.Finding{{Family: s.Key.Family, Cylinders: s.Key.Cylinders}}, s.Key.Accept...)
	suspects := s.Key.Cylinders
	if len(suspects) == 0 {
		suspects = []int{1}
	}
	fine := false // nothing is to be opened: what leaves it closed is a matter of words
	for _, g := range good {
		fine = fine || g.Family == diagnose.FamilySound || g.Family == diagnose.FamilyNormalByDesign
	}
	var out [][]diagnose.Finding
	var all []diagnose.Finding
	for _, family := range diagnose.Families() {
		known := slices.ContainsFunc(good, func(g diagnose.Finding) bool { return g.Family == family })
		switch {
		case family == diagnose.FamilyUndecided:
			continue
		case !known && !(fine && slices.Contains(closed, family)):
			out = append(out, []diagnose.Finding{{Family: family}}, []diagnose.Finding{{Family: family, Cylinders: suspects}})
		}
		all = append(all, diagnose.Finding{Family: family, Cylinders: suspects})
	}
	if n := s.Engine.Cylinders; len(s.Key.Cylinders) > 0 && 2*len(s.Key.Cylinders) < n {
		out = append(out, []diagnose.Finding{{Family: s.Key.Family, Cylinders: others(s)[:1]}})
		if !slices.ContainsFunc(good, func(g diagnose.Finding) bool { return g.Family == s.Key.Family && len(g.Cylinders) == 0 }) {
			out = append(out, []diagnose.Finding{{Family: s.Key.Family}})
		}
	}
	return append(out, all)
}

// others lists the cylinders that the key does not name.
func others(s *scenarios.Scenario) []int {
	var out []int
	for c := 1; c <= s.Engine.Cylinders; c++ {
		if !slices.Contains(s.Key.Cylinders, c) {
			out = append(out, c)
		}
	}
	return out
}
