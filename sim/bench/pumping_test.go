package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// ready is a bench with all put together but for the gauge on one cylinder, which
// is disabled.
func ready(t testing.TB, set bench.Setup, cylinder int) shop {
	t.Helper()
	s := open(t, set)
	s.do(bench.KindGlasses, "on")
	s.do(bench.KindBrake, "on")
	s.do(bench.KindBelts, "")
	s.do(bench.KindWells, "")
	s.on(bench.KindPlugOut, cylinder, "ordered")
	s.do(bench.KindGauge, "good")
	s.do(bench.KindAdapter, "m14")
	s.on(bench.KindHoseOn, cylinder, "")
	s.on(bench.KindDisableOne, cylinder, "disabled")
	s.do(bench.KindLeads, "")
	return s
}

// idled starts the engine, bleeds the gauge at idle and lets it pump up.
func idled(t testing.TB, set bench.Setup, cylinder int) shop {
	t.Helper()
	s := ready(t, set, cylinder)
	s.do(bench.KindEngineRun, "on")
	require.True(t, s.State().Running)
	s.Advance(2 * record.TicksPerSecond)
	s.do(bench.KindRelease, "")
	s.Advance(2.5 * record.TicksPerSecond)
	require.Len(t, s.Record().Pumped, 1)
	return s
}

// pumpedBoth returns the idle and the snap reading [Pa gauge].
func pumpedBoth(t testing.TB, set bench.Setup, cylinder int) (idle, snap float64) {
	t.Helper()
	s := idled(t, set, cylinder)
	s.do(bench.KindSnap, "")
	s.Advance(2 * record.TicksPerSecond)
	s.do(bench.KindEngineRun, "off")
	s.Settle()
	require.True(t, s.AtRest())
	p := s.Record().Pumped
	require.Len(t, p, 2)
	assert.Equal(t, bench.PumpedIdle, p[0].How)
	assert.Equal(t, bench.PumpedSnap, p[1].How)
	assert.Equal(t, cylinder, p[1].Cylinder)
	assert.Equal(t, 1, s.count(bench.EventPumped, bench.PumpedSnap))
	return p[0].True, p[1].True
}

// Shops expect 30 to 50 % of cranking compression at idle and 70 to 105 % from a
// snap (common practice).
func TestRunningCompressionOfASoundCylinder(t *testing.T) {
	cranked := last(prepared(t, tray()).crank(2, 6)).True
	idle, snap := pumpedBoth(t, tray(), 2)
	assert.Greater(t, idle, 0.30*cranked)
	assert.Less(t, idle, 0.50*cranked)
	assert.Greater(t, snap, 0.70*cranked)
	assert.Less(t, snap, 1.05*cranked)
}

// An intake valve that opens a twentieth of its lift still fills a slow cylinder.
func TestRunningShowsWhatCrankingHides(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[1].IntakeLift = 0.05
	cranked := last(prepared(t, set).crank(2, 8)).True
	sound := last(prepared(t, tray()).crank(2, 8)).True
	_, snap := pumpedBoth(t, set, 2)
	_, soundSnap := pumpedBoth(t, tray(), 2)
	t.Logf("cranked %.3f of sound, snap %.3f", cranked/sound, snap/soundSnap)
	assert.Less(t, snap/soundSnap, 0.9*cranked/sound)
}

func TestIdleControlHoldsTheManifold(t *testing.T) {
	s := idled(t, tray(), 1)
	sum, n := 0.0, 0
	s.Tap(func() { sum += s.Engine().PlenumPressure(); n++ })
	s.Advance(3 * record.TicksPerSecond)
	assert.InDelta(t, bench.IdlePlenumKPa*1e3, sum/float64(n), 1e3)
	assert.InDelta(t, bench.IdleRPM, s.Engine().Speed()*60/6.283185307, 0.1)
}

// A gauge that is not bled still shows what the start pumped into it.
func TestOnlyABledGaugeIsRead(t *testing.T) {
	s := ready(t, tray(), 2)
	s.do(bench.KindEngineRun, "on")
	s.Advance(4 * record.TicksPerSecond)
	assert.Empty(t, s.Record().Pumped)
	idle := idled(t, tray(), 2).Record().Pumped[0].Shown
	assert.Greater(t, float64(s.Needle().Read()), 1.3*idle)
}

func TestARunningEngineIsNotAtRest(t *testing.T) {
	s := idled(t, tray(), 2)
	assert.False(t, s.AtRest())
	tick := s.Tick()
	s.Settle()
	assert.Equal(t, tick, s.Tick(), "it doesn't stop by waiting")
	assert.Equal(t, "refusal.engine_running", s.key(record.Action{Kind: bench.KindHoseOff}))
	assert.Equal(t, "refusal.engine_running", s.key(record.Action{Kind: bench.KindStarter, Choice: "on"}))
	assert.Equal(t, "refusal.engine_running", s.key(record.Action{Kind: bench.KindThrottle, Choice: "open"}))
	s.do(bench.KindNeedleWords, "")
	s.do(bench.KindEngineRun, "off")
	s.Settle()
	assert.True(t, s.AtRest())
	assert.True(t, s.State().Codes, "the disabled cylinder left a code")
	s.undo()
	s.on(bench.KindPlugIn, 2, "hand")
	s.do(bench.KindPlugTorque, "")
	s.do(bench.KindEngineStart, "")
	assert.Equal(t, "rough", s.State().Started, "still without its spark")
	s.on(bench.KindDisableOne, 2, "enabled")
	s.do(bench.KindEngineStart, "")
	assert.Equal(t, "runs", s.State().Started)
	s.do(bench.KindCodesClear, "")
	assert.False(t, s.State().Codes)
}

func TestAnEngineThatDoesNotStartDoesNotRun(t *testing.T) {
	set := tray()
	set.Engine.Battery.Charge, set.Engine.Battery.AgeFactor = 0.1, 15
	s := ready(t, set, 2)
	s.do(bench.KindEngineRun, "on")
	assert.False(t, s.State().Running)
	assert.Equal(t, 1, s.count(bench.EventFact, "engine_cranks_slow"))
	set = tray()
	set.Engine.Cylinder[2].Liquid = 2e-4
	s = ready(t, set, 2)
	s.do(bench.KindEngineRun, "on")
	assert.False(t, s.State().Running)
	assert.Equal(t, 1, s.count(bench.EventFact, "engine_refuses"))
}

func TestRunningCompressionReplays(t *testing.T) {
	s := idled(t, tray(), 3)
	s.do(bench.KindSnap, "")
	s.Advance(1000)
	r, err := bench.Replay(tray(), s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), r.Digest())
	assert.Equal(t, s.Record(), r.Record())
}

// An engine that runs under somebody's hands takes a sleeve that nobody looked at.
func TestBeltsAreLookedAtBeforeItRuns(t *testing.T) {
	for _, looked := range []bool{false, true} {
		s := ready(t, tray(), 2)
		if !looked {
			s = open(t, tray())
			for _, a := range [][2]string{{bench.KindGlasses, "on"}, {bench.KindBrake, "on"}, {bench.KindWells, ""}} {
				s.do(a[0], a[1])
			}
			s.on(bench.KindPlugOut, 2, "ordered")
			s.do(bench.KindGauge, "good")
			s.do(bench.KindAdapter, "m14")
			s.on(bench.KindHoseOn, 2, "")
			s.on(bench.KindDisableOne, 2, "disabled")
			s.do(bench.KindLeads, "")
		}
		s.do(bench.KindEngineRun, "on")
		require.True(t, s.State().Running)
		assert.Equal(t, looked, s.count(bench.EventHazard, "belt_caught") == 0)
	}
}
