package diagnose

import "crankbay/sim/unit"

// shape is what the dry readings look like before anyone asks why.
type shape struct {
	suspects []int // cylinders that stand out low, in order
	high     int   // the one cylinder that stands out high, 0 none
	neighbor int   // bank neighbour of a lone suspect that is a little low itself, 0 none
	bank     int   // index of a bank that is low as a whole, -1 none
	pair     bool  // the suspects are two neighbours in one bank
	level    int   // -1 all low, +1 all high, 0 neither
	under    bool  // even the highest is under the page's minimum
	fails    bool  // the rule that counts is not kept
	wanders  bool  // a cylinder does not repeat
}

// shapeOf looks at the readings the way one does on the bench: which stand out,
// are they neighbours, is it a bank, is it all of them.
func shapeOf(e Evidence, limits Limits) shape {
	lo, hi, mean, n := extremes(e.Seen)
	sh := shape{bank: -1}
	if n == 0 {
		return sh
	}
	for _, s := range e.Seen {
		if s.Valid && s.DryLast < outLow*hi.DryLast {
			sh.suspects = append(sh.suspects, s.Cylinder)
		}
		sh.wanders = sh.wanders || s.Spread > wanders
	}
	sh.high = highOne(e.Seen)
	if sh.high > 0 {
		sh.suspects = nil
	}
	if n == e.Cylinders {
		sh.bank = lowBank(e, sh.suspects)
	}
	if sh.bank >= 0 {
		sh.suspects = sorted(e.Banks[sh.bank])
	} else if len(sh.suspects) == 2 {
		sh.pair = adjacent(e.Banks, sh.suspects[0], sh.suspects[1])
	}
	if len(sh.suspects) == 1 {
		sh.neighbor = weakNeighbor(e, sh.suspects[0], hi.DryLast)
	}
	if len(sh.suspects) == 0 && sh.high == 0 {
		sh.level, sh.under = levelOf(limits, lo.DryLast, hi.DryLast, mean)
	}
	sh.fails = !atLeast(lo.DryLast, limits.Allowed(hi.DryLast, mean))
	return sh
}

// levelOf holds even readings against the page: even is not a limit.
func levelOf(limits Limits, lo, hi, mean unit.Gauge) (level int, under bool) {
	under = limits.Minimum > 0 && !atLeast(hi, limits.Minimum)
	switch {
	case under, limits.Standard > 0 && mean < lowShare*limits.Standard,
		limits.Minimum > 0 && !atLeast(lo, limits.Minimum):
		return -1, under
	case limits.Standard > 0 && mean > highShare*limits.Standard:
		return +1, false
	}
	return 0, false
}

// highOne returns the one cylinder that reads clearly above all others while the
// others are even among themselves; 0 when there is none. It takes three
// cylinders to tell one high from the rest low.
func highOne(seen []Seen) int {
	_, top, _, n := extremes(seen)
	if n < 3 {
		return 0
	}
	rest := make([]Seen, 0, len(seen))
	for _, s := range seen {
		if s.Cylinder != top.Cylinder {
			rest = append(rest, s)
		}
	}
	low, second, mean, _ := extremes(rest)
	if low.DryLast < evenWithin*second.DryLast || !(top.DryLast > outHigh*mean) {
		return 0
	}
	return top.Cylinder
}

// lowBank returns the index of a bank of two or more that is low as a whole and
// even in itself while the rest of the engine is even too; -1 for none.
func lowBank(e Evidence, suspects []int) int {
	if len(e.Banks) < 2 {
		return -1
	}
	for i, bank := range e.Banks {
		if len(bank) < 2 {
			continue
		}
		var in, rest []Seen
		for _, s := range e.Seen {
			if hasInt(bank, s.Cylinder) {
				in = append(in, s)
			} else {
				rest = append(rest, s)
			}
		}
		lo, hi, mean, _ := extremes(in)
		restLo, restHi, restMean, _ := extremes(rest)
		if hi.DryLast < restLo.DryLast && mean < bankShare*restMean &&
			lo.DryLast >= evenWithin*hi.DryLast && restLo.DryLast >= evenWithin*restHi.DryLast {
			return i
		}
	}
	return -1
}

// adjacent reports whether two cylinders stand side by side in one bank.
func adjacent(banks [][]int, a, b int) bool {
	for _, bank := range banks {
		for i := 1; i < len(bank); i++ {
			if bank[i-1] == a && bank[i] == b || bank[i-1] == b && bank[i] == a {
				return true
			}
		}
	}
	return false
}

// weakNeighbor returns a bank neighbour of c that reads a little low itself: real
// gasket pairs are often unequal.
func weakNeighbor(e Evidence, c int, highest unit.Gauge) int {
	for _, s := range e.Seen {
		if s.Valid && s.Cylinder != c && adjacent(e.Banks, c, s.Cylinder) && s.DryLast < 0.93*highest {
			return s.Cylinder
		}
	}
	return 0
}

// sorted returns the list in rising order; it is never longer than an engine.
func sorted(list []int) []int {
	out := append([]int(nil), list...)
	for i := range out {
		for k := i; k > 0 && out[k] < out[k-1]; k-- {
			out[k], out[k-1] = out[k-1], out[k]
		}
	}
	return out
}

// whole judges a complete, unspoiled dry test and whatever wet test there was.
func (j *Judgement) whole(e Evidence, sh shape, oil bool) {
	switch {
	case sh.wanders:
		j.Pattern = PatternWander
		j.Supported = []Finding{{Family: FamilyMethodOrGauge}}
		j.Open = cylinderCauses(j.Suspects)
		j.Next = []string{"repeat", "second_gauge"}
	case sh.bank >= 0:
		j.bankLow(e)
	case sh.high > 0:
		j.Pattern, j.Suspects = PatternOneHigh, []int{sh.high}
		j.Supported = []Finding{{FamilyCarbonOrLiquid, j.Suspects}}
		j.Open = []Finding{{Family: FamilyMethodOrGauge}, {FamilyValveNotOpening, j.Suspects}}
		j.Next = []string{"repeat", "borescope"}
	case len(j.Suspects) > 0:
		j.someLow(e, sh, oil)
	case sh.level < 0:
		j.allLow(sh, oil)
	case sh.level > 0:
		j.Pattern = PatternAllHigh
		j.Open = findings(FamilyValveTiming, FamilyCarbonOrLiquid, FamilyMethodOrGauge, FamilySound, FamilyNormalByDesign)
		j.Next = []string{"timing_marks", "borescope", "second_gauge"}
	default:
		// A pass does not clear a cylinder that misfires under load, so a valve
		// that hardly opens stays possible beside 'sound' and 'not compression'.
		j.Pattern, j.Decided = PatternWithin, !sh.fails
		j.Supported = findings(FamilySound, FamilyNotCompression)
		j.Open = findings(FamilyValveNotOpening)
		j.Next = []string{"none", "running", "current", "vacuum"}
	}
	if len(j.Suspects) > 0 && sh.bank < 0 && !sh.fails {
		// It stands out and yet keeps the rule that counts. A whole bank is no chance.
		j.Open, j.Decided = append(j.Open, Finding{Family: FamilySound}), false
	}
}

// bankLow: that bank's cam timing, or its lash too tight; a leakage test tells.
func (j *Judgement) bankLow(e Evidence) {
	j.Pattern = PatternBankLow
	j.Next = []string{"timing_marks", "leakage", "lash"}
	timing := Finding{FamilyValveTiming, j.Suspects}
	rings := Finding{FamilyRingOrBore, j.Suspects}
	lash := Finding{FamilyTightLash, j.Suspects}
	gasket := Finding{FamilyHeadGasket, j.Suspects}
	switch {
	case j.HasOwn && j.HasCtl && j.OwnGain-j.Control >= gainRing:
		j.Supported, j.Open = []Finding{rings}, []Finding{{FamilyWashedOrDry, j.Suspects}}
	default:
		j.Supported, j.Open = []Finding{timing}, []Finding{lash}
		if !j.HasOwn || !j.HasCtl {
			j.Open = append(j.Open, rings)
			j.Next = append(j.Next, "wet")
		}
	}
	if len(j.Suspects) == 2 {
		j.Open = append(j.Open, gasket)
	}
}

// someLow: one, a pair, or several. Oil tells rings from the rest, but only
// beside what it does to a healthy cylinder.
func (j *Judgement) someLow(e Evidence, sh shape, oil bool) {
	j.Pattern = PatternOneLow
	if len(j.Suspects) > 1 {
		j.Pattern = PatternSeveral
	}
	rings := []Finding{{FamilyRingOrBore, j.Suspects}}
	others := []Finding{{FamilyValveLeak, j.Suspects}}
	j.Next = []string{"leakage", "borescope", "lash", "cooling_pressure"}
	if sh.pair {
		j.Pattern = PatternPair
		others = []Finding{{FamilyHeadGasket, j.Suspects}}
	}
	told := j.HasOwn && j.HasCtl
	diff := j.OwnGain - j.Control
	switch {
	case told && diff >= gainRing && j.Control >= gainAll:
		// All gain hugely: dry or stuck after standing, not worn.
		j.Supported = append(rings, Finding{FamilyWashedOrDry, j.Suspects}, Finding{Family: FamilyWashedOrDry})
		j.Next = append(j.Next, "repeat")
	case told && diff >= gainRing:
		j.Supported, j.Decided = rings, true
		j.Open = []Finding{{FamilyWashedOrDry, j.Suspects}}
	case told && j.OwnGain < losing:
		// Oil takes nothing away: less wet than dry is the method, not the engine.
		j.Open = append(cylinderCauses(j.Suspects), Finding{Family: FamilyMethodOrGauge})
		j.Next = append(j.Next, "repeat", "second_gauge")
	case told && diff <= gainValve, sh.pair && !told:
		j.Supported, j.Decided = others, told
		for _, f := range cylinderCauses(j.Suspects) {
			if !told || f.Family != FamilyRingOrBore && f.Family != FamilyWashedOrDry {
				j.Open = append(j.Open, f)
			}
		}
	default:
		j.Open = cylinderCauses(j.Suspects)
	}
	if sh.neighbor > 0 {
		j.Open = append(j.Open, Finding{FamilyHeadGasket, sorted([]int{j.Suspects[0], sh.neighbor})})
	}
	if !told {
		j.WetCalled = oil && !sh.pair
		j.Next = append(j.Next, "wet", "repeat")
	}
	if !repeated(e, j.Suspects) {
		j.Open = append(j.Open, Finding{Family: FamilyMethodOrGauge})
	}
	j.mixed(e)
}

// repeated reports whether one of the cylinders was tested dry more than once.
func repeated(e Evidence, cylinders []int) bool {
	for _, s := range e.Seen {
		if s.Repeats > 0 && hasInt(cylinders, s.Cylinder) {
			return true
		}
	}
	return false
}

// mixed: with several low, each is read for itself, so a claim about one of them
// that its own wet test bears out stays possible.
func (j *Judgement) mixed(e Evidence) {
	if len(j.Suspects) < 2 || !j.HasCtl {
		return
	}
	for _, s := range e.Seen {
		if !s.WetValid || !hasInt(j.Suspects, s.Cylinder) {
			continue
		}
		family := FamilyValveLeak
		if s.WetGain-j.Control >= gainRing {
			family = FamilyRingOrBore
		}
		j.Open = append(j.Open, Finding{family, []int{s.Cylinder}})
	}
}

// allLow: at normal speed, done right, all low and even. Timing, rings and dry
// bores look the same until oil has been in.
func (j *Judgement) allLow(sh shape, oil bool) {
	j.Pattern = PatternAllLow
	j.Next = []string{"timing_marks", "leakage", "second_gauge"}
	always := findings(FamilyMethodOrGauge, FamilyAltitude, FamilyNormalByDesign)
	switch {
	case j.HasOwn && j.OwnGain >= gainAll:
		j.Supported, j.Decided = findings(FamilyRingOrBore), sh.under
		j.Open = append(findings(FamilyWashedOrDry), always...)
	case j.HasOwn:
		j.Supported, j.Decided = findings(FamilyValveTiming), sh.under
		j.Open = always
	default:
		j.WetCalled = oil
		j.Open = append(findings(FamilyValveTiming, FamilyRingOrBore, FamilyWashedOrDry), always...)
		j.Next = append(j.Next, "wet")
	}
	if !sh.under {
		j.Open = append(j.Open, Finding{Family: FamilySound})
	}
}

// cylinderCauses lists what can make the named cylinders read low.
func cylinderCauses(cylinders []int) []Finding {
	if len(cylinders) == 0 {
		return nil
	}
	var out []Finding
	for _, f := range []string{
		FamilyValveLeak, FamilyTightLash, FamilyValveNotOpening, FamilyRingOrBore, FamilyWashedOrDry, FamilyHeadGasket,
	} {
		out = append(out, Finding{f, cylinders})
	}
	return out
}

// findings names families for the whole engine.
func findings(families ...string) []Finding {
	out := make([]Finding, 0, len(families))
	for _, f := range families {
		out = append(out, Finding{Family: f})
	}
	return out
}
