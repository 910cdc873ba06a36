package coach_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/record"
)

// Tight lash that was named is set by feeler and the cylinder cranked once more: it then
// reads what its neighbors do, and what the conclusion rests on is still what it was.
func TestTightLashIsCuredByAFeelerGauge(t *testing.T) {
	s := scenarios.Find("tight-lash-mountain")
	require.NotNil(t, s)
	cyl := s.Key.Cylinders[0]
	a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
	require.NoError(t, err)
	p := &apprentice{t: t, a: a}
	p.follow()
	assert.Contains(t, p.keys, "crank_mended")
	set := -1
	for i, ev := range a.Record().Events {
		if ev.Kind == "set-lash" {
			set = i
			assert.Equal(t, cyl, ev.Cylinder)
		}
	}
	require.NotEqual(t, -1, set, "the coach has it set")
	last, first := record.Run{}, record.Run{}
	healthy := 0.0
	for _, r := range a.Record().Runs {
		switch {
		case len(r.Strokes) == 0:
		case r.Cylinder == cyl && first.ID == 0:
			first, last = r, r
		case r.Cylinder == cyl:
			last = r
		case r.OilML == 0:
			healthy = max(healthy, r.Strokes[len(r.Strokes)-1].Shown)
		}
	}
	cranked := last.Strokes[len(last.Strokes)-1].Shown
	assert.Greater(t, last.EndTick, a.Record().Events[set].Tick, "and cranked once more")
	assert.Less(t, first.Strokes[len(first.Strokes)-1].Shown, 0.85*healthy)
	assert.InDelta(t, healthy, cranked, 0.06*healthy)
}
