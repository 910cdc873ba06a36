package debrief_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/debrief"
)

// recorded plans for one of the recorded attempts.
func recorded(t *testing.T, name string) debrief.Plan {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "attempts", name+".json"))
	require.NoError(t, err)
	f, err := attempt.Decode(data)
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	p, err := debrief.PlanOf(v, nil)
	require.NoError(t, err)
	return p
}

// What was left open by a careful conclusion is told by the test it names: the debrief
// doesn't hold that against it, as the grade doesn't.
func TestTheNextTestNamedWouldHaveTold(t *testing.T) {
	p := recorded(t, "burnt-valve-by-the-card")
	assert.NotEmpty(t, p.Yours.Open)
	assert.Equal(t, debrief.YoursNext, p.Yours.Verdict)
	assert.Equal(t, debrief.TestLeakage, p.Yours.Next)
	p = recorded(t, "too-much-oil")
	assert.Equal(t, debrief.YoursOpen, p.Yours.Verdict, "none was named")
	assert.Empty(t, p.Yours.Next)
	p = recorded(t, "leak-finds-tailpipe")
	assert.Equal(t, debrief.YoursSettled, p.Yours.Verdict)
}

// A cylinder that holds nothing has a valve held open or a hole, and no rings that
// anybody has seen (the table of patterns: true zero).
func TestRingsAreNoRivalOfATrueZero(t *testing.T) {
	p := recorded(t, "not-decided-yet")
	require.NotEmpty(t, p.Rivals)
	for _, r := range p.Rivals {
		assert.NotEqual(t, scenarios.WornRings, r.Faults[0].Kind)
		assert.NotEqual(t, scenarios.BrokenLand, r.Faults[0].Kind)
	}
	assert.Equal(t, scenarios.HoledPiston, p.Rivals[0].Faults[0].Kind)
}

// What the student did is measured too, whether or not a plan needs it, and what told
// nothing on this engine is said to have told nothing.
func TestWhatYourOwnTestsTold(t *testing.T) {
	p := recorded(t, "running-finds-a-lobe")
	assert.Equal(t, debrief.YoursSettled, p.Yours.Verdict, "little gets in at speed, beside its neighbour")
	assert.Contains(t, names(p.Table), debrief.TestRunning)
	p = recorded(t, "not-compression")
	assert.Equal(t, debrief.YoursSettled, p.Yours.Verdict, "every cylinder is missed alike")
	assert.Equal(t, []string{debrief.TestBalance}, names(p.Steps))
	p = plan(t, "dead-exhaust-v8", "do throttle shut\nplugs in but 6\ndo plug-torque\nconnect\nrunning on 6")
	assert.Contains(t, p.Yours.Tests, debrief.TestRunning)
	assert.Equal(t, []string{debrief.TestRunning}, p.Yours.Nothing, "an exhaust valve that stays shut lets the air in all the same")
	for _, s := range p.Table {
		if s.Test == debrief.TestRunning {
			assert.NotEmpty(t, s.Shows)
		}
	}
	p = recorded(t, "gauge-that-leaks")
	assert.Contains(t, p.Yours.Tests, debrief.TestSecond, "read by the other gauge from the start")
	assert.NotEqual(t, diagnose.FamilyMethodOrGauge, p.Rivals[0].Family)
}

// Before anything else it matters that nothing was read.
func TestWhatMattersMostIsToReadFirst(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "attempts", "lucky-guess.json"))
	require.NoError(t, err)
	f, err := attempt.Decode(data)
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	most := debrief.MostOf(v.Grade, debrief.Mistakes{})
	require.NotNil(t, most.Line)
	assert.Equal(t, "all_cylinders_dry", most.Line.Rule)
}
