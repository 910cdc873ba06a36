package scenarios

import (
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/unit"
)

// faultKinds is the table behind FaultKinds.
var faultKinds = joined(valveFaults, pistonFaults, headFaults, airFaults, crankingFaults, toolFaults)

func joined(lists ...[]FaultKind) (all []FaultKind) {
	for _, l := range lists {
		all = append(all, l...)
	}
	return all
}

func area(lo, hi float64) FaultNumber {
	return FaultNumber{"area_mm2", "mm²", lo, hi, func(f *Fault) *float64 { return &f.AreaMM2 }, nil}
}

func share(lo float64) FaultNumber {
	return FaultNumber{"share", "", lo, 1, func(f *Fault) *float64 { return &f.Share }, nil}
}

func volume(lo, hi float64) FaultNumber {
	return FaultNumber{"volume_ml", "ml", lo, hi, func(f *Fault) *float64 { return &f.VolumeML }, nil}
}

func resistance() FaultNumber {
	return FaultNumber{"resistance_mohm", "mΩ", 0, 190, func(f *Fault) *float64 { return &f.ResistanceMOhm }, nil}
}

func charge() FaultNumber {
	return FaultNumber{"charge", "", 0, 1, func(f *Fault) *float64 { return &f.Charge }, nil}
}

func lash() FaultNumber {
	return FaultNumber{"lash_mm", "mm", -1.5, 4, func(f *Fault) *float64 { return &f.LashMM }, nil}
}

// leakMax is the largest leak a file can give [mm²]: more than an empty plug hole
// lets past makes no difference.
const leakMax = 60

func ofCylinder(name string, set func(*Fault, *sim.Params, *sim.CylinderParams), n ...FaultNumber) FaultKind {
	return FaultKind{Name: name, Place: PlaceCylinder, Numbers: n, cylinder: set}
}

func ofAny(name string, set func(*Fault, *sim.Params, *sim.CylinderParams), n ...FaultNumber) FaultKind {
	return FaultKind{Name: name, Place: PlaceCylinders, Numbers: n, cylinder: set}
}

func ofEngine(name string, set func(*Fault, *sim.Params), n ...FaultNumber) FaultKind {
	return FaultKind{Name: name, Place: PlaceEngine, Numbers: n, engine: set}
}

// leak returns a setter that adds the fault's area to a path.
func leak(at func(*sim.CylinderParams) *float64) func(*Fault, *sim.Params, *sim.CylinderParams) {
	return func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { *at(c) += float64(f.AreaMM2 * mm2) }
}

// dry returns a setter of the film that turning can't rebuild. What took the film
// away makes no difference to the gas.
func dry(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.Dryness = max(c.Dryness, f.Share) }

var valveFaults = []FaultKind{
	ofCylinder(ExhaustSeatLeak, leak(func(c *sim.CylinderParams) *float64 { return &c.ExhaustSeatArea }), area(0, leakMax)),
	ofCylinder(IntakeSeatLeak, leak(func(c *sim.CylinderParams) *float64 { return &c.IntakeSeatArea }), area(0, leakMax)),
	{
		Name: BentValve, Place: PlaceCylinder, cylinder: bend,
		Which: "valve", Choice: []string{"intake", "exhaust"}, which: func(f *Fault) *string { return &f.Valve },
		Numbers: []FaultNumber{{"gap_mm", "mm", 0, 3, func(f *Fault) *float64 { return &f.GapMM }, nil}},
	},
	ofAny(ExhaustLash, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.ExhaustLash += float64(f.LashMM * milli) }, lash()),
	ofAny(IntakeLash, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.IntakeLash += float64(f.LashMM * milli) }, lash()),
	ofAny(WeakSpring, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.Spring *= f.Share }, share(0.02)),
	ofCylinder(IntakeLift, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.IntakeLift *= f.Share }, share(0)),
	ofCylinder(ExhaustLift, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.ExhaustLift *= f.Share }, share(0)),
	{
		Name: CamTiming, Place: PlaceCams,
		cylinder: func(f *Fault, _ *sim.Params, c *sim.CylinderParams) {
			f.shift(c, cycleDeg*float64(f.TeethLate)/float64(f.WheelTeeth)) // the cam wheel turns once in 720° of crank
		},
		Numbers: []FaultNumber{
			{"teeth_late", "teeth", -6, 6, nil, func(f *Fault) *int { return &f.TeethLate }},
			{"wheel_teeth", "teeth", 16, 72, nil, func(f *Fault) *int { return &f.WheelTeeth }},
		},
	},
	{
		Name: StuckPhaser, Place: PlaceCams,
		cylinder: func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { f.shift(c, f.DegLate) },
		Numbers:  []FaultNumber{{"deg_late", "°", -60, 60, func(f *Fault) *float64 { return &f.DegLate }, nil}},
	},
	ofEngine(Interference, func(f *Fault, p *sim.Params) { p.Recess = f.RecessMM * milli },
		FaultNumber{"recess_mm", "mm", 0.1, 20, func(f *Fault) *float64 { return &f.RecessMM }, nil}),
	ofEngine(ReleaseCam, func(f *Fault, p *sim.Params) {
		p.Release = sim.ReleaseParams{
			Lift: f.LiftMM * milli, From: radians(f.FromDeg), To: radians(f.ToDeg), Below: f.BelowRPM / unit.RPM(1),
		}
	},
		FaultNumber{"lift_mm", "mm", 0, 5, func(f *Fault) *float64 { return &f.LiftMM }, nil},
		FaultNumber{"from_deg", "°", -359, 359, func(f *Fault) *float64 { return &f.FromDeg }, nil},
		FaultNumber{"to_deg", "°", -359, 359, func(f *Fault) *float64 { return &f.ToDeg }, nil},
		FaultNumber{"below_rpm", "rpm", 0, 4700, func(f *Fault) *float64 { return &f.BelowRPM }, nil}),
}

// shift turns a cam by crank degrees.
func (f *Fault) shift(c *sim.CylinderParams, deg float64) {
	late := radians(deg)
	if f.Cam != "exhaust" {
		c.IntakeShift += late
	}
	if f.Cam != "intake" {
		c.ExhaustShift += late
	}
}

// What passes a hole or a groove, as a share of its area: as for a sharp-edged
// hole (within the band of the valve coefficients of package sim). A long shallow
// groove passes rather less; the number is an upper bound.
const holeCoefficient = 0.62

const pi = 3.14159265358979323846

// bend leaves one valve off its seat by a gap: the curtain around it, in series
// with its seat's bore, as the engine takes an open valve.
func bend(f *Fault, p *sim.Params, c *sim.CylinderParams) {
	seat, d := &c.ExhaustSeatArea, p.Exhaust.Diameter
	if f.Valve == "intake" {
		seat, d = &c.IntakeSeatArea, p.Intake.Diameter
	}
	*seat += sim.SeatGap(1, d, f.GapMM*milli)
}

var pistonFaults = []FaultKind{
	ofAny(WornRings, leak(func(c *sim.CylinderParams) *float64 { return &c.RingArea }), area(0, leakMax)),
	ofCylinder(StuckRing, leak(func(c *sim.CylinderParams) *float64 { return &c.RingArea }), area(0, leakMax)),
	ofCylinder(BrokenRing, leak(func(c *sim.CylinderParams) *float64 { return &c.PistonArea }), area(0, leakMax)),
	ofCylinder(BrokenLand, leak(func(c *sim.CylinderParams) *float64 { return &c.PistonArea }), area(0, leakMax)),
	ofCylinder(ScoredBore, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) {
		c.PistonArea += float64(holeCoefficient * f.DepthMM * f.WidthMM * mm2)
	},
		FaultNumber{"depth_mm", "mm", 0, 1, func(f *Fault) *float64 { return &f.DepthMM }, nil},
		FaultNumber{"width_mm", "mm", 0, 40, func(f *Fault) *float64 { return &f.WidthMM }, nil}),
	ofCylinder(HoledPiston, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) {
		c.PistonArea += float64(holeCoefficient * pi / 4 * f.DiameterMM * f.DiameterMM * mm2)
	}, FaultNumber{"diameter_mm", "mm", 0, 25, func(f *Fault) *float64 { return &f.DiameterMM }, nil}),
	ofAny(DryBore, dry, share(0)),
	ofAny(WashedBore, dry, share(0)),
}

var headFaults = []FaultKind{
	{Name: GasketBetween, Place: PlaceNeighbours, Numbers: []FaultNumber{area(0, leakMax)}},
	ofCylinder(GasketToCoolant, leak(func(c *sim.CylinderParams) *float64 { return &c.CoolantArea }), area(0, leakMax)),
	ofCylinder(GasketToOutside, leak(func(c *sim.CylinderParams) *float64 { return &c.OutsideArea }), area(0, leakMax)),
	{
		Name: CrackedHead, Place: PlaceCylinder, Numbers: []FaultNumber{area(0, leakMax)},
		Which: "to", Choice: []string{"coolant", "outside"}, which: func(f *Fault) *string { return &f.To },
		cylinder: func(f *Fault, _ *sim.Params, c *sim.CylinderParams) {
			if f.To == "coolant" {
				c.CoolantArea += float64(f.AreaMM2 * mm2)
			} else {
				c.OutsideArea += float64(f.AreaMM2 * mm2)
			}
		},
	},
	ofAny(Carbon, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.Deposit += float64(f.VolumeML * ml) }, volume(0, 60)),
	ofCylinder(CarbonFlake, leak(func(c *sim.CylinderParams) *float64 { return &c.FlakeArea }), area(0, leakMax)),
	ofCylinder(Liquid, func(f *Fault, _ *sim.Params, c *sim.CylinderParams) { c.Liquid += float64(f.VolumeML * ml) }, volume(0, 400)),
}

var airFaults = []FaultKind{
	ofEngine(RestrictedExhaust, func(f *Fault, p *sim.Params) { p.ExhaustOutlet = f.AreaMM2 * mm2 }, area(2, 10000)),
	ofEngine(RestrictedIntake, func(f *Fault, p *sim.Params) {
		p.ThrottleArea = min(p.ThrottleArea, f.AreaMM2*mm2)
		p.IdleArea = min(p.IdleArea, f.AreaMM2*mm2)
	}, area(10, 10000)),
	ofEngine(VacuumLeak, func(f *Fault, p *sim.Params) { p.IdleArea += float64(f.AreaMM2 * mm2) }, area(0, 900)),
}

var crankingFaults = []FaultKind{
	ofEngine(WeakBattery, func(f *Fault, p *sim.Params) { p.Battery.Charge, p.Battery.AgeFactor = f.Charge, f.AgeFactor },
		charge(), FaultNumber{"age_factor", "", 0.5, 20, func(f *Fault) *float64 { return &f.AgeFactor }, nil}),
	ofEngine(DischargedBattery, func(f *Fault, p *sim.Params) { p.Battery.Charge = f.Charge }, charge()),
	ofEngine(Cold, func(f *Fault, p *sim.Params) {
		p.AmbientTemperature = float64(unit.Celsius(f.AmbientC))
		p.CoolantTemperature = p.AmbientTemperature
	}, FaultNumber{"ambient_c", "°C", -40, 15, func(f *Fault) *float64 { return &f.AmbientC }, nil}),
	ofEngine(CableResistance, func(f *Fault, p *sim.Params) { p.Battery.Cable += float64(f.ResistanceMOhm * milli) }, resistance()),
	ofEngine(GroundResistance, func(f *Fault, p *sim.Params) { p.Battery.Ground += float64(f.ResistanceMOhm * milli) }, resistance()),
	ofEngine(DraggingStarter, func(f *Fault, p *sim.Params) { p.Starter.Drag += f.DragNm },
		FaultNumber{"drag_nm", "N·m", 0, 15, func(f *Fault) *float64 { return &f.DragNm }, nil}),
	ofEngine(TightEngine, func(f *Fault, p *sim.Params) { p.Crank.FrictionMEP += float64(f.FrictionKPa * kilo) },
		FaultNumber{"friction_kpa", "kPa", 0, 700, func(f *Fault) *float64 { return &f.FrictionKPa }, nil}),
	ofEngine(ThickOil, func(f *Fault, p *sim.Params) { p.Crank.OilGradeCold, p.Crank.OilGradeHot = f.KV40*mm2, f.KV100*mm2 },
		FaultNumber{"kv40_mm2_s", "mm²/s", 10, 300, func(f *Fault) *float64 { return &f.KV40 }, nil},
		FaultNumber{"kv100_mm2_s", "mm²/s", 3, 30, func(f *Fault) *float64 { return &f.KV100 }, nil}),
	ofEngine(Altitude, func(f *Fault, p *sim.Params) { p.Ambient = standardPressure(f.AltitudeM) },
		FaultNumber{"altitude_m", "m", 0, 5000, func(f *Fault) *float64 { return &f.AltitudeM }, nil}),
}

func ofGauge(name string, set func(*Fault, *bench.GaugeTool), n FaultNumber) FaultKind {
	return FaultKind{Name: name, Place: PlaceGauge, Numbers: []FaultNumber{n}, gauge: set}
}

func ofAdapter(name string, set func(*Fault, *bench.AdapterTool), n FaultNumber) FaultKind {
	return FaultKind{Name: name, Place: PlaceAdapter, Numbers: []FaultNumber{n}, adapter: set}
}

var toolFaults = []FaultKind{
	ofGauge(TipValveLeak, func(f *Fault, g *bench.GaugeTool) { g.Plumbing.ValveLeak += float64(f.AreaMM2 * mm2) }, area(0, 9)),
	ofGauge(TipValveAway, func(f *Fault, g *bench.GaugeTool) {
		g.Plumbing.AdapterVolume += g.Plumbing.HoseVolume
		g.Plumbing.HoseVolume = f.VolumeML * ml
	}, volume(0.1, 10)),
	ofGauge(ReleaseLeak, func(f *Fault, g *bench.GaugeTool) { g.Plumbing.ReleaseLeak += float64(f.AreaMM2 * mm2) }, area(0, 9)),
	ofAdapter(MissingORing, func(f *Fault, a *bench.AdapterTool) { a.ORing, a.ThreadLeak = false, f.AreaMM2*mm2 }, area(0.01, 90)),
	ofAdapter(WrongReach, func(f *Fault, a *bench.AdapterTool) { a.ReachMM = f.ReachMM },
		FaultNumber{"reach_mm", "mm", 6, 40, func(f *Fault) *float64 { return &f.ReachMM }, nil}),
	ofGauge(ZeroError, func(f *Fault, g *bench.GaugeTool) { g.Spec.Zero += unit.PSI(f.ErrorPSI) },
		FaultNumber{"error_psi", "psi", -30, 30, func(f *Fault) *float64 { return &f.ErrorPSI }, nil}),
	ofGauge(SpanError, func(f *Fault, g *bench.GaugeTool) { g.Spec.Span += float64(f.ErrorPercent * percent) },
		FaultNumber{"error_percent", "%", -20, 20, func(f *Fault) *float64 { return &f.ErrorPercent }, nil}),
	ofGauge(StickyNeedle, func(f *Fault, g *bench.GaugeTool) { g.Spec.Friction += unit.PSI(f.FrictionPSI) },
		FaultNumber{"friction_psi", "psi", 0, 30, func(f *Fault) *float64 { return &f.FrictionPSI }, nil}),
}
