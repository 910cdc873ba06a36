package compose

import (
	"slices"
	"strings"

	"crankbay/diagnose"
)

// An Answer is what is right about a kind of fault when nothing else is wrong: the
// family of the conclusion, what counts as well, and the tests that tell.
type Answer struct {
	Family      string   `json:"family"`
	NextTests   []string `json:"next_tests"`
	Accept      []string `json:"accept,omitempty"`       // families that are worth as much; valves and lash only where lash can be measured
	MethodFault string   `json:"method_fault,omitempty"` // that lies over the readings
}

// answers names the kinds of fault by family. Lash tells leaking valves and tight ones
// apart, which a student may not have come to; a slow starter or a bad gauge leaves a
// sound engine. Flakes come and go, which lash doesn't.
var answers = [...]struct{ family, next, accept, method, kinds string }{
	{diagnose.FamilyValveLeak, "leakage", diagnose.FamilyTightLash, "", "exhaust_seat_leak intake_seat_leak bent_valve"},
	{diagnose.FamilyValveLeak, "leakage", "", "", "carbon_flake"},
	{diagnose.FamilyTightLash, "lash leakage", diagnose.FamilyValveLeak, "", "exhaust_lash intake_lash"},
	{diagnose.FamilyValveNotOpening, "running current", "", "", "intake_lift exhaust_lift"},
	{diagnose.FamilyValveTiming, "timing_marks leakage", "", "", "cam_timing stuck_phaser"},
	{diagnose.FamilyRingOrBore, "leakage borescope", "", "", "worn_rings stuck_ring broken_ring broken_land scored_bore holed_piston"},
	{diagnose.FamilyWashedOrDry, "wet", "", "", "dry_bore washed_bore"},
	{diagnose.FamilyHeadGasket, "leakage cooling_pressure", "", "", "gasket_between gasket_to_coolant gasket_to_outside cracked_head"},
	{diagnose.FamilyCarbonOrLiquid, "borescope", "", "", "carbon liquid_in_cylinder"},
	{diagnose.FamilySlowCranking, "charge_battery repeat", diagnose.FamilySound, diagnose.MethodSlowCranking, "weak_battery discharged_battery cold cable_resistance ground_resistance dragging_starter tight_engine thick_oil"},
	{diagnose.FamilyAltitude, "", "", "", "altitude"},
	{diagnose.FamilyNormalByDesign, "", "", "", "release_cam"},
	{diagnose.FamilyNotCompression, "running vacuum", "", "", "restricted_exhaust restricted_intake vacuum_leak weak_spring"},
	{diagnose.FamilyMethodOrGauge, "second_gauge repeat", diagnose.FamilySound, diagnose.MethodGauge, "tip_valve_leak tip_valve_at_gauge_end release_leak zero_error span_error sticky_needle"},
	{diagnose.FamilyMethodOrGauge, "second_gauge repeat", diagnose.FamilySound, diagnose.MethodAdapter, "missing_o_ring wrong_reach"},
	{diagnose.FamilySound, "", "", "", "interference"}, // it harms nothing by itself
}

// AnswerOf returns what is right about a kind of fault alone. It is where an author
// begins, and no more: a severity that can't be seen makes another answer right.
func AnswerOf(kind string) Answer {
	for _, a := range answers {
		if slices.Contains(strings.Fields(a.kinds), kind) {
			return Answer{a.family, strings.Fields(a.next), strings.Fields(a.accept), a.method}
		}
	}
	return Answer{Family: diagnose.FamilySound, NextTests: []string{}}
}
