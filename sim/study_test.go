package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The step in use keeps the peak pressure of the breathing case within 0.15 % of
// its own small-step limit, throttle open and shut, and the gauge too.
func TestStepSizeStudy(t *testing.T) {
	for _, throttle := range []float64{1, 0} {
		run := func(step float64) (peak, held float64) {
			e := rig(t, Reference(), throttle, PlugIn)
			e.step = step
			e.SetPlug(1, PlugGauge)
			e.SetAngle(-3.14)
			e.steady(24)
			for range 3 * TicksPerSecond {
				e.Step(Inputs{})
				peak = max(peak, e.cyl[0].pressure)
			}
			return peak, float64(e.gauge())
		}
		peak, held := run(SubStep)
		halfPeak, halfHeld := run(SubStep / 2)
		limitPeak, limitHeld := run(SubStep / 24)
		t.Logf("throttle %g: peak %.6g %.6g limit %.6g Pa, gauge %.6g %.6g limit %.6g Pa",
			throttle, peak, halfPeak, limitPeak, held, halfHeld, limitHeld)
		assert.InEpsilon(t, limitPeak, peak, 1.5e-3)
		assert.InEpsilon(t, limitPeak, halfPeak, 1e-3)
		assert.InEpsilon(t, limitHeld, held, 1.5e-3)
		assert.InEpsilon(t, limitHeld, halfHeld, 1e-3)
	}
}
