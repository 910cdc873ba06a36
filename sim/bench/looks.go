package bench

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/record"
)

const (
	// lashSlack is how far a feeler gauge lets a clearance be off and still in
	// specification [m]: half of the usual 0.05 mm of a page (judgement).
	lashSlack = 0.03e-3
	// usualTeeth is the cam wheel when a set-up does not say.
	usualTeeth = 40
	// liquidSeen is a puddle on a piston [m³], carbonSeen a coat all over it [m]: half
	// a millilitre and a quarter of a millimetre (judgement).
	liquidSeen = 0.5e-6
	carbonSeen = 0.25e-3
	// coolantFalls is a path to the coolant whose loss shows on the dial of a cooling
	// system tester within minutes, Cd·A [m²]: 0.01 mm² lets 8 ml a minute past at 1
	// bar (computed by Bernoulli's law).
	coolantFalls = 1e-8
	// capC is a coolant temperature from which a cap does not come off: the system is
	// under pressure [°C] (common practice).
	capC = 60.0
	// bubbleTime is how long the neck has to be watched while the engine turns: 2 s.
	bubbleTime = 2 * record.TicksPerSecond
)

// Visible is damage that an eye in the cylinder finds. To the gas it is an area
// among others, so that a set-up has to say it.
type Visible struct {
	Hole   bool // through the piston's crown
	Scored bool // along the bore
}

// doLash measures the valve clearances of a cylinder, on an engine that has any.
func (b *Bench) doLash(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if !b.setup.LashCheck {
		return refuse("no_lash", a.Cylinder)
	}
	c := b.setup.Engine.Cylinder[a.Cylinder-1]
	found := false
	for _, v := range []struct {
		name string
		off  float64
	}{{"intake", c.IntakeLash}, {"exhaust", c.ExhaustLash}} {
		switch {
		case v.off < -lashSlack:
			b.fact("lash_"+v.name+"_tight", a.Cylinder, 0)
		case v.off > lashSlack:
			b.fact("lash_"+v.name+"_loose", a.Cylinder, 0)
		default:
			continue
		}
		found = true
	}
	if !found {
		b.fact("lash_in_spec", a.Cylinder, 0)
	}
	return nil
}

// doTiming compares the marks of crank and cams. The number of its fact is teeth,
// to half a tooth; its cylinder the first under that cam.
func (b *Bench) doTiming(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	teeth := b.setup.WheelTeeth
	if teeth == 0 {
		teeth = usualTeeth
	}
	found := false
	var seen [2]bool
	for i := range b.cyl {
		c := &b.setup.Engine.Cylinder[i]
		if seen[c.Bank] {
			continue
		}
		seen[c.Bank] = true
		intake := b.camMark("intake", i+1, c.IntakeShift, teeth)
		exhaust := b.camMark("exhaust", i+1, c.ExhaustShift, teeth)
		found = found || intake || exhaust
	}
	if !found {
		b.fact("timing_right", 0, 0)
	}
	return nil
}

// camMark notes a cam that is off its mark. The cam wheel turns once in two turns of
// the crank.
func (b *Bench) camMark(cam string, cylinder int, shift float64, wheel int) bool {
	off := float64(shift*float64(wheel)) / (2 * oneTurn)
	off = to(0.5, off)
	switch {
	case off > 0:
		b.fact("timing_"+cam+"_late", cylinder, off)
	case off < 0:
		b.fact("timing_"+cam+"_early", cylinder, -off)
	}
	return off != 0
}

// doBorescope looks into a cylinder through its plug hole. Seats and rings are out
// of its sight.
func (b *Bench) doBorescope(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	switch b.engine.Plug(a.Cylinder) {
	case sim.PlugIn:
		return refuse("plug_still_in", a.Cylinder)
	case sim.PlugGauge:
		return refuse("hose_on", a.Cylinder)
	case sim.PlugAir:
		return refuse("tester_on", a.Cylinder)
	}
	p := &b.setup.Engine
	var seen Visible
	if a.Cylinder <= len(b.setup.Seen) {
		seen = b.setup.Seen[a.Cylinder-1]
	}
	coat := p.Cylinder[a.Cylinder-1].Deposit / (math.Pi / 4 * p.Bore * p.Bore)
	found := false
	for _, x := range []struct {
		is  bool
		key string
	}{
		{b.engine.OilOnPiston(a.Cylinder)+b.engine.LiquidOnPiston(a.Cylinder) > liquidSeen, "bore_liquid"}, {coat > carbonSeen, "bore_carbon"},
		{seen.Hole, "bore_hole"}, {seen.Scored, "bore_scored"},
	} {
		if x.is {
			found = true
			b.fact(x.key, a.Cylinder, 0)
		}
	}
	if !found {
		b.fact("bore_clean", a.Cylinder, 0)
	}
	return nil
}

// doCoolingPressure pumps the cooling system up and watches its dial.
func (b *Bench) doCoolingPressure(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	b.openCap()
	area := 0.0
	for i := range b.cyl {
		area += b.setup.Engine.Cylinder[i].CoolantArea
	}
	if area >= coolantFalls {
		b.fact("cooling_falls", 0, 0)
	} else {
		b.fact("cooling_holds", 0, 0)
	}
	return nil
}

// doCoolantWatch opens the cap and keeps an eye on the neck while the engine is
// cranked, or stops watching.
func (b *Bench) doCoolantWatch(a record.Action) error {
	if err := b.change(&b.tests.neck, a); err != nil {
		return err
	}
	if b.tests.neck {
		b.openCap()
	}
	return nil
}

// openCap takes the coolant cap off.
func (b *Bench) openCap() {
	if b.coolantC() > capC {
		b.caution("hot_cap", 0)
	}
}

// bubbling adds what blows into the coolant in a tick.
func (b *Bench) bubbling(s *sensing) {
	for i := range b.cyl {
		flow, _ := b.engine.HeadFlow(i + 1)
		s.bubbles += max(0, flow)
	}
}

// Bubbling returns what blows into the coolant now [kg/s], 0 when nobody watches the
// neck.
func (b *Bench) Bubbling() float64 {
	if !b.tests.neck && b.tests.supply == 0 {
		return 0
	}
	sum := 0.0
	for i := range b.cyl {
		flow, _ := b.engine.HeadFlow(i + 1)
		sum += max(0, flow)
	}
	return sum
}

// noteBubbles says what the neck showed of a run.
func (b *Bench) noteBubbles(s *sensing) {
	if s.bubbles/float64(s.ticks) > seenFlow {
		b.fact("bubbles_cranked", 0, 0)
	} else {
		b.fact("no_bubbles", 0, 0)
	}
}
