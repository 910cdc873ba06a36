package compose

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios"
)

// An Answer is what is right about a kind of fault when nothing else is wrong: the
// family of the conclusion and the tests that tell.
type Answer struct {
	Family    string   `json:"family"`
	NextTests []string `json:"next_tests"`
}

var answers = []struct {
	family string
	next   []string
	kinds  []string
}{
	{diagnose.FamilyValveLeak, []string{"leakage"}, []string{scenarios.ExhaustSeatLeak, scenarios.IntakeSeatLeak, scenarios.BentValve, scenarios.CarbonFlake}},
	{diagnose.FamilyTightLash, []string{"lash", "leakage"}, []string{scenarios.ExhaustLash, scenarios.IntakeLash}},
	{diagnose.FamilyValveNotOpening, []string{"running", "current"}, []string{scenarios.IntakeLift, scenarios.ExhaustLift}},
	{diagnose.FamilyValveTiming, []string{"timing_marks", "leakage"}, []string{scenarios.CamTiming, scenarios.StuckPhaser}},
	{diagnose.FamilyRingOrBore, []string{"leakage", "borescope"}, []string{scenarios.WornRings, scenarios.StuckRing, scenarios.BrokenRing, scenarios.BrokenLand, scenarios.ScoredBore, scenarios.HoledPiston}},
	{diagnose.FamilyWashedOrDry, []string{"wet"}, []string{scenarios.DryBore, scenarios.WashedBore}},
	{diagnose.FamilyHeadGasket, []string{"leakage", "cooling_pressure"}, []string{scenarios.GasketBetween, scenarios.GasketToCoolant, scenarios.GasketToOutside, scenarios.CrackedHead}},
	{diagnose.FamilyCarbonOrLiquid, []string{"borescope"}, []string{scenarios.Carbon, scenarios.Liquid}},
	{diagnose.FamilySlowCranking, []string{"charge_battery", "repeat"}, []string{scenarios.WeakBattery, scenarios.DischargedBattery, scenarios.Cold, scenarios.CableResistance, scenarios.GroundResistance, scenarios.DraggingStarter, scenarios.TightEngine, scenarios.ThickOil}},
	{diagnose.FamilyAltitude, nil, []string{scenarios.Altitude}},
	{diagnose.FamilyNormalByDesign, nil, []string{scenarios.ReleaseCam}},
	{diagnose.FamilyNotCompression, []string{"running", "vacuum"}, []string{scenarios.RestrictedExhaust, scenarios.RestrictedIntake, scenarios.VacuumLeak, scenarios.WeakSpring}},
	{diagnose.FamilyMethodOrGauge, []string{"second_gauge", "repeat"}, []string{scenarios.TipValveLeak, scenarios.TipValveAway, scenarios.ReleaseLeak, scenarios.MissingORing, scenarios.WrongReach, scenarios.ZeroError, scenarios.SpanError, scenarios.StickyNeedle}},
	{diagnose.FamilySound, nil, []string{scenarios.Interference}}, // it harms nothing by itself
}

// AnswerOf returns what is right about a kind of fault alone. It is where an author
// begins, and no more: a severity that can't be seen makes another answer right.
func AnswerOf(kind string) Answer {
	for _, a := range answers {
		if slices.Contains(a.kinds, kind) {
			return Answer{a.family, append([]string{}, a.next...)}
		}
	}
	return Answer{diagnose.FamilySound, []string{}}
}
