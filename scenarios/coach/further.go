package coach

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// compression leads through the test itself: every cylinder dry, its numbers on the
// sheet, and a surprising reading once more. Once that is done, the engine may be put
// together again for another test.
func compression(s Situation) (Suggestion, bool) {
	if s.read() {
		return conditions(s)
	}
	if s.State.Tester != 0 { // in the way of the gauge
		return tidy(s)
	}
	for _, stage := range []func(Situation) (Suggestion, bool){prepare, dry, conditions, again} {
		if out, ok := stage(s); ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

// read reports whether every cylinder was read and written down, and a surprise
// repeated, or whether the starter can't do it.
func (s Situation) read() bool {
	for cyl := 1; cyl <= s.Cylinders; cyl++ {
		if s.stuck(cyl) {
			continue
		}
		if s.count(cyl, false) < 1 {
			return false
		}
		for _, f := range []string{diagnose.FieldDryFirst, diagnose.FieldDryLast, diagnose.FieldStrokes} {
			if _, ok := s.written(f, cyl); !ok {
				return false
			}
		}
	}
	return s.surprise() == 0
}

// stuck reports whether a cylinder was tried twice and gave not one stroke: a starter
// that can't turn the engine won't by being asked again.
func (s Situation) stuck(cylinder int) bool {
	tries := 0
	for _, r := range s.Record.Runs {
		if r.Cylinder == cylinder && r.Full() == 0 {
			tries++
		}
	}
	return tries >= 2
}

// further leads through the test that tells most for its minutes, if one is worth
// making; the one that the student has named as the next comes first.
func further(s Situation) (Suggestion, bool) {
	e, j := s.seen()
	if out, ok := s.begun(e, j); ok {
		return out, true
	}
	for _, test := range []string{s.Sheet.NextTest, s.methodFirst(e, j), diagnose.Best(e, j, s.Card)} {
		if test == "" || e.Did(test, j) || s.refused(test) {
			continue
		}
		if out, ok := lead(s, test, e, j); ok {
			return out, true
		}
	}
	return tidy(s)
}

// methodFirst returns the other gauge where the whole engine reads off its figure: the
// method is looked at before the engine (common practice), and no test costs less. Empty
// where single cylinders stand out, which no gauge makes, or where something else has
// told.
func (s Situation) methodFirst(e diagnose.Evidence, j diagnose.Judgement) string {
	whole := j.Pattern == diagnose.PatternAllLow || j.Pattern == diagnose.PatternAllHigh
	best := diagnose.Best(e, j, s.Card)
	if !whole || best == "" || len(s.Tools.Gauges) < 2 || !slices.Contains(j.Next, "second_gauge") {
		return ""
	}
	if s.Card.Minutes.Of("second_gauge", 1) > s.Card.Minutes.Of(best, max(1, len(j.Suspects))) {
		return ""
	}
	return "second_gauge"
}

// refused reports whether a test was tried and gave nothing that could be used: it is
// not asked for a third time.
func (s Situation) refused(test string) bool {
	tries := 0
	for _, ev := range s.Record.Events {
		if ev.Kind == beginsBy(test) && ev.Choice != "off" && ev.Choice != "enabled" {
			tries++
		}
	}
	return tries > 2*s.Cylinders+2
}

// beginsBy returns the action that a test begins with.
func beginsBy(test string) string {
	switch test {
	case "leakage":
		return bench.KindTesterOn
	case "current":
		return bench.KindClamp
	case "vacuum":
		return bench.KindVacuumGauge
	case "running":
		return bench.KindDisableOne
	case "lash":
		return bench.KindLash
	case "timing_marks":
		return bench.KindTiming
	case "borescope":
		return bench.KindBorescope
	case "cooling_pressure":
		return bench.KindCoolingPressure
	case "power_balance":
		return bench.KindPowerBalance
	}
	return bench.KindOil
}

// begun goes on with a test whose tools are on, whoever chose it, up to what is
// written down of it.
func (s Situation) begun(e diagnose.Evidence, j diagnose.Judgement) (Suggestion, bool) {
	switch {
	case s.State.Tester != 0:
		return leakage(s, s.State.Tester)
	case s.State.Clamp && !e.Did("current", j) && !s.refused("current"):
		return current(s)
	case s.State.Vacuum && !e.Did("vacuum", j) && !s.refused("vacuum"):
		return vacuum(s)
	case s.State.Disabled != 0:
		return runIt(s, s.State.Disabled)
	case s.oilBegun() && s.onMain():
		if out, ok := wet(s, j); ok {
			return out, true
		}
	}
	return unwritten(s, e)
}

// oilBegun reports whether oil went into a cylinder, so that the wet test is finished
// before another one begins.
func (s Situation) oilBegun() bool {
	for cyl := 1; cyl <= s.Cylinders; cyl++ {
		if oilIn(s, cyl) > 0 {
			return true
		}
	}
	return false
}

// onMain reports whether the gauge in hand is the one that the cylinders were read
// with.
func (s Situation) onMain() bool { return s.State.Gauge == s.firstGauge() }

// lead returns the next step of a test.
func lead(s Situation, test string, e diagnose.Evidence, j diagnose.Judgement) (Suggestion, bool) {
	switch test {
	case "leakage":
		return leakage(s, s.target(e, j, test))
	case "current":
		return current(s)
	case "vacuum":
		return vacuum(s)
	case "running":
		return runIt(s, s.target(e, j, test))
	case "power_balance":
		return balance(s)
	case "wet":
		return wet(s, j)
	case "second_gauge":
		return secondGauge(s, j)
	case "refit":
		return refit(s, j)
	}
	return looks(s, test, s.target(e, j, test))
}

// target returns the cylinder to test next: the first that stands out and was not
// tested yet, the lowest where none stands out.
func (s Situation) target(e diagnose.Evidence, j diagnose.Judgement, test string) int {
	for _, c := range j.Suspects {
		if !tested(e, test, c) {
			return c
		}
	}
	if len(j.Suspects) > 0 && test != "running" {
		return j.Suspects[0]
	}
	low := s.fresh(e, test)
	for _, x := range e.Seen {
		if x.Valid && !tested(e, test, x.Cylinder) && oilIn(s, x.Cylinder) == 0 && (!e.Seen[low-1].Valid || x.DryLast < e.Seen[low-1].DryLast) {
			low = x.Cylinder
		}
	}
	return low
}

// fresh returns the first cylinder that a test was not made on.
func (s Situation) fresh(e diagnose.Evidence, test string) int {
	for c := 1; c <= s.Cylinders; c++ {
		if !tested(e, test, c) {
			return c
		}
	}
	return 1
}

// tested reports whether a test of single cylinders was made on one.
func tested(e diagnose.Evidence, test string, cylinder int) bool {
	switch test {
	case "leakage":
		return slices.ContainsFunc(e.Confirmed.Leaks, func(l diagnose.LeakSeen) bool { return l.Cylinder == cylinder && l.Fault == "" })
	case "running":
		return slices.ContainsFunc(e.Confirmed.Pumped, func(p record.Pumped) bool { return p.Cylinder == cylinder })
	}
	return slices.ContainsFunc(e.Confirmed.Looks, func(l diagnose.Look) bool { return l.Cylinder == cylinder })
}

// tidy takes off what belongs to a test that is over, in the order that is safe.
func tidy(s Situation) (Suggestion, bool) {
	st := s.State
	switch {
	case st.AirKPa > 0:
		return do("air_off", record.Action{Kind: bench.KindAir, Choice: "off"})
	case st.Tester != 0:
		return do("tester_off", record.Action{Kind: bench.KindTesterOff})
	case st.Wrench:
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	case st.Clamp:
		return do("clamp_off", record.Action{Kind: bench.KindClamp, Choice: "off"})
	case st.Vacuum:
		return do("vacuum_gauge_off", record.Action{Kind: bench.KindVacuumGauge, Choice: "off"})
	case st.Neck:
		return do("neck_off", record.Action{Kind: bench.KindCoolantWatch, Choice: "off"})
	case st.Disabled != 0 && st.HoseOn == st.Disabled:
		return s.hoseAway()
	case st.Disabled != 0:
		return do("enable_one", record.Action{Kind: bench.KindDisableOne, Cylinder: st.Disabled, Choice: "enabled"})
	}
	return Suggestion{}, false
}

// hoseAway takes the gauge out of its plug hole.
func (s Situation) hoseAway() (Suggestion, bool) {
	switch {
	case s.State.HoseOn != 0 && s.NeedleUp:
		return do("release", record.Action{Kind: bench.KindRelease})
	case s.State.HoseOn != 0:
		return do("hose_off", record.Action{Kind: bench.KindHoseOff})
	}
	return Suggestion{}, false
}
