package sim

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// finals returns the four final readings, open throttle, plugs out [Pa].
func finals(t *testing.T, change func(*Params)) []float64 {
	p := Reference()
	if change != nil {
		change(&p)
	}
	all := testAll(t, p, 1, PlugOut)
	list := make([]float64, len(all))
	for i, r := range all {
		list[i] = float64(r.final)
	}
	return list
}

// Lash under specification holds a valve off its seat, more when hot; over
// specification it only costs lift, which cranking hardly notices.
func TestLash(t *testing.T) {
	sound := finals(t, nil)
	tight := finals(t, func(p *Params) { p.Cylinder[1].ExhaustLash = -0.12 * mm })
	assert.Less(t, tight[1], 0.8*sound[1])
	assert.InEpsilon(t, sound[0], tight[0], 0.01)
	cold := finals(t, func(p *Params) {
		p.Cylinder[1].ExhaustLash = -0.12 * mm
		p.CoolantTemperature = 293
	})
	assert.Greater(t, cold[1], 1.1*tight[1], "cold it nearly shuts")
	loose := finals(t, func(p *Params) { p.Cylinder[1].IntakeLash = 0.5 * mm })
	assert.InEpsilon(t, sound[1], loose[1], 0.12)
}

// A cam that barely lifts the intake valve starves the cylinder after the air it
// stood with is gone; half the lift still reads about normal.
func TestLostLift(t *testing.T) {
	sound := finals(t, nil)
	gone := finals(t, func(p *Params) { p.Cylinder[2].IntakeLift = 0 })
	half := finals(t, func(p *Params) { p.Cylinder[2].IntakeLift = 0.5 })
	assert.Less(t, gone[2], 0.85*sound[2])
	assert.InEpsilon(t, sound[2], half[2], 0.08)
	deadExhaust := finals(t, func(p *Params) { p.Cylinder[2].ExhaustLift = 0 })
	assert.Greater(t, deadExhaust[2], 0.9*sound[2], "reads normal or high")
}

// Valves that may not meet the piston never bend; on an interference engine a
// jump of the cam bends them, a sound one does not.
func TestInterference(t *testing.T) {
	jump := func(recess, shift float64) []float64 {
		return finals(t, func(p *Params) {
			p.Recess = recess
			for i := range p.Cylinders {
				p.Cylinder[i].IntakeShift, p.Cylinder[i].ExhaustShift = shift, shift
			}
		})
	}
	sound := finals(t, nil)
	assert.InEpsilon(t, sound[0], jump(2*mm, 0)[0], 1e-9)
	free, bent := jump(0, -72*deg)[0], jump(2*mm, -72*deg)[0]
	assert.Less(t, bent, 0.3*free)
}

func TestPistonAndBore(t *testing.T) {
	sound := finals(t, nil)
	hole := func(p *Params) { p.Cylinder[0].PistonArea = 30 * mm2 }
	assert.Less(t, finals(t, hole)[0], 0.2*sound[0])
	p := Reference()
	p.Cylinder[0].PistonArea = 2 * mm2
	assert.Less(t, wetGain(t, p, 1), wetGain(t, Reference(), 1)+0.05, "oil doesn't seal a hole")
	land := finals(t, func(p *Params) { p.Cylinder[0].PistonArea = 0.45 * mm2 })
	assert.InDelta(t, 0.87, land[0]/sound[0], 0.08)
}

// A bore that stood dry reads low, gains hugely with oil and is well after a run.
func TestDryBore(t *testing.T) {
	p := Reference()
	for i := range p.Cylinders {
		p.Cylinder[i].Dryness, p.Cylinder[i].RingArea = 1, 0.6*mm2
	}
	e, err := New(p)
	assert.NoError(t, err)
	e.SetThrottle(1)
	for cyl := 1; cyl <= 4; cyl++ {
		e.SetPlug(cyl, PlugOut)
	}
	dry := testCylinder(e, 1, 0)
	e.AddOil(1, 10*ml)
	wet := testCylinder(e, 1, 0)
	assert.Greater(t, float64(wet.final), 1.25*float64(dry.final))
	e.SetCoolant(358)
	assert.Greater(t, float64(testCylinder(e, 2, 0).final), 1.15*float64(dry.final))
}

// A flake on a seat is gone when the engine has run.
func TestFlake(t *testing.T) {
	p := Reference()
	p.Cylinder[3].FlakeArea = 2 * mm2
	e, err := New(p)
	assert.NoError(t, err)
	e.SetThrottle(1)
	for cyl := 1; cyl <= 4; cyl++ {
		e.SetPlug(cyl, PlugOut)
	}
	low := testCylinder(e, 4, 0)
	e.SetCoolant(358)
	assert.Greater(t, float64(testCylinder(e, 4, 0).final), 1.3*float64(low.final))
}

// A release cam holds the reading down at cranking speed and lets go above.
func TestReleaseCam(t *testing.T) {
	p := Reference()
	p.Release = ReleaseParams{Lift: 0.5 * mm, From: -160 * deg, To: -70 * deg, Below: 40}
	slow := testCylinder(rig(t, p, 1, PlugOut), 1, 25).final
	fast := testCylinder(rig(t, p, 1, PlugOut), 1, 45).final
	assert.Less(t, float64(slow), 0.6*float64(fast))
}

// Resistance in the live cable or the ground, a dragging starter and thick cold
// oil all slow the crank, and only that.
func TestSlowCranking(t *testing.T) {
	sound := testAll(t, Reference(), 1, PlugOut)[0]
	for name, change := range map[string]func(*Params){
		"cable":   func(p *Params) { p.Battery.Cable = 0.02 },
		"ground":  func(p *Params) { p.Battery.Ground = 0.02 },
		"starter": func(p *Params) { p.Starter.Drag = 8 },
		"battery": func(p *Params) { p.Battery.AgeFactor = 6 },
	} {
		p := Reference()
		change(&p)
		got := testAll(t, p, 1, PlugOut)[0]
		assert.Less(t, got.speedRPM, 0.9*sound.speedRPM, name)
		assert.Less(t, float64(got.final), float64(sound.final), name)
	}
}

// Fired neighbours push hot gas past a restriction, which a gauged cylinder of a
// running engine feels and a cranked one doesn't.
func TestRestrictedExhaust(t *testing.T) {
	idle := func(outlet, fired float64) float64 {
		p := Reference()
		p.ExhaustOutlet, p.FiredExhaust = outlet, fired
		e := rig(t, p, 0.03, PlugIn)
		e.SetPlug(1, PlugGauge)
		for i := range 4 * TicksPerSecond {
			e.Step(Inputs{Driven: 73, Release: i < 3*TicksPerSecond})
		}
		return float64(e.gauge())
	}
	free := idle(2e-3, 950)
	assert.InEpsilon(t, free, idle(2e-3, 0), 0.05)
	assert.Greater(t, idle(12*mm2, 950), 1.1*free)
	assert.Greater(t, idle(12*mm2, 950), 1.05*idle(12*mm2, 0), "hot gas takes more room")
	cranked := finals(t, func(p *Params) { p.ExhaustOutlet = 12 * mm2 })
	assert.InEpsilon(t, finals(t, nil)[0], cranked[0], 0.05)
}

// Fuel or coolant on a piston takes room, seals nothing, and leaves by the open
// plug hole when the engine is turned.
func TestLiquid(t *testing.T) {
	p := Reference()
	p.Cylinder[0].Liquid = 15 * ml
	e := rig(t, p, 1, PlugIn)
	e.Stand(3600)
	assert.InDelta(t, 15e-6, e.LiquidOnPiston(1), 1e-12, "it lies there for hours")
	film, excess := e.Film(1)
	assert.Zero(t, excess)
	assert.Less(t, film, 1.0)
	high := testCylinder(e, 1, 0)
	assert.Greater(t, float64(high.final), 1.2*finals(t, nil)[0])
	e.SetPlug(1, PlugOut)
	for range 4 * TicksPerSecond {
		e.Step(Inputs{Starter: true})
	}
	assert.Less(t, e.LiquidOnPiston(1), 10e-6)
}
