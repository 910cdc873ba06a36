package diagnose

import (
	"math"
	"slices"
)

// Patterns of readings. See the table of trade knowledge in pattern.go.
const (
	PatternNothing  = "nothing"  // no reading at all
	PatternPartial  = "partial"  // not every cylinder was read
	PatternMethod   = "method"   // readings spoiled by how they were taken
	PatternSlow     = "slow"     // the engine turned too slowly
	PatternWander   = "wander"   // one cylinder reads differently every time
	PatternWithin   = "within"   // all within limits, none stands out
	PatternAllLow   = "all_low"  // all low and even
	PatternAllHigh  = "all_high" // all high and even
	PatternOneLow   = "one_low"  // one stands out low
	PatternPair     = "pair"     // two neighbours in one bank
	PatternBankLow  = "bank_low" // one whole bank
	PatternOneHigh  = "one_high" // one stands out high
	PatternSeveral  = "several"  // several low, not neighbours only
	PatternPartLow  = "partial_low"
	PatternMethodLo = "method_low" // spoiled readings, and yet one stands out
)

// Patterns lists every pattern, for whoever has a text for each.
func Patterns() []string {
	return []string{
		PatternNothing, PatternPartial, PatternMethod, PatternSlow, PatternWander, PatternWithin, PatternAllLow,
		PatternAllHigh, PatternOneLow, PatternPair, PatternBankLow, PatternOneHigh, PatternSeveral, PatternPartLow,
		PatternMethodLo,
	}
}

// Standing is what readings have to say about a claim.
type Standing string

// The standings, from best to worst.
const (
	Supported    Standing = "supported"    // the readings point to it
	Open         Standing = "open"         // the readings leave it possible
	Contradicted Standing = "contradicted" // the readings speak against it
	Baseless     Standing = "baseless"     // there are no readings
)

// Standings lists every standing, from best to worst.
func Standings() []Standing { return []Standing{Supported, Open, Contradicted, Baseless} }

// A Judgement is what the readings of the record allow to be said, whatever is
// inside the engine.
type Judgement struct {
	Pattern   string
	Suspects  []int     // cylinders that stand out, in order
	Supported []Finding // what the readings point to
	Open      []Finding // what they leave possible
	Next      []string  // good tests to do next
	Complete  bool      // every cylinder was read dry and nothing spoiled it
	Decided   bool      // one claim is supported and hardly another left
	WetCalled bool      // a wet test would tell more
	OwnGain   float64   // wet gain of the suspects, mean
	Control   float64   // wet gain of healthy cylinders, mean
	HasOwn    bool      // every suspect was tested wet in a way that can be used
	HasCtl    bool      // a healthy cylinder was tested wet too, with as much oil
}

// Thresholds of the patterns. They lie between what readings in half graduations
// can show; where a rule has a source it is named.
const (
	// outLow: a cylinder stands out when it reads less than this share of the
	// highest. Tighter than a 75 % limit on purpose: 84 % of the highest has been
	// a broken piston, and a limit is not a diagnosis. Common practice, no source.
	outLow = 0.875
	// outHigh: a cylinder stands out high above the mean of the others.
	outHigh = 1.115
	// evenWithin: readings this close together count as even (common practice).
	evenWithin = 0.88
	// bankShare: a bank is low when its mean is under this share of the others'.
	bankShare = 0.925
	// lowShare: all are low when their mean is under this share of the standard
	// even if the page's minimum is kept. Common practice, no source.
	lowShare = 0.90
	// highShare: all are high from this share of the standard on.
	highShare = 1.075
	// gainRing: wet gain above a healthy cylinder's, in points of percent, from
	// which rings are meant; gainValve: up to which they are not. A service manual
	// of 1997 says +10 % means rings, but every healthy cylinder gains too, so the
	// healthy neighbour is taken off first.
	gainRing  = 0.065
	gainValve = 0.05
	// gainAll: with every cylinder low there is no healthy neighbour. Healthy
	// engines in the field gained 9–25 %; above that rings or dry bores are meant.
	gainAll = 0.275
	// losing: a wet reading this much under the dry one makes no sense.
	losing = -0.105
	// wanders: faultless tests of one cylinder this far apart are not repeatable.
	wanders = 0.105
)

// Judge reads the pattern the gauge showed. limits is what the page of this
// engine says; oil tells whether the card knows a wet test.
func Judge(e Evidence, limits Limits, oil bool) Judgement {
	j := Judgement{Complete: true}
	read, bad, slow := 0, 0, 0
	for _, s := range e.Seen {
		switch {
		case !s.Valid:
			j.Complete = false
			continue
		case onlySlow(s.Faults):
			slow++
		case spoiled(s.Faults):
			bad++
		}
		read++
	}
	j.Complete = j.Complete && bad == 0 && slow == 0 && read > 0
	if read == 0 {
		j.Pattern = PatternNothing
		j.Next = []string{"repeat"}
		return j
	}
	sh := shapeOf(e, limits)
	j.Suspects = sh.suspects
	j.gains(e, sh)
	switch {
	case bad > 0:
		j.method(e, sh)
	case slow > 0 && slow*2 >= read:
		j.slow(sh)
	case read < e.Cylinders:
		j.partial(sh)
	default:
		j.whole(e, sh, limits, oil)
	}
	j.refine(e)
	if !HumpsCompare(e.Cylinders) {
		j.Next = slices.DeleteFunc(j.Next, func(test string) bool { return test == "current" })
	}
	return j
}

// onlySlow reports whether slow cranking is all that spoiled a reading.
func onlySlow(faults []string) bool {
	for _, f := range faults {
		if spoils(f) && f != MethodSlowCranking {
			return false
		}
	}
	return slices.Contains(faults, MethodSlowCranking)
}

// gains compares the wet gain of the suspects with that of healthy cylinders.
// With every cylinder low there are no healthy ones and all count as suspects.
func (j *Judgement) gains(e Evidence, sh shape) {
	own, ctl := e.Oiled(sh.suspects)
	for _, s := range own {
		j.OwnGain += s.WetGain / float64(len(own))
	}
	for _, s := range ctl {
		j.Control += s.WetGain / float64(len(ctl))
	}
	j.HasCtl = len(ctl) > 0
	j.HasOwn = len(own) > 0 && (len(sh.suspects) == 0 || len(own) == len(sh.suspects))
}

// Oiled returns the wet tests that can be used: those of the suspects, or of all
// cylinders when there are none, and those of healthy cylinders that got as much
// oil as the suspects did.
func (e Evidence) Oiled(suspects []int) (own, control []Seen) {
	ml := 0.0
	var others []Seen
	for _, s := range e.Seen {
		switch {
		case !s.Valid || !s.WetValid || spoiled(s.Faults) || len(s.WetFaults) > 0:
		case len(suspects) == 0 || slices.Contains(suspects, s.Cylinder):
			own = append(own, s)
			ml += s.OilML
		default:
			others = append(others, s)
		}
	}
	if len(own) > 0 {
		ml /= float64(len(own))
	}
	for _, s := range others {
		if len(own) == 0 || math.Abs(s.OilML-ml) <= sameOil {
			control = append(control, s)
		}
	}
	return own, control
}

// method: fix the method first, then read what remains. A method fault can lie
// over a real one, so a cylinder that stands out stays possible.
func (j *Judgement) method(e Evidence, sh shape) {
	j.Pattern = PatternMethod
	j.Supported = []Finding{{Family: FamilyMethodOrGauge}}
	j.Next = []string{"repeat", "second_gauge"}
	for _, s := range e.Seen {
		if slices.Contains(s.Faults, MethodThrottleShut) {
			j.Next = append(j.Next, "open_throttle")
			break
		}
	}
	if len(j.Suspects) > 0 {
		j.Pattern = PatternMethodLo
		j.Open = cylinderCauses(j.Suspects)
	}
	for _, s := range e.Seen {
		if slices.Contains(s.Faults, MethodSlowCranking) {
			j.Open = append(j.Open, Finding{Family: FamilySlowCranking})
			j.Next = append(j.Next, "charge_battery")
			break
		}
	}
}

// slow: no reading taken at that speed can be held against a limit.
func (j *Judgement) slow(sh shape) {
	j.Pattern, j.Decided = PatternSlow, len(sh.suspects) == 0
	j.Supported = []Finding{{Family: FamilySlowCranking}}
	j.Open = append(cylinderCauses(j.Suspects), Finding{Family: FamilyMethodOrGauge})
	j.Next = []string{"charge_battery", "repeat"}
}

// partial: some cylinders were never read, so nothing is more than possible.
func (j *Judgement) partial(sh shape) {
	j.Pattern = PatternPartial
	j.Next = []string{"repeat"}
	if len(j.Suspects) > 0 {
		j.Pattern = PatternPartLow
		j.Open = cylinderCauses(j.Suspects)
		return
	}
	for _, f := range Families() {
		if f != FamilyUndecided {
			j.Open = append(j.Open, Finding{Family: f})
		}
	}
}

// Standing returns how a claim stands, and the share of its cylinders that fit,
// [0, 1].
func (j Judgement) Standing(claim Finding, cylinders int) (Standing, float64) {
	if j.Pattern == PatternNothing || j.Pattern == "" {
		return Baseless, 0
	}
	if fit := bestFit(j.Supported, claim, cylinders); fit > 0 {
		return Supported, fit
	}
	if fit := bestFit(j.Open, claim, cylinders); fit > 0 {
		return Open, fit
	}
	return Contradicted, 0
}

func bestFit(list []Finding, claim Finding, cylinders int) float64 {
	best := 0.0
	for _, f := range list {
		if f.Family == claim.Family {
			best = max(best, cylinderFit(f, claim, cylinders))
		}
	}
	return best
}

// wholeEngine lists families that are not about single cylinders.
func wholeEngine(family string) bool {
	switch family {
	case FamilySound, FamilySlowCranking, FamilyMethodOrGauge, FamilyAltitude, FamilyNormalByDesign,
		FamilyNotCompression, FamilyUndecided:
		return true
	}
	return false
}

// cylinderFit compares the cylinders of two findings of one family: 1 the same; a
// share when one of them only names more, so that naming all earns little; 0 when
// each names one the other does not. No cylinders means all of them.
func cylinderFit(a, b Finding, cylinders int) float64 {
	if wholeEngine(a.Family) {
		return 1
	}
	both, onlyA, onlyB := 0, 0, 0
	for c := 1; c <= bounded(cylinders); c++ {
		x := len(a.Cylinders) == 0 || slices.Contains(a.Cylinders, c)
		y := len(b.Cylinders) == 0 || slices.Contains(b.Cylinders, c)
		switch {
		case x && y:
			both++
		case x:
			onlyA++
		case y:
			onlyB++
		}
	}
	if onlyA > 0 && onlyB > 0 {
		return 0
	}
	return share(both, both+onlyA+onlyB)
}
