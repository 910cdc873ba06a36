package instrument_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
)

// engine fires its cylinders in an order, at angles [°].
func engine(order []int, deg []float64) sim.Params {
	p := sim.Params{Cylinders: len(order)}
	for i, cyl := range order {
		p.Cylinder[cyl-1].FiringAngle = deg[i] * math.Pi / 180
	}
	return p
}

// even fires at equal intervals.
func even(order ...int) sim.Params {
	deg := make([]float64, len(order))
	for i := range deg {
		deg[i] = 720 / float64(len(order)) * float64(i)
	}
	return engine(order, deg)
}

// Which cylinders a strip can compare follows from how they fire (intervals: arithmetic).
func TestLikeness(t *testing.T) {
	for _, c := range []struct {
		name   string
		p      sim.Params
		how    string
		groups [][]int
	}{
		{"one", even(1), record.CompareSingle, nil},
		{"four", even(1, 3, 4, 2), record.CompareAll, nil},
		{"six", even(1, 5, 3, 6, 2, 4), record.CompareAll, nil},
		{"eight", even(1, 8, 4, 3, 6, 5, 7, 2), record.CompareOverlap, nil},
		{"odd six", engine([]int{1, 6, 5, 4, 3, 2}, []float64{0, 150, 240, 390, 480, 630}), record.CompareGroups, [][]int{{1, 5, 3}, {6, 4, 2}}},
		{"odd twin", engine([]int{1, 2}, []float64{0, 270}), record.CompareUneven, nil},
		{"twin side by side", engine([]int{1, 2}, []float64{0, 360}), record.CompareAll, nil},
	} {
		order := instrument.Firings(c.p)
		assert.Equal(t, c.how, instrument.Likeness(order), c.name)
		sum := 0.0
		for i, f := range order {
			sum += f.After
			assert.InDelta(t, f.After, order[(i+1)%len(order)].Before, 1e-12, c.name)
		}
		assert.InDelta(t, 4*math.Pi, sum, 1e-9, "%s: two turns", c.name)
		if c.groups != nil {
			assert.Equal(t, c.groups, instrument.Groups(order), c.name)
		}
	}
}

// strip draws a triangle of a height about each top, 100 ticks from one to the next.
func strip(order []int, height map[int]float64) (trace []float64, tops []instrument.Top) {
	for k := range 6 * len(order) {
		cyl := order[k%len(order)]
		tops = append(tops, instrument.Top{Tick: 100*k + 50, Cylinder: cyl})
		for i := range 100 {
			trace = append(trace, height[cyl]*(1-math.Abs(float64(i)-50)/50))
		}
	}
	return trace, tops
}

// Heights drawn are heights read; one of four at 60 is 67 % of the mean of 90.
func TestHumpsAreReadAsDrawn(t *testing.T) {
	order := []int{1, 3, 4, 2}
	trace, tops := strip(order, map[int]float64{1: 100, 3: 60, 4: 100, 2: 100})
	c := instrument.Compare(trace, tops, instrument.Firings(even(order...)), 100)
	assert.False(t, c.Stalled)
	assert.InDelta(t, 90, c.MeanA, 1e-9)
	for i, h := range c.Humps {
		assert.Equal(t, order[i], h.Cylinder)
		assert.InDelta(t, map[int]float64{1: 100, 3: 60, 4: 100, 2: 100}[h.Cylinder], h.HeightA, 1e-9)
		assert.Equal(t, h.Cylinder == 3, h.Low)
	}
	assert.InDelta(t, 100*60/90.0, c.Humps[1].Percent, 1e-9)
	_, short := strip(order, map[int]float64{})
	assert.True(t, instrument.Compare(trace, short[:3], instrument.Firings(even(order...)), 0).Stalled)
}
