package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// sensedRun cranks with clamp and vacuum gauge on and all plugs in.
func sensedRun(t *testing.T, set bench.Setup, seconds float64, throttle string) shop {
	t.Helper()
	s := open(t, set)
	s.do(bench.KindFuel, "disabled")
	s.do(bench.KindIgnition, "disabled")
	s.do(bench.KindClamp, "on")
	s.do(bench.KindVacuumGauge, "on")
	s.do(bench.KindThrottle, throttle)
	s.do(bench.KindStarter, "on")
	s.Advance(int(seconds * record.TicksPerSecond))
	s.do(bench.KindStarter, "off")
	s.Settle()
	require.Len(t, s.Record().Runs, 1)
	return s
}

func low(c record.Current) (cylinders []int) {
	for _, h := range c.Humps {
		if h.Low {
			cylinders = append(cylinders, h.Cylinder)
		}
	}
	return cylinders
}

func TestClampComparesCylinders(t *testing.T) {
	sound := sensedRun(t, tray(), 5, "open").Record()
	require.Len(t, sound.Currents, 1)
	c := sound.Currents[0]
	assert.Equal(t, 1, c.Run)
	assert.InDelta(t, 5, c.Seconds, 1e-9)
	assert.Greater(t, c.PeakA, 2*c.MeanA, "inrush")
	assert.Empty(t, low(c))
	var order []int
	for _, h := range c.Humps {
		assert.InDelta(t, 100, h.Percent, 3)
		order = append(order, h.Cylinder)
	}
	assert.Equal(t, []int{1, 3, 4, 2}, order, "as they fire")

	set := tray()
	set.Engine.Cylinder[2].ExhaustSeatArea = 6e-6
	burnt := sensedRun(t, set, 5, "open").Record().Currents[0]
	assert.Equal(t, []int{3}, low(burnt))
	for i := range set.Engine.Cylinder {
		set.Engine.Cylinder[i].ExhaustSeatArea = 2e-6
	}
	alike := sensedRun(t, set, 5, "open").Record().Currents[0]
	assert.Empty(t, low(alike), "equal loss is invisible")
	assert.Less(t, alike.MeanHumpA, 0.9*c.MeanHumpA, "but for the height of them all")
}

func TestClampAndVacuumNeedTime(t *testing.T) {
	r := sensedRun(t, tray(), 2.9, "open").Record()
	assert.Empty(t, r.Currents)
	assert.Empty(t, r.Vacuums)

	s := sensedRun(t, tray(), 4, "open")
	amps, tops := s.Trace()
	assert.Len(t, amps, 4*record.TicksPerSecond)
	assert.NotEmpty(t, tops)
	s.do(bench.KindClamp, "off")
	s.do(bench.KindVacuumGauge, "off")
	s.do(bench.KindStarter, "on")
	s.Advance(4 * record.TicksPerSecond)
	s.do(bench.KindStarter, "off")
	s.Settle()
	assert.Len(t, s.Record().Currents, 1, "what is not connected shows nothing")
	assert.Len(t, s.Record().Vacuums, 1)
}

func TestAnOpenHoleMakesNoHump(t *testing.T) {
	s := prepared(t, tray())
	s.do(bench.KindClamp, "on")
	s.do(bench.KindStarter, "on")
	s.Advance(4 * record.TicksPerSecond)
	s.do(bench.KindStarter, "off")
	s.Settle()
	require.Len(t, s.Record().Currents, 1)
	assert.Empty(t, s.Record().Currents[0].Humps)
	assert.Greater(t, s.Record().Currents[0].MeanA, 20.0)
}

// A starter that can't bring a cylinder up compares nothing.
func TestAStalledStarterComparesNothing(t *testing.T) {
	set := tray()
	set.Engine.Battery.Cable = 0.12
	c := sensedRun(t, set, 4, "open").Record().Currents[0]
	assert.Empty(t, c.Humps)
}

func TestVacuumFallsWithTheThrottleOpen(t *testing.T) {
	shut := sensedRun(t, tray(), 6, "shut").Record().Vacuums[0]
	wide := sensedRun(t, tray(), 6, "open").Record().Vacuums[0]
	assert.Greater(t, shut.MeanPa, 10e3)
	assert.Less(t, wide.MeanPa, 1.5e3)
	assert.Zero(t, shut.MeanPa-500*float64(int(shut.MeanPa/500)), "to half a division")
	set := tray()
	set.Engine.Cylinder[2].IntakeSeatArea = 20e-6
	leaking := sensedRun(t, set, 6, "shut").Record().Vacuums[0]
	assert.Less(t, leaking.MeanPa, 0.95*shut.MeanPa, "a leaking intake valve spoils it")
	assert.Greater(t, leaking.SwingPa, shut.SwingPa)
}

func TestSensedRunsReplay(t *testing.T) {
	s := sensedRun(t, tray(), 4, "open")
	r, err := bench.Replay(tray(), s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), r.Digest())
	assert.Equal(t, s.Record(), r.Record())
}
