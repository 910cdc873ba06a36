package bench

import (
	"crankbay/sim"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// The running compression test (common practice, no source; the figures are what a
// shop works with): a governed idle, the gauge bled and left to pump up, then the
// throttle snapped open and let go before the engine has run away.
const (
	IdleRPM       = 700.0 // held by the other cylinders [rpm]
	IdlePlenumKPa = 35.0  // absolute; the idle control aims for it [kPa]
	SnapRPM       = 1500.0
	SnapSeconds   = 0.35 // until the pedal is let go [s]
	SnapPedal     = 0.15 // until the plate is wide open [s]
	SnapFall      = 1.0  // back to idle, while what went into the hose cools [s]
	IdleBleed     = 0.5  // the release is held at idle [s]
	IdlePump      = 1.5  // until the needle is read [s]
)

const (
	pumpBleed = IdleBleed * record.TicksPerSecond
	pumpRead  = IdlePump * record.TicksPerSecond
	snapPedal = SnapPedal * record.TicksPerSecond
	snapRise  = SnapSeconds * record.TicksPerSecond
	snapFall  = SnapFall * record.TicksPerSecond

	// idleGain is how fast the idle control moves the plate, share of its travel a
	// second and pascal: it settles within about a second (judgement).
	idleGain = 6e-6
	// idleMost is as far as it opens the plate.
	idleMost = 0.3
)

// Ways a reading of the running engine is taken.
const (
	PumpedIdle = "idle" // after the release, by the idling engine
	PumpedSnap = "snap" // what the gauge holds after a snap of the throttle
)

// pumping is the engine running with the gauge on a cylinder of its own.
type pumping struct {
	on   bool
	open float64 // where the idle control has the plate
	snap int     // ticks into a snap, 0 none
	due  int     // ticks until the needle is read, 0 not due
	how  string  // of what is due
}

func (p *pumping) digest(h hash) hash {
	return h.bool(p.on).float(p.open).int(p.snap, p.due).text(p.how)
}

// doDisableOne takes spark and injector of one cylinder away, or gives them back.
func (b *Bench) doDisableOne(a record.Action) error {
	off, err := either(a, "disabled", "enabled")
	dead := &b.tests.dead
	switch {
	case err != nil:
		return err
	case off && *dead != 0 && *dead != a.Cylinder:
		return refuse("disabled_elsewhere", *dead)
	case off == (*dead == a.Cylinder):
		return refuse("already_so", a.Cylinder)
	}
	*dead = 0
	if off {
		*dead = a.Cylinder
	}
	return nil
}

// doEngineRun starts the engine with the gauge on a cylinder that neither sparks
// nor gets fuel, or switches it off. It then runs until it is switched off.
func (b *Bench) doEngineRun(a record.Action) error {
	on, err := onOff(a)
	t := &b.tests
	switch {
	case err != nil:
		return err
	case on == t.pump.on:
		return refuse("already_so", 0)
	case !on:
		t.pump = pumping{}
		b.engine.SetThrottle(0)
		return nil
	case b.hands.starter:
		return refuse("starter_on", 0)
	case !b.still():
		return refuse("engine_turning", 0)
	case b.hands.hose == 0:
		return refuse("hose_not_on", 0)
	case t.dead != b.hands.hose:
		return refuse("cylinder_live", b.hands.hose)
	case b.hands.open:
		return refuse("throttle_held", 0)
	}
	if err := b.canRun(t.dead); err != nil {
		return err
	}
	b.fire(startMinutes)
	return nil
}

// fire cranks the engine until it fires, if it does, and lets it idle for some minutes.
func (b *Bench) fire(minutes float64) {
	t := &b.tests
	b.throwWrench()
	b.warnStart()
	if !b.hands.glasses {
		b.caution("no_glasses", 0)
	}
	if !b.hands.belts {
		b.caution("belts_unchecked", 0)
	}
	_, rpm := b.tryStart()
	b.hands.codes = true // of the cylinder that is taken away
	switch {
	case b.hands.jammed, b.setup.NoStart:
		b.started("engine_refuses", 0)
	case rpm < slowestStart:
		b.started("engine_cranks_slow", 0)
	case b.rec.Tick < MaxTicks:
		b.idle(minutes)
		t.pump = pumping{on: true}
		if !b.hands.belts { // somebody leans over an engine that runs
			b.hazard("belt_caught", 0)
		}
	}
}

// doSnap snaps the throttle open and lets it go.
func (b *Bench) doSnap(a record.Action) error {
	p := &b.tests.pump
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case !p.on:
		return refuse("not_running", 0)
	case p.snap > 0:
		return refuse("already_so", 0)
	}
	p.snap, p.due, p.how = 1, snapRise+snapFall, PumpedSnap
	return nil
}

// whileRunning says whether an action is possible beside a running engine.
func whileRunning(kind string) bool {
	switch kind {
	case KindEngineRun, KindSnap, KindRelease, KindGlasses, KindNeedleWords, KindHint, KindSection:
		return true
	}
	return false
}

// driven sets the throttle of a running engine for a tick and returns the crank
// speed its other cylinders hold [rad/s], 0 when it doesn't run.
func (b *Bench) driven() float64 {
	p := &b.tests.pump
	if !p.on {
		return 0
	}
	rpm := IdleRPM
	if p.snap == 0 {
		over := b.engine.PlenumPressure() - IdlePlenumKPa*1e3
		p.open = min(max(p.open-float64(idleGain*over)/record.TicksPerSecond, 0), idleMost)
		b.engine.SetThrottle(p.open)
		return rpm / unit.RPM(1)
	}
	share := float64(p.snap) / snapRise
	if p.snap <= snapRise {
		pressed := min(1, float64(p.snap)/snapPedal)
		b.engine.SetThrottle(p.open + float64((1-p.open)*pressed))
	} else {
		b.engine.SetThrottle(p.open)
		share = 1 - float64(p.snap-snapRise)/snapFall
	}
	p.snap++
	if p.snap > snapRise+snapFall {
		p.snap = 0
	}
	return (rpm + float64(share*(SnapRPM-IdleRPM))) / unit.RPM(1)
}

// pumped reads the needle when its time has come.
func (b *Bench) pumped() {
	p := &b.tests.pump
	if !p.on || p.due == 0 {
		return
	}
	p.due--
	if p.due > 0 {
		return
	}
	s := b.reading(true)
	b.rec.Pumped = append(b.rec.Pumped, record.Pumped{
		Tick: b.rec.Tick, Minutes: b.Minutes(), Cylinder: b.hands.hose, How: p.how, Shown: s.Shown, Needle: s.Needle, True: s.True,
	})
	b.event(EventPumped, p.how, b.hands.hose, s.Shown)
	p.how = ""
}

// bled lets the release go at idle, where the hose never empties, and has the
// needle read once the gauge has pumped up.
func (b *Bench) bled() {
	if b.release > pumpBleed {
		b.release = 0
		b.tests.pump.due, b.tests.pump.how = pumpRead, PumpedIdle
	}
}

// inputs is what hands and combustion do in a tick.
func (b *Bench) inputs() sim.Inputs {
	return sim.Inputs{Starter: b.hands.starter, Release: b.release > 0, Driven: b.driven()}
}
