package coach

import (
	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// prepare makes engine, tools and person ready, in the order of the card's
// common practice: protect yourself, secure the car, look things up, warm it
// while it can still run, disable it, open it, fit the tools.
func prepare(s Situation) (Suggestion, bool) {
	for _, stage := range []func(Situation) (Suggestion, bool){secure, lookUp, temperature, disable, openUp, tools} {
		if out, ok := stage(s); ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

func secure(s Situation) (Suggestion, bool) {
	st := s.State
	switch {
	case !st.Glasses:
		return do("glasses", record.Action{Kind: bench.KindGlasses, Choice: "on"})
	case st.Gear != "park" && st.Gear != "neutral":
		return do("gear", record.Action{Kind: bench.KindGear, Choice: "park"})
	case !st.Brake:
		return do("brake", record.Action{Kind: bench.KindBrake, Choice: "on"})
	case !st.Chocks:
		return do("chocks", record.Action{Kind: bench.KindChocks, Choice: "on"})
	case !st.Belts:
		return do("belts", record.Action{Kind: bench.KindBelts})
	case !st.Fluids:
		return do("fluids", record.Action{Kind: bench.KindFluids})
	}
	return Suggestion{}, false
}

// lookUp leaves the choice of the page to the student: finding the right engine
// code is part of the work.
func lookUp(s Situation) (Suggestion, bool) {
	switch s.State.Page {
	case s.RightPage:
		return Suggestion{}, false
	case "":
		return think("spec", 0, "")
	}
	return think("spec_other_page", 0, "")
}

// temperature warms or cools the engine while its plugs are still in: an engine
// without plugs doesn't run.
func temperature(s Situation) (Suggestion, bool) {
	c := s.State.CoolantC
	if c == nil || plugsIn(s) < s.Cylinders {
		return Suggestion{}, false
	}
	switch {
	case *c < s.Card.CoolantMinC:
		return do("warm_up", record.Action{Kind: bench.KindWarmUp, Number: 10})
	case *c > s.Card.CoolantMaxC:
		return do("cool_down", record.Action{Kind: bench.KindCoolDown, Number: 15})
	}
	return Suggestion{}, false
}

func disable(s Situation) (Suggestion, bool) {
	st := s.State
	switch {
	case s.Card.FuelDisable && st.Fuel != "disabled":
		return do("fuel", record.Action{Kind: bench.KindFuel, Choice: "disabled"})
	case s.Card.IgnitionDisable && st.Ignition != "disabled":
		return do("ignition", record.Action{Kind: bench.KindIgnition, Choice: "disabled"})
	case s.Card.Charger && !st.Charger:
		return do("charger", record.Action{Kind: bench.KindCharger, Choice: "on"})
	}
	return Suggestion{}, false
}

func openUp(s Situation) (Suggestion, bool) {
	if !s.Card.PlugsOut {
		return Suggestion{}, false
	}
	if !s.State.Wells && plugsIn(s) == s.Cylinders {
		return do("wells", record.Action{Kind: bench.KindWells})
	}
	for _, p := range s.State.Plugs {
		if p.State == "in" {
			return do("plug_out", record.Action{Kind: bench.KindPlugOut, Cylinder: p.Cylinder, Choice: "ordered"})
		}
	}
	return Suggestion{}, false
}

func tools(s Situation) (Suggestion, bool) {
	st := s.State
	switch {
	case st.Adapter == "" || !fits(s, st.Adapter):
		for _, a := range s.Tools.Adapters {
			if fits(s, a.ID) {
				return do("adapter", record.Action{Kind: bench.KindAdapter, Choice: a.ID})
			}
		}
	case st.Gauge == "" && len(s.Tools.Gauges) > 0:
		return do("gauge", record.Action{Kind: bench.KindGauge, Choice: s.Tools.Gauges[0].ID})
	case s.bad(st.Gauge) && s.otherGauge() != "" && st.HoseOn == 0:
		return do("other_gauge", record.Action{Kind: bench.KindGauge, Choice: s.otherGauge()})
	case !st.Proved && st.HoseOn == 0:
		return do("gauge_prove", record.Action{Kind: bench.KindProve})
	case s.Card.Switch != "either" && st.Switch != s.Card.Switch:
		return do("switch", record.Action{Kind: bench.KindSwitch, Choice: s.Card.Switch})
	case !st.Voltmeter:
		return do("voltmeter", record.Action{Kind: bench.KindVoltmeter, Choice: "on"})
	case !st.Tachometer:
		return do("tachometer", record.Action{Kind: bench.KindTachometer, Choice: "on"})
	case s.Card.ThrottleOpen && st.Throttle == "shut":
		return do("throttle", record.Action{Kind: bench.KindThrottle, Choice: s.Card.ThrottleChoice()})
	}
	return Suggestion{}, false
}

// otherGauge returns a gauge of the tray that was not found wanting, empty for none.
func (s Situation) otherGauge() string {
	for _, g := range s.Tools.Gauges {
		if !s.bad(g.ID) {
			return g.ID
		}
	}
	return ""
}

// fits compares an adapter with the card, as a hand would with the plug.
func fits(s Situation, id string) bool {
	for _, a := range s.Tools.Adapters {
		if a.ID == id {
			return a == scenarios.Adapter{ID: id, ThreadMM: s.Card.ThreadMM, ReachMM: s.Card.ReachMM, ORing: s.Card.ORing}
		}
	}
	return false
}

func plugsIn(s Situation) int {
	n := 0
	for _, p := range s.State.Plugs {
		if p.State == "in" {
			n++
		}
	}
	return n
}
