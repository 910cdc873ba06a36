package attempt

import (
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// begins lists the actions that begin a test, and its name as scenarios.Tests has it.
var begins = [...][2]string{
	{bench.KindOil, "wet"}, {bench.KindTesterOn, "leakage"}, {bench.KindClamp, "current"}, {bench.KindDisableOne, "running"},
	{bench.KindEngineRun, "running"}, {bench.KindVacuumGauge, "vacuum"}, {bench.KindLash, "lash"}, {bench.KindTiming, "timing_marks"},
	{bench.KindBorescope, "borescope"}, {bench.KindCoolingPressure, "cooling_pressure"}, {bench.KindCoolantWatch, "cooling_pressure"},
	{bench.KindPowerBalance, "power_balance"},
}

// allowed says whether way of working and job allow an action of the bench.
func (s *Session) allowed(a record.Action) error {
	w := s.scenario.Work
	asked := a.Kind == bench.KindHint && !w.Hides("hints") || a.Kind == bench.KindSection && !w.Hides("section")
	if (a.Kind == bench.KindHint || a.Kind == bench.KindSection) && (!asked || s.header.Mode != ModeAlone) {
		return refuse("not_in_this_mode", 0)
	}
	if w == nil {
		return nil
	}
	for _, b := range begins {
		if b[0] == a.Kind && !w.May(b[1]) {
			return refuse("test_not_allowed", 0)
		}
	}
	if w.Minutes > 0 && s.bench.Minutes() >= w.Minutes && a.Choice != "off" { // what only ends something no clock forbids
		return &bench.Refusal{Key: "refusal.minutes_over", Number: w.Minutes}
	}
	return nil
}
