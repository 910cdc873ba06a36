package diagnose

import (
	"crankbay/sim/unit"
	"slices"
)

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
	flat     int   // the one cylinder that shows all it has at the first stroke, 0 none
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
	sh.flat = flatOne(e.Seen)
	sh.fails = !atLeast(lo.DryLast, limits.Allowed(hi.DryLast, mean))
	return sh
}

const (
	// flatShare: a first stroke this close to the last is no building up, where the
	// others' first strokes stay under builtShare of their last.
	flatShare  = 0.955
	builtShare = 0.875
)

// flatOne returns the one cylinder whose gauge shows at the first stroke all it will
// ever show while all the others build up: what it squeezes is the same gas each time.
// 0 when there is none.
func flatOne(seen []Seen) int {
	flat, built := 0, 0
	for _, s := range seen {
		switch first := ratio(s.DryFirst, s.DryLast); {
		case !s.Valid || s.DryLast <= 0:
		case first >= flatShare && flat == 0:
			flat = s.Cylinder
		case first < builtShare:
			built++
		default:
			return 0
		}
	}
	if built < 2 {
		return 0
	}
	return flat
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
			if slices.Contains(bank, s.Cylinder) {
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
