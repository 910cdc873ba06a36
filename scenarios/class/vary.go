package class

import (
	"math"

	"crankbay/scenarios"
)

// How far a variant lies from its scenario. Our own choice (common practice, no
// source): wide enough that no two copies read alike, narrow enough that sound
// copies stay between minimum and standard.
const (
	severityLo, severityHi = 0.82, 1.22 // factor on how bad a fault is
	ringLo, ringHi         = 0.85, 1.18 // factor on the rings' leak of each cylinder
	depositMaxML           = 0.25       // in each chamber, over what the scenario has
	frictionSpread         = 0.06       // share, either way
	chargeSpread           = 0.015      // of the battery, either way
	cableSpread            = 0.15       // share, either way
	gaugeSpanPercent       = 0.6        // of each gauge, either way
	gaugeZeroPSI           = 0.5        // of each gauge, either way
)

// grades names the numbers of faults that say how bad one is, and whether a factor
// or a share of what is left does it. The others say what it is: teeth, heights,
// temperatures, viscosities, angles.
var grades = map[string]func(v, factor float64) float64{
	"area_mm2": scaled, "gap_mm": scaled, "lash_mm": scaled, "depth_mm": scaled, "width_mm": scaled, "diameter_mm": scaled,
	"volume_ml": scaled, "resistance_mohm": scaled, "drag_nm": scaled, "friction_kpa": scaled, "age_factor": scaled,
	"error_psi": scaled, "error_percent": scaled, "friction_psi": scaled, "deg_late": scaled,
	"share": halfway, "charge": halfway,
}

func scaled(v, factor float64) float64 { return v * factor }

// halfway moves a share a third as far as the factor says, so that it stays one.
func halfway(v, factor float64) float64 { return v * (1 + (factor-1)/3) }

// severity makes every fault somewhat better or worse.
func severity(s *scenarios.Scenario, c *chance) {
	for i := range s.Faults {
		f := &s.Faults[i]
		k := scenarios.KindOf(f.Kind)
		if k == nil {
			continue
		}
		factor := c.between(severityLo, severityHi)
		for _, n := range k.Numbers {
			if grade := grades[n.Name]; grade != nil && !n.Whole() && !opens(f.Kind, n.Name) {
				n.Put(f, figures(grade(n.Of(*f), factor), 3))
			}
		}
	}
}

// opens tells whether a number is a way that is left open: an area that a
// restriction leaves makes it worse when it gets smaller, and a third of the way is
// far enough, since it tells on everything.
func opens(kind, number string) bool {
	return number == "area_mm2" && (kind == scenarios.RestrictedExhaust || kind == scenarios.RestrictedIntake)
}

// engineCopy is another engine of the same build: within tolerance, no cylinder is
// like its neighbour.
func engineCopy(s *scenarios.Scenario, c *chance) {
	e := &s.Engine
	rings, deposit := e.CylinderRingMM2, e.CylinderDepositML
	e.CylinderRingMM2, e.CylinderDepositML = make([]float64, e.Cylinders), make([]float64, e.Cylinders)
	for i := range e.Cylinders {
		area, volume := e.RingMM2, 0.0
		if len(rings) == e.Cylinders {
			area = rings[i]
		}
		if len(deposit) == e.Cylinders {
			volume = deposit[i]
		}
		e.CylinderRingMM2[i] = figures(area*c.between(ringLo, ringHi), 3)
		e.CylinderDepositML[i] = figures(volume+c.between(0, depositMaxML), 2)
	}
	e.FrictionKPa = figures(e.FrictionKPa*c.between(1-frictionSpread, 1+frictionSpread), 3)
	s.Battery.Charge = min(max(figures(s.Battery.Charge+c.between(-chargeSpread, chargeSpread), 3), 0), 1)
	s.Battery.CableMOhm = figures(s.Battery.CableMOhm*c.between(1-cableSpread, 1+cableSpread), 2)
	s.Conditions.ParkedDeg = math.Floor(c.between(0, 720))
	for i := range s.Tools.Gauges {
		g := &s.Tools.Gauges[i]
		g.SpanErrorPercent = rounded(g.SpanErrorPercent+c.between(-gaugeSpanPercent, gaugeSpanPercent), 100)
		g.ZeroErrorPSI = rounded(g.ZeroErrorPSI+c.between(-gaugeZeroPSI, gaugeZeroPSI), 10)
	}
	s.Seed = c.next()
}
