package bench_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// took does an action and returns the bench minutes it took.
func took(t *testing.T, b *bench.Bench, a record.Action) float64 {
	t.Helper()
	before := b.Minutes()
	require.NoError(t, b.Do(a), "%+v", a)
	return b.Minutes() - before
}

// What a confirming test costs is data of the engine; what was uncovered once lies
// open for the next cylinder.
func TestTestsCostWhatTheEngineSays(t *testing.T) {
	set := tray()
	set.LashCheck = true
	set.Minutes = bench.TestMinutes{
		Wet: 4, LeakageSetup: 7, LeakageEach: 6, Current: 20, RunningEach: 9, Vacuum: 8, Lash: 150, TimingMarks: 240,
		BorescopeEach: 11, CoolingPressure: 13, SecondGauge: 12,
	}
	b, err := bench.New(set)
	require.NoError(t, err)
	for _, c := range []struct {
		a    record.Action
		want float64
	}{
		{record.Action{Kind: bench.KindGauge, Choice: set.Gauges[0].ID}, 0},
		{record.Action{Kind: bench.KindGauge, Choice: set.Gauges[0].ID}, 0},
		{record.Action{Kind: bench.KindGauge, Choice: set.Gauges[1].ID}, 12},
		{record.Action{Kind: bench.KindLash, Cylinder: 1}, 150},
		{record.Action{Kind: bench.KindLash, Cylinder: 2}, 2},
		{record.Action{Kind: bench.KindTiming}, 240},
		{record.Action{Kind: bench.KindCoolingPressure}, 13},
		{record.Action{Kind: bench.KindClamp, Choice: "on"}, 20},
		{record.Action{Kind: bench.KindClamp, Choice: "off"}, 1},
		{record.Action{Kind: bench.KindVacuumGauge, Choice: "on"}, 8},
		{record.Action{Kind: bench.KindDisableOne, Cylinder: 2, Choice: "disabled"}, 9},
		{record.Action{Kind: bench.KindDisableOne, Cylinder: 2, Choice: "enabled"}, 1},
		{record.Action{Kind: bench.KindPlugOut, Cylinder: 1, Choice: "ordered"}, 1},
		{record.Action{Kind: bench.KindBorescope, Cylinder: 1}, 11},
		{record.Action{Kind: bench.KindOil, Cylinder: 1, Number: 5}, 4},
		{record.Action{Kind: bench.KindTesterOn, Cylinder: 1}, 13},
		{record.Action{Kind: bench.KindTesterOff}, 1},
		{record.Action{Kind: bench.KindTesterOn, Cylinder: 1}, 6},
	} {
		assert.InDelta(t, c.want, took(t, b, c.a), 1e-9, "%+v", c.a)
	}
}

// A set-up that says nothing is an ordinary engine; one that says nonsense is
// refused.
func TestMinutesNotGiven(t *testing.T) {
	b, err := bench.New(tray())
	require.NoError(t, err)
	assert.InDelta(t, 30, took(t, b, record.Action{Kind: bench.KindTiming}), 1e-9)
	assert.InDelta(t, 10, took(t, b, record.Action{Kind: bench.KindCoolingPressure}), 1e-9)
	for _, bad := range []float64{-1, 481, math.NaN()} {
		set := tray()
		set.Minutes.Lash = bad
		_, err := bench.New(set)
		assert.ErrorContains(t, err, "Minutes")
	}
}
