package sim

import (
	"fmt"
	"strings"
	"testing"

	"crankbay/sim/simtest"
)

// Recorded from our own code: proves only that nothing changed, here and on
// every architecture. A change needs ModelVersion + 1 and a line of why.
func TestGoldenDigests(t *testing.T) {
	var list strings.Builder
	pin := func(name string, p Params, plug PlugState, prepare func(*Engine)) {
		e := rig(t, p, 1, plug)
		if prepare != nil {
			prepare(e)
		}
		for cyl := 1; cyl <= min(2, p.Cylinders); cyl++ {
			testCylinder(e, cyl, 0)
		}
		fmt.Fprintf(&list, "%s %016x\n", name, e.Digest())
	}
	pin("sound", Reference(), PlugOut, nil)
	pin("sound-plugs-in", Reference(), PlugIn, nil)
	pin("sound-throttle-shut", Reference(), PlugIn, func(e *Engine) { e.SetThrottle(0) })
	pin("wet", Reference(), PlugOut, func(e *Engine) { e.AddOil(1, 10*ml) })
	p := Reference()
	p.Cylinder[1].GasketTo, p.Cylinder[1].GasketArea = 3, 4*mm2
	p.Cylinder[0].ExhaustSeatArea = 2 * mm2
	pin("gasket-and-valve", p, PlugOut, nil)
	p = Reference()
	p.Battery.Charge, p.CoolantTemperature, p.AmbientTemperature = 0.3, 258, 258
	pin("cold-and-weak", p, PlugOut, nil)
	simtest.Golden(t, "sim-digests.txt", list.String())
}
