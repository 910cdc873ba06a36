package sim

import (
	"errors"
	"fmt"
	"math"
)

// A field is one number with its range, ends included; NaN is outside every range.
type field struct {
	name   string
	unit   string
	value  float64
	lo, hi float64
}

// check returns an error unless the value is inside [lo, hi].
func (f field) check() error {
	if f.value >= f.lo && f.value <= f.hi {
		return nil
	}
	return fmt.Errorf("%s = %g %s, want from %g to %g", f.name, f.value, f.unit, f.lo, f.hi)
}

// Validate reports every parameter outside its documented range, not just the
// first, so that whoever writes a scenario can fix the file in one pass.
func (p *Params) Validate() error {
	if p.Cylinders < 1 || p.Cylinders > MaxCylinders {
		return fmt.Errorf("Cylinders = %d, want from 1 to %d", p.Cylinders, MaxCylinders)
	}
	fields := p.fields()
	for i := range p.Cylinders {
		fields = append(fields, p.Cylinder[i].fields(i+1)...)
	}
	var errs []error
	for _, f := range fields {
		errs = append(errs, f.check())
	}
	errs = append(errs, p.relations()...)
	return errors.Join(errs...)
}

// relations are the ranges that join two numbers.
func (p *Params) relations() (errs []error) {
	if !(p.Rod > float64(p.Stroke/2)+math.Abs(p.PinOffset)) {
		errs = append(errs, fmt.Errorf("Rod = %g m, want more than half the stroke and the pin offset", p.Rod))
	}
	clearance := p.Stroke * p.Bore * p.Bore * math.Pi / 4 / (p.Compression - 1)
	for i := range p.Cylinders {
		c := &p.Cylinder[i]
		if !(c.Deposit < clearance/2) {
			errs = append(errs, fmt.Errorf("Cylinder[%d].Deposit = %g m³, want less than half the clearance", i+1, c.Deposit))
		}
		if c.GasketTo < 0 || c.GasketTo > p.Cylinders || c.GasketTo == i+1 {
			errs = append(errs, fmt.Errorf("Cylinder[%d].GasketTo = %d, want another cylinder or 0", i+1, c.GasketTo))
		}
	}
	return errs
}

func (p *Params) fields() []field {
	f := []field{
		{"Bore", "m", p.Bore, 0.03, 0.2}, {"Stroke", "m", p.Stroke, 0.03, 0.2}, {"Rod", "m", p.Rod, 0.05, 0.4},
		{"PinOffset", "m", p.PinOffset, -0.005, 0.005}, {"Compression", "", p.Compression, 4, 25},
		{"PlenumVolume", "m³", p.PlenumVolume, 2e-4, 2e-2}, {"ThrottleArea", "m²", p.ThrottleArea, 1e-5, 1e-2},
		{"IdleArea", "m²", p.IdleArea, 1e-7, 1e-3}, {"PlugHoleArea", "m²", p.PlugHoleArea, 1e-5, 1e-3},
		{"ExhaustVolume", "m³", p.ExhaustVolume, 2e-4, 5e-2}, {"ExhaustOutlet", "m²", p.ExhaustOutlet, 0, 1e-2},
		{"FiredExhaust", "K", p.FiredExhaust, 0, 1500}, {"Recess", "m", p.Recess, 0, 0.02}, {"Release.Lift", "m", p.Release.Lift, 0, 0.005},
		{"Release.From", "rad", p.Release.From, -turn, turn}, {"Release.To", "rad", p.Release.To, -turn, turn},
		{"Release.Below", "rad/s", p.Release.Below, 0, 500}, {"Ambient", "Pa", p.Ambient, 4e4, 1.2e5},
		{"AmbientTemperature", "K", p.AmbientTemperature, 230, 330}, {"CoolantTemperature", "K", p.CoolantTemperature, 230, 400},
		{"Heat.Factor", "", p.Heat.Factor, 0, 10}, {"Heat.Manifold", "W/K", p.Heat.Manifold, 0, 50},
	}
	f = append(f, p.Intake.fields("Intake")...)
	f = append(f, p.Exhaust.fields("Exhaust")...)
	f = append(f, p.Rings.fields()...)
	f = append(f, p.electricFields()...)
	return append(f, p.Gauge.fields()...)
}

func (v *ValveParams) fields(name string) []field {
	return []field{
		{name + ".Count", "", float64(v.Count), 1, 3}, {name + ".Diameter", "m", v.Diameter, 0.01, 0.08},
		{name + ".Lift", "m", v.Lift, 0.003, 0.02}, {name + ".Opens", "rad", v.Opens, 0, cycle},
		{name + ".Closes", "rad", v.Closes, v.Opens + 1, v.Opens + turn},
	}
}

func (r *RingParams) fields() []field {
	return []field{
		{"Rings.DryFactor", "", r.DryFactor, 1, 10}, {"Rings.OiledFactor", "", r.OiledFactor, 0.01, 1},
		{"Rings.DrainTime", "s", r.DrainTime, 1, 1e6}, {"Rings.BuildAngle", "rad", r.BuildAngle, 1, 1e4},
		{"Rings.ScrapeAngle", "rad", r.ScrapeAngle, 1, 1e4}, {"Rings.PassTime", "s", r.PassTime, 1, 1e6},
		{"Rings.PassAngle", "rad", r.PassAngle, 1, 1e4},
	}
}

func (p *Params) electricFields() []field {
	c, b, s := &p.Crank, &p.Battery, &p.Starter
	return []field{
		{"Crank.Inertia", "kg·m²", c.Inertia, 1e-3, 5}, {"Crank.FrictionMEP", "Pa", c.FrictionMEP, 1e3, 1e6},
		{"Crank.OilGradeHot", "m²/s", c.OilGradeHot, 3e-6, 3e-5}, {"Crank.OilGradeCold", "m²/s", c.OilGradeCold, c.OilGradeHot * 1.5, 3e-4},
		{"Crank.Start", "rad", c.Start, 0, cycle},
		{"Battery.CCA", "A", b.CCA, 50, 2000}, {"Battery.Charge", "", b.Charge, 0, 1}, {"Battery.AgeFactor", "", b.AgeFactor, 0.5, 20},
		{"Battery.Capacity", "C", b.Capacity, 1e4, 1e6}, {"Battery.Cable", "Ω", b.Cable, 0, 0.2}, {"Battery.Ground", "Ω", b.Ground, 0, 0.2}, {"Battery.ChargerAmps", "A", b.ChargerAmps, 0, 100},
		{"Starter.Resistance", "Ω", s.Resistance, 1e-3, 0.1}, {"Starter.Constant", "N·m/A", s.Constant, 1e-3, 1}, {"Starter.Inductance", "H", s.Inductance, 1e-6, 1e-2},
		{"Starter.Saturation", "A", s.Saturation, 50, 1e5}, {"Starter.Ratio", "", s.Ratio, 2, 30}, {"Starter.Drag", "N·m", s.Drag, 0, 20},
		{"Starter.Windage", "N·m·s²", s.Windage, 0, 1e-2}, {"Starter.Inertia", "kg·m²", s.Inertia, 1e-3, 5}, {"Starter.PullIn", "s", s.PullIn, 0, 0.5},
	}
}

func (g *GaugeParams) fields() []field {
	return []field{
		{"Gauge.HoseVolume", "m³", g.HoseVolume, 1e-8, 1e-4}, {"Gauge.AdapterVolume", "m³", g.AdapterVolume, 0, 2e-5},
		{"Gauge.ValveArea", "m²", g.ValveArea, 1e-8, 1e-4}, {"Gauge.ValveOpening", "Pa", g.ValveOpening, 0, 5e5},
		{"Gauge.ValveLeak", "m²", g.ValveLeak, 0, 1e-5}, {"Gauge.ReleaseArea", "m²", g.ReleaseArea, 1e-8, 1e-4},
		{"Gauge.ReleaseLeak", "m²", g.ReleaseLeak, 0, 1e-5}, {"Gauge.SealLeak", "m²", g.SealLeak, 0, 1e-4},
		{"Gauge.HoseConductance", "W/K", g.HoseConductance, 0, 10},
	}
}

func (c *CylinderParams) fields(n int) []field {
	name := func(s string) string { return fmt.Sprintf("Cylinder[%d].%s", n, s) }
	return []field{
		{name("Bank"), "", float64(c.Bank), 0, 1}, {name("FiringAngle"), "rad", c.FiringAngle, 0, cycle},
		{name("RingArea"), "m²", c.RingArea, 0, 1e-4}, {name("IntakeSeatArea"), "m²", c.IntakeSeatArea, 0, 5e-4},
		{name("ExhaustSeatArea"), "m²", c.ExhaustSeatArea, 0, 5e-4}, {name("IntakeLift"), "", c.IntakeLift, 0, 1},
		{name("ExhaustLift"), "", c.ExhaustLift, 0, 1}, {name("IntakeShift"), "rad", c.IntakeShift, -2, 2},
		{name("ExhaustShift"), "rad", c.ExhaustShift, -2, 2}, {name("Deposit"), "m³", c.Deposit, 0, 1e-4},
		{name("GasketArea"), "m²", c.GasketArea, 0, 5e-4}, {name("CoolantArea"), "m²", c.CoolantArea, 0, 5e-4},
		{name("OutsideArea"), "m²", c.OutsideArea, 0, 5e-4}, {name("PistonArea"), "m²", c.PistonArea, 0, 5e-4},
		{name("FlakeArea"), "m²", c.FlakeArea, 0, 5e-4}, {name("IntakeLash"), "m", c.IntakeLash, -0.002, 0.005},
		{name("ExhaustLash"), "m", c.ExhaustLash, -0.002, 0.005}, {name("Spring"), "", c.Spring, 0.02, 1},
		{name("Liquid"), "m³", c.Liquid, 0, 5e-4}, {name("Dryness"), "", c.Dryness, 0, 1},
	}
}
