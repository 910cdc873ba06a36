package report

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
)

// keys says every text by its key and parameters: what a report asks for, without the
// words.
type keys struct{}

func (keys) Has(key string) bool { return !strings.HasPrefix(key, "noun.") }

func (keys) Say(key string, params ...any) string {
	if len(params) == 0 {
		return "<" + key + ">"
	}
	return fmt.Sprintf("<%s %v>", key, params)
}

func graded() diagnose.Result {
	return diagnose.Grade(diagnose.Input{Card: diagnose.DefaultCard(), Cylinders: 4, Mode: "alone", Hints: 2, Key: diagnose.Key{Family: diagnose.FamilySound}})
}

func TestJSONIsStable(t *testing.T) {
	a, err := JSON(graded())
	require.NoError(t, err)
	b, err := JSON(graded())
	require.NoError(t, err)
	assert.Equal(t, a, b)
	assert.True(t, strings.HasSuffix(string(a), "\n"))
	var back diagnose.Result
	require.NoError(t, json.Unmarshal(a, &back))
	assert.Equal(t, graded(), back)
}

// What was never begun stands in one line for each row, and points that were taken off
// are said with their sign.
func TestLinesOfARow(t *testing.T) {
	w := text{p: NewPrinter(keys{}), w: keys{}}
	w.row(diagnose.Row{Name: "prepare", Points: 1, OutOf: 20, Lines: []diagnose.Line{
		{Rule: "glasses_on", Never: true, OutOf: 2}, {Rule: "belts_clear", Never: true, OutOf: 3},
		{Rule: "left_apart", Points: -8.5}, {Rule: "wells_blown", Passed: true, Points: 1, OutOf: 2, Minutes: 75},
	}})
	flat := strings.Join(strings.Fields(w.b.String()), " ")
	assert.Equal(t, 1, strings.Count(flat, "<line.never"))
	assert.Contains(t, flat, "<rule.glasses_on.name>")
	assert.Contains(t, flat, "[0/5]")
	assert.Contains(t, flat, "[−8.5]")
	assert.Contains(t, flat, "<line.nearly>")
	assert.Contains(t, flat, "<time.hours [h 1 m 15]>")
	assert.Less(t, strings.Index(flat, "left_apart"), strings.Index(flat, "wells_blown"), "what cost points comes first")
}

func TestPoints(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1.5: "1.5", 2.25: "2.25", 20: "20", -8.67: "−8.67"} {
		assert.Equal(t, want, points(v))
	}
}
