package sim

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func within(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// extreme draws an engine of 1 to 12 cylinders with any faults at any severity
// inside the documented ranges.
func extreme(r *rand.Rand) Params {
	within := func(lo, hi float64) float64 { return within(r, lo, hi) }
	often := func(share, value float64) float64 {
		if r.Float64() < share {
			return value
		}
		return 0
	}
	p := Reference()
	p.Cylinders = 1 + r.IntN(MaxCylinders)
	p.Bore, p.Stroke = within(0.05, 0.11), within(0.05, 0.11)
	p.Rod, p.Compression = p.Stroke*within(1.4, 2), within(6, 15)
	p.CoolantTemperature, p.AmbientTemperature = within(245, 380), within(245, 315)
	p.Ambient = within(6e4, 1.05e5)
	p.Battery.Charge, p.Battery.AgeFactor = within(0, 1), within(0.5, 10)
	p.Crank.Start = within(0, cycle)
	p.Gauge.HoseVolume = math.Pow(10, within(-7.5, -4.3))
	p.Gauge.ValveLeak, p.Gauge.SealLeak = often(0.2, 1e-6), often(0.2, 5e-5)
	p.ExhaustOutlet, p.Recess = often(0.3, math.Pow(10, within(-7, -3))), often(0.3, within(0, 0.01))
	if r.Float64() < 0.2 {
		p.Release = ReleaseParams{Lift: within(0, 0.005), From: -3, To: -1, Below: 60}
	}
	for i := range p.Cylinders {
		c := SoundCylinder(cycle * float64(i) / float64(p.Cylinders))
		c.RingArea = often(0.9, math.Pow(10, within(-8, -4)))
		c.IntakeSeatArea, c.ExhaustSeatArea = often(0.3, within(0, 5e-4)), often(0.3, within(0, 5e-4))
		c.IntakeLift, c.ExhaustLift = 1-often(0.2, r.Float64()), 1-often(0.2, r.Float64())
		c.IntakeShift, c.ExhaustShift = often(0.3, within(-1.9, 1.9)), often(0.3, within(-1.9, 1.9))
		c.Deposit = often(0.2, 0.4*p.Bore*p.Bore*p.Stroke*math.Pi/4/(p.Compression-1))
		c.PistonArea, c.CoolantArea, c.OutsideArea = often(0.2, within(0, 5e-4)), often(0.1, within(0, 5e-4)), often(0.1, within(0, 5e-4))
		c.IntakeLash, c.ExhaustLash = often(0.2, within(-0.002, 0.005)), often(0.2, within(-0.002, 0.005))
		c.Spring, c.FlakeArea, c.Dryness = 1-often(0.2, 0.98*r.Float64()), often(0.1, 3e-4), often(0.2, r.Float64())
		if p.Cylinders > 1 && r.Float64() < 0.3 {
			c.GasketTo, c.GasketArea = 1+(i+1)%p.Cylinders, within(0, 5e-4)
		}
		p.Cylinder[i] = c
	}
	return p
}

// Any combination of faults, severities, plugs, oil and throttle: at worst the
// engine stalls. check would panic on a state that no engine can be in.
func TestExtremeFaultsNeverBreak(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	stalled, turned := 0, 0
	for range 150 {
		p := extreme(r)
		require.NoError(t, p.Validate())
		e := rig(t, p, r.Float64(), PlugState(r.IntN(2)))
		e.SetPlug(1+r.IntN(p.Cylinders), PlugGauge)
		if r.Float64() < 0.3 {
			e.AddOil(1+r.IntN(p.Cylinders), 60*ml*r.Float64())
		}
		for range 2 * TicksPerSecond {
			e.Step(Inputs{Starter: true, Release: r.Float64() < 0.01})
		}
		if e.speed == 0 {
			stalled++
		} else {
			turned++
		}
		gas := e.HosePressure()
		require.False(t, math.IsNaN(gas) || gas < 1e3 || gas > 5e7, "hose at %g Pa", gas)
		e.SetAir(within(r, 0, 8e5), 1e-6)
		e.SetPlug(1, PlugAir)
		for range TicksPerSecond {
			e.Step(Inputs{Driven: 150 * float64(r.IntN(2))})
		}
		e.Stand(30)
		for range 3 * TicksPerSecond {
			e.Step(Inputs{})
		}
		assert.True(t, e.AtRest())
	}
	assert.Greater(t, turned, 50)
	t.Logf("%d turned, %d stalled", turned, stalled)
}

// Too much oil stops the crank; a little doesn't.
func TestHydrolock(t *testing.T) {
	for _, row := range []struct {
		oil  float64
		lock bool
	}{{10 * ml, false}, {80 * ml, true}} {
		e := rig(t, Reference(), 1, PlugOut)
		e.SetPlug(2, PlugGauge)
		e.SetAngle(e.p.Cylinder[1].FiringAngle - math.Pi)
		e.AddOil(2, row.oil)
		for range 2 * TicksPerSecond {
			e.Step(Inputs{Starter: true})
		}
		assert.Equal(t, row.lock, e.Hydrolocked(), "%g ml", row.oil*1e6)
	}
}

func TestValidateNamesEveryFault(t *testing.T) {
	p := Reference()
	p.Bore, p.Compression, p.Cylinder[2].RingArea = -0.086, math.NaN(), 1
	p.Cylinder[1].GasketTo = 9
	err := p.Validate()
	require.Error(t, err)
	for _, want := range []string{"Bore = -0.086 m", "Compression = NaN", "Cylinder[3].RingArea", "Cylinder[2].GasketTo = 9"} {
		assert.ErrorContains(t, err, want)
	}
	q := Reference()
	assert.NoError(t, q.Validate())
}

// Same parameters, same hands, same bits; one number changed, others.
func TestDeterminism(t *testing.T) {
	run := func(p Params) uint64 {
		e := rig(t, p, 1, PlugOut)
		testCylinder(e, 1, 0)
		return e.Digest()
	}
	p := Reference()
	first := run(p)
	assert.Equal(t, first, run(p))
	p.Cylinder[3].ExhaustSeatArea = 1e-9
	assert.NotEqual(t, first, run(p))
}
