package sim

import "math"

const (
	mm  = 1e-3
	mm2 = 1e-6
	ml  = 1e-6
	deg = math.Pi / 180
)

// Reference returns a sound, warm, invented 2.0 L inline-four with twin cams and
// a good battery. Origins: geometry typical of the class; starter fitted to
// StarterA, its inductance assumed, of the order that few turns of thick wire on
// iron have; everything about films and wall heat as said beside its type.
func Reference() Params {
	p := Params{
		Cylinders: 4, Bore: 86 * mm, Stroke: 86 * mm, Rod: 145 * mm, Compression: 10,
		Intake:       ValveParams{Count: 2, Diameter: 33 * mm, Lift: 9.2 * mm, Opens: 355 * deg, Closes: 602 * deg},
		Exhaust:      ValveParams{Count: 2, Diameter: 28 * mm, Lift: 8.6 * mm, Opens: 132 * deg, Closes: 365 * deg},
		PlenumVolume: 3.5e-3, ThrottleArea: 1500 * mm2, IdleArea: 7 * mm2,
		PlugHoleArea: 85 * mm2, ExhaustVolume: 6e-3, FiredExhaust: 950,
		Rings: RingParams{
			DryFactor: 3, OiledFactor: 0.35, DrainTime: 60,
			BuildAngle: 25, ScrapeAngle: 150, PassTime: 150, PassAngle: 120,
		},
		Heat:    HeatParams{Factor: 1, Manifold: 1.5},
		Crank:   CrankParams{Inertia: 0.2, FrictionMEP: 130e3, OilGradeHot: 10.5e-6, OilGradeCold: 65e-6, Start: 100 * deg},
		Battery: BatteryParams{CCA: 600, Charge: 0.97, AgeFactor: 1, Capacity: 60 * 3600, Cable: 0.5e-3, Ground: 0.4e-3, ChargerAmps: 20},
		Starter: StarterParams{
			Resistance: 5.13e-3, Inductance: 1e-4, Constant: 0.037, Saturation: 1070, Drag: 0.07, Windage: 3.59e-5,
			Ratio: 12.2, Inertia: 0.3, PullIn: 0.04,
		},
		Gauge: GaugeParams{
			HoseVolume: 4 * ml, AdapterVolume: 1.0 * ml, ValveArea: 2 * mm2, ValveOpening: 2e3,
			ReleaseArea: 1 * mm2, HoseConductance: 4,
		},
		Ambient: 101325, AmbientTemperature: 293.15, CoolantTemperature: 358.15,
	}
	for i, tdc := range [4]float64{0, 540, 180, 360} { // firing order 1-3-4-2
		p.Cylinder[i] = SoundCylinder(tdc * deg)
	}
	return p
}

// SoundCylinder returns a healthy cylinder with its compression TDC at a crank
// angle [rad].
func SoundCylinder(firing float64) CylinderParams {
	return CylinderParams{FiringAngle: firing, RingArea: 0.3 * mm2, IntakeLift: 1, ExhaustLift: 1, Spring: 1}
}
