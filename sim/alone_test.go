package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Stepped alone by the sub-steps that a bench takes, a cylinder that is turned at
// a given speed goes through the same gas, to the last digits.
func TestStepAloneIsTheSameMethod(t *testing.T) {
	const speed = 24.0
	for _, q := range crossProblems(t) {
		if q.Params.Cylinders > 1 || q.Speed != speed {
			continue
		}
		bench, alone := q.engine(t), q.engine(t)
		step := speed * dt / 2
		bench.SetSubStep(step * (1 + 1e-9))
		bench.Step(Inputs{Driven: speed})
		alone.Step(Inputs{Driven: speed})
		for range 1200 {
			bench.Step(Inputs{Driven: speed})
			for range 2 {
				alone.StepAlone(step, speed, step/2)
			}
		}
		assert.InEpsilon(t, bench.Pressure(1), alone.Pressure(1), 1e-9, q.Name)
		assert.InEpsilon(t, bench.HosePressure(), alone.HosePressure(), 1e-9, q.Name)
		assert.InEpsilon(t, bench.PlenumPressure(), alone.PlenumPressure(), 1e-9, q.Name)
	}
}

// A sealed cylinder follows the isentrope of cp(T) in wide steps, and the error falls
// with the fourth power of them.
func TestStepSmoothOrder(t *testing.T) {
	p := sealed()
	want := isentropicEnd(p.CoolantTemperature, p.Compression)
	fault := func(steps int) float64 {
		e := rig(t, p, 1, PlugIn)
		e.SetAngle(-math.Pi)
		for range steps {
			e.StepSmooth(math.Pi/float64(steps), 26, 0)
		}
		return math.Abs(e.Temperature(1)/want - 1)
	}
	coarse, fine := fault(8), fault(16)
	assert.Less(t, coarse, 3e-3, "22.5 degrees")
	assert.InDelta(t, 4, math.Log2(coarse/fine), 0.6, "order")
	assert.Less(t, fault(90), 2e-6, "two degrees: nothing is left but the tables")
}

// Wide steps with a leak close the balances of mass and energy, the pressure passing
// ambient in some of them, and come to what small ones come to.
func TestStepSmoothBalance(t *testing.T) {
	p := sealed()
	p.Cylinders, p.Cylinder[0].RingArea, p.Heat.Factor = 1, 0.86*mm2, 1
	run := func(steps int) (left float64) {
		e := rig(t, p, 1, PlugIn)
		e.SetAngle(-math.Pi)
		c := &e.cyl[0]
		mass, energy := c.mass, c.energy
		for range 3 * steps {
			e.StepSmooth(2*math.Pi/float64(steps), 24, -1)
		}
		assert.InDelta(t, 0, (c.mass-mass-e.massIn)/mass, 1e-12)
		assert.InDelta(t, 0, (c.energy-energy-e.energyIn+e.heatSum+e.workSum)/energy, 1e-12)
		assert.NotZero(t, e.massIn)
		return c.mass
	}
	assert.InEpsilon(t, run(1440), run(24), 5e-4)
}

// Where a valve is open or a volume of fixed size fills through what is open, the step
// is the bench's own.
func TestStepSmoothOnlyShutIn(t *testing.T) {
	e := rig(t, Reference(), 1, PlugIn)
	e.SetAngle(-math.Pi / 2)
	e.ready(&e.cyl[0], 1e-4, -math.Pi/2, rosenbrock)
	assert.True(t, e.cyl[0].shutIn(), "compression")
	e.SetPlug(1, PlugGauge)
	assert.False(t, e.cyl[0].shutIn(), "a tip valve may open")
	e.SetPlug(1, PlugIn)
	e.SetAngle(math.Pi / 1.1)
	e.ready(&e.cyl[0], 1e-4, math.Pi/1.1, rosenbrock)
	assert.False(t, e.cyl[0].shutIn(), "exhaust open")
}
