package attempt

import (
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// testOf names the test that an action begins, as scenarios.Tests has it; empty for
// what belongs to every test.
func testOf(kind string) string {
	switch kind {
	case bench.KindOil:
		return "wet"
	case bench.KindTesterOn:
		return "leakage"
	case bench.KindClamp:
		return "current"
	case bench.KindDisableOne, bench.KindEngineRun:
		return "running"
	case bench.KindVacuumGauge:
		return "vacuum"
	case bench.KindLash:
		return "lash"
	case bench.KindTiming:
		return "timing_marks"
	case bench.KindBorescope:
		return "borescope"
	case bench.KindCoolingPressure, bench.KindCoolantWatch:
		return "cooling_pressure"
	case bench.KindPowerBalance:
		return "power_balance"
	}
	return ""
}

// allowed says whether way of working and job allow an action of the bench.
func (s *Session) allowed(a record.Action) error {
	w := s.scenario.Work
	switch {
	case (a.Kind == bench.KindHint || a.Kind == bench.KindSection) && s.header.Mode != ModeAlone,
		a.Kind == bench.KindHint && w.Hides("hints"), a.Kind == bench.KindSection && w.Hides("section"):
		return refuse("not_in_this_mode", 0)
	case w == nil:
		return nil
	case !w.May(testOf(a.Kind)) && testOf(a.Kind) != "":
		return refuse("test_not_allowed", 0)
	case w.Minutes > 0 && s.bench.Minutes() >= w.Minutes && !letsGo(a):
		return &bench.Refusal{Key: "refusal.minutes_over", Number: w.Minutes}
	}
	return nil
}

// letsGo tells whether an action only ends what is going on, which no clock forbids.
func letsGo(a record.Action) bool {
	return a.Choice == "off" && (a.Kind == bench.KindStarter || a.Kind == bench.KindEngineRun || a.Kind == bench.KindAir)
}
