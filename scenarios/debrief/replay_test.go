package debrief

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
)

// verified compiles a script of intent and verifies what comes of it.
func verified(t testing.TB, text string) attempt.Report {
	t.Helper()
	a, err := script.Compile(text, scenarios.Find)
	require.NoError(t, err)
	data, err := a.Encode()
	require.NoError(t, err)
	f, err := attempt.Decode(data)
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	return v
}

func scripts(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/scripts/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// Played without a change, an attempt is itself, bit for bit: otherwise a
// difference would be of the player's making and not of the mistake's.
func TestPlayedUnchangedItIsTheSame(t *testing.T) {
	for _, file := range scripts(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			v := verified(t, string(text))
			tape, err := recordTape(v, nil)
			require.NoError(t, err)
			take, err := tape.play(v.Session.Scenario(), tape.edit())
			require.NoError(t, err)
			assert.Zero(t, take.refused)
			assert.Equal(t, v.Session.Log(), take.session.Log())
			assert.Equal(t, v.Session.Digest(), take.session.Digest())
			for i, k := range take.runs {
				assert.Equal(t, i+1, k)
			}
		})
	}
}
