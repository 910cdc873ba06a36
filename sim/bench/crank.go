package bench

import (
	"math"

	"crankbay/sim/record"
)

const (
	// A starter may run 15 s at a time, twice that at most, with 2 minutes' rest.
	// Source: StarterLimits1999.
	heatFirst     = 15.0
	heatSecond    = 30.0
	coolPerSecond = heatFirst / 120

	// washPerTurn is the share of a cylinder's oil film that live fuel takes away
	// in one turn of cranking (judgement: half the film is gone while turning
	// rebuilds it).
	washPerTurn = 0.2

	// A crank slower than this after stallTicks of held switch has stalled.
	stallSpeed = 0.2 // [rad/s]
	stallTicks = record.TicksPerSecond / 2

	oneTurn = 2 * math.Pi

	turnMinutes = 1.0 // of bench time to turn the crank by hand
)

// doStarter closes or opens the starter switch.
func (b *Bench) doStarter(a record.Action) error {
	on, err := onOff(a)
	switch {
	case err != nil:
		return err
	case on && b.hands.starter:
		return refuse("already_so", 0)
	case !on && !b.hands.starter:
		return refuse("starter_not_on", 0)
	case !on:
		b.hands.starter = false
		return nil
	case !b.hands.remote && b.hands.gear == GearDrive:
		return refuse("not_in_park", 0)
	case b.hands.remote && b.setup.Key == KeyService:
		return refuse("remote_dead", 0)
	}
	turning := b.engine.Speed() != 0 && !b.still()
	b.hands.starter = true
	b.throwWrench()
	if turning {
		b.caution("starter_while_turning", 0)
	}
	if b.tests.supply > 0 {
		b.caution("tester_under_air", b.tests.tester)
	}
	b.warn()
	b.byKey(!b.hands.remote)
	b.beginRun()
	return nil
}

// warn says what is dangerous about cranking now.
func (b *Bench) warn() {
	h := &b.hands
	if h.gear == GearDrive {
		b.hazard("gear_engaged", 0)
	}
	cautions := []struct {
		is  bool
		key string
	}{
		{!h.glasses, "no_glasses"},
		{!h.brake && !h.chocks, "not_blocked"},
		{!h.belts, "belts_unchecked"},
		{!h.fuelOff, "fuel_live"},
		{!h.ignitionOff, "ignition_live"},
		{!h.fuelOff && !h.ignitionOff && h.leads, "could_start"},
	}
	for _, c := range cautions {
		if c.is {
			b.caution(c.key, 0)
		}
	}
	for i := range b.cyl {
		if b.cyl[i].loose {
			b.caution("plug_not_torqued", i+1)
		}
	}
}

// doTurn turns the crank by hand, with a wrench on its bolt, until a piston is at
// the bottom before its compression stroke, at the top after it, or at the top
// one turn later, where both its valves are open. The wrench stays on until it is
// taken off. For a leakage test the mark is passed and come up to again, two turns
// in all, which spreads some oil.
func (b *Bench) doTurn(a record.Action) error {
	angle := b.engine.Params().Cylinder[a.Cylinder-1].FiringAngle
	switch a.Choice {
	case "bdc":
		angle -= math.Pi
	case "tdc":
	case "overlap":
		angle += oneTurn
	default:
		return refuse("unknown_choice", a.Cylinder)
	}
	if b.tests.supply > 0 {
		return refuse("air_on", b.tests.tester)
	}
	b.tests.wrench = true
	if b.tests.tester == 0 {
		b.engine.SetAngle(angle)
		b.stand(turnMinutes)
		return nil
	}
	b.stand(turnMinutes)
	b.engine.SetAngle(angle)
	b.engine.TurnFilms(2 * oneTurn)
	return nil
}

// AtRest says whether nothing moves, so that Advance does nothing. A needle that
// only creeps, on a gauge that leaks, is not waited for: it goes on by the
// minutes that actions take.
func (b *Bench) AtRest() bool {
	if b.hands.starter || b.run.active || b.release > 0 || b.tests.air.on || b.tests.pump.on || !b.still() {
		return false
	}
	return b.needle.AtRest() || b.quiet > patience
}

// Advance lets up to n ticks pass, fewer when everything has come to rest or the
// attempt's ticks are used up. Splitting n changes nothing. A replay that has
// diverged goes no further.
func (b *Bench) Advance(n int) {
	for range n {
		if b.rec.Tick >= MaxTicks || b.AtRest() || b.expect.failed() {
			return
		}
		b.step()
	}
}

// finish ends cranking when the attempt's ticks are used up: the switch opens and
// the run in progress is closed as it stands.
func (b *Bench) finish() {
	b.hands.starter = false
	b.release = 0
	b.tests.air.on, b.tests.pump = false, pumping{}
	if b.run.active {
		b.endRun()
	}
}

// Settle lets crank and needle come to rest. With the switch held or the engine
// running it does nothing.
func (b *Bench) Settle() {
	if !b.hands.starter && !b.tests.pump.on {
		b.Advance(settleMost)
	}
}

// settleMost bounds Settle: 20 s.
const settleMost = 20 * record.TicksPerSecond

// step is one tick of everything.
func (b *Bench) step() {
	b.engine.Step(b.inputs())
	b.needle.Step(b.hosePressure())
	b.rec.Tick++
	b.hold()
	b.quiet++
	if b.hands.starter || b.release > 0 || !b.still() {
		b.quiet = 0
	}
	b.meters.step(b)
	b.blow()
	b.pumped()
	if b.hands.starter {
		b.cranking()
	}
	if b.run.active {
		b.watch()
	}
	if b.rec.Tick >= MaxTicks {
		b.finish()
	}
	if b.rec.Tick%record.TicksPerSecond == 0 {
		b.mark()
	}
	if b.tap != nil {
		b.tap()
	}
}

// cranking is what a held switch does beyond turning the engine.
func (b *Bench) cranking() {
	b.heatStarter()
	b.stalled()
	b.sensed()
	p := &b.press
	p.ticks++
	p.turned += math.Abs(b.engine.Speed()) / record.TicksPerSecond
	if p.turned < oneTurn {
		return
	}
	p.turned -= oneTurn
	if b.injecting() {
		for i := range b.cyl {
			b.engine.Wash(i+1, washPerTurn)
			b.cyl[i].washed++
		}
		b.hands.vapour = true
	}
	b.ignite()
}

// ignite notes, once a press of the switch, that fuel vapour hangs about open
// holes while plugs can spark.
func (b *Bench) ignite() {
	_, bare := b.openHoles()
	if b.press.ignited || b.hands.ignitionOff || bare == 0 || !b.hands.vapour {
		return
	}
	b.press.ignited = true
	b.hazard("vapour_ignition", 0)
}

// heatStarter adds a tick to what the starter has to get rid of.
func (b *Bench) heatStarter() {
	b.heat += 1.0 / record.TicksPerSecond
	if b.told == 0 && b.heat > heatFirst || b.told == 1 && b.heat > heatSecond {
		b.told++
		b.event(EventCaution, "starter_hot", 0, b.heat)
	}
}

// stalled notes a starter that can't turn the engine, and liquid as the reason.
func (b *Bench) stalled() {
	p := &b.press
	if b.engine.Hydrolocked() && !b.hands.jammed {
		b.hands.jammed = true
		b.hazard("hydrolock", b.drowned())
	}
	if math.Abs(b.engine.Speed()) > stallSpeed {
		p.still = 0
		return
	}
	p.still++
	if p.still == stallTicks {
		b.event(EventStall, "", b.hands.hose, 0)
	}
}

// drowned returns the cylinder with most oil on its piston.
func (b *Bench) drowned() int {
	most := 1
	for i := range b.cyl {
		if b.engine.OilOnPiston(i+1) > b.engine.OilOnPiston(most) {
			most = i + 1
		}
	}
	return most
}

// pressing is one press of the starter switch.
type pressing struct {
	ticks   int
	still   int     // ticks without turning
	turned  float64 // towards the next whole turn [rad]
	ignited bool    // the hazard was noted
}

func (p *pressing) digest(h hash) hash {
	return h.int(p.ticks, p.still).float(p.turned).bool(p.ignited)
}
