package instrument

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/record"
)

// HumpLowPercent is how far under the mean a hump of the starter current has to be
// to be marked [%] (IBMDisclosure1970).
const HumpLowPercent = 20.0

const (
	// humpFlank is how much of a turn a compression takes to rise, and its expansion
	// to die away again: some 90° each. Where the next cylinder fires that soon on
	// both sides, what one gives back is what the next one needs, and the height of a
	// hump says as much of its neighbours as of itself (from the traces of the model).
	humpFlank = 100 * math.Pi / 180
	// humpTower is what a hump that stands over all others has at least on either side
	// of the middle one, where heights can't be compared, and humpWhole what the one
	// before it has at least on its way up when it is there: without that one the hump
	// would be high too.
	humpTower, humpWhole = 2.0, 0.75
	// humpSpoils is from where on a hump of an engine that fires unevenly says nothing
	// any more of the one behind it [%].
	humpSpoils = 140.0
)

// A Top is a piston at the top of its compression, at a tick of a trace.
type Top struct {
	Tick     int
	Cylinder int
}

// A Firing is a cylinder in its place of the firing order.
type Firing struct {
	Cylinder      int
	Before, After float64 // crank angle since the one before, and to the next [rad]
}

// Firings returns the cylinders as they fire, from cylinder 1 on.
func Firings(p sim.Params) []Firing {
	const cycle = 4 * math.Pi
	after := func(cyl, first int) float64 {
		return math.Mod(p.Cylinder[cyl-1].FiringAngle-p.Cylinder[first-1].FiringAngle+2*cycle, cycle)
	}
	var out []Firing
	for cyl := 1; cyl <= p.Cylinders; cyl++ {
		at := len(out)
		for at > 0 && after(out[at-1].Cylinder, 1) > after(cyl, 1) {
			at--
		}
		out = append(out[:at], append([]Firing{{Cylinder: cyl}}, out[at:]...)...)
	}
	for i := range out {
		out[i].After = cycle
		if next := out[(i+1)%len(out)].Cylinder; len(out) > 1 {
			out[i].After = after(next, out[i].Cylinder)
		}
		out[(i+1)%len(out)].Before = out[i].After
	}
	return out
}

// A Hump is what one cylinder's compression costs the starter.
type Hump struct {
	Cylinder int     `json:"cylinder"`
	HeightA  float64 `json:"height_a"`        // over the dip behind it, mean of all its compressions
	Percent  float64 `json:"percent_of_mean"` // of the mean of all cylinders, or of the middle one of its group
	Low      bool    `json:"low"`             // HumpLowPercent or more under that, where it can be compared
	Group    int     `json:"group,omitempty"` // those that fire after and before the same intervals, from 1; 0 where all do
}

// Comparison is what a trace of the starter current says of the cylinders.
type Comparison struct {
	Humps   []Hump  // in firing order
	MeanA   float64 // mean height
	How     string  // record.CompareAll and its like: whether the heights can be compared
	Tower   int     // the cylinder whose hump stands over all others although the one before is there; 0 none
	Stalled bool    // a cylinder never came up
}

// Compare measures the humps in a trace of starter current [A], tick by tick, from a
// tick on that leaves the inrush out. The current rises with the pressure before the
// top of a compression, falls as the gas gives its work back, and is lowest before the
// next one rises: a hump is its highest current less the dip behind it. (The dip
// before it is the other cylinder's.)
//
// Like is compared with like. An engine that fires unevenly has long and short
// intervals, and each hump is held against the middle one of those between the same
// two intervals; the mean of a few would move with the one that is off. One behind a
// hump that is far too high is not marked there. Where humps
// overlap on both sides nothing is marked as low.
func Compare(trace []float64, tops []Top, order []Firing, from int) Comparison {
	rise, fall, counts := flanks(trace, tops, from)
	c := Comparison{How: Likeness(order)}
	for _, f := range order {
		n := float64(max(counts[f.Cylinder], 1))
		c.Stalled = c.Stalled || counts[f.Cylinder] == 0
		rise[f.Cylinder] /= n
		c.Humps = append(c.Humps, Hump{Cylinder: f.Cylinder, HeightA: fall[f.Cylinder] / n})
		c.MeanA += c.Humps[len(c.Humps)-1].HeightA
	}
	c.MeanA /= float64(len(order))
	if c.How == record.CompareGroups {
		group(c.Humps, order)
	}
	for i := range c.Humps {
		h := &c.Humps[i]
		level := c.MeanA
		if h.Group > 0 {
			level = middle(c.Humps, h.Group)
		}
		if level > 0 {
			h.Percent = 100 * h.HeightA / level
		}
	}
	for i := range c.Humps {
		h, before := &c.Humps[i], c.Humps[(i+len(c.Humps)-1)%len(c.Humps)]
		spoilt := c.How == record.CompareGroups && before.Percent > humpSpoils
		h.Low = record.Comparable(c.How) && c.MeanA > 0 && h.Percent <= 100-HumpLowPercent && !spoilt
	}
	if c.How == record.CompareOverlap {
		c.Tower = tower(c.Humps, rise)
	}
	return c
}

// flanks sums how far the current rises to each cylinder's humps and falls behind
// them [A], and how many there were, by cylinder.
func flanks(trace []float64, tops []Top, from int) (rise, fall []float64, counts []int) {
	rise, fall, counts = make([]float64, sim.MaxCylinders+1), make([]float64, sim.MaxCylinders+1), make([]int, sim.MaxCylinders+1)
	for k := 1; k+1 < len(tops); k++ {
		if tops[k-1].Tick < from {
			continue
		}
		start, before := lowest(trace, tops[k-1].Tick, tops[k].Tick)
		end, after := lowest(trace, tops[k].Tick, tops[k+1].Tick)
		top := 0.0
		for _, a := range trace[start : end+1] {
			top = max(top, a)
		}
		cyl := tops[k].Cylinder
		rise[cyl] += top - before
		fall[cyl] += top - after
		counts[cyl]++
	}
	return rise, fall, counts
}

// Likeness says how the humps of an engine can be compared, as record.CompareAll and
// its like.
func Likeness(order []Firing) string {
	if len(order) == 1 {
		return record.CompareSingle
	}
	even := true
	for _, f := range order {
		if f.Before < humpFlank && f.After < humpFlank {
			return record.CompareOverlap
		}
		even = even && alike(f, order[0])
	}
	if even {
		return record.CompareAll
	}
	for _, f := range order {
		same := 0
		for _, g := range order {
			if alike(f, g) {
				same++
			}
		}
		if same < 2 {
			return record.CompareUneven
		}
	}
	return record.CompareGroups
}

// alike tells whether two cylinders fire between the same two intervals, within 2°.
func alike(f, g Firing) bool {
	const within = 2 * math.Pi / 180
	return math.Abs(f.Before-g.Before) < within && math.Abs(f.After-g.After) < within
}

// Groups returns the cylinders that can be compared with each other, in firing order,
// for an engine that fires unevenly.
func Groups(order []Firing) [][]int {
	humps := make([]Hump, len(order))
	group(humps, order)
	var out [][]int
	for i, h := range humps {
		if h.Group > len(out) {
			out = append(out, nil)
		}
		out[h.Group-1] = append(out[h.Group-1], order[i].Cylinder)
	}
	return out
}

// group numbers the humps by the intervals they lie between.
func group(humps []Hump, order []Firing) {
	groups := 0
	for i := range order {
		for k := 0; k < i && humps[i].Group == 0; k++ {
			if alike(order[i], order[k]) {
				humps[i].Group = humps[k].Group
			}
		}
		if humps[i].Group == 0 {
			groups++
			humps[i].Group = groups
		}
	}
}

// middle returns the middle height of a group [A], 0 for all of them.
func middle(humps []Hump, group int) float64 {
	var list []float64
	for _, h := range humps {
		if h.Group != group {
			continue
		}
		at := len(list)
		for at > 0 && list[at-1] > h.HeightA {
			at--
		}
		list = append(list[:at], append([]float64{h.HeightA}, list[at:]...)...)
	}
	n := len(list)
	return float64((list[(n-1)/2] + list[n/2]) / 2)
}

// tower returns the cylinder whose hump stands over all others on both sides. A
// second piston comes up with it against a shut valve, unless the hump before it is
// missing: then it only has nobody to help it. 0 if there is none.
func tower(humps []Hump, rise []float64) int {
	fallLeast := float64(humpTower * middle(humps, 0))
	ups := make([]Hump, len(humps))
	for i, h := range humps {
		ups[i].HeightA = rise[h.Cylinder]
	}
	riseLeast, whole := float64(humpTower*middle(ups, 0)), float64(humpWhole*middle(ups, 0))
	for i, h := range humps {
		before := (i + len(humps) - 1) % len(humps)
		high := h.HeightA > fallLeast && ups[i].HeightA > riseLeast
		if high && ups[before].HeightA >= whole {
			return h.Cylinder
		}
	}
	return 0
}

// lowest returns where the trace is lowest from one tick to another, and how low.
func lowest(trace []float64, from, to int) (at int, low float64) {
	at, low = from, trace[from]
	for i := from; i <= to; i++ {
		if trace[i] < low {
			at, low = i, trace[i]
		}
	}
	return at, low
}
