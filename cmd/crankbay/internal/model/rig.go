//go:build !js

package model

import (
	"fmt"
	"math"

	"crankbay/sim"
	"crankbay/sim/unit"
)

const (
	degree = math.Pi / 180
	mm     = 1e-3
	mm2    = 1e-6
	ml     = 1e-6
	kPa    = 1e3
	kelvin = 273.15
)

// A test is how one cylinder is tested.
type test struct {
	cylinder int     // 0 is the first
	rpm      float64 // held by hand; 0: the starter turns it
	parked   float64 // crank angle before compression TDC it starts from [°]; 0 is 180, the book's
	strokes  int     // 0: six
	step     float64 // crank travel of a sub-step [rad]; 0 is the one in use
	shut     bool    // throttle shut
	plugsIn  bool    // the other plugs in
	oil      float64 // poured in after a dry test [m³]
}

// A reading is what came out. Pressures over ambient.
type reading struct {
	strokes []unit.Gauge // in the hose after each compression stroke
	final   unit.Gauge   // after everything has come to rest
	peak    unit.Gauge   // highest in the cylinder
	rpm     float64      // mean after the first 0.3 s
	trace   []point      // every tick
}

// first is what the first stroke left in the hose.
func (r reading) first() unit.Gauge { return r.strokes[0] }

// share is the first stroke's part of the final reading [%].
func (r reading) share() float64 { return 100 * float64(r.first()/r.final) }

// A point is one tick of a test.
type point struct {
	seconds  float64
	angle    float64    // after compression TDC of the tested cylinder [rad]
	crank    float64    // of the engine [rad]
	pressure unit.Gauge // in the tested cylinder
	current  float64    // [A]
}

// run does one test. A broken set of numbers is a mistake in this package.
func run(p sim.Params, t test) reading {
	if t.cylinder == 0 {
		t.cylinder = 1
	}
	e := bench(p, t)
	if t.oil > 0 {
		crank(e, test{cylinder: t.cylinder})
		e.AddOil(t.cylinder, t.oil)
	}
	return crank(e, t)
}

// bench returns a warm engine, ready as the test wants it.
func bench(p sim.Params, t test) *sim.Engine {
	e, err := sim.New(p)
	if err != nil {
		panic(fmt.Sprintf("model: %v", err))
	}
	if t.step > 0 {
		e.SetSubStep(t.step)
	}
	if !t.shut {
		e.SetThrottle(1)
	}
	e.SetCoolant(p.CoolantTemperature)
	for cyl := 1; cyl <= p.Cylinders && !t.plugsIn; cyl++ {
		e.SetPlug(cyl, sim.PlugOut)
	}
	return e
}

// standing is what fetching the hose and screwing it in takes [s].
const standing = 120

// readAngle is where a stroke is read, in the revolution after it [rad]: the tip
// valve has shut, the next rise has not begun.
const readAngle = 2.6

// crank does the test on an engine that stands ready.
func crank(e *sim.Engine, t test) (r reading) {
	if t.strokes == 0 {
		t.strokes = 6
	}
	if t.parked == 0 {
		t.parked = 180
	}
	p := e.Params()
	after := e.Plug(t.cylinder)
	e.SetPlug(t.cylinder, sim.PlugGauge)
	e.Vent()
	e.Stand(standing)
	e.SetAngle(p.Cylinder[t.cylinder-1].FiringAngle - t.parked*degree)
	turned, counted := 0.0, 0
	before := e.CylinderAngle(t.cylinder)
	for tick := 1; len(r.strokes) < t.strokes && tick < 30*sim.TicksPerSecond; tick++ {
		e.Step(sim.Inputs{Starter: t.rpm == 0, Driven: t.rpm * math.Pi / 30})
		now := e.CylinderAngle(t.cylinder)
		if before < readAngle && now >= readAngle {
			r.strokes = append(r.strokes, hose(e))
		}
		before = now
		if tick > 3*sim.TicksPerSecond/10 {
			turned += e.Speed()
			counted++
		}
		r.see(e, t.cylinder, tick)
	}
	r.rpm = unit.RPM(turned / float64(counted))
	e.SetAngle(e.Angle()) // a hand on the crank: it stays where it is
	for range 3 * sim.TicksPerSecond {
		e.Step(sim.Inputs{})
	}
	r.final = hose(e)
	e.SetPlug(t.cylinder, after)
	return r
}

func (r *reading) see(e *sim.Engine, cylinder, tick int) {
	over := unit.Gauge(e.Pressure(cylinder) - e.Params().Ambient)
	r.peak = max(r.peak, over)
	r.trace = append(r.trace, point{
		seconds: float64(tick) / sim.TicksPerSecond, angle: e.CylinderAngle(cylinder), crank: e.Angle(),
		pressure: over, current: e.Current(),
	})
}

func hose(e *sim.Engine) unit.Gauge { return unit.Gauge(e.HosePressure() - e.Params().Ambient) }

// last returns the last whole revolution about compression TDC.
func (r reading) last() []point {
	end := len(r.trace)
	for end > 1 && !(r.trace[end-2].angle < math.Pi && r.trace[end-1].angle >= math.Pi) {
		end--
	}
	from := end
	for from > 1 && !(r.trace[from-2].angle < -math.Pi && r.trace[from-1].angle >= -math.Pi) {
		from--
	}
	return r.trace[from-1 : max(end-1, from-1)]
}
