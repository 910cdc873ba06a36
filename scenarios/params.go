package scenarios

import (
	"crankbay/sim"
	"crankbay/sim/unit"
)

// Factors from the units of the file to SI.
const (
	milli     = 1e-3
	mm2       = 1e-6 // mm² in m²
	ml        = 1e-6 // ml in m³
	litre     = 1e-3 // L in m³
	kilo      = 1e3
	coulombAh = 3600.0
	cycleDeg  = 720.0
)

// Params returns the engine with its faults, in SI units. What the file does not
// carry (ring film, heat, plug hole, plumbing of the gauge) comes from
// sim.Reference.
func (s *Scenario) Params() sim.Params {
	p := sim.Reference()
	s.Engine.block(&p)
	s.Engine.valves(&p)
	s.Engine.options(&p)
	s.Starter.options(&p)
	p.Battery.CCA = s.Battery.CCA
	p.Battery.Charge = s.Battery.Charge
	p.Battery.AgeFactor = s.Battery.AgeFactor
	p.Battery.Capacity = s.Battery.CapacityAh * coulombAh
	p.Battery.Cable, p.Battery.Ground = s.Battery.CableMOhm*milli, 0 // the file's figure is for both
	p.Starter.Resistance = s.Starter.ResistanceMOhm * milli
	p.Starter.Constant = s.Starter.ConstantNmA
	p.Starter.Ratio = s.Starter.Ratio
	p.Starter.Drag = s.Starter.DragNm
	p.Starter.Inertia = s.Starter.InertiaKgM2
	p.Ambient = s.Conditions.AmbientKPa * kilo
	p.AmbientTemperature = float64(unit.Celsius(s.Conditions.AmbientC))
	p.CoolantTemperature = float64(unit.Celsius(s.Conditions.CoolantC))
	p.Crank.Start = radians(s.Conditions.ParkedDeg)
	for _, f := range s.Faults {
		f.apply(&p, s.Engine)
	}
	return p
}

// block sets what does not move with the cams.
func (e Engine) block(p *sim.Params) {
	p.Cylinders = e.Cylinders
	p.Bore = e.BoreMM * milli
	p.Stroke = e.StrokeMM * milli
	p.Rod = e.RodMM * milli
	p.Compression = e.Compression
	p.PlenumVolume = e.PlenumL * litre
	p.ThrottleArea = e.ThrottleMM2 * mm2
	p.IdleArea = e.IdleMM2 * mm2
	p.Crank.Inertia = e.InertiaKgM2
	p.Crank.FrictionMEP = e.FrictionKPa * kilo
	p.Crank.OilGradeCold = e.Oil.KV40 * mm2
	p.Crank.OilGradeHot = e.Oil.KV100 * mm2
	sound := p.Cylinder[0]
	for i := range p.Cylinder {
		p.Cylinder[i] = sound
		p.Cylinder[i].RingArea = e.RingMM2 * mm2
	}
	for b, bank := range e.Banks {
		for _, c := range bank {
			p.Cylinder[c-1].Bank = b
		}
	}
	for i, c := range e.FiringOrder {
		deg := cycleDeg * float64(i) / float64(e.Cylinders)
		if e.FiringAnglesDeg != nil {
			deg = e.FiringAnglesDeg[i]
		}
		p.Cylinder[c-1].FiringAngle = radians(deg)
	}
}

// options sets what a file may leave out.
func (e Engine) options(p *sim.Params) {
	p.PinOffset = e.PinOffsetMM * milli
	if e.PlugHoleMM2 != 0 {
		p.PlugHoleArea = e.PlugHoleMM2 * mm2
	}
	if e.ExhaustL != 0 {
		p.ExhaustVolume = e.ExhaustL * litre
	}
	p.ExhaustOutlet = e.ExhaustOutletMM2 * mm2
	p.Recess = e.RecessMM * milli
	if e.OiledShare > 0 {
		p.Rings.OiledFactor = 1 - float64(e.OiledShare*(1-p.Rings.OiledFactor))
	}
	for i, area := range e.CylinderRingMM2 {
		p.Cylinder[i].RingArea = area * mm2
	}
	for i, volume := range e.CylinderDepositML {
		p.Cylinder[i].Deposit = volume * ml
	}
	if r := e.Release; r != nil {
		p.Release = sim.ReleaseParams{
			Lift: r.LiftMM * milli, From: radians(r.FromDeg), To: radians(r.ToDeg), Below: radians(6 * r.BelowRPM), // degrees per second
		}
	}
}

// options sets what a file may leave out.
func (s Starter) options(p *sim.Params) {
	if s.SaturationA != 0 {
		p.Starter.Saturation = s.SaturationA
	}
	if s.WindageNmSS != 0 {
		p.Starter.Windage = s.WindageNmSS
	}
	if s.PullInS != 0 {
		p.Starter.PullIn = s.PullInS
	}
}

// valves turns the manual's way of counting cam events into crank angles after
// the compression TDC of the cylinder: BDC at 180°, gas exchange TDC at 360°,
// BDC again at 540°.
func (e Engine) valves(p *sim.Params) {
	const bdcExhaust, tdc, bdcIntake = 180, 360, 540
	in, ex := e.Valves.Intake, e.Valves.Exhaust
	p.Intake = sim.ValveParams{
		Count: in.Count, Diameter: in.DiameterMM * milli, Lift: in.LiftMM * milli,
		Opens:  radians(tdc - in.OpensDegBTDC),
		Closes: radians(bdcIntake + in.ClosesDegABDC),
	}
	p.Exhaust = sim.ValveParams{
		Count: ex.Count, Diameter: ex.DiameterMM * milli, Lift: ex.LiftMM * milli,
		Opens:  radians(bdcExhaust - ex.OpensDegBBDC),
		Closes: radians(tdc + ex.ClosesDegATDC),
	}
}

// Air returns the air around the engine as a person on the spot finds it:
// pressure [kPa] and temperature [°C], with the faults that change them.
func (s *Scenario) Air() (kPa, celsius float64) {
	kPa, celsius = s.Conditions.AmbientKPa, s.Conditions.AmbientC
	for _, f := range s.Faults {
		switch f.Kind {
		case Altitude:
			kPa = standardPressure(f.AltitudeM) / kilo
		case Cold:
			celsius = f.AmbientC
		}
	}
	return kPa, celsius
}

func radians(deg float64) float64 { return float64(unit.Degrees(deg)) }
