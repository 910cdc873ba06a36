package bench

import (
	"crankbay/sim"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

const (
	// tryTicks is how long the engine is cranked before it is known whether it
	// fires: 1.5 s.
	tryTicks = record.TicksPerSecond * 3 / 2
	// slowestStart is the cranking speed below which an engine does not fire [rpm]
	// (a course text and a handbook give 60 to 100).
	slowestStart = 100.0
	// weakShare is the share of the best cylinder's peak pressure below which a
	// cylinder is felt at idle (judgement: the 75 % of the trade's limit rule, less
	// what idle forgives).
	weakShare = 0.65
	// startMinutes is how long it runs to be listened to.
	startMinutes = 1.0
)

// doEngineStart starts the engine after putting back. Whether it runs follows
// from what is connected and from what its cylinders make while it is cranked.
func (b *Bench) doEngineStart(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	switch {
	case b.hands.hose != 0:
		return refuse("hose_on", b.hands.hose)
	case b.tests.tester != 0:
		return refuse("tester_on", b.tests.tester)
	case b.hands.gear == GearDrive:
		return refuse("not_in_park", 0)
	}
	b.throwWrench()
	b.warnStart()
	peak, rpm := b.tryStart()
	switch {
	case b.hands.jammed, b.hands.fuelOff, b.hands.ignitionOff, !b.hands.leads, b.setup.NoStart:
		b.started("engine_refuses", 0)
		b.hands.codes = true
		return nil
	case rpm < slowestStart:
		b.started("engine_cranks_slow", 0)
		return nil
	}
	b.listen(peak)
	return nil
}

// warnStart says what is dangerous about starting now.
func (b *Bench) warnStart() {
	for i := range b.cyl {
		switch {
		case b.engine.Plug(i+1) == sim.PlugOut:
			b.caution("plug_hole_open", i+1)
		case b.cyl[i].loose:
			b.caution("plug_not_torqued", i+1)
		}
	}
	if !b.hands.brake && !b.hands.chocks {
		b.caution("not_blocked", 0)
	}
}

// tryStart cranks the engine for a moment, by the same ticks as any cranking, and
// returns the highest pressure of each cylinder over ambient [Pa] and the mean
// speed of the second half [rpm].
func (b *Bench) tryStart() (peak []float64, rpm float64) {
	peak = make([]float64, len(b.cyl))
	b.press = pressing{}
	b.byKey(true)
	b.hands.starter = true
	sum, n := 0.0, 0
	for i := 0; i < tryTicks && b.rec.Tick < MaxTicks; i++ {
		b.step()
		for c := range peak {
			peak[c] = max(peak[c], b.engine.Pressure(c+1)-b.setup.Engine.Ambient)
		}
		if i >= tryTicks/2 {
			sum += b.engine.Speed()
			n++
		}
	}
	b.hands.starter = false
	b.Settle()
	return peak, unit.RPM(sum / float64(max(n, 1)))
}

// listen hears how a running engine runs.
func (b *Bench) listen(peak []float64) {
	best := 0.0
	for _, p := range peak {
		best = max(best, p)
	}
	how := "engine_runs"
	for c, p := range peak {
		if b.engine.Plug(c+1) != sim.PlugIn || c+1 == b.tests.dead || p < weakShare*best {
			how = "engine_rough"
			b.started(how, c+1)
		}
	}
	for c := range b.cyl {
		if b.cyl[c].oil > 0 {
			b.started("engine_smokes", c+1)
		}
	}
	if how == "engine_runs" {
		b.started(how, 0)
	}
	b.hands.started = how
	b.hands.codes = b.hands.codes || b.tests.dead != 0
	b.idle(startMinutes)
}

func (b *Bench) started(how string, cylinder int) {
	b.hands.started = how
	b.fact(how, cylinder, 0)
}

// doCodesClear clears what the control unit stored. With something still
// unplugged it comes back.
func (b *Bench) doCodesClear(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if b.hands.fuelOff || b.hands.ignitionOff || !b.hands.leads || b.tests.dead != 0 {
		b.hands.codes = true
		b.fact("codes_return", 0, 0)
		return nil
	}
	b.hands.codes = false
	b.fact("codes_cleared", 0, 0)
	return nil
}
