package coach

import (
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A Danger is a hazard that has happened and what was done about it since.
type Danger struct {
	Key      string // one of bench.Hazards
	Cylinder int    // where liquid locked the crank, else 0
	Aired    bool   // the car has stood long enough for fuel vapor to go
	Opened   bool   // liquid has had a way out
}

// dangersOf returns the last hazard of each key in a log.
func dangersOf(events []record.Event) []Danger {
	var out []Danger
	for _, key := range bench.Hazards() {
		d := Danger{}
		for _, e := range events {
			switch {
			case e.Kind == bench.EventHazard && e.Choice == key:
				d = Danger{Key: key, Cylinder: e.Cylinder}
			case e.Kind == bench.KindWait, e.Kind == bench.KindCoolDown, e.Kind == bench.KindWarmUp:
				d.Aired = d.Aired || e.Number >= bench.Airing
			case e.Kind == bench.KindHoseOff, e.Kind == bench.KindPlugOut:
				d.Opened = d.Opened || e.Cylinder == d.Cylinder || e.Kind == bench.KindHoseOff
			}
		}
		if d.Key != "" {
			out = append(out, d)
		}
	}
	return out
}

// danger comes before everything else: after a hazard the first thing is to let
// go, the next to make it safe. Only then does the work go on.
func danger(s Situation) (Suggestion, bool) {
	for _, d := range s.Dangers {
		var out Suggestion
		ok := false
		switch d.Key {
		case "gear_engaged":
			out, ok = moved(s)
		case "vapour_ignition":
			out, ok = flash(s, d)
		case "hydrolock":
			out, ok = locked(s, d)
		case "air_turned_crank", "wrench_on_crank":
			out, ok = blown(s)
		case "belt_caught":
			out, ok = caught(s)
		}
		if ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

// moved: hands off the switch, park, brake, chocks.
func moved(s Situation) (Suggestion, bool) {
	st := s.State
	inGear := st.Gear != "park" && st.Gear != "neutral"
	decided := len(s.Sheet.Findings) > 0 // the chocks may be back on the wall
	switch {
	case inGear && st.Starter:
		return do("let_go_moved", record.Action{Kind: bench.KindStarter, Choice: "off"})
	case inGear:
		return do("gear_moved", record.Action{Kind: bench.KindGear, Choice: "park"})
	case st.Starter || decided:
	case !st.Brake:
		return do("brake", record.Action{Kind: bench.KindBrake, Choice: "on"})
	case !st.Chocks:
		return do("chocks", record.Action{Kind: bench.KindChocks, Choice: "on"})
	}
	return Suggestion{}, false
}

// flash: hands off the switch, no spark, no fuel, and time for the vapor to go.
func flash(s Situation, d Danger) (Suggestion, bool) {
	st := s.State
	switch {
	case d.Aired:
	case st.Starter:
		return do("let_go_flash", record.Action{Kind: bench.KindStarter, Choice: "off"})
	case st.Ignition != "disabled":
		return do("ignition", record.Action{Kind: bench.KindIgnition, Choice: "disabled"})
	case st.Fuel != "disabled":
		return do("fuel", record.Action{Kind: bench.KindFuel, Choice: "disabled"})
	default:
		return do("air_out", record.Action{Kind: bench.KindWait, Number: bench.Airing})
	}
	return Suggestion{}, false
}

// caught: the engine off at once, and a look at what turns before anything does again.
func caught(s Situation) (Suggestion, bool) {
	switch {
	case s.State.Running:
		return do("engine_off_caught", record.Action{Kind: bench.KindEngineRun, Choice: "off"})
	case !s.State.Belts:
		return do("belts", record.Action{Kind: bench.KindBelts})
	}
	return Suggestion{}, false
}

// blown: the air off before a hand goes near the crank. The piston was off its top;
// what follows sets it there.
func blown(s Situation) (Suggestion, bool) {
	if s.State.AirKPa > 0 && !s.AtTop {
		return do("air_off_moved", record.Action{Kind: bench.KindAir, Choice: "off"})
	}
	return Suggestion{}, false
}

// locked: hands off the switch, and a way out for the liquid.
func locked(s Situation, d Danger) (Suggestion, bool) {
	st := s.State
	switch {
	case d.Opened:
	case st.Starter:
		return do("let_go_locked", record.Action{Kind: bench.KindStarter, Choice: "off"})
	case st.HoseOn != 0 && s.NeedleUp:
		return do("release", record.Action{Kind: bench.KindRelease})
	case st.HoseOn != 0:
		return do("hose_off_locked", record.Action{Kind: bench.KindHoseOff})
	}
	for _, p := range st.Plugs {
		if !d.Opened && p.Cylinder == d.Cylinder && p.State == "in" {
			return do("plug_out_locked", record.Action{Kind: bench.KindPlugOut, Cylinder: p.Cylinder, Choice: "ordered"})
		}
	}
	return Suggestion{}, false
}
