package instrument

// HumpLowPercent is how far under the mean a hump of the starter current has to be
// to be marked [%] (IBMDisclosure1970).
const HumpLowPercent = 20.0

// A Top is a piston at the top of its compression, at a tick of a trace.
type Top struct {
	Tick     int
	Cylinder int
}

// A Hump is what one cylinder's compression costs the starter.
type Hump struct {
	Cylinder int     `json:"cylinder"`
	HeightA  float64 `json:"height_a"`        // over the dip behind it, mean of all its compressions
	Percent  float64 `json:"percent_of_mean"` // of the mean of all cylinders
	Low      bool    `json:"low"`             // HumpLowPercent or more under the mean
}

// Humps measures the humps in a trace of starter current [A], tick by tick, from a
// tick on that leaves the inrush out; order is the cylinders as they fire. It
// returns one hump for each, their mean height [A], and whether a cylinder never
// came up. The current rises with the pressure before the top of a compression,
// falls as the gas gives its work back, and is lowest before the next one rises: a
// hump is its highest current less the dip behind it. (The dip before it is the
// other cylinder's.)
func Humps(trace []float64, tops []Top, order []int, from int) (humps []Hump, mean float64, stalled bool) {
	most := 0
	for _, cyl := range order {
		most = max(most, cyl)
	}
	heights, counts := make([]float64, most+1), make([]int, most+1)
	for k := 1; k+1 < len(tops); k++ {
		if tops[k-1].Tick < from {
			continue
		}
		before, _ := lowest(trace, tops[k-1].Tick, tops[k].Tick)
		after, low := lowest(trace, tops[k].Tick, tops[k+1].Tick)
		top := 0.0
		for _, a := range trace[before : after+1] {
			top = max(top, a)
		}
		heights[tops[k].Cylinder] += top - low
		counts[tops[k].Cylinder]++
	}
	for _, cyl := range order {
		stalled = stalled || counts[cyl] == 0
		heights[cyl] /= float64(max(counts[cyl], 1))
		mean += heights[cyl]
	}
	mean /= float64(len(order))
	for _, cyl := range order {
		h := Hump{Cylinder: cyl, HeightA: heights[cyl]}
		if mean > 0 {
			h.Percent = 100 * h.HeightA / mean
			h.Low = h.Percent <= 100-HumpLowPercent
		}
		humps = append(humps, h)
	}
	return humps, mean, stalled
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
