package coach

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

const (
	// testerKPa is the air of a leakage test [kPa]: 100 psi.
	testerKPa = 690.0
	// capC is a coolant temperature up to which the cap comes off without harm [°C].
	capC = 58.0
)

// leakage leads through air on one cylinder: tester on, the piston at the top of its
// compression, the wrench off, air on, an ear everywhere, the numbers, and off again.
func leakage(s Situation, cyl int) (Suggestion, bool) {
	if out, ok := s.hoseAway(); ok {
		return out, true
	}
	st := s.State
	switch {
	case !st.Glasses:
		return do("glasses", record.Action{Kind: bench.KindGlasses, Choice: "on"})
	case st.Tester == 0 && (s.plug(cyl) == "in" || plugsIn(s) > 0 && s.Card.PlugsOut):
		return s.open(cyl) // a cylinder that is shut pushes the crank round by itself
	case st.Tester == 0:
		return do("tester_on", record.Action{Kind: bench.KindTesterOn, Cylinder: cyl})
	case st.AirKPa > 0:
		return underAir(s)
	case s.airDone():
		return do("tester_off", record.Action{Kind: bench.KindTesterOff})
	case s.dryWalls():
		return oilWalls(s)
	case !s.AtTop:
		return do("turn_top", record.Action{Kind: bench.KindTurn, Cylinder: st.Tester, Choice: "tdc"})
	case st.Wrench:
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	}
	out, _ := do("air_on", record.Action{Kind: bench.KindAir, Choice: "on", Number: testerKPa})
	out.Cylinder = st.Tester
	return out, true
}

// open takes the plug of a cylinder out, and those that the card wants out.
func (s Situation) open(cyl int) (Suggestion, bool) {
	if out, ok := openUp(s); ok {
		return out, true
	}
	return do("plug_out", record.Action{Kind: bench.KindPlugOut, Cylinder: cyl, Choice: "ordered"})
}

// dryWalls reports whether the cylinder walls have drained since the crank last
// turned: fitting the tester takes minutes.
func (s Situation) dryWalls() bool {
	for i := len(s.Record.Events) - 1; i >= 0; i-- {
		switch s.Record.Events[i].Kind {
		case bench.EventCrankStop:
			return false
		case bench.KindTesterOn:
			return true
		}
	}
	return false
}

// oilWalls cranks for a moment with the tester on, so that the rings are judged and
// not the walls.
func oilWalls(s Situation) (Suggestion, bool) {
	if s.State.Wrench {
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	}
	if out, ok := disable(s); ok {
		return out, true
	}
	return do("crank_walls", record.Action{Kind: bench.KindStarter, Choice: "on"})
}

func (s Situation) plug(cylinder int) string {
	for _, p := range s.State.Plugs {
		if p.Cylinder == cylinder {
			return p.State
		}
	}
	return ""
}

// airDone reports whether the cylinder under the tester has a reading that can be
// used since the tester came on.
func (s Situation) airDone() bool {
	on := 0
	for i, e := range s.Record.Events {
		if e.Kind == bench.KindTesterOn {
			on = i
		}
	}
	for _, e := range s.Record.Events[min(on, len(s.Record.Events)):] {
		if e.Kind == bench.EventLeak {
			ev, _ := s.seen()
			return tested(ev, "leakage", s.State.Tester)
		}
	}
	return false
}

// underAir listens, has it written down and shuts the air off.
func underAir(s Situation) (Suggestion, bool) {
	cyl := s.State.Tester
	l, ok := s.lastLeak(cyl)
	if !ok {
		return do("air_off", record.Action{Kind: bench.KindAir, Choice: "off"})
	}
	if out, ok := s.listen(l); ok {
		return out, true
	}
	for _, f := range []struct {
		field    string
		cylinder int
	}{{diagnose.FieldLeakage, cyl}, {diagnose.FieldLeakageSupply, 0}} {
		if _, ok := s.written(f.field, f.cylinder); !ok {
			return think("write", f.cylinder, f.field)
		}
	}
	if !slices.ContainsFunc(s.Sheet.Heard, func(h diagnose.Air) bool { return h.Cylinder == cyl }) {
		return think("write", cyl, "heard")
	}
	return do("air_off", record.Action{Kind: bench.KindAir, Choice: "off"})
}

// lastLeak returns the last reading of a cylinder.
func (s Situation) lastLeak(cylinder int) (record.Leak, bool) {
	for i := len(s.Record.Leaks) - 1; i >= 0; i-- {
		if l := s.Record.Leaks[i]; l.Cylinder == cylinder {
			return l, true
		}
	}
	return record.Leak{}, false
}

// listen goes round the places. The coolant neck comes last and only where nothing
// else has told: the cap of a warm engine stays on until it has cooled.
func (s Situation) listen(l record.Leak) (Suggestion, bool) {
	told := false
	asked := func(place string, cylinder int) bool {
		for _, h := range l.Heard {
			if h.Place == place && h.Cylinder == cylinder {
				told = told || h.Air && place != bench.PlaceFiller
				return true
			}
		}
		return false
	}
	at := func(place string, cylinder int) (Suggestion, bool) {
		key := "listen_" + place
		return do(key, record.Action{Kind: bench.KindListen, Choice: place, Cylinder: cylinder})
	}
	for _, place := range []string{bench.PlaceThrottle, bench.PlaceTailpipe, bench.PlaceFiller, bench.PlaceEdge} {
		if !asked(place, 0) {
			return at(place, 0)
		}
	}
	for _, n := range s.besides(l.Cylinder) {
		if s.plug(n) == "out" && !asked(bench.PlaceHole, n) {
			return at(bench.PlaceHole, n)
		}
	}
	if told || l.Percent < quietPercent || asked(bench.PlaceNeck, 0) {
		return Suggestion{}, false
	}
	if c := s.State.CoolantC; c != nil && *c > capC && !s.State.Neck {
		return do("neck_cool", record.Action{Kind: bench.KindCoolDown, Number: 15})
	}
	return at(bench.PlaceNeck, 0)
}

// quietPercent is a loss that needs no place to go to [%].
const quietPercent = 15.5

// besides returns the cylinders that stand beside one in its bank.
func (s Situation) besides(cylinder int) []int {
	var out []int
	for _, bank := range s.Banks {
		at := slices.Index(bank, cylinder)
		if at < 0 {
			continue
		}
		if at > 0 {
			out = append(out, bank[at-1])
		}
		if at+1 < len(bank) {
			out = append(out, bank[at+1])
		}
	}
	return out
}
