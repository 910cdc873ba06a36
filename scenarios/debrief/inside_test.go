package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/book"
	"crankbay/scenarios/debrief"
)

const short = "\nmode grade\nprepare\nsix strokes on 3\nhand in"

func inside(t *testing.T, text string, cylinder, run int) debrief.Inside {
	t.Helper()
	in, err := debrief.InsideOf(report(t, text), cylinder, run)
	require.NoError(t, err)
	for _, column := range [][]float64{in.Pressure, in.Sound, in.Travel, in.Intake, in.Exhaust, in.Hose, in.Flows[0], in.Flows[5]} {
		require.Len(t, column, len(in.Deg))
	}
	return in
}

// The gas of a cylinder leaves by the path that its fault opens, and there beyond
// what a sound one loses.
func TestGasLeavesByTheFaultsPath(t *testing.T) {
	for _, x := range []struct {
		scenario string
		cylinder int
		path     string
	}{
		{"burnt-exhaust-inline-four", 3, debrief.PathExhaust},
		{"leaking-intake-inline-four", 2, debrief.PathIntake},
		{"worn-rings-inline-four", 2, debrief.PathRings},
		{"gasket-inline-four", 2, debrief.PathGasket},
		{"gasket-inline-four", 3, debrief.PathGasket},
		{"timing-late-inline-four", 1, debrief.PathIntake}, // shut late, it pushes the charge back
	} {
		in := inside(t, "scenario "+x.scenario+short, x.cylinder, 0)
		most := 0
		for i, l := range in.Losses {
			if l.Share-l.Sound > in.Losses[most].Share-in.Losses[most].Sound {
				most = i
			}
		}
		t.Logf("%s %d: %+v at %g°", x.scenario, x.cylinder, in.Losses, in.LostDeg)
		assert.Equal(t, x.path, in.Losses[most].Path, x.scenario)
		assert.True(t, in.Lost, x.scenario)
		assert.Less(t, in.PeakPa, in.SoundPeakPa)
		assert.Greater(t, in.LostDeg, -180.0)
		assert.Less(t, in.LostDeg, 0.0)
	}
}

func TestSoundEngineLosesNothingBeyondASoundOne(t *testing.T) {
	in := inside(t, "scenario sound-inline-four"+short, 3, 0)
	assert.False(t, in.Lost)
	assert.Equal(t, in.PeakPa, in.SoundPeakPa)
	assert.Equal(t, in.Pressure, in.Sound)
}

// A whole cycle: from overlap to overlap in small steps, with valves that open where
// the engine's data say, pressure highest at the top, and a hose that holds about the
// cylinder's highest.
func TestInsideIsOneWholeCycle(t *testing.T) {
	in := inside(t, "scenario burnt-exhaust-inline-four"+short, 1, 0)
	n := len(in.Deg)
	assert.Less(t, in.Deg[0], -350.0)
	assert.Greater(t, in.Deg[n-1], 350.0)
	top := 0
	for i := 1; i < n; i++ {
		assert.Greater(t, in.Deg[i], in.Deg[i-1])
		assert.Less(t, in.Deg[i]-in.Deg[i-1], 4.0)
		if in.Pressure[i] > in.Pressure[top] {
			top = i
		}
		if in.Deg[i] > -118 && in.Deg[i] < 132 { // as printed, at 0.15 mm of lift
			assert.Less(t, in.Intake[i]+in.Exhaust[i], 0.15, "at %g°", in.Deg[i])
		}
	}
	assert.InDelta(t, 0, in.Deg[top], 10)
	assert.InDelta(t, 0, in.Travel[top], 0.02)
	assert.InDelta(t, in.PeakPa, in.Hose[n-1], 0.06*in.PeakPa)
	r, err := book.Run(report(t, "scenario burnt-exhaust-inline-four"+short).Session.Scenario(), book.Options{ByCard: true})
	require.NoError(t, err)
	assert.InDelta(t, r.Readings[0].FinalPSI*psi, in.Hose[n-1], 0.02*in.PeakPa, "the film is that of the test by the book")
}

// In the student's own run the same is seen with what the hands did: a throttle let
// go leaves less to lose.
func TestInsideARunOfTheAttempt(t *testing.T) {
	open := inside(t, "scenario burnt-exhaust-inline-four"+short, 3, 1)
	shut := inside(t, "scenario burnt-exhaust-inline-four\nmode grade\nprepare without throttle plugs\ndo plug-out ordered on 3\nsix strokes on 3\nhand in", 3, 1)
	assert.Less(t, shut.Trapped, 0.8*open.Trapped)
	assert.Less(t, shut.PeakPa, open.PeakPa)
	assert.Greater(t, shut.SoundPeakPa, shut.PeakPa)
}

// An engine that liquid stops can't be turned over that cylinder; everything else of
// its debrief is told all the same.
func TestNothingTurnsOverLiquid(t *testing.T) {
	s := *scenarios.Find("sound-inline-four")
	s.ID = "drowned"
	s.Faults = []scenarios.Fault{{Kind: scenarios.Liquid, Cylinder: 3, VolumeML: 300}}
	lookup := func(string) *scenarios.Scenario { return &s }
	a, err := script.Compile("scenario drowned\nmode grade\nprepare without warm\nhand in", lookup)
	require.NoError(t, err)
	v, err := attempt.Verify(a.File(), lookup)
	require.NoError(t, err)
	_, err = debrief.Of(v)
	require.NoError(t, err)
	_, err = debrief.MistakesOf(v, nil)
	require.NoError(t, err)
	_, err = debrief.PlanOf(v, nil)
	require.NoError(t, err)
	_, err = debrief.InsideOf(v, 3, 0)
	if err != nil {
		require.ErrorIs(t, err, debrief.ErrNoTurn)
	}
}

func TestInsideNamesWhatIsWrong(t *testing.T) {
	v := report(t, "scenario sound-inline-four"+short)
	_, err := debrief.InsideOf(v, 9, 0)
	assert.EqualError(t, err, "cylinder 9, want 1 to 4")
	_, err = debrief.InsideOf(v, 1, 1)
	assert.EqualError(t, err, "run 1 is not one on cylinder 1")
	_, err = debrief.InsideOf(v, 3, 7)
	assert.EqualError(t, err, "run 7 is not one on cylinder 3")
}
