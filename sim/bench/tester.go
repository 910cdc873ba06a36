package bench

import (
	"math"
	"slices"

	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
)

const (
	// mostAir is what a shop's line gives [Pa gauge], and muchAir what a tester and
	// the piston under it are not meant for: 7 bar, 100 psi (common practice).
	mostAir = 1e6
	muchAir = 7e5
	// Air is steady once a tenth of a second changes the pressure by less than this
	// share, and half a second has passed; longer than 10 s nobody waits.
	airSteady = 1e-5
	airPart   = record.TicksPerSecond / 10
	airLeast  = record.TicksPerSecond / 2
	airMost   = 10 * record.TicksPerSecond
	// airTurns is how far a crank has come when it was pushed round and has not just
	// taken up its play: 1° [rad].
	airTurns = math.Pi / 180
	// airCreep is a crank that nobody waits for [rad/s]: a degree in a second.
	airCreep = math.Pi / 180
	// heardFlow is a flow of air that is heard with an ear at the opening [kg/s]: 0.1
	// g/s, choked flow through a hole of about 0.3 mm. What sound rings let past is
	// heard at the oil filler (judgement).
	heardFlow = 1e-4
	// seenFlow is a flow that is seen as bubbles [kg/s]: 2 ml of air in a second
	// (judgement).
	seenFlow = 2.4e-6
)

// confirming is where the tools of the confirming tests stand.
type confirming struct {
	tester int     // cylinder the leakage tester is on, 0 none
	supply float64 // air at it [Pa gauge], 0 shut off
	wrench bool    // on the crank bolt
	air    blowing

	clamp, vacuumGauge bool
	neck               bool // of the coolant watched
	sense              sensing

	dead int // cylinder without spark and fuel, 0 none
	pump pumping
}

// blowing is how far the air of the leakage tester has come.
type blowing struct {
	on     bool // not steady yet
	noted  bool // the reading is in the record
	told   bool // that it turned the crank
	ticks  int
	before float64 // pressure a tenth of a second ago [Pa]
	turned float64 // crank since the air was put on [rad]
}

// digest adds nothing while none of these tools was touched, so that an attempt
// without them keeps its digests. The wrench is left out: it follows from the log
// alone, and that is in every digest.
func (c *confirming) digest(h hash) hash {
	if *c == (confirming{wrench: c.wrench}) {
		return h
	}
	a := &c.air
	h = c.sense.digest(h).bool(c.clamp, c.vacuumGauge, c.neck)
	h = c.pump.digest(h).int(c.dead)
	return h.int(c.tester, a.ticks).float(c.supply, a.before, a.turned).bool(a.on, a.noted, a.told)
}

// doTesterOn screws the tester's hose, which comes with its own ends, into an open
// plug hole.
func (b *Bench) doTesterOn(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", a.Cylinder)
	case b.tests.tester != 0:
		return refuse("tester_on_elsewhere", b.tests.tester)
	case b.hands.hose != 0:
		return refuse("hose_on", b.hands.hose)
	case b.engine.Plug(a.Cylinder) == sim.PlugIn:
		return refuse("plug_still_in", a.Cylinder)
	}
	b.tests.tester = a.Cylinder
	b.engine.SetAir(0, instrument.TesterArea)
	b.engine.SetPlug(a.Cylinder, sim.PlugAir)
	return nil
}

// doTesterOff unscrews the tester. Under air its hose whips, and its coupling shuts.
func (b *Bench) doTesterOff(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case b.tests.tester == 0:
		return refuse("tester_not_on", 0)
	}
	if b.tests.supply > 0 {
		b.caution("tester_under_air", b.tests.tester)
	}
	b.shutAir()
	b.engine.SetPlug(b.tests.tester, sim.PlugOut)
	b.tests.tester = 0
	return nil
}

// doAir puts air on, sets it to another pressure, or shuts it off.
func (b *Bench) doAir(a record.Action) error {
	on, err := onOff(a)
	switch {
	case err != nil:
		return err
	case on && !(a.Number > 0 && a.Number*1e3 <= mostAir):
		return refuseNumber(mostAir / 1e3)
	case !on && a.Number != 0:
		return refuseNumber(0)
	case b.tests.tester == 0:
		return refuse("tester_not_on", 0)
	case !on && b.tests.supply == 0:
		return refuse("already_so", 0)
	case !on:
		b.shutAir()
		return nil
	}
	t := &b.tests
	if !b.hands.glasses {
		b.caution("no_glasses", 0)
	}
	if t.wrench {
		b.caution("wrench_left_on", 0)
	}
	t.supply = a.Number * 1e3
	if t.supply > muchAir {
		b.caution("much_air", t.tester)
	}
	t.air = blowing{on: true}
	b.engine.SetAir(t.supply, instrument.TesterArea)
	return nil
}

func (b *Bench) shutAir() {
	b.tests.supply, b.tests.air = 0, blowing{}
	b.engine.SetAir(0, instrument.TesterArea)
}

// doWrench puts a wrench on the crank bolt or takes it off.
func (b *Bench) doWrench(a record.Action) error { return b.change(&b.tests.wrench, a) }

// throwWrench is what a starter does to a wrench that was left on the crank bolt.
func (b *Bench) throwWrench() {
	if b.tests.wrench {
		b.hazard("wrench_on_crank", 0)
	}
	b.tests.wrench = false
}

// still says whether crank and starter stand, or the crank only creeps under air: in
// the model a torque a hair above friction moves it for ever, and ever more slowly.
func (b *Bench) still() bool {
	if b.engine.AtRest() {
		return true
	}
	return b.tests.supply > 0 && !b.hands.starter && math.Abs(b.engine.Speed()) < airCreep
}

// blow follows the air by a tick: what it does to the crank, and whether it stands.
func (b *Bench) blow() {
	t := &b.tests
	if t.supply == 0 {
		return
	}
	w := &t.air
	w.turned += b.engine.Speed() / record.TicksPerSecond
	if math.Abs(w.turned) > airTurns && !w.told {
		w.told = true
		b.hazard("air_turned_crank", t.tester)
		if t.wrench {
			b.hazard("wrench_on_crank", t.tester)
		}
	}
	if !b.still() {
		w.on, w.ticks = true, 0
	}
	if !w.on {
		return
	}
	w.ticks++
	if w.ticks%airPart != 0 {
		return
	}
	now := b.engine.Pressure(t.tester)
	steady := math.Abs(now-w.before) < airSteady*now && w.ticks > airLeast
	w.before = now
	if steady || w.ticks >= airMost {
		w.on = false
		b.noteLeak()
	}
}

// blowAgain lets the pressure come back after minutes of standing, which the model
// lets pass with every cylinder at ambient pressure.
func (b *Bench) blowAgain() {
	if b.tests.supply > 0 {
		b.tests.air.on, b.tests.air.ticks = true, 0
	}
}

// noteLeak records what the tester shows, once for each time air is put on.
func (b *Bench) noteLeak() {
	t := &b.tests
	if t.air.noted {
		return
	}
	t.air.noted = true
	held := b.engine.Pressure(t.tester) - b.setup.Engine.Ambient
	b.rec.Leaks = append(b.rec.Leaks, record.Leak{
		Tick: b.rec.Tick, Minutes: b.Minutes(), Cylinder: t.tester, SupplyPa: t.supply, HeldPa: held,
		Percent:  instrument.TesterPercent(t.supply, held),
		PistonAt: b.engine.CylinderAngle(t.tester), Turned: t.air.turned,
	})
	b.event(EventLeak, "", t.tester, b.rec.Leaks[len(b.rec.Leaks)-1].Percent)
}

// Held returns the pressure on the second dial of the leakage tester [Pa gauge], 0
// when it is on no cylinder or no air is on.
func (b *Bench) Held() float64 {
	if b.tests.supply == 0 {
		return 0
	}
	return max(0, b.engine.Pressure(b.tests.tester)-b.setup.Engine.Ambient)
}

// Steady says whether the leakage tester has come to stand since air was put on.
func (b *Bench) Steady() bool { return b.tests.supply > 0 && b.tests.air.noted }

// Lost returns what a person reads off the leakage tester now [%]; 100 when no air is
// on.
func (b *Bench) Lost() float64 {
	if b.tests.supply == 0 {
		return 100
	}
	return instrument.TesterPercent(b.tests.supply, b.Held())
}

// doListen listens for the air of the leakage tester, or looks for bubbles.
func (b *Bench) doListen(a record.Action) error {
	hole := a.Choice == PlaceHole
	switch {
	case !slices.Contains(Places(), a.Choice):
		return refuse("unknown_choice", a.Cylinder)
	case hole != (a.Cylinder != 0):
		return refuse("cylinder", 0)
	case b.tests.tester == 0:
		return refuse("tester_not_on", 0)
	case b.tests.supply == 0:
		return refuse("no_air", 0)
	case hole && a.Cylinder == b.tests.tester:
		return refuse("tester_on", a.Cylinder)
	case hole && b.engine.Plug(a.Cylinder) == sim.PlugIn:
		return refuse("plug_still_in", a.Cylinder)
	}
	if a.Choice == PlaceNeck && !b.tests.neck {
		b.openCap()
	}
	h := record.Heard{Place: a.Choice, Cylinder: a.Cylinder, Air: b.hears(a.Choice, a.Cylinder)}
	if n := len(b.rec.Leaks); n > 0 && b.tests.air.noted {
		b.rec.Leaks[n-1].Heard = append(b.rec.Leaks[n-1].Heard, h)
	}
	if h.Air {
		b.fact("air_at_"+a.Choice, a.Cylinder, 0)
	} else {
		b.fact("no_air_heard", a.Cylinder, 0)
	}
	return nil
}

// hears says whether air comes out at a place, from the flows of this moment.
func (b *Bench) hears(place string, cylinder int) bool {
	rings, intake, exhaust, gasket := b.engine.LeakFlow(b.tests.tester)
	coolant, outside := b.engine.HeadFlow(b.tests.tester)
	switch place {
	case PlaceThrottle:
		return intake > heardFlow
	case PlaceTailpipe:
		return exhaust > heardFlow
	case PlaceFiller:
		return rings > heardFlow
	case PlaceNeck:
		return coolant > seenFlow
	case PlaceEdge:
		return outside > heardFlow
	}
	// A plug hole also breathes as a warm manifold warms its gas; what comes from the
	// tested cylinder gets there past the gasket or through a port.
	_, _, _, theirs := b.engine.LeakFlow(cylinder) // a path between two is kept with one of them
	return intake+exhaust+math.Abs(gasket)+math.Abs(theirs) > heardFlow && b.engine.PlugFlow(cylinder) > heardFlow
}
