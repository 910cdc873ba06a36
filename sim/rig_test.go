package sim

import (
	"math"
	"testing"

	"crankbay/sim/unit"

	"github.com/stretchr/testify/require"
)

// A reading is what a test by the book gives for one cylinder.
type reading struct {
	first, final unit.Gauge // before the second stroke's rise, and settled
	speedRPM     float64    // mean after the first 0.3 s
	voltageMin   float64    // lowest after the first 0.3 s
}

func (r reading) ratio() float64 { return float64(r.first / r.final) }

// rig builds an engine ready to be tested: warm, throttle as given, plugs out.
func rig(t testing.TB, p Params, throttle float64, plug PlugState) *Engine {
	t.Helper()
	e, err := New(p)
	require.NoError(t, err)
	e.SetThrottle(throttle)
	e.SetCoolant(p.CoolantTemperature)
	for cyl := 1; cyl <= p.Cylinders; cyl++ {
		e.SetPlug(cyl, plug)
	}
	return e
}

func (e *Engine) gauge() unit.Gauge {
	return unit.Pressure(e.HosePressure()).Gauge(unit.Pressure(e.p.Ambient))
}

// testCylinder cranks six strokes of cyl from its BDC after two minutes of
// standing. With speed > 0 [rad/s] the crank is turned at that speed instead.
func testCylinder(e *Engine, cyl int, speed float64) (r reading) {
	after := e.Plug(cyl)
	e.SetPlug(cyl, PlugGauge)
	e.Vent()
	e.Stand(120)
	e.SetAngle(e.p.Cylinder[cyl-1].FiringAngle - math.Pi)
	r.voltageMin = math.Inf(1)
	turned, ticks := 0.0, 0
	for strokes, before := 0, -math.Pi; strokes < 6 && ticks < 20*TicksPerSecond; ticks++ {
		if speed > 0 {
			e.steady(speed)
		}
		e.Step(Inputs{Starter: speed == 0})
		now := e.CylinderAngle(cyl)
		if before < 2.6 && now >= 2.6 {
			if strokes++; strokes == 1 {
				r.first = e.gauge()
			}
		}
		before = now
		if ticks > TicksPerSecond*3/10 {
			turned += e.Speed() * dt
			r.voltageMin = min(r.voltageMin, e.Voltage())
		}
	}
	r.speedRPM = unit.RPM(turned / (float64(ticks-TicksPerSecond*3/10) * dt))
	for range 3 * TicksPerSecond {
		if speed > 0 {
			e.speed = 0
		}
		e.Step(Inputs{})
	}
	r.final = e.gauge()
	e.SetPlug(cyl, after)
	return r
}

// testAll runs the dry test on every cylinder in order.
func testAll(t testing.TB, p Params, throttle float64, plug PlugState) []reading {
	e := rig(t, p, throttle, plug)
	all := make([]reading, p.Cylinders)
	for i := range all {
		all[i] = testCylinder(e, i+1, 0)
	}
	return all
}

// sealed returns the reference without any leak, wall loss, film or gauge, with
// cylinder 1 closed by its plug and valves that never open.
func sealed() Params {
	p := Reference()
	p.Heat.Factor, p.Heat.Manifold = 0, 0
	for i := range p.Cylinders {
		p.Cylinder[i].RingArea = 0
		p.Cylinder[i].IntakeLift, p.Cylinder[i].ExhaustLift = 0, 0
	}
	return p
}

// steady gives the crank so much inertia that nothing but the test sets its speed.
func (e *Engine) steady(speed float64) {
	e.p.Crank.Inertia = 1e12
	e.speed = speed
}
