package intake_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose/intake"
)

// Whatever is pasted: no panic, the same answer twice, an error with a known key and
// a place inside the text, or readings inside what an engine gives with a unit that is
// said to be guessed when nobody named one.
func FuzzParse(f *testing.F) {
	for _, c := range understood {
		f.Add(c.text, "unit", "")
	}
	for _, c := range refused {
		f.Add(c.text, "ratio", "9,5")
	}
	f.Add("cylinder,dry\n1,150", "banks", "1-2/3")
	f.Add("dry 150", "firing order", "1342")
	f.Add("\xff\xfe1\x00", "stated", "throttle=no,warm")
	f.Fuzz(func(t *testing.T, text, name, value string) {
		r, err := intake.Parse(text, intake.Said{Name: name, Value: value})
		again, errAgain := intake.Parse(text, intake.Said{Name: name, Value: value})
		require.True(t, reflect.DeepEqual(r, again) && reflect.DeepEqual(err, errAgain), "the same text, another answer")
		if err != nil {
			checkError(t, err)
			return
		}
		checkReadings(t, r)
	})
}

func checkError(t *testing.T, err error) {
	t.Helper()
	e, ok := err.(*intake.Error)
	require.True(t, ok, "%T", err)
	assert.Contains(t, intake.Errors(), e.Key)
	assert.LessOrEqual(t, len([]rune(e.Text)), 41)
	assert.False(t, e.Line > 0 && e.Column < 1, "%v", e)
}

func checkReadings(t *testing.T, r intake.Readings) {
	t.Helper()
	require.NotEmpty(t, r.Cylinders)
	require.LessOrEqual(t, len(r.Cylinders), intake.MaxCylinders)
	inside := func(v *float64, low, high float64) {
		if v != nil {
			assert.True(t, *v >= low && *v <= high, "%g", *v)
		}
	}
	for i, c := range r.Cylinders {
		assert.Equal(t, i+1, c.Number)
		for _, v := range []*float64{c.Dry, c.First, c.Wet, c.WetFirst, c.Second, c.Refit, c.Idle, c.Snap} {
			inside(v, 0, 3.0001e6)
		}
		inside(c.Leakage, 0, 100)
		for _, v := range append(slices.Clone(c.Repeats), c.Strokes...) {
			assert.False(t, math.IsNaN(v))
		}
	}
	assert.Equal(t, r.Guessed, slices.ContainsFunc(r.Notes, func(n intake.Note) bool { return n.Key == intake.NoteUnitGuessed }),
		"a unit that is guessed is told, and no other")
	for _, n := range r.Notes {
		assert.Contains(t, intake.Notes(), n.Key)
	}
}
