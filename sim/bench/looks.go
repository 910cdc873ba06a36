package bench

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/record"
)

const (
	// usualTeeth is the cam wheel when a set-up does not say.
	usualTeeth = 40
	// liquidSeen is a puddle on a piston [m³], carbonSeen a coat all over it [m]: half
	// a millilitre and a quarter of a millimetre (judgement).
	liquidSeen = 0.5e-6
	carbonSeen = 0.25e-3
	// coolingStep is what the dial of a cooling system tester is read to [Pa].
	coolingStep = 1e3
	// coolingAir is the air over the coolant [m³], which is all that gives: half a
	// litre (judgement).
	coolingAir = 0.5e-3
	// coolantFalls is a path to the coolant that leaves its trace on a plug, Cd·A [m²]:
	// 0.01 mm² lets 8 ml a minute past at 1 bar (computed by Bernoulli's law).
	coolantFalls = 1e-8
	// coolantDensity is that of water and antifreeze [kg/m³].
	coolantDensity = 1050.0
	// capC is a coolant temperature from which a cap does not come off: the system is
	// under pressure [°C] (common practice).
	capC = 60.0
	// bubbleTime is how long the neck has to be watched while the engine turns: 2 s.
	bubbleTime = 2 * record.TicksPerSecond
)

// How a cooling system is tried: pumped up to the usual cap and watched (common
// practice, no source).
const (
	CoolingPumped = 1e5 // [Pa gauge]
	CoolingWatch  = 5.0 // [min]
)

// Visible is damage that an eye in the cylinder finds. To the gas it is an area
// among others, so that a set-up has to say it.
type Visible struct {
	Hole   bool // through the piston's crown
	Scored bool // along the bore
	Fuel   bool // flooded: its plug drips with fuel until the engine has run
}

// Lash is what the page of an engine asks for between cam and valve [mm].
type Lash struct {
	IntakeMM, ExhaustMM float64 // [0.05, 0.9]
	WithinMM            float64 // that much over or under is still right
}

// usualLash is asked where a set-up does not say (common practice, no source).
func usualLash() Lash { return Lash{0.20, 0.30, 0.05} }

// Lash returns what the page of the engine on the bench asks for.
func (b *Bench) Lash() Lash {
	if b.setup.Lash == (Lash{}) {
		return usualLash()
	}
	return b.setup.Lash
}

// The feelers of a set: every 0.05 mm up to 1 mm (common practice, no source).
const (
	FeelerStepMM   = 0.05
	FeelerThickest = 1.0
)

// doLash measures the valve clearances of a cylinder by feelers, on an engine that has
// any. Each fact's number is the feeler that drags [mm].
func (b *Bench) doLash(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if !b.setup.LashCheck {
		return refuse("no_lash", a.Cylinder)
	}
	b.feel("lash_intake", a.Cylinder, b.gap(a.Cylinder, lashIntake))
	b.feel("lash_exhaust", a.Cylinder, b.gap(a.Cylinder, lashExhaust))
	return nil
}

// The two kinds of valve, as choices of a setting.
const (
	lashIntake  = "intake"
	lashExhaust = "exhaust"
)

// doSetLash sets the clearance of one cylinder's intake or exhaust valves by feeler, with
// the covers off. What it cures, and what a wrong figure breaks, the next crank shows.
func (b *Bench) doSetLash(a record.Action) error {
	intake, err := either(a, lashIntake, lashExhaust)
	switch {
	case err != nil:
		return err
	case !b.setup.LashCheck:
		return refuse("no_lash", a.Cylinder)
	case !b.ready.valves:
		return refuse("cover_on", a.Cylinder)
	case !(a.Number >= FeelerStepMM && a.Number <= FeelerThickest):
		return refuseNumber(FeelerThickest)
	}
	if b.gap(a.Cylinder, a.Choice) > FeelerThickest+FeelerStepMM/2 {
		return refuse("lash_out_of_reach", a.Cylinder) // no screw and no shim takes up that much
	}
	asked := b.Lash().ExhaustMM
	if intake {
		asked = b.Lash().IntakeMM
	}
	b.engine.SetLash(a.Cylinder, intake, (a.Number-asked)/1e3)
	return nil
}

// gap returns the clearance of a cylinder's intake or exhaust valves as it is now [mm].
func (b *Bench) gap(cylinder int, valve string) float64 {
	c, asked := b.engine.Params().Cylinder[cylinder-1], b.Lash()
	if valve == lashIntake {
		return asked.IntakeMM + float64(c.IntakeLash*1e3)
	}
	return asked.ExhaustMM + float64(c.ExhaustLash*1e3)
}

// feel finds the feeler that drags in a gap.
func (b *Bench) feel(valve string, cylinder int, gap float64) {
	switch drags := to(FeelerStepMM, gap); {
	case drags < FeelerStepMM/2:
		b.fact(valve+"_none", cylinder, 0)
	case drags > FeelerThickest+FeelerStepMM/2:
		b.fact(valve+"_wide", cylinder, FeelerThickest)
	default:
		b.fact(valve, cylinder, drags)
	}
}

// doTiming compares the marks of crank and cams. The number of its fact is teeth,
// to half a tooth; its cylinder the first under that cam.
func (b *Bench) doTiming(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	teeth := Teeth(b.setup)
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

// Teeth returns the teeth of a cam wheel of a set-up.
func Teeth(s Setup) int {
	if s.WheelTeeth == 0 {
		return usualTeeth
	}
	return s.WheelTeeth
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

// doCoolingPressure pumps the cooling system up and watches its dial. The number of
// its fact is how far it fell, by the minute [Pa].
func (b *Bench) doCoolingPressure(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	b.openCap()
	area := 0.0
	for i := range b.cyl {
		area += b.setup.Engine.Cylinder[i].CoolantArea
	}
	fell := to(coolingStep, CoolingPumped-b.coolingAfter(area))
	if fell < 2*coolingStep {
		b.fact("cooling_holds", 0, 0)
	} else {
		b.fact("cooling_falls", 0, fell/CoolingWatch)
	}
	return nil
}

// coolingAfter returns what the dial of the pumped-up cooling system shows after
// watching [Pa gauge], with a path of Cd·A area [m²] into a cylinder. Coolant leaves by
// Bernoulli's law, and the air over it gives:
//
//	Q = area·√(2p/ρ),  dp/dt = -(p + pₐ)·Q/V
func (b *Bench) coolingAfter(area float64) float64 {
	const h = 0.25 // [s]; small beside V/Q
	p, air := CoolingPumped, coolingAir
	for range int(CoolingWatch * 60 / h) {
		flow := area * math.Sqrt(2*p/coolantDensity)
		p = max(0, p-float64((p+b.setup.Engine.Ambient)*flow/air*h))
		air += float64(flow * h)
	}
	return p
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
