package evaluate

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/libgen/internal/population"
	"crankbay/diagnose"
	"crankbay/diagnose/reason"
)

// Who says 75 % and is right three times of four is calibrated; who says 95 % then is off
// by a fifth.
func TestCalibration(t *testing.T) {
	var good, bold Calibration
	for i := range 400 {
		good.Add(0.75, i%4 != 0)
		bold.Add(0.95, i%4 != 0)
	}
	assert.InDelta(t, 0, good.Error(), 1e-9)
	assert.InDelta(t, 0.2, bold.Error(), 1e-9)
	assert.InDelta(t, 0.1, func() float64 { // each bin by its size
		var both Calibration
		for i := range 400 {
			both.Add(0.75, i%4 != 0)
			both.Add(0.95, i%4 != 0)
		}
		return both.Error()
	}(), 1e-9)
}

// What a set of tests can't tell apart counts as one, and no more than that.
func TestMerged(t *testing.T) {
	assert.Equal(t, Same("dry", reason.IntakeLeak), Same("dry", reason.BrokenLand))
	assert.NotEqual(t, Same("all", reason.IntakeLeak), Same("all", reason.BrokenLand))
	assert.NotEqual(t, Same("dry", reason.WornRings), Same("dry", reason.BrokenLand), "oil tells them apart, and how they begin")
	assert.Equal(t, Same("all", reason.Sound), Same("all", reason.NotHere))
	air := [][]float64{{0.9, 0.1, 0, 0, 0, 0}}
	s := Subject{Slot: slotOf(1)}
	s.Tests.Air = air
	assert.Equal(t, reason.IntakeLeak, s.same("all", reason.ValveHeldOpen), "its air is heard at the throttle")
	assert.Equal(t, Same("dry", reason.ValveHeldOpen), s.same("dry", reason.ValveHeldOpen), "nobody has listened")
}

// Fewer minutes are fewer minutes.
func TestCompare(t *testing.T) {
	c := Compare([]Walk{{Minutes: 10, Sure: true, Right: true}, {Minutes: 20}}, []Walk{{Minutes: 30, Sure: true}, {Minutes: 20, Sure: true}})
	assert.InDelta(t, 0.4, c["fewer"], 1e-9)
	assert.InDelta(t, 0.5, c["next_sure"], 1e-9)
	assert.EqualValues(t, 1, c["both_sure"])
}

// Every case of the field file can be read, every outcome belongs to a group or is known
// to belong to none, and nothing of the outcome gets into the evidence.
func TestFieldFile(t *testing.T) {
	dir := filepath.Join("..", "..", "..", "..", "testdata", "field")
	cases, err := os.ReadFile(filepath.Join(dir, "field-cases.jsonl"))
	require.NoError(t, err)
	beside, err := os.ReadFile(filepath.Join(dir, "recorded.jsonl"))
	require.NoError(t, err)
	list, recorded, err := ReadField(cases, beside)
	require.NoError(t, err)
	require.NotEmpty(t, list)
	for _, c := range list {
		if g := FieldGroup(c.Outcome); g != "" {
			assert.Contains(t, diagnose.Families(), g, c.ID)
		}
		r := recorded[c.ID]
		with := c.Evidence(&r)
		c.Outcome, c.Second, c.Confidence = "", nil, ""
		assert.Equal(t, with, c.Evidence(&r), c.ID)
	}
}

func slotOf(cylinder int) population.Slot {
	return population.Slot{Family: reason.ValveHeldOpen, Scope: reason.ScopeCylinder, Cylinders: []int{cylinder}}
}
