package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
)

// A valve set by feeler ends what its cylinder says of the fault: the reading that shows
// the cure and the gap that is right by now contradict nothing. Other cylinders go on.
func TestWhatFollowsARepairIsNoEvidence(t *testing.T) {
	seen := func(then func(s *shop)) Evidence {
		s := newShop(bank4)
		s.in.Card.LashCheck = true
		s.prepare()
		s.dry([]float64{185, 187.5, 110, 182.5})
		s.look(kindLash, 3, "lash_exhaust", 0.1)
		then(s)
		return Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
	}
	before := seen(func(*shop) {})
	after := seen(func(s *shop) {
		s.do(kindSetLash, "exhaust", 3, 0.3)
		s.run(3, 130, 185)
		s.look(kindLash, 3, "lash_exhaust", 0.3)
		s.leak(3, 5, nil)
		s.clamp(100, 100, 100, 100)
		s.vacuum(34)
		// No tick goes by while hands work: only the minutes tell what came after.
		for _, e := range s.in.Record.Events {
			if e.Kind == kindSetLash {
				s.in.Record.Balances = []record.Balance{{Tick: e.Tick, Minutes: e.Minutes + 5, RPM: 700, Without: []float64{500, 500, 500, 500}}}
			}
		}
	})
	assert.Empty(t, after.Confirmed.Balances)
	assert.Equal(t, before.Runs, after.Runs)
	assert.Equal(t, before.Seen, after.Seen)
	assert.Equal(t, before.Confirmed.Looks, after.Confirmed.Looks)
	assert.Empty(t, after.Confirmed.Leaks)
	assert.Empty(t, after.Confirmed.Currents)
	assert.Empty(t, after.Confirmed.Vacuums)

	other := seen(func(s *shop) {
		s.do(kindSetLash, "exhaust", 1, 0.3)
		s.run(3, 65, 110)
		s.leak(3, 60, []string{HeardTailpipe})
	})
	assert.Len(t, other.Runs, len(before.Runs)+1)
	require.Len(t, other.Confirmed.Leaks, 1)
}
