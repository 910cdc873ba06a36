package diagnose

import (
	"slices"

	"crankbay/sim/record"
)

// A hint is what one confirming test says for or against a family on some
// cylinders; no cylinders means the whole engine. The table of trade knowledge
// that it rests on stands beside each test below.
type hint struct {
	test      string // of EvidenceKinds
	family    string
	cylinders []int
	speaksFor bool
	leans     bool // points that way and leaves as much open as before
}

const (
	// secondOff is how far a second gauge reads from the first for one of them to be
	// wrong; secondSame up to where they agree (two gauges of 3 % each; common
	// practice, no source).
	secondOff  = 0.085
	secondSame = 0.055
	// refitGain is what a neighbour's refitted plug has to bring (two scale marks of a
	// low reading; computed by the model for a pair that fires close together).
	refitGain = 0.085
	// snapLow: a snapped reading under this share of cranking says that little gets in
	// at speed. Healthy ones lie at 0.70 to 1.05 (common practice, no source).
	snapLow = 0.63
	// snapBehind: or a share that stays this far behind another cylinder's.
	snapBehind = 0.84
	// humpExtra: a hump this high over the mean has a compression too many in it. One
	// that merely follows a weak cylinder stays under it (computed by the model).
	humpExtra = 140.5
	// missedLittle: a cylinder whose loss costs the engine less than this share of what
	// the others' costs works little or nothing.
	missedLittle = 0.55
)

// hints lists what all confirming tests say beside what the gauge did.
func (e Evidence) hints(j *Judgement) []hint {
	var out []hint
	suspects := j.Suspects
	for n := 1; n <= e.Cylinders; n++ {
		if l, ok := e.Confirmed.leak(n); ok && l.Fault == "" {
			out = append(out, l.hints(e, j)...)
		}
	}
	out = append(out, e.lookHints(suspects)...)
	out = append(out, e.gaugeHints(suspects)...)
	out = append(out, e.runningHints()...)
	out = append(out, e.balanceHints(j)...)
	return append(out, e.humpHints(suspects)...)
}

// hints of a leakage test: the percentage says whether, the ear says where. What is
// large at the throttle or tailpipe is a valve; at the oil filler alone rings, for
// sound rings are heard there too; bubbles, a puff at the neighbour's hole or air
// along the seam the gasket. Low with small leakage is no leak at all: a valve that
// hardly opens, or the timing where several are low.
func (l LeakSeen) hints(e Evidence, j *Judgement) []hint {
	me := []int{l.Cylinder}
	var out []hint
	say := func(yes bool, cylinders []int, families ...string) {
		for _, f := range families {
			out = append(out, hint{"leakage", f, cylinders, yes, false})
		}
	}
	switch {
	case l.Percent < leakSmall:
		say(false, me, FamilyValveLeak, FamilyTightLash, FamilyRingOrBore, FamilyWashedOrDry, FamilyHeadGasket)
		switch {
		case j.Pattern == PatternAllLow:
			out = append(out, hint{"leakage", FamilyValveTiming, nil, true, true}) // a gauge, altitude or design leak little too
		case slices.Contains(j.Suspects, l.Cylinder) && e.wholeBank(j.Suspects):
			out = append(out, hint{"leakage", FamilyValveTiming, j.Suspects, true, false})
		case slices.Contains(j.Suspects, l.Cylinder):
			say(true, me, FamilyValveNotOpening)
		}
		return out
	case l.Percent < leakLarge:
		return nil
	}
	say(false, me, FamilyValveNotOpening, FamilyCarbonOrLiquid, FamilyValveTiming)
	intake, _ := l.heard(HeardThrottle)
	exhaust, _ := l.heard(HeardTailpipe)
	filler, _ := l.heard(HeardFiller)
	neck, _ := l.heard(HeardNeck)
	edge, _ := l.heard(HeardEdge)
	valve, gasket := intake || exhaust, neck || edge
	if valve {
		say(true, me, FamilyValveLeak)
	}
	if gasket {
		say(true, me, FamilyHeadGasket)
	}
	if n := l.neighbour(e); n > 0 && !valve {
		gasket = true
		say(true, sorted([]int{l.Cylinder, n}), FamilyHeadGasket)
		say(true, me, FamilyHeadGasket)
	}
	if filler && !valve && !gasket && l.Percent >= leakRings {
		say(true, me, FamilyRingOrBore)
		if j.Pattern == PatternAllLow || j.Pattern == PatternSeveral {
			say(true, me, FamilyWashedOrDry) // many alike: rings without oil leak as worn ones do, and oil tells
		}
	}
	l.silence(valve, gasket, filler, say)
	return out
}

// silence is what an ear at the right places did not hear.
func (l LeakSeen) silence(valve, gasket, filler bool, say func(bool, []int, ...string)) {
	_, atThrottle := l.heard(HeardThrottle)
	_, atTailpipe := l.heard(HeardTailpipe)
	me := []int{l.Cylinder}
	if !valve && atThrottle && atTailpipe {
		say(false, me, FamilyValveLeak, FamilyTightLash)
	}
	if valve || gasket {
		say(false, me, FamilyRingOrBore, FamilyWashedOrDry)
	}
	if _, atFiller := l.heard(HeardFiller); atFiller && !filler {
		say(false, me, FamilyRingOrBore, FamilyWashedOrDry)
	}
	if valve && !gasket {
		say(false, me, FamilyHeadGasket)
	}
}

// neighbour returns the bank neighbour at whose hole the air came out, 0 for none.
func (l LeakSeen) neighbour(e Evidence) int {
	for _, h := range l.Heard {
		if h.Place == holePlace && h.Air && adjacent(e.Banks, l.Cylinder, h.Cylinder) {
			return h.Cylinder
		}
	}
	return 0
}

// wholeBank reports whether some cylinders are one whole bank of several.
func (e Evidence) wholeBank(cylinders []int) bool {
	for _, b := range e.Banks {
		if len(e.Banks) > 1 && len(b) > 1 && slices.Equal(sorted(b), cylinders) {
			return true
		}
	}
	return false
}

// lookHints: a feeler gauge, the marks, an eye in the cylinder, the cooling system
// under pressure, and the plugs themselves (those only lean).
func (e Evidence) lookHints(suspects []int) []hint {
	var out []hint
	for _, l := range e.Confirmed.Looks {
		me := []int{l.Cylinder}
		add := func(test, family string, cylinders []int, yes bool) {
			out = append(out, hint{test, family, cylinders, yes, false})
		}
		switch l.Fact {
		case "lash_intake_none", "lash_exhaust_none":
			add("lash", FamilyTightLash, me, true)
		case "lash_intake_wide", "lash_exhaust_wide":
			add("lash", FamilyValveNotOpening, me, true)
		case "lash_intake", "lash_exhaust":
			if e.tight(l) {
				add("lash", FamilyTightLash, me, true)
			} else if !e.tightElsewhere(l) {
				add("lash", FamilyTightLash, me, false)
			}
		case "timing_right":
			add("timing_marks", FamilyValveTiming, nil, false)
		case "timing_intake_late", "timing_intake_early", "timing_exhaust_late", "timing_exhaust_early":
			add("timing_marks", FamilyValveTiming, e.underCam(l.Cylinder), true)
		case "bore_hole", "bore_scored":
			add("borescope", FamilyRingOrBore, me, true)
		case "bore_carbon", "bore_liquid":
			add("borescope", FamilyCarbonOrLiquid, me, true)
		case "bore_clean":
			if !e.fell(l.Cylinder) {
				add("borescope", FamilyCarbonOrLiquid, me, false)
			}
		case "cooling_falls", "bubbles_cranked":
			add("cooling_pressure", FamilyHeadGasket, suspects, true)
		}
	}
	return out
}

// fell reports whether a cylinder read less from one test to the next: what lies on a
// piston goes with the strokes, and a bore that is clean then says nothing of before.
func (e Evidence) fell(cylinder int) bool {
	for _, s := range e.Seen {
		if s.Cylinder == cylinder && s.Spread > wanders {
			return true
		}
	}
	return false
}

// tight reports whether a measured clearance is under what the page asks for.
func (e Evidence) tight(l Look) bool { return e.lash.Tight(l.Fact, l.Number) }

// tightElsewhere reports whether the other valve of the same cylinder was found tight.
func (e Evidence) tightElsewhere(l Look) bool {
	for _, o := range e.Confirmed.Looks {
		none := o.Fact == "lash_intake_none" || o.Fact == "lash_exhaust_none"
		if o.Cylinder == l.Cylinder && o.Kind == kindLash && (none || e.tight(o) && (o.Fact == "lash_intake" || o.Fact == "lash_exhaust")) {
			return true
		}
	}
	return false
}

// underCam returns the cylinders of the bank whose cam was found off its mark, none
// for an engine of one bank.
func (e Evidence) underCam(cylinder int) []int {
	if len(e.Banks) < 2 {
		return nil
	}
	for _, b := range e.Banks {
		if slices.Contains(b, cylinder) && len(b) > 1 {
			return sorted(b)
		}
	}
	return nil
}

// gaugeHints: a second gauge that says the same clears the first one; a refitted
// plug that helps shows the way the gas took.
func (e Evidence) gaugeHints(suspects []int) []hint {
	var out []hint
	for _, s := range e.Confirmed.Gauges {
		switch off := ratio(s.After-s.Before, s.Before); {
		case off > secondOff || off < -secondOff:
			out = append(out, hint{"second_gauge", FamilyMethodOrGauge, nil, true, false})
		case off < secondSame && off > -secondSame:
			out = append(out, hint{"second_gauge", FamilyMethodOrGauge, nil, false, false})
		}
	}
	for _, s := range e.Confirmed.Refits {
		if slices.Contains(suspects, s.Cylinder) && ratio(s.After-s.Before, s.Before) > refitGain {
			out = append(out, hint{"refit", FamilyHeadGasket, suspects, true, true})
		}
	}
	return out
}

// runningHints: a cylinder that fills while cranking and lets little in at speed has a
// valve that opens too little. Each is held against its own cranking reading, and that
// share against the best of the others.
func (e Evidence) runningHints() []hint {
	var out []hint
	share := make([]float64, e.Cylinders)
	best := 0.0
	for n := 1; n <= e.Cylinders; n++ {
		if p, ok := e.Confirmed.pumpedOf(n, pumpedSnap); ok && e.Seen[n-1].Valid {
			share[n-1] = ratio(p, e.Seen[n-1].DryLast)
			best = max(best, share[n-1])
		}
	}
	for n := 1; n <= e.Cylinders; n++ {
		if share[n-1] == 0 {
			continue
		}
		weak := share[n-1] < snapLow || share[n-1] < snapBehind*best
		if !weak && e.ran() < 2 {
			continue // with nothing beside it, enough is not known to be enough
		}
		out = append(out, hint{"running", FamilyValveNotOpening, []int{n}, weak, false})
	}
	return out
}

// ran returns how many cylinders were read with the engine running.
func (e Evidence) ran() int {
	n := 0
	for c := 1; c <= e.Cylinders; c++ {
		if _, ok := e.Confirmed.pumpedOf(c, pumpedSnap); ok {
			n++
		}
	}
	return n
}

// balanceHints: where the gauge reads normal, a cylinder that the idling engine does
// not miss gets no charge or can't get rid of it; where every one is missed alike all
// valves open. It may be spark or fuel as well, so that it only leans.
func (e Evidence) balanceHints(j *Judgement) []hint {
	list := e.Confirmed.Balances
	if len(list) == 0 || j.Pattern != PatternWithin && j.Pattern != PatternOneHigh {
		return nil
	}
	b := list[len(list)-1]
	drop := func(i int) float64 { return max(0, b.RPM-clean(b.Without[i])) }
	most := 0.0
	for i := range b.Without {
		most = max(most, drop(i))
	}
	var out []hint
	for i := range b.Without {
		if n := i + 1; n <= e.Cylinders && most > 0 {
			little := drop(i) < missedLittle*most
			out = append(out, hint{"power_balance", FamilyValveNotOpening, []int{n}, little, true})
		}
	}
	return out
}

// humpHints: the starter feels every compression without a gauge, so a low hump
// where the gauge reads low clears the gauge. One that is far too high has a second
// compression in it: the exhaust valve of the cylinder a turn away stays shut. Where
// humps lie on each other, the trace itself says which one stands out so.
func (e Evidence) humpHints(suspects []int) []hint {
	var out []hint
	double := func(humps []record.Hump, i int) {
		if n := len(humps); n%2 == 0 {
			out = append(out, hint{"current", FamilyValveNotOpening, []int{humps[(i+n/2)%n].Cylinder}, true, false})
		}
	}
	humps := e.Confirmed.humps()
	for i, h := range humps {
		if h.Low && slices.Contains(suspects, h.Cylinder) {
			out = append(out, hint{"current", FamilyMethodOrGauge, nil, false, false})
		}
		if h.Group == 0 && clean(h.Percent) > humpExtra {
			double(humps, i)
		}
	}
	if n := len(e.Confirmed.Currents); n > 0 && humps == nil {
		last := e.Confirmed.Currents[n-1]
		for i, h := range last.Humps {
			if h.Cylinder == last.Tower {
				double(last.Humps, i)
			}
		}
	}
	return out
}
