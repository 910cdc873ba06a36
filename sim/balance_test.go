package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
)

// isentropicEnd returns the temperature [K] after compressing dry air from t0
// by a volume ratio without loss, from the closed form
//
//	∫ cv/T dT = R·ln(ratio)
//
// by gonum's Gauss-Legendre quadrature and bisection: nothing of the engine but cp.
func isentropicEnd(t0, ratio float64) float64 {
	want := gasConstant * math.Log(ratio)
	lo, hi := t0, 2000.0
	for range 60 {
		mid := (lo + hi) / 2
		got := quad.Fixed(func(t float64) float64 { return (specificHeat(t) - gasConstant) / t }, t0, mid, 64, nil, 0)
		if got < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// A sealed cylinder compressed at steady speed follows the isentrope of cp(T),
// and the error falls with the square of the step.
func TestSealedStrokeIsentropic(t *testing.T) {
	p := sealed()
	want := isentropicEnd(p.CoolantTemperature, p.Compression)
	fault := func(step float64) float64 {
		e := rig(t, p, 1, PlugIn)
		e.SetAngle(-math.Pi)
		e.step = step
		for e.steady(26); e.Angle() > math.Pi; {
			e.Step(Inputs{})
		}
		// The last tick ends past TDC: go by the volume reached there.
		ratio := (e.swept + e.swept/(p.Compression-1)) / e.Volume(1)
		return math.Abs(e.Temperature(1)/isentropicEnd(p.CoolantTemperature, ratio) - 1)
	}
	assert.Greater(t, want, 800.0)
	coarse, fine := fault(SubStep), fault(SubStep/4)
	assert.Less(t, coarse, 2e-4, "at the step in use")
	assert.InDelta(t, 2, math.Log2(coarse/fine)/2, 0.6, "order")
}

// With no wall loss, a leak's effect depends on area over speed alone, as the
// equations do when time is counted in crank angle (physics-references 4c gives
// the law; the figures there hold for other geometry).
func TestAdiabaticLeakScales(t *testing.T) {
	peak := func(area, speed float64) float64 {
		p := sealed()
		p.Cylinder[0].RingArea = area
		p.Rings.DryFactor, p.Rings.OiledFactor = 1, 1
		e := rig(t, p, 1, PlugIn)
		e.SetAngle(-math.Pi)
		top := 0.0
		for e.steady(speed); e.Angle() > math.Pi || e.Angle() < 0.2; {
			e.Step(Inputs{})
			top = max(top, e.Pressure(1))
		}
		return top
	}
	for _, area := range []float64{0.2 * mm2, 0.86 * mm2, 2 * mm2} {
		slow, fast := peak(area, 10.5), peak(2*area, 21)
		assert.InEpsilonf(t, slow, fast, 2e-3, "area %g", area)
		assert.Lessf(t, peak(2*area, 10.5), 0.97*slow, "more leak, area %g", area)
	}
}

// contents returns all gas in the engine and its energy.
func (e *Engine) contents() (mass, energy float64) {
	mass, energy = e.plenum.mass+e.hose.mass, e.plenum.energy+e.hose.energy
	for i := range e.p.Cylinders {
		mass += e.cyl[i].mass
		energy += e.cyl[i].energy
	}
	return mass, energy
}

// Mass and energy of all gas change only by what crossed the outer boundary,
// by heat and by work, whatever leaks and however hard it breathes.
func TestBalances(t *testing.T) {
	p := Reference()
	p.Cylinder[1].GasketTo, p.Cylinder[1].GasketArea = 3, 4*mm2
	p.Cylinder[3].ExhaustSeatArea = 3 * mm2
	p.Gauge.ReleaseLeak, p.Gauge.SealLeak = 0.01*mm2, 0.2*mm2
	for _, throttle := range []float64{0, 1} {
		e := rig(t, p, throttle, PlugIn)
		e.SetPlug(1, PlugGauge)
		mass0, energy0 := e.contents()
		e.workSum, e.heatSum, e.massIn, e.energyIn = 0, 0, 0, 0
		throughput := 0.0
		for range 3 * TicksPerSecond {
			e.Step(Inputs{Starter: true})
			throughput += math.Abs(e.cyl[1].flow[pathIntake]) * dt
		}
		mass1, energy1 := e.contents()
		assert.Greater(t, throughput, mass0/4, "the engine breathed")
		assert.InDelta(t, 0, (mass1-mass0-e.massIn)/mass0, 1e-11)
		assert.InDelta(t, 0, (energy1-energy0-e.energyIn+e.heatSum+e.workSum)/energy0, 1e-11)
	}
}
