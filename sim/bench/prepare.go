package bench

import (
	"crankbay/sim"
	"crankbay/sim/num"
	"crankbay/sim/record"
	"crankbay/sim/unit"
	"slices"
)

const (
	// hotC is a coolant temperature from which what comes out of a plug hole or a
	// filler scalds; a thermostat holds less [°C] (common practice, no source).
	hotC = 100.0
	// warmUpTime is how long an idling engine takes to cover 1 - 1/e of the way to
	// its thermostat's temperature [min] (judgement: about ten minutes from cold to
	// 80 °C).
	warmUpTime = 5.0
	// Airing is the standing time after which fuel vapour has gone [min] (judgement).
	Airing = 10.0
)

// coolantC returns the coolant temperature [°C].
func (b *Bench) coolantC() float64 { return unit.Kelvin(b.engine.Coolant()).Celsius() }

func (b *Bench) doNothing(a record.Action) error { return plain(a) }

func (b *Bench) doGlasses(a record.Action) (err error) { return b.set(&b.hands.glasses, a) }

func (b *Bench) doBrake(a record.Action) error { return b.set(&b.hands.brake, a) }

func (b *Bench) doChocks(a record.Action) error { return b.change(&b.hands.chocks, a) }

func (b *Bench) doVoltmeter(a record.Action) error { return b.change(&b.hands.voltmeter, a) }

func (b *Bench) doTachometer(a record.Action) error { return b.change(&b.hands.tachometer, a) }

// set takes on or off, again and again.
func (b *Bench) set(flag *bool, a record.Action) error {
	on, err := onOff(a)
	if err == nil {
		*flag = on
	}
	return err
}

// change takes on or off, but not what is so already: it costs minutes.
func (b *Bench) change(flag *bool, a record.Action) error {
	on, err := onOff(a)
	return b.turnTo(flag, on, err)
}

func (b *Bench) turnTo(flag *bool, on bool, err error) error {
	switch {
	case err != nil:
		return err
	case *flag == on:
		return refuse("already_so", 0)
	}
	*flag = on
	return nil
}

func (b *Bench) doGear(a record.Action) error {
	switch a.Choice {
	case GearPark, GearNeutral, GearDrive:
		b.hands.gear = a.Choice
	default:
		return refuse("unknown_choice", 0)
	}
	if a.Choice == GearDrive {
		b.caution("gear_engaged", 0)
	}
	return nil
}

func (b *Bench) doBelts(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	b.hands.belts = true
	return nil
}

func (b *Bench) doFluids(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	b.hands.fluids = true
	if b.coolantC() > hotC {
		b.caution("hot_engine", 0)
	}
	b.fact("fluids_good", 0, 0)
	return nil
}

// doSpec looks a page up. The number of its fact is 1 on the page of this engine:
// a grader must know, and the record is all it has.
func (b *Bench) doSpec(a record.Action) error {
	if !slices.Contains(b.setup.Pages, a.Choice) {
		return refuse("no_such_page", 0)
	}
	b.hands.page = a.Choice
	right := 0.0
	if a.Choice == b.setup.RightPage {
		right = 1
	}
	b.fact("spec_page", 0, right)
	return nil
}

func (b *Bench) doFuel(a record.Action) error {
	off, err := either(a, "disabled", "enabled")
	return b.turnTo(&b.hands.fuelOff, off, err)
}

func (b *Bench) doIgnition(a record.Action) error {
	off, err := either(a, "disabled", "enabled")
	return b.turnTo(&b.hands.ignitionOff, off, err)
}

func (b *Bench) doCharger(a record.Action) error {
	if err := b.change(&b.hands.charger, a); err != nil {
		return err
	}
	b.engine.SetCharger(b.hands.charger)
	return nil
}

func (b *Bench) doWells(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if !b.hands.glasses {
		b.caution("no_glasses", 0)
	}
	b.hands.wells = true
	return nil
}

// Ways of the throttle.
const (
	throttleOpen  = "open"  // held at its linkage or plate
	throttlePedal = "pedal" // held by the pedal; drive-by-wire needs the key on for it
	throttleShut  = "shut"
)

// doThrottle holds the plate open or lets go. Fuel and ignition belong disabled
// first: the pedal needs the key on.
func (b *Bench) doThrottle(a record.Action) error {
	switch a.Choice {
	case throttleOpen, throttlePedal, throttleShut:
	default:
		return refuse("unknown_choice", a.Cylinder)
	}
	open := a.Choice != throttleShut
	if open && !b.hands.open && (!b.hands.fuelOff || !b.hands.ignitionOff) {
		b.caution("throttle_before_disabled", 0)
	}
	b.forcePlate(a)
	b.hands.open, b.hands.pedal = open, a.Choice == throttlePedal
	share := 0.0
	if open {
		share = 1
	}
	b.engine.SetThrottle(share)
	return nil
}

func (b *Bench) doSwitch(a record.Action) error {
	remote, err := either(a, "remote", "key")
	return b.turnTo(&b.hands.remote, remote, err)
}

// doWait lets time pass.
func (b *Bench) doWait(a record.Action) error { return b.pass(a, 240) }

// doCoolDown lets the engine stand.
func (b *Bench) doCoolDown(a record.Action) error { return b.pass(a, 240) }

func (b *Bench) pass(a record.Action, most float64) error {
	if err := b.minutes(a, most); err != nil {
		return err
	}
	b.stand(a.Number)
	if a.Number >= Airing {
		b.hands.vapour = false
	}
	return nil
}

// minutes checks a number of minutes.
func (b *Bench) minutes(a record.Action, most float64) error {
	if a.Choice != "" {
		return refuse("unknown_choice", 0)
	}
	if !(a.Number > 0 && a.Number <= most) {
		return refuseNumber(most)
	}
	return nil
}

// doWarmUp runs the engine at idle. It needs everything that running needs.
func (b *Bench) doWarmUp(a record.Action) error {
	if a.Number < 1 {
		return refuseNumber(30)
	}
	if err := b.minutes(a, 30); err != nil {
		return err
	}
	if err := b.canRun(0); err != nil {
		return err
	}
	if b.setup.NoStart {
		return refuse("no_start", 0)
	}
	b.throwWrench()
	b.idle(a.Number)
	b.hands.codes = b.hands.codes || b.tests.dead != 0
	return nil
}

// canRun says why the engine can't be run as it stands, with the gauge on one of
// its cylinders, 0 for none.
func (b *Bench) canRun(gauged int) error {
	for i := range b.cyl {
		switch b.engine.Plug(i + 1) {
		case sim.PlugGauge:
			if i+1 == gauged {
				continue
			}
			return refuse("hose_on", i+1)
		case sim.PlugAir:
			return refuse("tester_on", i+1)
		case sim.PlugOut:
			return refuse("plug_missing", i+1)
		}
	}
	switch {
	case b.hands.fuelOff:
		return refuse("fuel_disabled", 0)
	case b.hands.ignitionOff:
		return refuse("ignition_disabled", 0)
	case !b.hands.leads:
		return refuse("leads_off", 0)
	case b.hands.gear == GearDrive:
		return refuse("engaged", 0)
	case b.hands.jammed:
		return refuse("hydrolocked", 0)
	}
	return nil
}

// idle runs the engine for some minutes: it warms towards its thermostat, burns
// off what lay on the pistons, and spreads a normal oil film.
func (b *Bench) idle(minutes float64) {
	b.ran = true
	before := b.engine.Coolant()
	warm := float64(unit.Celsius(b.setup.IdleWarmC))
	b.stand(minutes)
	for i := range b.cyl {
		b.engine.Wash(i+1, 1) // scrapes what a wet test left; the film comes back below
		b.cyl[i].oil, b.cyl[i].washed = 0, 0
	}
	b.engine.SetCoolant(warm + float64((before-warm)*num.Exp(-minutes/warmUpTime)))
	b.hands.vapour = false
	b.follow()
	b.meters.reset(b.engine)
}
