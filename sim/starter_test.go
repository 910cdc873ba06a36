package sim

import (
	"testing"

	"crankbay/sim/num"
	"crankbay/sim/simtest"

	"github.com/stretchr/testify/assert"
)

// With the crank held, no voltage but the battery's drives the starter, and the
// current follows the closed form of a coil behind a resistance:
//
//	I = U/R·(1 - exp(-t·R/L))
//
// The battery sags by its polarisation meanwhile, a percent in 30 ms.
func TestInrushDerived(t *testing.T) {
	p := Reference()
	p.Starter.PullIn, p.Crank.FrictionMEP = 0, 1e6
	p.Starter.Saturation = 50 // so weak that it can't turn the crank
	e := rig(t, p, 1, PlugOut)
	volts, ohms := e.battery.source(e)
	around := ohms + p.Battery.Cable + p.Battery.Ground + p.Starter.Resistance
	for tick := 1; tick <= 36; tick++ {
		e.Step(Inputs{Starter: true})
		seconds := float64(tick) * dt
		want := volts / around * (1 - num.Exp(-seconds*around/p.Starter.Inductance))
		assert.InEpsilon(t, want, e.Current(), 0.01, "after %g ms", 1e3*seconds)
	}
	assert.Zero(t, e.Speed(), "it is held")
}

// A crank that gives way builds up a voltage of its own before the current has
// risen: the inrush stays below what the lock-up test prints, and comes later the
// more inductance there is.
func TestInrushOfASoundEngine(t *testing.T) {
	peak := func(inductance float64) (amps float64, at int) {
		p := Reference()
		p.Starter.Inductance = inductance
		e := rig(t, p, 1, PlugIn)
		for tick := range 300 {
			e.Step(Inputs{Starter: true})
			if e.Current() > amps {
				amps, at = e.Current(), tick
			}
		}
		return amps, at
	}
	usual, when := peak(1e-4)
	assert.Less(t, usual, 1200.0)
	assert.Greater(t, usual, 800.0)
	less, before := peak(5e-5)
	more, after := peak(2e-4)
	assert.Greater(t, less, usual)
	assert.Less(t, more, usual)
	assert.Less(t, before, when)
	assert.Greater(t, after, when)
}

// A sound battery in a warm car stays above the worst that the car's equipment is made to
// live through, level for level, and comes nearer to it when it is weak.
func TestStartingPulsePublished(t *testing.T) {
	table := simtest.Published(t, "starting-pulse-warm.csv")
	over := func(p Params) float64 { // the least distance to the pulse [V]
		e, least := rig(t, p, 1, PlugIn), 100.0
		for tick := range TicksPerSecond {
			e.Step(Inputs{Starter: true})
			floor := 0.0
			for _, row := range table.Rows {
				if float64(tick)*dt >= row["from_s"] {
					floor = row["least_v"]
				}
			}
			least = min(least, e.Voltage()-floor)
		}
		return least
	}
	sound := over(Reference())
	assert.Positive(t, sound)
	weak := Reference()
	weak.Battery.Charge, weak.Battery.AgeFactor = 0.2, 2.5
	assert.Negative(t, over(weak), "a battery that would fail a load test doesn't")
}
