package coach

import (
	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// cranking: while the starter turns there is one thing to do, watch and count.
func cranking(s Situation) (Suggestion, bool) {
	if !s.State.Starter {
		return Suggestion{}, false
	}
	if s.State.HoseOn == 0 && (s.State.Tester != 0 || s.State.Clamp || s.State.Vacuum || s.State.Neck) {
		out, _ := do("hold_then_stop", record.Action{Kind: bench.KindStarter, Choice: "off"})
		out.Seconds = watchSeconds
		return out, true
	}
	return do("count_then_stop", record.Action{Kind: bench.KindStarter, Choice: "off"})
}

// dry takes the cylinders in order: crank, write down, release, move on.
func dry(s Situation) (Suggestion, bool) {
	for cyl := 1; cyl <= s.Cylinders; cyl++ {
		if s.stuck(cyl) {
			continue
		}
		if out, ok := measure(s, cyl, false, 1); ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

// measure leads to n usable runs on one cylinder and to their numbers on the
// job sheet.
func measure(s Situation, cyl int, oil bool, n int) (Suggestion, bool) {
	if s.count(cyl, oil) < n {
		return fitAndCrank(s, cyl)
	}
	fields := []string{diagnose.FieldDryFirst, diagnose.FieldDryLast, diagnose.FieldStrokes}
	if oil {
		fields = []string{diagnose.FieldWetFirst, diagnose.FieldWetLast, diagnose.FieldWetStrokes, diagnose.FieldOilML}
	}
	for _, field := range fields {
		if _, ok := s.written(field, cyl); !ok {
			return think("write", cyl, field)
		}
	}
	return Suggestion{}, false
}

func fitAndCrank(s Situation, cyl int) (Suggestion, bool) {
	st := s.State
	switch {
	case st.HoseOn != 0 && s.NeedleUp:
		return do("release", record.Action{Kind: bench.KindRelease})
	case st.HoseOn != 0 && st.HoseOn != cyl:
		return do("hose_off", record.Action{Kind: bench.KindHoseOff})
	case st.HoseOn == 0:
		return do("hose_on", record.Action{Kind: bench.KindHoseOn, Cylinder: cyl})
	case !s.AtBottom:
		// From anywhere else the first stroke is a part of one, which can't be
		// compared with the others.
		return do("turn", record.Action{Kind: bench.KindTurn, Cylinder: cyl, Choice: "bdc"})
	case st.Wrench:
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	}
	out, _ := do("crank", record.Action{Kind: bench.KindStarter, Choice: "on"})
	out.Cylinder = cyl
	return out, true
}

// conditions are what real reports leave out.
func conditions(s Situation) (Suggestion, bool) {
	for _, field := range []string{
		diagnose.FieldRPM, diagnose.FieldBatteryV, diagnose.FieldCoolantC, diagnose.FieldThrottle,
	} {
		if !s.writtenSomewhere(field) {
			return think("write", 0, field)
		}
	}
	l := s.Card.Limits
	for _, x := range []struct {
		field string
		given bool
	}{
		{diagnose.FieldSpecStandard, l.Standard > 0},
		{diagnose.FieldSpecMinimum, l.Minimum > 0},
		{diagnose.FieldSpecDifference, l.DifferenceMax > 0},
	} {
		if _, ok := s.written(x.field, 0); x.given && !ok {
			return think("write", 0, x.field)
		}
	}
	return Suggestion{}, false
}

// surprise returns a cylinder whose reading nobody should believe yet: one that
// stands out, or the lowest of an engine that is off its figure as a whole, read only
// once; 0 when there is none.
func (s Situation) surprise() int {
	e, j := s.seen()
	switch j.Pattern {
	case diagnose.PatternNothing, diagnose.PatternWithin, diagnose.PatternSlow, diagnose.PatternMethod, diagnose.PatternPartial:
		return 0
	}
	first := 0
	for _, x := range e.Seen {
		mine := len(j.Suspects) == 0
		for _, c := range j.Suspects {
			mine = mine || c == x.Cylinder
		}
		switch {
		case !mine || !x.Valid:
		case x.Repeats > 0, s.count(x.Cylinder, true) > 0, oilIn(s, x.Cylinder) > 0:
			return 0
		case first == 0 || x.DryLast < e.Seen[first-1].DryLast:
			first = x.Cylinder
		}
	}
	return first
}

// again repeats a surprising reading before anything is made of it.
func again(s Situation) (Suggestion, bool) {
	cyl := s.surprise()
	if cyl == 0 || s.stuck(cyl) {
		return Suggestion{}, false
	}
	out, _ := fitAndCrank(s, cyl)
	if out.Key == "crank" || out.Key == "hose_on" {
		out.Key = "repeat"
	}
	return out, true
}

// wet puts oil in the cylinders that stand out and in a healthy one: without that the
// gain says nothing. Where all are low alike there is no healthy one.
func wet(s Situation, j diagnose.Judgement) (Suggestion, bool) {
	if s.Card.OilML == 0 {
		return Suggestion{}, false
	}
	if out, ok := prepare(s); ok {
		return out, true
	}
	for _, cyl := range s.oiled(j) {
		if s.count(cyl, true) == 0 && oilIn(s, cyl) == 0 {
			return oil(s, cyl)
		}
		if out, ok := measure(s, cyl, true, 1); ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

// oiled lists the cylinders of a wet test: those that stand out and the highest of
// the others, or the lowest and the highest of all.
func (s Situation) oiled(j diagnose.Judgement) []int {
	e, _ := s.seen()
	out := append([]int(nil), j.Suspects...)
	low, high := 0, 0
	for _, x := range e.Seen {
		stands := false
		for _, c := range j.Suspects {
			stands = stands || c == x.Cylinder
		}
		if !x.Valid || stands {
			continue
		}
		if low == 0 || x.DryLast < e.Seen[low-1].DryLast {
			low = x.Cylinder
		}
		if high == 0 || x.DryLast > e.Seen[high-1].DryLast {
			high = x.Cylinder
		}
	}
	if len(out) == 0 && low != 0 && low != high {
		out = append(out, low)
	}
	if high != 0 {
		out = append(out, high)
	}
	return out
}

func oil(s Situation, cyl int) (Suggestion, bool) {
	if out, ok := s.hoseAway(); ok {
		return out, true
	}
	return do("oil", record.Action{Kind: bench.KindOil, Cylinder: cyl, Number: s.Card.OilML})
}

func oilIn(s Situation, cyl int) float64 {
	if cyl < 1 || cyl > len(s.State.OilML) {
		return 0
	}
	return s.State.OilML[cyl-1]
}
