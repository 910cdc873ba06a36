package diagnose

import "slices"

// whole judges a complete, unspoiled dry test and whatever wet test there was.
func (j *Judgement) whole(e Evidence, sh shape, limits Limits, oil bool) {
	switch {
	case sh.wanders:
		j.Pattern = PatternWander
		j.Supported = []Finding{{Family: FamilyMethodOrGauge}}
		j.Open = cylinderCauses(j.Suspects)
		for _, s := range e.Seen {
			if s.Spread > wanders { // what lies on a piston goes with the strokes
				j.Open = append(j.Open, Finding{FamilyCarbonOrLiquid, []int{s.Cylinder}})
			}
		}
		j.Next = []string{"repeat", "second_gauge", "borescope"}
	case sh.bank >= 0:
		j.bankLow(e)
	case sh.high > 0:
		j.Pattern, j.Suspects = PatternOneHigh, []int{sh.high}
		j.Supported = []Finding{{FamilyCarbonOrLiquid, j.Suspects}}
		j.Open = []Finding{{Family: FamilyMethodOrGauge}, {FamilyValveNotOpening, j.Suspects}}
		j.Next = []string{"repeat", "borescope", "running"}
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
		for n := 1; n <= e.Cylinders; n++ {
			j.Open = append(j.Open, Finding{FamilyValveNotOpening, []int{n}})
		}
		j.byDesign(limits)
		j.Next = []string{"none", "running", "current", "vacuum", "power_balance"}
		if sh.flat > 0 {
			j.flat(sh.flat)
		}
	}
	if len(j.Suspects) > 0 && sh.bank < 0 && !sh.fails {
		// It stands out and yet keeps the rule that counts. A whole bank is no chance.
		j.Open, j.Decided = append(j.Open, Finding{Family: FamilySound}), false
	}
}

// lowDesign is a standard so low that whoever has other engines in mind takes it for a
// fault [Pa gauge]: 150 psi (common practice, no source).
const lowDesign = 1035e3

// byDesign: readings that keep a page of low figures are normal for this engine: it
// shuts its intake late, or lets pressure go while it is cranked.
func (j *Judgement) byDesign(l Limits) {
	if l.Standard > 0 && l.Standard < lowDesign {
		j.Supported = append(j.Supported, Finding{Family: FamilyNormalByDesign})
	} else {
		j.Open = append(j.Open, Finding{Family: FamilyNormalByDesign})
	}
}

// flat: all within limits, but one cylinder squeezes the same gas at every stroke:
// nothing new gets in.
func (j *Judgement) flat(cylinder int) {
	me := []int{cylinder}
	j.Decided = false
	j.Supported = []Finding{{FamilyValveNotOpening, me}}
	j.Open = findings(FamilySound, FamilyNotCompression, FamilyMethodOrGauge)
	j.Next = []string{"repeat", "lash", "running", "current", "power_balance"}
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
		if s.Repeats > 0 && slices.Contains(cylinders, s.Cylinder) {
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
		if !s.WetValid || len(s.WetFaults) > 0 || !slices.Contains(j.Suspects, s.Cylinder) {
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
