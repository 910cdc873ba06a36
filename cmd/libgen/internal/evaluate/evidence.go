package evaluate

import (
	"math"

	"crankbay/cmd/libgen/internal/population"
	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/sim/unit"
)

// A Subject is a simulated engine with everything its tests show.
type Subject struct {
	Number  int
	Base    string
	Family  string
	Slot    population.Slot
	Banks   [][]int
	Tests   population.Tests
	Lash    bool // clearances can be measured
	Minutes diagnose.TestMinutes

	Standard float64 // of its page, at sea level [Pa gauge]
	Throttle reason.Answer
	Plugs    reason.Answer
	Strokes  reason.Answer
}

// NewSubject keeps what an evaluation needs of a case.
func NewSubject(c population.Case, t population.Tests, base string, d population.Design) Subject {
	s := c.Scenario
	out := Subject{
		Number: c.Number, Base: base, Family: c.Slots[0].Family, Slot: c.Slots[0], Banks: s.Engine.Banks, Tests: t,
		Lash: s.Card.LashCheck, Minutes: s.Card.Minutes, Standard: float64(unit.PSI(d.PSI)),
		Throttle: reason.Yes, Plugs: reason.Yes, Strokes: reason.Yes,
	}
	if s.Method != nil {
		out.Throttle, out.Plugs = answer(s.Method.Throttle == "open"), answer(s.Method.Plugs == "out")
	}
	if out.Family == reason.FewStrokes {
		out.Strokes = reason.No // somebody counted
	}
	return out
}

func answer(yes bool) reason.Answer {
	if yes {
		return reason.Yes
	}
	return reason.No
}

// Blank is what is known before the gauge is on: the engine, its page, height and
// throttle.
func (s *Subject) Blank() reason.Evidence {
	e := reason.Evidence{
		Banks: s.Banks, Throttle: s.Throttle, Plugs: s.Plugs, Strokes: s.Strokes, Standard: reason.Of(s.Standard),
		Ambient: reason.Of(s.Tests.Ambient * 1000), Cylinders: make([]reason.Cylinder, len(s.Tests.Dry)),
	}
	e.Hydraulic = answer(!s.Lash)
	return e
}

func pa(psi float64) reason.Number { return reason.Of(float64(unit.PSI(psi))) }

// Dry fills in the dry test with speed and voltage.
func (s *Subject) Dry(e *reason.Evidence) {
	for i := range e.Cylinders {
		e.Cylinders[i].Dry, e.Cylinders[i].First = pa(s.Tests.Dry[i]), pa(s.Tests.First[i])
	}
	e.Speed, e.Volts = reason.Of(s.Tests.RPM), reason.Of(s.Tests.Volts)
}

// Do fills in what a test shows, of one cylinder (from 1) or of all (0).
func (s *Subject) Do(e *reason.Evidence, test string, cylinder int) {
	for i := range e.Cylinders {
		if cylinder == 0 || cylinder == i+1 {
			s.one(&e.Cylinders[i], test, i)
		}
	}
	switch test {
	case "vacuum":
		e.Vacuum = reason.Of(s.Tests.Vacuum * 1000)
	case "timing_marks":
		e.Late = nil
		for _, late := range s.Tests.Late {
			e.Late = append(e.Late, reason.Of(math.Round(late/4.5)*4.5)) // half a tooth of a wheel of forty
		}
	case "cooling_pressure":
		e.Cooling = reason.No
		for _, falls := range s.Tests.Cooling {
			if falls {
				e.Cooling = reason.Yes
			}
		}
	}
}

var bores = []string{reason.BoreClean, reason.BoreHole, reason.BoreScored, reason.BoreLiquid, reason.BoreCarbon}

func (s *Subject) one(c *reason.Cylinder, test string, i int) {
	t := &s.Tests
	switch test {
	case "wet":
		c.Wet = pa(t.Wet[i])
	case "repeat":
		c.Repeats = []float64{float64(unit.PSI(t.Repeat[i]))}
	case "second_gauge":
		c.Second = pa(t.Second[i])
	case "leakage":
		c.Leakage = reason.Of(100 * t.Leakage[i])
		c.Heard = heard(t.Leakage[i], t.Air[i])
	case "current":
		c.Hump = reason.Of(100 * t.Hump[i])
	case "running":
		c.Idle, c.Snap = pa(t.Idle[i]), pa(t.Snap[i])
	case "lash":
		if s.Lash {
			c.LashIn, c.LashEx = reason.Of(math.Round(t.LashIn[i]*20)/20), reason.Of(math.Round(t.LashEx[i]*20)/20)
		}
	case "power_balance":
		c.Dead = s.dead(i)
	case "borescope":
		c.Bore = bores[t.Bore[i]]
	}
}

// dead says whether a cylinder doesn't pull its share: as on the bench, without it the
// idle falls by less than two fifths of what it falls without the best one.
func (s *Subject) dead(i int) reason.Answer {
	best := 0.0
	for _, p := range s.Tests.Pull {
		best = math.Max(best, p)
	}
	if best == 0 || math.IsNaN(s.Tests.Pull[i]) {
		return reason.NotKnown
	}
	return answer(s.Tests.Pull[i] < 0.4*best)
}

// heard lists the places where air is heard: from 0.1 g/s on, bubbles from 2.4 mg/s on,
// as on the bench (0.46 g/s is lost at 6 % of 80 psi).
func heard(lost float64, shares []float64) []string {
	places := []string{
		diagnose.HeardThrottle, diagnose.HeardTailpipe, diagnose.HeardFiller, diagnose.HeardNeighbour, diagnose.HeardNeck, diagnose.HeardEdge,
	}
	var out []string
	for k, share := range shares {
		least := 0.013
		if k == library.Neck-library.Throttle {
			least = 0.0003
		}
		if share*lost > least {
			out = append(out, places[k])
		}
	}
	if out == nil {
		out = []string{diagnose.HeardNowhere}
	}
	return out
}

// A TestSet is a set of tests that is judged as a whole.
type TestSet struct {
	Name  string
	Tests []string
}

// Sets are the sets of tests that are judged.
func Sets() []TestSet {
	return []TestSet{
		{"dry", nil},
		{"dry+wet", []string{"wet"}},
		{"dry+wet+leakage", []string{"wet", "leakage"}},
		{"all", []string{"wet", "leakage", "repeat", "second_gauge", "current", "running", "vacuum", "lash", "timing_marks", "borescope", "cooling_pressure", "power_balance"}},
	}
}

// With is the evidence after the dry test and a set of tests on all cylinders.
func (s *Subject) With(set TestSet) reason.Evidence {
	e := s.Blank()
	s.Dry(&e)
	for _, t := range set.Tests {
		s.Do(&e, t, 0)
	}
	return e
}
