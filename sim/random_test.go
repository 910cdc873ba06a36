package sim

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// plausible draws a small engine that somebody could have built, with leaks.
func plausible(r *rand.Rand) Params {
	p := Reference()
	p.Cylinders = 1 + r.IntN(4)
	p.Bore, p.Stroke = within(r, 0.065, 0.102), within(r, 0.065, 0.1)
	p.Rod, p.Compression = p.Stroke*within(r, 1.5, 1.9), within(r, 7, 13.5)
	p.Intake.Diameter, p.Exhaust.Diameter = 0.37*p.Bore, 0.32*p.Bore
	closes := 540 + within(r, 30, 100)
	p.Intake.Closes, p.Intake.Opens = closes*deg, (closes-within(r, 225, 260))*deg
	p.CoolantTemperature, p.Ambient = within(r, 270, 370), within(r, 7e4, 1.03e5)
	p.Gauge.HoseVolume = within(r, 2, 15) * ml
	for i := range p.Cylinders {
		c := SoundCylinder(cycle * float64(i) / float64(p.Cylinders))
		c.RingArea = within(r, 0.05, 2) * mm2
		c.ExhaustSeatArea, c.IntakeSeatArea = max(0, within(r, -2, 2))*mm2, max(0, within(r, -2, 2))*mm2
		p.Cylinder[i] = c
	}
	return p
}

// 500 engines that somebody could have built: states stay states, mass and
// energy balance by the integrator's own sums in every cycle, and a bigger leak
// never reads higher while the cylinder breathes.
func TestPlausibleEngines(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for n := range 500 {
		p := plausible(r)
		throttle, speed := r.Float64(), within(r, 14, 34)
		plug := PlugState(r.IntN(2))
		read := func(p Params, balance bool) float64 {
			e := rig(t, p, throttle, plug)
			e.SetPlug(1, PlugGauge)
			e.SetAngle(p.Cylinder[0].FiringAngle - math.Pi)
			cycles := int(4 * cycle / speed * TicksPerSecond)
			for k := 0; k < 4; k++ {
				mass0, energy0 := e.contents()
				e.workSum, e.heatSum, e.massIn, e.energyIn = 0, 0, 0, 0
				for range cycles / 4 {
					e.Step(Inputs{Driven: speed})
				}
				mass1, energy1 := e.contents()
				if balance {
					require.InDelta(t, 0, (mass1-mass0-e.massIn)/mass0, 1e-9, "engine %d cycle %d", n, k)
					require.InDelta(t, 0, (energy1-energy0-e.energyIn+e.heatSum+e.workSum)/energy0, 1e-9, "engine %d cycle %d", n, k)
				}
			}
			return float64(e.gauge())
		}
		tight := read(p, true)
		require.False(t, math.IsNaN(tight) || tight < 0, "engine %d reads %g", n, tight)
		p.Cylinder[0].ExhaustSeatArea += within(r, 0.1, 1.5) * mm2
		assert.Less(t, read(p, false), tight*1.001+500, "engine %d", n)
	}
}
