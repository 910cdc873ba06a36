package attempt_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// job is a scenario of the catalogue that is to be worked in a certain way.
func job(w scenarios.Work) *scenarios.Scenario {
	s := *scenarios.Find("burnt-exhaust-inline-four")
	s.Work = &w
	return &s
}

func refused(t *testing.T, key string, err error) {
	t.Helper()
	r := (*bench.Refusal)(nil)
	require.ErrorAs(t, err, &r)
	assert.Equal(t, "refusal."+key, r.Key)
	assert.Contains(t, append(attempt.Refusals(), bench.Refusals()...), r.Key)
}

func TestAJobAllowsWhatItSays(t *testing.T) {
	tests := []string{"wet"}
	s := job(scenarios.Work{Modes: []string{"alone"}, Tests: &tests, Hide: []string{"section"}, Minutes: 20})
	_, err := attempt.New(s, attempt.Header{Mode: "grade"})
	assert.EqualError(t, err, `attempt: mode: "grade", but this job is worked alone`)
	a, err := attempt.New(s, attempt.Header{Mode: "alone"})
	require.NoError(t, err)
	refused(t, "not_in_this_mode", a.Do(record.Action{Kind: bench.KindSection}))
	require.NoError(t, a.Do(record.Action{Kind: bench.KindHint}))
	for _, kind := range []string{bench.KindTesterOn, bench.KindClamp, bench.KindVacuumGauge, bench.KindDisableOne, bench.KindLash, bench.KindTiming,
		bench.KindBorescope, bench.KindCoolingPressure, bench.KindPowerBalance} {
		refused(t, "test_not_allowed", a.Do(record.Action{Kind: kind, Cylinder: 1, Choice: "on"}))
	}
	require.NoError(t, a.Do(record.Action{Kind: bench.KindWait, Number: 19}))
	require.NoError(t, a.Do(record.Action{Kind: bench.KindStarter, Choice: "on"}))
	a.Advance(60 * record.TicksPerSecond)
	refused(t, "minutes_over", a.Do(record.Action{Kind: bench.KindGlasses, Choice: "on"}))
	require.NoError(t, a.Do(record.Action{Kind: bench.KindStarter, Choice: "off"}), "letting go is always allowed")
	require.NoError(t, a.Do(record.Action{Kind: attempt.KindFinding, Choice: diagnose.FamilyUndecided}), "and so is the sheet")
	require.NoError(t, a.Do(record.Action{Kind: attempt.KindHandIn}))
	r, err := attempt.Verify(a.File(), func(string) *scenarios.Scenario { return s })
	require.NoError(t, err)
	assert.True(t, r.HandedIn)
	// Who takes the job as if it were free has another scenario.
	_, err = attempt.Verify(a.File(), scenarios.Find)
	assert.ErrorContains(t, err, "scenario digest")
}

func TestAJobWeighsItsRows(t *testing.T) {
	w := diagnose.Weights{Prepare: 1, Measure: 2, Record: 3, Choose: 4, Conclude: 40}
	a, err := attempt.New(job(scenarios.Work{Weights: &w}), attempt.Header{Mode: "grade"})
	require.NoError(t, err)
	g := a.Grade()
	assert.InDelta(t, 50, g.OutOf, 1e-9)
	assert.InDelta(t, 40, g.Rows[4].OutOf, 1e-9)
}

// A wet test that wasn't allowed is asked of nobody.
func TestNoWetTestNoWetRules(t *testing.T) {
	none := []string{}
	a, err := attempt.New(job(scenarios.Work{Tests: &none}), attempt.Header{Mode: "grade"})
	require.NoError(t, err)
	for _, row := range a.Grade().Rows {
		for _, l := range row.Lines {
			assert.NotContains(t, []string{"wet_control", "oil_amount", "wet_strokes", "wet_written", "wet_same_way"}, l.Rule)
		}
	}
}
