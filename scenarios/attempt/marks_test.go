package attempt_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
)

// A mark is what one attempt is worth by hand, row by row.
type mark struct {
	name  string
	rows  map[string]float64
	gates []string // that were not kept
}

// marks reads testdata/marks.txt. A settled row replaces the first mark.
func marks(t *testing.T) []mark {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(testdata, "marks.txt"))
	require.NoError(t, err)
	var out []mark
	for i, line := range strings.Split(string(data), "\n") {
		words := strings.Fields(line)
		if len(words) == 0 || words[0] == "#" {
			continue
		}
		where := fmt.Sprintf("marks.txt:%d", i+1)
		require.GreaterOrEqual(t, len(words), 2, where)
		if words[0] == "attempt" {
			out = append(out, mark{name: words[1], rows: map[string]float64{}})
			continue
		}
		require.NotEmpty(t, out, where)
		m := &out[len(out)-1]
		if words[0] == "gates" {
			for _, g := range words[1:] {
				if g != "none" {
					m.gates = append(m.gates, g)
				}
			}
			continue
		}
		if words[0] == "settled" || words[0] == "again" {
			words = words[1:]
			require.Contains(t, m.rows, words[0], where)
		}
		require.Contains(t, diagnose.RowNames(), words[0], where)
		require.GreaterOrEqual(t, len(words), 3, "%s: a mark has a reason", where)
		m.rows[words[0]], err = strconv.ParseFloat(words[1], 64)
		require.NoError(t, err, where)
	}
	return out
}

// Careful hands don't carry a conclusion that is wrong and certain over the mark.
func TestAWrongCertainConclusionDoesNotPass(t *testing.T) {
	for _, name := range []string{"too-much-oil", "one-gauge-believed", "overlap-believed"} {
		data, err := os.ReadFile(filepath.Join(testdata, "attempts", name+".json"))
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err)
		report, err := attempt.Verify(f, scenarios.Find)
		require.NoError(t, err)
		assert.Contains(t, report.Grade.Low, diagnose.RowConclude, name)
		assert.False(t, report.Grade.Pass, name)
	}
}

// Marks by hand and grades hold together: every row within a tenth of its points, the
// gates exactly, and a pass wherever the marks are not within three points of it.
func TestGradesAgreeWithMarksByHand(t *testing.T) {
	list := marks(t)
	assert.GreaterOrEqual(t, len(list), 25)
	seen := map[string]bool{}
	for _, m := range list {
		seen[m.name] = true
		data, err := os.ReadFile(filepath.Join(testdata, "attempts", m.name+".json"))
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err, m.name)
		report, err := attempt.Verify(f, scenarios.Find)
		require.NoError(t, err, m.name)
		g := report.Grade
		sum, low := 0.0, false
		for _, row := range g.Rows {
			by, ok := m.rows[row.Name]
			require.True(t, ok, "%s: %s has no mark", m.name, row.Name)
			sum += by
			low = low || by < g.RowMark*row.OutOf
			if !assert.InDelta(t, by, row.Points, 0.1*row.OutOf+1e-9, "%s: %s", m.name, row.Name) {
				for _, l := range row.Lines {
					if !l.Passed {
						t.Logf("   %s %g of %g at %.0f min %v", l.Rule, l.Points, l.OutOf, l.Minutes, l.Facts)
					}
				}
			}
		}
		var gates []string
		for _, l := range g.Gates {
			if !l.Passed {
				gates = append(gates, l.Rule)
			}
		}
		assert.ElementsMatch(t, m.gates, gates, m.name)
		if pass := g.PassMark * g.OutOf; math.Abs(sum-pass) > 3 {
			assert.Equal(t, sum >= pass && !low && len(m.gates) == 0, g.Pass, "%s passes", m.name)
		}
	}
	for _, name := range scripts(t) {
		assert.True(t, seen[name], "%s has no mark", name)
	}
}
