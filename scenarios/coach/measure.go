package coach

import (
	"math"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// cranking: while the starter turns there is one thing to do, watch and count.
func cranking(s Situation) (Suggestion, bool) {
	if !s.State.Starter {
		return Suggestion{}, false
	}
	return do("count_then_stop", record.Action{Kind: bench.KindStarter, Choice: "off"})
}

// dry takes the cylinders in order: crank, write down, release, move on.
func dry(s Situation) (Suggestion, bool) {
	for cyl := 1; cyl <= s.Cylinders; cyl++ {
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

// lowHigh is what the student's own numbers say.
type lowHigh struct {
	low, high       int     // cylinders, 0 without numbers
	lowest, highest float64 // Pa
}

func extremes(s Situation) lowHigh {
	x := lowHigh{lowest: math.Inf(1), highest: math.Inf(-1)}
	for cyl := 1; cyl <= s.Cylinders; cyl++ {
		p, ok := s.written(diagnose.FieldDryLast, cyl)
		if !ok {
			continue
		}
		if p < x.lowest {
			x.low, x.lowest = cyl, p
		}
		if p > x.highest {
			x.high, x.highest = cyl, p
		}
	}
	return x
}

// tooLow says whether the lowest calls for oil: under the ratio of the card to
// the highest, or under its minimum.
func (s Situation) tooLow(x lowHigh) bool {
	ratio := s.Card.Limits.RatioMin
	if ratio == 0 {
		ratio = 0.75
	}
	return x.low != 0 && (x.lowest < ratio*x.highest || x.lowest < float64(s.Card.Limits.Minimum))
}

// tooHigh says whether the highest stands above what the engine should read by
// more than a gauge errs.
func (s Situation) tooHigh(x lowHigh) bool {
	standard := float64(s.Card.Limits.Standard)
	return x.high != 0 && standard > 0 && x.highest > 1.08*standard
}

// again repeats a surprising reading before anything is made of it.
func again(s Situation) (Suggestion, bool) {
	x := extremes(s)
	cyl := 0
	switch {
	case s.tooLow(x):
		cyl = x.low
	case s.tooHigh(x):
		cyl = x.high
	}
	if cyl == 0 || s.count(cyl, false) >= 2 || s.count(cyl, true) > 0 || oilIn(s, cyl) > 0 {
		return Suggestion{}, false
	}
	out, _ := fitAndCrank(s, cyl)
	if out.Key == "crank" || out.Key == "hose_on" {
		out.Key = "repeat"
	}
	return out, true
}

// wet puts oil in the low cylinder and in a healthy one: without the second the
// gain says nothing.
func wet(s Situation) (Suggestion, bool) {
	x := extremes(s)
	if !s.tooLow(x) || s.Card.OilML == 0 {
		return Suggestion{}, false
	}
	for _, cyl := range []int{x.low, x.high} {
		if s.count(cyl, true) == 0 && oilIn(s, cyl) == 0 {
			return oil(s, cyl)
		}
		if out, ok := measure(s, cyl, true, 1); ok {
			return out, true
		}
	}
	return Suggestion{}, false
}

func oil(s Situation, cyl int) (Suggestion, bool) {
	switch {
	case s.State.HoseOn != 0 && s.NeedleUp:
		return do("release", record.Action{Kind: bench.KindRelease})
	case s.State.HoseOn != 0:
		return do("hose_off", record.Action{Kind: bench.KindHoseOff})
	}
	return do("oil", record.Action{Kind: bench.KindOil, Cylinder: cyl, Number: s.Card.OilML})
}

func oilIn(s Situation, cyl int) float64 {
	if cyl < 1 || cyl > len(s.State.OilML) {
		return 0
	}
	return s.State.OilML[cyl-1]
}
