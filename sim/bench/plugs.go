package bench

import (
	"crankbay/sim"
	"crankbay/sim/record"
)

const (
	// muchOil is an amount from which a wet test goes towards locking the engine
	// rather than sealing its rings [ml]; cards ask for 5 to 15.
	muchOil = 25.0
	// mostOil is what can be poured at a time [ml].
	mostOil = 50.0
	// oilyRing is how many times a sound engine's ring leak leaves an oily plug
	// (judgement): burning oil and leaking gas go together, not one to one.
	oilyRing = 3.0
	// soundRingPerBore is the ring leak area of a sound cylinder over its bore [m]
	// (from sim.Reference).
	soundRingPerBore = 0.15e-6 / 0.086
)

// doPlugOut unscrews a plug. Its coil or lead comes off with it.
func (b *Bench) doPlugOut(a record.Action) error {
	if _, err := either(a, "ordered", "loose"); err != nil {
		return err
	}
	switch b.engine.Plug(a.Cylinder) {
	case sim.PlugOut:
		return refuse("plug_already_out", a.Cylinder)
	case sim.PlugGauge:
		return refuse("hose_on", a.Cylinder)
	case sim.PlugAir:
		return refuse("tester_on", a.Cylinder)
	}
	if !b.hands.wells {
		b.caution("no_wells_blown", a.Cylinder)
	}
	if b.coolantC() > hotC {
		b.caution("hot_engine", a.Cylinder)
	}
	b.strainThreads(a.Cylinder)
	b.hands.leads = false
	b.cyl[a.Cylinder-1].order = a.Choice
	b.cyl[a.Cylinder-1].loose = false
	b.engine.SetPlug(a.Cylinder, sim.PlugOut)
	return nil
}

// doPlugIn screws a plug in, by hand to start with or by the wrench at once.
func (b *Bench) doPlugIn(a record.Action) error {
	byHand, err := either(a, "hand", "wrench")
	if err != nil {
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
	if !byHand {
		b.caution("plug_by_wrench", a.Cylinder)
	}
	b.cyl[a.Cylinder-1].loose = true
	b.engine.SetPlug(a.Cylinder, sim.PlugIn)
	return nil
}

// doPlugTorque torques every plug that was screwed in since it was last out.
func (b *Bench) doPlugTorque(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	any := false
	for i := range b.cyl {
		any = any || b.cyl[i].loose
	}
	if !any {
		return refuse("already_so", 0)
	}
	for i := range b.cyl {
		b.cyl[i].loose = false
	}
	return nil
}

// doPlugLook looks at a plug that is out.
func (b *Bench) doPlugLook(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if b.engine.Plug(a.Cylinder) == sim.PlugIn {
		return refuse("plug_not_out", a.Cylinder)
	}
	b.fact(b.plugLooks(a.Cylinder), a.Cylinder, 0)
	return nil
}

// plugLooks tells what the plug and its hole show: what was poured in, what was
// injected while cranking, what lies on the piston, coolant that burned along with
// the fuel, and what the rings let up over years.
func (b *Bench) plugLooks(cylinder int) string {
	c := &b.cyl[cylinder-1]
	p := b.engine.Params()
	switch {
	case c.oil > 0:
		return "plug_oiled"
	case c.washed > 0, !b.ran && cylinder <= len(b.setup.Seen) && b.setup.Seen[cylinder-1].Fuel:
		return "plug_wet_fuel"
	case b.engine.OilOnPiston(cylinder)+b.engine.LiquidOnPiston(cylinder) > liquidSeen:
		return "plug_wet"
	case p.Cylinder[cylinder-1].CoolantArea >= coolantFalls:
		return "plug_steamed"
	case p.Cylinder[cylinder-1].RingArea > oilyRing*soundRingPerBore*p.Bore:
		return "plug_oily"
	}
	return "plug_normal"
}

// doOil pours oil onto a piston through its open plug hole.
func (b *Bench) doOil(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	if !(a.Number > 0 && a.Number <= mostOil) {
		return refuseNumber(mostOil)
	}
	switch b.engine.Plug(a.Cylinder) {
	case sim.PlugIn:
		return refuse("plug_still_in", a.Cylinder)
	case sim.PlugGauge:
		return refuse("hose_on", a.Cylinder)
	case sim.PlugAir:
		return refuse("tester_on", a.Cylinder)
	}
	if way := or(b.setup.Minutes.Wet, usual.Wet) - pourMinutes; way > 0 {
		b.stand(way) // until the can's spout is where it has to be
	}
	c := &b.cyl[a.Cylinder-1]
	c.oil += a.Number
	if c.oil > muchOil {
		b.caution("much_oil", a.Cylinder)
	}
	b.engine.AddOil(a.Cylinder, a.Number*1e-6)
	return nil
}

// doLeads puts coils and connectors back on the plugs; the one of a cylinder that is
// disabled stays off.
func (b *Bench) doLeads(a record.Action) error {
	if err := plain(a); err != nil {
		return err
	}
	for i := range b.cyl {
		switch b.engine.Plug(i + 1) {
		case sim.PlugOut:
			return refuse("plug_missing", i+1)
		case sim.PlugGauge:
			if b.tests.dead != i+1 {
				return refuse("hose_on", i+1)
			}
		case sim.PlugAir:
			return refuse("tester_on", i+1)
		}
	}
	return b.turnTo(&b.hands.leads, true, nil)
}

// open counts the cylinders without a plug: open holes, the gauge and the
// leakage tester.
func (b *Bench) openHoles() (out, bare int) {
	for i := range b.cyl {
		switch b.engine.Plug(i + 1) {
		case sim.PlugOut:
			out++
			bare++
		case sim.PlugGauge, sim.PlugAir:
			out++
		}
	}
	return out, bare
}
