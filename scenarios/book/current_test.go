package book_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

func current(t *testing.T, s *scenarios.Scenario) book.CurrentResult {
	t.Helper()
	r, err := book.Current(s, false, nil)
	require.NoError(t, err, s.ID)
	require.Len(t, r.Humps, s.Engine.Cylinders)
	return r
}

// lowHumps returns the cylinders that are marked.
func lowHumps(r book.CurrentResult) (low []int) {
	for _, h := range r.Humps {
		if h.Low {
			low = append(low, h.Cylinder)
		}
	}
	return low
}

// Sound cylinders make nearly equal humps, named in firing order, one for every
// compression of the trace.
func TestSoundHumpsAreEqual(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "sound-v6", "sound-v8"} {
		s := scenarios.Find(id)
		r := current(t, s)
		assert.Len(t, r.Trace, int(r.Seconds*1200))
		assert.Empty(t, lowHumps(r))
		var order []int
		for _, h := range r.Humps {
			assert.InDelta(t, 100, h.Percent, 8, "%s %d", id, h.Cylinder) // deposits differ
			order = append(order, h.Cylinder)
		}
		assert.Equal(t, s.Engine.FiringOrder, order)
		for k := 1; k < len(r.TopTicks); k++ {
			assert.NotEqual(t, r.TopTicks[k-1].Cylinder, r.TopTicks[k].Cylinder)
		}
		each := float64(len(r.TopTicks)) / float64(s.Engine.Cylinders)
		assert.InDelta(t, r.RPM/120*r.Seconds, each, 1.5, "compressions of a cylinder")
		assert.Greater(t, r.PeakA, 2*r.MeanA, "inrush")
	}
}

// A cylinder that reads about half is marked and no other; so are two with a
// gasket open between them.
func TestWeakCylinderIsMarked(t *testing.T) {
	for _, fault := range []string{
		`"kind": "exhaust_seat_leak", "cylinder": 2, "area_mm2": 3.5`,
		`"kind": "intake_seat_leak", "cylinder": 2, "area_mm2": 3.5`,
		`"kind": "worn_rings", "cylinder": 2, "area_mm2": 3.5`,
		`"kind": "holed_piston", "cylinder": 2, "diameter_mm": 4`,
		`"kind": "intake_lift", "cylinder": 2, "share": 0`,
	} {
		assert.Equal(t, []int{2}, lowHumps(current(t, with(t, "{"+fault+"}"))), fault)
	}
	assert.Equal(t, []int{5}, lowHumps(current(t, scenarios.Find("burnt-exhaust-v6"))))
	both := with(t, `{"kind": "gasket_between", "cylinders": [2, 3], "area_mm2": 6}`)
	assert.ElementsMatch(t, []int{2, 3}, lowHumps(current(t, both)))
}

// The hump falls as the gauge does, but the starter is the blunter of the two.
func TestHumpFallsWithTheReading(t *testing.T) {
	before := 1.05
	for _, area := range []float64{0, 1, 2, 4, 8} {
		s := with(t, fmt.Sprintf(`{"kind": "exhaust_seat_leak", "cylinder": 2, "area_mm2": %g}`, area))
		r := current(t, s)
		readings := dry(t, s)
		hump := r.Humps[3].HeightA / highest(r)
		assert.Less(t, hump, before)
		assert.InDelta(t, readings[1].FinalPSI/high(readings)+0.1, hump, 0.15, "%g mm²", area)
		before = hump
	}
}

func highest(r book.CurrentResult) float64 {
	top := 0.0
	for _, h := range r.Humps {
		top = max(top, h.HeightA)
	}
	return top
}

// What all cylinders lose alike doesn't show in the comparison, only in the
// height of all humps.
func TestEqualLossIsInvisible(t *testing.T) {
	sound := current(t, scenarios.Find("sound-inline-four"))
	for _, id := range []string{"all-rings-worn-inline-four", "timing-late-inline-four"} {
		r := current(t, scenarios.Find(id))
		assert.Empty(t, lowHumps(r), id)
		assert.Less(t, r.MeanHeightA, 0.9*sound.MeanHeightA, id)
		for _, h := range r.Humps {
			assert.InDelta(t, 100, h.Percent, 3, id)
		}
	}
}

// The humps scale with the pressure in the manifold (a patent on judging
// compression by starter current compares with a reference scaled so).
func TestHumpsFollowManifoldPressure(t *testing.T) {
	open := current(t, with(t, ""))
	shut := with(t, "")
	shut.Card.ThrottleOpen = false
	vacuum, err := book.Vacuum(shut, false, nil)
	require.NoError(t, err)
	ratio := vacuum.PlenumKPa / (vacuum.PlenumKPa + vacuum.MeanKPa)
	assert.InDelta(t, ratio, current(t, shut).MeanHeightA/open.MeanHeightA, 0.12)
	high := with(t, `{"kind": "altitude", "altitude_m": 2000}`)
	assert.InDelta(t, high.Params().Ambient/101325, current(t, high).MeanHeightA/open.MeanHeightA, 0.05)
}

// An exhaust valve that doesn't open reads normal with the gauge and makes a
// hump where there is none: at the top between exhaust and intake, which is the
// compression of the cylinder that fires a turn away.
func TestDeadExhaustValveMakesAnExtraHump(t *testing.T) {
	s := with(t, `{"kind": "exhaust_lift", "cylinder": 2, "share": 0}`)
	rs := dry(t, s)
	assert.Greater(t, rs[1].FinalPSI, 0.93*high(rs))
	r := current(t, s)
	for _, h := range r.Humps {
		if h.Cylinder == 3 {
			assert.Greater(t, h.Percent, 130.0)
		}
	}
}

// The trace can be watched tick by tick; a meter shows whole amperes.
func TestCurrentIsWatched(t *testing.T) {
	s := scenarios.Find("sound-inline-four")
	var seen []float64
	r, err := book.Current(s, true, func(x book.Sample) {
		seen = append(seen, x.Engine.Current())
		assert.InDelta(t, float64(len(seen))/1200, x.Seconds, 1e-9)
	})
	require.NoError(t, err)
	assert.Equal(t, r.Trace, seen)
	for _, h := range r.Humps {
		assert.InDelta(t, float64(int(h.HeightA)), h.HeightA, 1e-9)
	}
}

// A starter that can't turn the engine gives no comparison.
func TestStalledStarter(t *testing.T) {
	r := current(t, with(t, `{"kind": "cable_resistance", "resistance_mohm": 120}`))
	assert.True(t, r.Stalled)
	assert.False(t, r.Hydrolocked)
	locked := current(t, with(t, `{"kind": "liquid_in_cylinder", "cylinder": 2, "volume_ml": 300}`))
	assert.True(t, locked.Hydrolocked)
}
