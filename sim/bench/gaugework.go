package bench

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/num"
	"crankbay/sim/record"
)

const (
	// proveSeconds is how long a gauge is watched when it is proved, and proveDrop
	// the share of its pressure it may lose meanwhile (common practice: the needle
	// stands still for a minute).
	proveSeconds = 60.0
	proveDrop    = 0.03
	// emptyPa is hose pressure that no dial shows [Pa gauge]: 0.3 psi. The release
	// is let go at a quarter of it, because what is left in the hose is cold from
	// its own expansion and rises a little as it warms up.
	emptyPa = 2000.0
	// releaseMost bounds how long the release is held: 6 s.
	releaseMost = 6 * record.TicksPerSecond
	// releaseLeast is a press of the thumb: 0.2 s.
	releaseLeast = record.TicksPerSecond / 5
)

func (b *Bench) doAdapter(a record.Action) error {
	if b.hands.hose != 0 {
		return refuse("hose_on", b.hands.hose)
	}
	for i := range b.setup.Adapters {
		t := &b.setup.Adapters[i]
		if t.ID != a.Choice {
			continue
		}
		b.hands.adapter = i
		b.plumb()
		return nil
	}
	return refuse("no_such_adapter", 0)
}

func (b *Bench) doGauge(a record.Action) error {
	if b.hands.hose != 0 {
		return refuse("hose_on", b.hands.hose)
	}
	for i := range b.setup.Gauges {
		if b.setup.Gauges[i].ID != a.Choice {
			continue
		}
		if b.hands.gauge != i {
			b.hands.gauge = i
			b.hands.proved = false
			b.needle = instrument.NewNeedle(b.setup.Gauges[i].Spec)
			b.plumb()
		}
		return nil
	}
	return refuse("no_such_gauge", 0)
}

// plumb gives the engine the gauge and adapter in hand.
func (b *Bench) plumb() {
	var adapter *AdapterTool
	if b.hands.adapter >= 0 {
		adapter = &b.setup.Adapters[b.hands.adapter]
	}
	p := b.setup.plumbing(b.setup.Gauges[max(b.hands.gauge, 0)], adapter)
	if at := b.hands.hose; at != 0 && b.cyl[at-1].torn {
		p.SealLeak += tornLeak
	}
	b.engine.SetGauge(p)
	b.follow()
}

// doProve looks whether the gauge stands on zero and holds pressure.
func (b *Bench) doProve(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case b.hands.gauge < 0:
		return refuse("no_gauge", 0)
	case b.hands.hose != 0:
		return refuse("hose_on", b.hands.hose)
	}
	tool := &b.setup.Gauges[b.hands.gauge]
	b.hands.proved = true
	switch {
	case b.hosePressure() > emptyPa:
		b.fact("gauge_under_pressure", 0, float64(b.needle.Read()))
	case tool.restsAtZero():
		b.fact("gauge_zero", 0, float64(b.needle.Read()))
	default:
		b.fact("gauge_off_zero", 0, float64(b.needle.Read()))
	}
	if tool.lost() > proveDrop {
		b.fact("gauge_leaks", 0, tool.lost())
	} else {
		b.fact("gauge_holds", 0, tool.lost())
	}
	return nil
}

// restsAtZero says whether the needle stands on zero without pressure.
func (t *GaugeTool) restsAtZero() bool {
	n := instrument.NewNeedle(t.Spec)
	return n.Read() == 0
}

// lost returns the share of its pressure the hose loses while the gauge is
// watched: choked, isothermal flow through its leaks empties it exponentially.
//
//	p(t) = p0·exp(-t/τ)      τ = V / (A·√(R·T)·ψ*)
//
// with √(R·T) = 290 m/s at 20 °C and ψ* = 0.685 of a two-atom gas at rest.
func (t *GaugeTool) lost() float64 {
	rate := (t.Plumbing.ValveLeak + t.Plumbing.ReleaseLeak) * 290 * 0.685 / t.Plumbing.HoseVolume
	x := rate * proveSeconds
	return 1 - num.Exp(-x)
}

// doHoseOn screws the hose into a plug hole.
func (b *Bench) doHoseOn(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", a.Cylinder)
	case b.hands.gauge < 0:
		return refuse("no_gauge", a.Cylinder)
	case b.hands.adapter < 0:
		return refuse("no_adapter", a.Cylinder)
	case b.hands.hose != 0:
		return refuse("hose_on_elsewhere", b.hands.hose)
	case b.engine.Plug(a.Cylinder) == sim.PlugIn:
		return refuse("plug_still_in", a.Cylinder)
	case b.tests.tester != 0:
		return refuse("tester_on", b.tests.tester)
	}
	t := &b.setup.Adapters[b.hands.adapter]
	if math.Abs(t.ThreadMM-b.setup.Plug.ThreadMM) > sameThread {
		return refuse("wrong_thread", a.Cylinder)
	}
	if t.ReachMM > b.setup.Plug.ReachMM+sameReach {
		b.caution("reach_too_long", a.Cylinder)
	}
	if t.ReachMM < b.setup.Plug.ReachMM-sameReach {
		b.caution("reach_too_short", a.Cylinder)
	}
	if !t.ORing {
		b.caution("no_o_ring", a.Cylinder)
	}
	b.hands.hose = a.Cylinder
	if b.cyl[a.Cylinder-1].torn {
		b.plumb()
	}
	b.engine.SetPlug(a.Cylinder, sim.PlugGauge)
	return nil
}

// doHoseOff unscrews the hose; what it holds it keeps.
func (b *Bench) doHoseOff(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case b.hands.hose == 0:
		return refuse("hose_not_on", 0)
	}
	if b.hosePressure() > emptyPa {
		b.caution("gauge_under_pressure", b.hands.hose)
	}
	torn := b.cyl[b.hands.hose-1].torn
	b.engine.SetPlug(b.hands.hose, sim.PlugOut)
	b.hands.hose = 0
	if torn {
		b.plumb()
	}
	return nil
}

// doRelease presses the release; Advance lets go once the hose is empty.
func (b *Bench) doRelease(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case b.hands.gauge < 0:
		return refuse("no_gauge", 0)
	}
	b.run.released(b)
	b.release = 1
	return nil
}

// doNeedleWords notes that an instrument was asked to be put into words. The number is
// what it shows: the needle of the compression gauge or the vacuum gauge [Pa], the
// leakage tester [%], the ticks of the strip from the clamp meter.
func (b *Bench) doNeedleWords(a record.Action) error {
	t := &b.tests
	cylinder, shown := 0, 0.0
	switch a.Choice {
	case "":
		if b.hands.gauge < 0 {
			return refuse("no_gauge", 0)
		}
		cylinder, shown = b.hands.hose, float64(b.needle.Read())
	case WordsTester:
		switch {
		case t.tester == 0:
			return refuse("tester_not_on", 0)
		case t.supply == 0:
			return refuse("no_air", 0)
		}
		cylinder, shown = t.tester, b.Lost()
	case WordsVacuum:
		if !t.vacuumGauge {
			return refuse("no_vacuum_gauge", 0)
		}
		shown = b.Vacuum()
	case WordsClamp:
		if len(b.trace.amps) == 0 {
			return refuse("no_trace", 0)
		}
		shown = float64(len(b.trace.amps))
	default:
		return refuse("unknown_choice", 0)
	}
	e := &b.rec.Events[len(b.rec.Events)-1]
	e.Cylinder, e.Number = cylinder, shown
	return nil
}

// hold counts the release down a tick.
func (b *Bench) hold() {
	if b.release == 0 {
		return
	}
	b.release++
	if b.tests.pump.on {
		b.bled()
		return
	}
	empty := float64(b.hosePressure()) < emptyPa/4 && !b.refills() && b.release > releaseLeast
	if empty || b.release > releaseMost {
		b.release = 0
	}
}

// refills says whether the hose would fill again once the release is let go: the
// crank may have come to rest with pressure in the cylinder, and it takes the
// rings seconds to let that out.
func (b *Bench) refills() bool {
	if b.hands.hose == 0 || b.hands.gauge < 0 {
		return false
	}
	opening := b.setup.Gauges[b.hands.gauge].Plumbing.ValveOpening
	return b.engine.Pressure(b.hands.hose)-b.setup.Engine.Ambient > emptyPa/2+opening
}
