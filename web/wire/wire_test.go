package wire_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/web/wire"
)

// Slots of different cylinders never overlap each other or the head, and the
// last one is the last of the array.
func TestLayoutIsDense(t *testing.T) {
	const n = 8
	seen := map[int]bool{}
	for cyl := 1; cyl <= n; cyl++ {
		for slot := 0; slot < wire.Stride; slot++ {
			at := wire.At(cyl, slot)
			assert.GreaterOrEqual(t, at, wire.Head)
			assert.Less(t, at, wire.Size(n))
			assert.False(t, seen[at], "slot %d used twice", at)
			seen[at] = true
		}
	}
	assert.Len(t, seen, wire.Size(n)-wire.Head)
}

func TestViewNeedsAWholeSnapshot(t *testing.T) {
	v := make(wire.View, wire.Size(4))
	assert.False(t, v.Valid(), "no version")
	v[wire.SlotVersion] = wire.Version
	assert.False(t, wire.View(nil).Valid())
	v[wire.SlotCylinders] = 4
	assert.True(t, v.Valid())
	v[wire.SlotCylinders] = 5
	assert.False(t, v.Valid(), "shorter than it says")
	v[wire.SlotCylinders] = math.NaN()
	assert.Zero(t, v.Cylinders())
}

func TestNothingShownIsNotZero(t *testing.T) {
	v := make(wire.View, wire.Size(4))
	_, ok := v.Shown(wire.SlotVolts)
	assert.True(t, ok)
	v[wire.SlotVolts] = math.NaN()
	_, ok = v.Shown(wire.SlotVolts)
	assert.False(t, ok)
	assert.Zero(t, v.Cyl(99, wire.SlotTravel))
}
