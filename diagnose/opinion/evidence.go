package opinion

import (
	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/reason"
	"crankbay/sim/num"
	"crankbay/sim/unit"
)

// warmC is the coolant temperature from which an engine counts as warm [°C]: cards ask
// for 80 °C, and one cools a little while it is tested (common practice).
const warmC = 70

// evidenceOf says the readings in the words of package reason. They come from a real
// engine, written down by somebody: rough.
func evidenceOf(r intake.Readings) reason.Evidence {
	e := reason.Evidence{Rough: true, Layout: r.Engine.Layout, Banks: r.Banks(), Order: r.Engine.FiringOrder, History: r.Engine.History, TwoStroke: r.Engine.TwoStroke == intake.Yes}
	for _, c := range r.Cylinders {
		e.Cylinders = append(e.Cylinders, cylinderOf(c, r.Engine))
	}
	e.Throttle, e.Plugs = answer(r.Engine.Throttle), answer(r.Engine.Plugs)
	e.Warm, e.Strokes, e.Cooling = answer(r.Engine.Warm), answer(r.Engine.Equal), answer(r.Engine.Cooling)
	if c := r.Engine.CoolantC; e.Warm == reason.NotKnown && c != nil {
		e.Warm = reason.No
		if *c >= warmC {
			e.Warm = reason.Yes
		}
	}
	e.Speed, e.Volts = number(r.Engine.SpeedRPM), number(r.Engine.BatteryV)
	if !e.Speed.Is {
		e.Speed = mean(r, func(c intake.Cylinder) *float64 { return c.SpeedRPM })
	}
	if !e.Volts.Is {
		e.Volts = mean(r, func(c intake.Cylinder) *float64 { return c.BatteryV })
	}
	e.Vacuum, e.Ratio = number(r.Engine.Vacuum), number(r.Engine.Ratio)
	e.Standard, e.Minimum = number(r.Engine.Standard), number(r.Engine.Minimum)
	if h := r.Engine.AltitudeM; h != nil {
		e.Ambient = reason.Of(float64(Ambient(*h)))
	}
	if late := r.Engine.TimingDeg; late != nil {
		for range max(1, len(e.Banks)) {
			e.Late = append(e.Late, reason.Of(*late))
		}
	}
	return e
}

func cylinderOf(c intake.Cylinder, e intake.Engine) reason.Cylinder {
	out := reason.Cylinder{
		Dry: number(c.Dry), First: number(c.First), Wet: number(c.Wet), Repeats: c.Repeats, Second: number(c.Second), Refit: number(c.Refit),
		Leakage: number(c.Leakage), Heard: c.Heard, Hump: number(c.Hump), Idle: number(c.Idle), Snap: number(c.Snap),
		Bore: c.Bore, Dead: answer(c.Dead),
	}
	if c.LashIn != nil && e.LashInSpec != nil {
		out.LashIn = reason.Of(*c.LashIn - *e.LashInSpec)
	}
	if c.LashEx != nil && e.LashExSpec != nil {
		out.LashEx = reason.Of(*c.LashEx - *e.LashExSpec)
	}
	return out
}

func number(v *float64) reason.Number {
	if v == nil {
		return reason.Number{}
	}
	return reason.Of(*v)
}

func answer(s string) reason.Answer {
	switch s {
	case intake.Yes:
		return reason.Yes
	case intake.No:
		return reason.No
	}
	return reason.NotKnown
}

// mean of what was written for single cylinders.
func mean(r intake.Readings, of func(intake.Cylinder) *float64) reason.Number {
	sum, n := 0.0, 0
	for _, c := range r.Cylinders {
		if v := of(c); v != nil {
			sum += *v
			n++
		}
	}
	if n == 0 {
		return reason.Number{}
	}
	return reason.Of(sum / float64(n))
}

// Ambient returns the pressure of the standard atmosphere [Pa] at a height [m] of the
// troposphere:
//
//	p = 101325 · (1 - 0.0065·h/288.15)^5.25588
//
// Source: the standard atmosphere (USStandardAtmosphere1976). Trade tables differ from
// it by some percent.
func Ambient(metres float64) unit.Pressure {
	const lapse, sea, exponent = 0.0065, 288.15, 5.25588
	return diagnose.StandardAtmosphere * unit.Pressure(num.Pow(1-float64(lapse/sea*metres), exponent))
}
