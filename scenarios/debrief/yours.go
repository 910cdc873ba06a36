package debrief

import (
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Yours is what the student's own tests came to.
type Yours struct {
	Tests   []string `json:"tests"`
	Minutes float64  `json:"minutes"` // what they cost by the engine's list
	Open    []int    `json:"open"`    // rivals that they could not tell apart
	Nothing []string `json:"nothing"` // of the tests, those that tell none of the rivals apart on this engine
	Next    string   `json:"next"`    // the test named as the next one, when it would rule out what is open
	Verdict string   `json:"verdict"` // one of YoursSettled, YoursNext and YoursOpen
}

// What the student's own tests came to.
const (
	YoursSettled = "settled" // nothing was left open
	YoursNext    = "next"    // the test named as the next one would have settled it
	YoursOpen    = "open"    // something stayed open
)

// Yourses lists them.
func Yourses() []string { return []string{YoursSettled, YoursNext, YoursOpen} }

// yours says what the student's own tests cost and what they left open.
func (p *Plan) yours(v attempt.Report) Yours {
	y := Yours{Tests: []string{}, Open: []int{}, Nothing: []string{}}
	known := uint64(0)
	for _, d := range done(v) {
		y.Tests = append(y.Tests, d.test)
		y.Minutes += v.Session.Scenario().Card.Minutes.Of(d.test, d.cylinders)
		for _, s := range p.Table {
			if s.Test != d.test {
				continue
			}
			known |= bits(s.RulesOut)
			if len(s.RulesOut) == 0 && d.test != TestDry {
				y.Nothing = append(y.Nothing, d.test)
			}
		}
	}
	for i := range p.Rivals {
		if known&(1<<i) == 0 {
			y.Open = append(y.Open, i)
		}
	}
	y.Verdict = YoursOpen
	if len(y.Open) == 0 {
		y.Verdict = YoursSettled
		return y
	}
	next := v.Session.Sheet().NextTest
	for _, s := range p.Table {
		if left := bits(y.Open) &^ bits(s.RulesOut); s.Test == next && left == 0 {
			y.Next, y.Verdict = next, YoursNext
		}
	}
	return y
}

// A doing is a test that was done, and on how many cylinders.
type doing struct {
	test      string
	cylinders int
}

// done lists the tests an attempt did, in the order of tests.
func done(v attempt.Report) []doing {
	rec := v.Session.Record()
	did := map[string][]int{} // cylinders, 0 for the whole engine
	note := func(test string, cylinder int) { did[test] = appendNew(did[test], cylinder) }
	for _, l := range rec.Leaks {
		note(TestLeakage, l.Cylinder)
	}
	for _, p := range rec.Pumped {
		note(TestRunning, p.Cylinder)
	}
	for range rec.Currents {
		note(TestCurrent, 0)
	}
	for range rec.Vacuums {
		note(TestVacuum, 0)
	}
	for _, r := range rec.Runs {
		if r.Cylinder > 0 && len(r.Strokes) > 0 {
			note(TestDry, 0)
			if r.OilML > 0 {
				note(TestWet, r.Cylinder)
			}
		}
	}
	looked(rec, v.Session.Scenario().Tools.Gauges[0].ID, note)
	out := []doing{}
	for _, t := range tests() {
		if len(did[t]) > 0 {
			out = append(out, doing{t, len(did[t])})
		}
	}
	return out
}

// looked notes what was looked at, and a reading by another gauge than the first of the
// tray, which is the one that a plan reads by.
func looked(rec record.Record, first string, note func(string, int)) {
	kinds := map[string]string{
		bench.KindLash: TestLash, bench.KindTiming: TestTiming, bench.KindBorescope: TestScope,
		bench.KindCoolingPressure: TestCooling, bench.KindPowerBalance: TestBalance,
	}
	gauge := first
	for _, e := range rec.Events {
		if test, ok := kinds[e.Kind]; ok {
			note(test, e.Cylinder)
		}
		switch {
		case e.Kind == bench.KindGauge:
			gauge = e.Choice
		case e.Kind == bench.EventStroke && gauge != first:
			note(TestSecond, 0)
		}
	}
}
