package sim

import (
	"math"
	"testing"

	"crankbay/sim/simtest"
	"crankbay/sim/unit"

	"github.com/stretchr/testify/assert"
)

const testerArea = 0.8107 * mm2 // 0.040 in bore; equal coefficients cancel

// airTest puts air on cyl at an angle after its compression TDC [rad] until it
// is steady and returns what the tester's gauge shows.
func airTest(e *Engine, cyl int, after float64, supply unit.Gauge, area float64) unit.Gauge {
	e.SetAngle(e.p.Cylinder[cyl-1].FiringAngle + after)
	e.SetAir(float64(supply), area)
	e.SetPlug(cyl, PlugAir)
	for range 6 * TicksPerSecond {
		e.Step(Inputs{})
	}
	return unit.Pressure(e.Pressure(cyl)).Gauge(unit.Pressure(e.p.Ambient))
}

// Two orifices in a row, 80 psi before the first: the reading by the ratio of
// their areas, equal areas 61.8, the limit of the aviation rule 60 at 1.06.
func TestTwoOrificesDerived(t *testing.T) {
	for _, row := range simtest.Derived(t, "two-orifice.csv").Rows {
		p := sealed()
		p.CoolantTemperature = p.AmbientTemperature
		p.Cylinder[0].OutsideArea = row["leak_over_restrictor"] * testerArea
		e := rig(t, p, 1, PlugIn)
		got := airTest(e, 1, 0, unit.PSI(80), testerArea)
		assert.InDelta(t, row["reading_psi"], got.PSI(), 0.3, "area ratio %g", row["leak_over_restrictor"])
	}
}

// A good cylinder shows a few percent; the air comes out where the leak is; at
// overlap TDC both valves pass it all.
func TestLeakageFindsThePath(t *testing.T) {
	percent := func(p Params, after float64) (float64, *Engine) {
		e := rig(t, p, 1, PlugIn)
		got := airTest(e, 1, after, unit.PSI(80), testerArea)
		return 100 * (1 - got.PSI()/80), e
	}
	good, _ := percent(Reference(), 0)
	assert.Greater(t, good, 1.0)
	assert.Less(t, good, 20.0)

	p := Reference()
	p.Cylinder[0].ExhaustSeatArea = 2.5 * mm2
	bad, e := percent(p, 0)
	rings, intake, exhaust, _ := e.LeakFlow(1)
	assert.Greater(t, bad, good+25)
	assert.Greater(t, exhaust, 5*rings)
	assert.Zero(t, intake)

	p = Reference()
	p.Cylinder[0].CoolantArea = 0.5 * mm2
	_, e = percent(p, 0)
	coolant, outside := e.HeadFlow(1)
	assert.Greater(t, coolant, 0.0)
	assert.Zero(t, outside)

	wide := Reference() // cams that overlap
	wide.Intake.Opens, wide.Exhaust.Closes = 345*deg, 378*deg
	overlap, e := percent(wide, turn)
	_, intake, exhaust, _ = e.LeakFlow(1)
	assert.Greater(t, overlap, 90.0)
	assert.Greater(t, intake, 0.0)
	assert.Greater(t, exhaust, 0.0)
}

// Air on a piston off TDC turns the crank. Torque of 80 psi on an 86 mm bore at
// 5° and 10° after TDC, worked out by hand from the slider-crank: 15 and 31 N·m.
func TestAirTurnsTheCrank(t *testing.T) {
	for _, row := range []struct{ after, torque float64 }{{5, 15}, {10, 31}} {
		p := sealed()
		p.CoolantTemperature = p.AmbientTemperature
		e := rig(t, p, 1, PlugIn)
		e.p.Crank.FrictionMEP = 1e6 // held
		got := airTest(e, 1, row.after*deg, unit.PSI(80), testerArea)
		assert.InDelta(t, row.torque, e.GasTorque(1), 2)
		assert.InDelta(t, 80, got.PSI(), 1)
	}
	held := rig(t, Reference(), 1, PlugIn)
	airTest(held, 1, 1*deg, unit.PSI(80), testerArea)
	assert.InDelta(t, 1*deg, held.Angle(), 1e-9)
	pushed := rig(t, Reference(), 1, PlugIn)
	airTest(pushed, 1, 20*deg, unit.PSI(80), testerArea)
	assert.Greater(t, math.Abs(wrap(pushed.Angle()-20*deg)), 10*deg)
}
