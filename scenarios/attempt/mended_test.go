package attempt_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
)

// Whoever sets the tight valve after concluding, and cranks once more to see it cured, has
// the same marks as one who leaves it to the customer: the repair takes nothing from what
// was found. The attempt replays, and the cylinder reads like its neighbors.
func TestARepairTakesNothingFromTheMarks(t *testing.T) {
	text, err := os.ReadFile("../../testdata/scripts/tight-when-hot.txt")
	require.NoError(t, err)
	graded := func(text string) attempt.Report {
		t.Helper()
		a, err := script.Compile(text, scenarios.Find)
		require.NoError(t, err)
		data, err := a.File().Encode()
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err)
		r, err := attempt.Verify(f, scenarios.Find)
		require.NoError(t, err)
		return r
	}
	left := graded(string(text))
	mended := graded(strings.Replace(string(text), "tick all\n", "do set-lash exhaust on 2 number 0.3\n6 strokes on 2\ntick all\n", 1))
	assert.InDelta(t, left.Grade.Points, mended.Grade.Points, 1e-9)
	for i, row := range left.Grade.Rows {
		assert.InDelta(t, row.Points, mended.Grade.Rows[i].Points, 1e-9, row.Name)
	}
	runs := mended.Session.Record().Runs
	last := func(cylinder int) (pa float64) {
		for _, r := range runs {
			if r.Cylinder == cylinder && len(r.Strokes) > 0 {
				pa = r.Strokes[len(r.Strokes)-1].Shown
			}
		}
		return pa
	}
	assert.InDelta(t, last(1), last(2), 0.05*last(1))
}
