package sim

import (
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
