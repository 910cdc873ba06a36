package population

import (
	"math"
	"math/rand/v2"
	"sort"

	"crankbay/scenarios"
)

// A Base is a design of the catalogue.
type Base struct {
	ID     string
	Sound  *scenarios.Scenario
	Weight float64 // how often it is drawn
}

// Bases lists the designs of the catalogue that a fault in one cylinder can be seen
// on, in order of their names, each as the first scenario of it would be without its
// faults. Engines with few cylinders are drawn more often, because they are met more
// often and cost less to simulate.
func Bases() []Base {
	var all []Base
	for _, s := range designs() {
		w := 6.0
		switch {
		case s.Engine.Cylinders >= 8:
			w = 0.5
		case s.Engine.Cylinders > 4:
			w = 2
		}
		sound := *s
		sound.Faults, sound.Method = nil, nil
		sound.Card.CoolantMinC, sound.Card.CoolantMaxC = -40, 120 // taken as it stands, warm from the road
		sound.Conditions.CoolantC = 88
		sound.Conditions.Gear = "park"
		all = append(all, Base{s.Engine.ID, &sound, w})
	}
	return all
}

// designs lists a scenario of each design, a sound one where there is one.
func designs() []*scenarios.Scenario {
	by := map[string]*scenarios.Scenario{}
	var names []string
	for _, s := range scenarios.Catalogue() {
		if s.Engine.Cylinders < 3 {
			continue
		}
		old := by[s.Engine.ID]
		if old == nil {
			names = append(names, s.Engine.ID)
		}
		if old == nil || len(old.Faults) > 0 && len(s.Faults) == 0 {
			by[s.Engine.ID] = s
		}
	}
	sort.Strings(names)
	var out []*scenarios.Scenario
	for _, n := range names {
		out = append(out, by[n])
	}
	return out
}

// clone copies a scenario as far as a draw changes it.
func clone(s *scenarios.Scenario) *scenarios.Scenario {
	c := *s
	c.Faults = nil
	c.Engine.CylinderRingMM2 = nil
	c.Engine.CylinderDepositML = nil
	c.Tools.Gauges = append([]scenarios.Gauge(nil), s.Tools.Gauges...)
	c.Tools.Adapters = append([]scenarios.Adapter(nil), s.Tools.Adapters...)
	return &c
}

// dice are the random numbers of one case.
type dice struct{ *rand.Rand }

func (d dice) between(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// log draws evenly on a logarithmic scale.
func (d dice) log(lo, hi float64) float64 { return lo * math.Exp(d.Float64()*math.Log(hi/lo)) }

func (d dice) normal(sd float64) float64 { return sd * d.NormFloat64() }

func (d dice) chance(p float64) bool { return d.Float64() < p }

// around multiplies v by a lognormal number of the given width, held within three of
// them.
func (d dice) around(v, sd float64) float64 {
	return v * math.Exp(sd*max(-3, min(d.NormFloat64(), 3)))
}

// vary makes another engine of the same design: built within tolerances, worn a
// little, on another day, with another gauge and battery. Widths are assumptions.
func vary(s *scenarios.Scenario, d dice) {
	e := &s.Engine
	e.Compression *= 1 + d.normal(0.02)
	e.Valves.Intake.ClosesDegABDC += d.normal(2.5)
	e.RingMM2 = d.around(e.RingMM2, 0.2)
	e.FrictionKPa = d.around(e.FrictionKPa, 0.12)
	e.IdleMM2 = d.around(e.IdleMM2, 0.15)
	e.PlenumL = d.around(e.PlenumL, 0.1)
	for range e.Cylinders {
		e.CylinderRingMM2 = append(e.CylinderRingMM2, d.around(e.RingMM2, 0.15))
		e.CylinderDepositML = append(e.CylinderDepositML, 0.3*e.BoreMM/86*math.Abs(d.NormFloat64())*8.5/(e.Compression-1))
	}
	for c := 1; c <= e.Cylinders; c++ { // no seat is perfect
		s.Faults = append(s.Faults, scenarios.Fault{Kind: scenarios.ExhaustSeatLeak, Cylinder: c, AreaMM2: 0.015 * d.ExpFloat64()})
	}
	s.Conditions.AmbientKPa = 101.3 * (1 + d.normal(0.008))
	s.Conditions.AmbientC = d.between(8, 30)
	s.Conditions.CoolantC = d.between(78, 96)
	s.Conditions.ParkedDeg = d.between(0, 719)
	s.Battery.Charge = d.between(0.88, 1)
	s.Battery.AgeFactor = d.between(1, 1.4)
	g := &s.Tools.Gauges[0]
	g.HoseML, g.AdapterML = d.between(2.5, 7), d.between(0.7, 1.6)
	// Within 2 % of the span, as gauges of the trade are (grade B of ASME B40.100).
	g.ZeroErrorPSI, g.SpanErrorPercent, g.FrictionPSI = d.normal(0.7), d.normal(0.8), d.between(0.2, 1)
	s.Card.OilML = d.between(max(s.Card.OilMLMin, 7), max(8, min(s.Card.OilMLMax, 13)))
	s.Seed = d.Uint64()
}
