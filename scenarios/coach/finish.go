package coach

import (
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// conclude asks for the parts of a conclusion that are still missing. What to
// conclude is the student's.
func conclude(s Situation) (Suggestion, bool) {
	switch {
	case len(s.Sheet.Findings) == 0:
		return think("conclude", 0, "finding")
	case s.Sheet.Sure == "":
		return think("sure", 0, "sure")
	case len(s.Sheet.Evidence) == 0:
		return think("evidence", 0, "evidence")
	case s.Sheet.NextTest == "":
		return think("next_test", 0, "next_test")
	case s.Sheet.Remark == "" && oilAnywhere(s):
		return think("remark", 0, "remark") // it will smoke, and the customer should know
	}
	return Suggestion{}, false
}

// putBack takes the tools off and leaves the engine as it should run.
func putBack(s Situation) (Suggestion, bool) {
	if out, ok := tidy(s); ok {
		return out, true
	}
	if out, ok := s.hoseAway(); ok {
		return out, true
	}
	st := s.State
	switch {
	case st.Throttle != "shut":
		return do("throttle_shut", record.Action{Kind: bench.KindThrottle, Choice: "shut"})
	}
	for _, p := range st.Plugs {
		if p.State != "in" {
			return do("plug_in", record.Action{Kind: bench.KindPlugIn, Cylinder: p.Cylinder, Choice: "hand"})
		}
	}
	return reconnect(s)
}

func reconnect(s Situation) (Suggestion, bool) {
	st := s.State
	switch {
	case !st.Torqued:
		return do("plug_torque", record.Action{Kind: bench.KindPlugTorque})
	case !st.Leads:
		return do("plug_leads", record.Action{Kind: bench.KindLeads})
	case st.Ignition == "disabled":
		return do("ignition_on", record.Action{Kind: bench.KindIgnition, Choice: "enabled"})
	case st.Fuel == "disabled":
		return do("fuel_on", record.Action{Kind: bench.KindFuel, Choice: "enabled"})
	case st.Charger:
		return do("charger_off", record.Action{Kind: bench.KindCharger, Choice: "off"})
	case st.Started == "":
		return do("engine_start", record.Action{Kind: bench.KindEngineStart})
	case st.Codes:
		return do("codes_clear", record.Action{Kind: bench.KindCodesClear})
	}
	return Suggestion{}, false
}

func oilAnywhere(s Situation) bool {
	for _, ml := range s.State.OilML {
		if ml > 0 {
			return true
		}
	}
	return false
}
