package book_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
)

// faulty is a sound engine of the catalogue with one fault.
func faulty(t *testing.T, id, fault string) *scenarios.Scenario {
	t.Helper()
	data, err := pick(t, id).Encode()
	require.NoError(t, err)
	require.Contains(t, string(data), `"faults": []`)
	s, err := scenarios.Decode([]byte(strings.Replace(string(data), `"faults": []`, `"faults": [`+fault+`]`, 1)))
	require.NoError(t, err, fault)
	return s
}

// An engine that fires unevenly has long and short intervals; each hump is held against
// those between the same two, and only a leaking cylinder is marked, whichever it is.
func TestUnevenFiringComparesLikeWithLike(t *testing.T) {
	sound := current(t, scenarios.Find("sound-odd-fire-v6"))
	assert.Equal(t, record.CompareGroups, sound.Compare)
	assert.Empty(t, lowHumps(sound))
	for _, h := range sound.Humps {
		assert.InDelta(t, 100, h.Percent, 8, "cylinder %d", h.Cylinder)
		assert.Equal(t, 2-h.Cylinder%2, h.Group, "of its bank, which fires at the same intervals")
	}
	for cyl := 1; cyl <= 6; cyl++ {
		for _, kind := range []string{"exhaust_seat_leak", "worn_rings"} {
			r := current(t, faulty(t, "sound-odd-fire-v6", fmt.Sprintf(`{"kind": %q, "cylinder": %d, "area_mm2": 4}`, kind, cyl)))
			assert.Equal(t, []int{cyl}, lowHumps(r), kind)
		}
	}
}

// With a compression every 90° heights mix: one bad cylinder makes healthy neighbors
// read far too high or too low, so nothing is marked. A dead exhaust valve still shows
// as a second compression, a turn away; a leaking cylinder is not taken for one.
func TestOverlappingHumpsAreNotCompared(t *testing.T) {
	order := scenarios.Find("sound-v8").Engine.FiringOrder
	for i, cyl := range order {
		leaking := current(t, faulty(t, "sound-v8", fmt.Sprintf(`{"kind": "exhaust_seat_leak", "cylinder": %d, "area_mm2": 4}`, cyl)))
		require.Equal(t, record.CompareOverlap, leaking.Compare)
		assert.Empty(t, lowHumps(leaking))
		assert.Zero(t, leaking.Tower)
		off := 0
		for _, h := range leaking.Humps {
			if h.Cylinder != cyl && (h.Percent < 80 || h.Percent > 120) {
				off++
			}
		}
		assert.Positive(t, off, "healthy ones that a comparison would have blamed for cylinder %d", cyl)
		dead := current(t, faulty(t, "sound-v8", fmt.Sprintf(`{"kind": "exhaust_lift", "cylinder": %d, "share": 0}`, cyl)))
		assert.Equal(t, order[(i+4)%8], dead.Tower, "a turn from cylinder %d", cyl)
	}
	assert.Equal(t, record.CompareSingle, current(t, scenarios.Find("sound-single")).Compare)
}

// Without its compression release the single's running reading is near its cranking one
// (the band of 70 to 105 % that shops use is common practice without a source; this one
// turns slowly against full compression, so that its rings lose more there). With it
// cranking reads half of that, running the same.
func TestReleaseIsWhatRunningIsAbove(t *testing.T) {
	s := pick(t, "sound-single")
	a, err := book.RunningTest(s, false, nil)
	require.NoError(t, err)
	below := s.Engine.Release.BelowRPM
	s.Engine.Release = nil
	b, err := book.RunningTest(s, false, nil)
	require.NoError(t, err)
	assert.InDelta(t, below, a.ReleaseRPM, 1e-9)
	assert.Zero(t, b.ReleaseRPM)
	assert.Greater(t, a.Cylinders[0].SnapPercent, 150.0)
	assert.InDelta(t, 100, b.Cylinders[0].SnapPercent, 15)
	assert.InDelta(t, b.Cylinders[0].SnapPSI, a.Cylinders[0].SnapPSI, 1, "the release has let go")
}
