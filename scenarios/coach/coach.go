// Package coach offers the next sensible action of a compression test and of the
// tests that follow it. It looks at the procedure card of the engine, at where hands
// and tools are, at what could be read so far and at what stands on the job sheet;
// it never looks at what is wrong with the engine, so it can be no wiser than a
// careful technician with the same readings. Nothing in it is a script: it works for
// an engine nobody has foreseen.
package coach

import (
	"math"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A Suggestion is the next sensible step. Key names its text ("coach.<Key>");
// it is empty when nothing is left to suggest. Action is what would do it, nil
// where the student has to read, write or decide.
type Suggestion struct {
	Key      string         `json:"key"`
	Cylinder int            `json:"cylinder,omitempty"`
	Field    string         `json:"field,omitempty"`   // of the job sheet, when something is to be written
	Seconds  float64        `json:"seconds,omitempty"` // to let pass before the action, while something turns
	Action   *record.Action `json:"action,omitempty"`
}

// A Situation is all that the advice rests on.
type Situation struct {
	Card      diagnose.Card
	Cylinders int
	Banks     [][]int
	Ambient   unit.Pressure // of the day
	Tools     scenarios.Tools
	Pages     []scenarios.SpecPage
	RightPage string
	State     bench.State
	NeedleUp  bool // the gauge still holds pressure
	AtBottom  bool // the gauged piston stands at the bottom before its compression
	AtTop     bool // the piston under the leakage tester stands at the top after it
	Sheet     diagnose.Sheet
	Record    record.Record
	Dangers   []Danger // hazards that have happened
}

// Of gathers a situation out of a scenario and the moment of an attempt.
func Of(s *scenarios.Scenario, b *bench.Bench, sheet diagnose.Sheet) Situation {
	out := Situation{
		Card: s.Card, Cylinders: s.Engine.Cylinders, Banks: s.Engine.Banks, Tools: s.Tools, Pages: s.SpecPages,
		Ambient: unit.Pressure(b.Setup().Engine.Ambient), RightPage: s.RightPage,
		State: b.State(), NeedleUp: b.Engine().HosePressure()-b.Setup().Engine.Ambient > needleUpPa,
		Sheet: sheet, Record: b.Record(), Dangers: dangersOf(b.Record().Events),
	}
	if on := out.State.HoseOn; on != 0 {
		angle := b.Engine().CylinderAngle(on) // after its compression TDC
		out.AtBottom = angle > -math.Pi-bottomSlack && angle < -math.Pi+bottomSlack
	}
	if on := out.State.Tester; on != 0 {
		angle := b.Engine().CylinderAngle(on)
		out.AtTop = angle > -topSlack && angle < topSlack
	}
	return out
}

const (
	// needleUpPa is hose pressure that lifts a needle visibly off its rest [Pa].
	needleUpPa = 500
	// bottomSlack is how far off the bottom still looks like the bottom [rad].
	bottomSlack = math.Pi / 60
	// topSlack is how far off the top friction still holds a piston under air [rad].
	topSlack = math.Pi / 180
)

// Next returns the next sensible step.
func Next(s Situation) Suggestion {
	if s.Sheet.HandedIn {
		return Suggestion{}
	}
	stages := []func(Situation) (Suggestion, bool){danger, running, cranking, compression, further, conclude, putBack}
	if len(s.Sheet.Findings) > 0 { // decided: only the end is left
		stages = []func(Situation) (Suggestion, bool){danger, running, cranking, conclude, mend, putBack}
	}
	for _, stage := range stages {
		if out, ok := stage(s); ok {
			return out
		}
	}
	return Suggestion{Key: "hand_in", Action: &record.Action{Kind: "hand-in"}}
}

// do suggests one action.
func do(key string, a record.Action) (Suggestion, bool) {
	return Suggestion{Key: key, Cylinder: a.Cylinder, Action: &a}, true
}

// think suggests something that only the student can do.
func think(key string, cylinder int, field string) (Suggestion, bool) {
	return Suggestion{Key: key, Cylinder: cylinder, Field: field}, true
}

// written returns a number of the job sheet.
func (s Situation) written(field string, cylinder int) (float64, bool) {
	for _, e := range s.Sheet.Entries {
		if e.Field == field && e.Cylinder == cylinder {
			return e.Number, true
		}
	}
	return 0, false
}

// writtenSomewhere reports whether a field stands on the sheet, for the whole
// engine or for a cylinder.
func (s Situation) writtenSomewhere(field string) bool {
	for _, e := range s.Sheet.Entries {
		if e.Field == field {
			return true
		}
	}
	return false
}

// count returns how many runs on a cylinder were done as the card says, dry or
// with oil.
func (s Situation) count(cylinder int, oil bool) int {
	n := 0
	for _, r := range s.Record.Runs {
		if r.Cylinder == cylinder && (r.OilML > 0) == oil && s.byCard(r) {
			n++
		}
	}
	return n
}

// byCard reports whether a run can be used.
func (s Situation) byCard(r record.Run) bool {
	return r.Full() >= s.Card.StrokesMin && r.ThrottleOpen == s.Card.ThrottleOpen && r.GaugeAtZero &&
		(r.PlugsOut >= s.Cylinders || !s.Card.PlugsOut)
}

// seen returns what could be read so far and what it allows to be said, by the
// limits of the day.
func (s Situation) seen() (diagnose.Evidence, diagnose.Judgement) {
	until := s.Record.Tick
	for _, r := range s.Record.Runs {
		until = max(until, r.EndTick)
	}
	e := diagnose.Gather(s.Card, s.Cylinders, s.Banks, s.Record, until)
	return e, diagnose.Judge(e, s.Card.Limits.AtAltitude(s.Ambient), s.Card.OilML > 0)
}

// Keys lists every key a suggestion can have, for whoever keeps their texts.
func Keys() []string {
	return []string{
		"glasses", "gear", "brake", "chocks", "belts", "fluids", "spec", "spec_other_page", "warm_up", "cool_down",
		"fuel", "ignition", "charger", "wells", "plug_out", "adapter", "gauge", "other_gauge", "gauge_prove", "switch", "voltmeter",
		"tachometer", "throttle", "count_then_stop", "release", "hose_off", "hose_on", "turn", "crank", "write", "repeat", "oil",
		"conclude", "sure", "evidence", "next_test", "remark", "throttle_shut", "plug_in", "plug_torque", "plug_leads",
		"ignition_on", "fuel_on", "charger_off", "engine_start", "codes_clear", "hand_in", "let_go_moved",
		"gear_moved", "let_go_flash", "air_out", "let_go_locked", "hose_off_locked", "plug_out_locked", "wrench",
		"air_off_moved", "engine_off_caught", "tester_on", "crank_walls", "turn_top", "air_on", "listen_throttle", "listen_tailpipe",
		"listen_oil_filler", "listen_coolant_neck", "listen_plug_hole", "listen_gasket_edge", "neck_cool", "air_off", "tester_off", "clamp",
		"clamp_off", "vacuum_gauge", "vacuum_gauge_off", "crank_watch", "hold_then_stop", "disable_one", "enable_one", "engine_run",
		"bleed", "snap", "engine_off", "lash", "set_lash", "crank_mended", "timing_marks", "borescope", "cooling_pressure", "second_gauge", "refit", "neck_off", "power_balance",
	}
}
