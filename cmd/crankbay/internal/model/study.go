//go:build !js

package model

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/unit"
)

// A condition is one state of the reference engine's first cylinder.
type condition struct {
	key    string // of its name in the texts
	change func(*sim.Params)
}

// Faults of the plots: areas are effective, Cd·A.
const (
	burntArea  = 2.5 * mm2 // past the exhaust seat
	wornArea   = 1.5 * mm2 // past the rings, with their film
	gasketArea = 4.0 * mm2 // to the neighbour
)

var (
	sound  = condition{"sound", func(*sim.Params) {}}
	burnt  = condition{"burnt", func(p *sim.Params) { p.Cylinder[0].ExhaustSeatArea = burntArea }}
	worn   = condition{"worn", func(p *sim.Params) { p.Cylinder[0].RingArea = wornArea }}
	gasket = condition{"gasket", func(p *sim.Params) { p.Cylinder[0].GasketTo, p.Cylinder[0].GasketArea = 2, gasketArea }}
)

func (c condition) params() sim.Params {
	p := sim.Reference()
	c.change(&p)
	return p
}

// A curve is readings over one quantity under one condition.
type curve struct {
	condition
	at       []float64
	readings []reading
}

// sweep tests a condition at every value.
func sweep(c condition, values []float64, how func(p *sim.Params, v float64) test) curve {
	out := curve{condition: c, at: values}
	for _, v := range values {
		p := c.params()
		t := how(&p, v)
		out.readings = append(out.readings, run(p, t))
	}
	return out
}

// A study is everything the page shows.
type study struct {
	strokes  []curve // one value: the test by the book
	speed    []curve // over cranking speed [rpm]
	oil      []curve // over oil poured in [ml]
	parked   []curve // over where the crank parked [° before TDC]
	current  []point // plugs in, third cylinder weak
	humps    []hump
	altitude []height
	constant float64 // see constantGamma [%]
	thin     []thinIce
	steps    []stepRow
	bands    []band
	families []family
	solved   []solved
	worth    worth
	orifices []orifice
	tables   []tableOf
}

var (
	speeds   = []float64{100, 150, 200, 250, 300, 350}
	oils     = []float64{0, 5, 10, 15, 20, 30}
	parkings = []float64{180, 150, 120, 90, 60, 45, 30, 20}
)

// newStudy computes everything. testdata is the folder of published numbers.
func newStudy(testdata string) (study, error) {
	s := study{}
	for _, c := range []condition{sound, burnt, worn, gasket} {
		s.strokes = append(s.strokes, sweep(c, []float64{0}, func(*sim.Params, float64) test { return test{} }))
	}
	for _, c := range []condition{sound, burnt, worn} {
		s.speed = append(s.speed, sweep(c, speeds, func(_ *sim.Params, v float64) test { return test{rpm: v} }))
		s.oil = append(s.oil, sweep(c, oils, func(_ *sim.Params, v float64) test { return test{oil: v * ml} }))
	}
	s.parked = append(s.parked, sweep(sound, parkings, func(_ *sim.Params, v float64) test { return test{parked: v} }))
	s.relative()
	s.constant = constantGamma()
	s.thinIce()
	s.stepSizes()
	if err := s.published(testdata); err != nil {
		return s, err
	}
	var err error
	if s.worth, err = worthOf(testdata); err != nil {
		return s, err
	}
	return s, s.solver(testdata)
}

// weak is the cylinder with the burnt valve in the plot of the current.
const weak = 3

// relative cranks with all plugs in, no gauge, and follows the current.
func (s *study) relative() {
	p := sim.Reference()
	p.Cylinder[weak-1].ExhaustSeatArea = burntArea
	t := test{plugsIn: true}
	e := bench(p, t)
	e.Stand(standing)
	for tick := 1; tick <= 3*sim.TicksPerSecond; tick++ {
		e.Step(sim.Inputs{Starter: true})
		s.current = append(s.current, point{seconds: float64(tick) / sim.TicksPerSecond, crank: e.Angle(), current: e.Current()})
	}
	s.humps = humpsOf(p, s.current)
}

// A hump is the highest current about one cylinder's compression TDC.
type hump struct {
	cylinder int
	seconds  float64
	amps     float64
}

// windowFrom is where the plot of the current begins: the crank has settled [s].
const windowFrom = 1.5

// humpsOf finds the humps of one cycle from windowFrom on, in firing order.
func humpsOf(p sim.Params, trace []point) []hump {
	var out []hump
	from := int(windowFrom * sim.TicksPerSecond)
	for i := from; i < len(trace) && len(out) < p.Cylinders; i++ {
		for cyl := 1; cyl <= p.Cylinders; cyl++ {
			tdc := p.Cylinder[cyl-1].FiringAngle
			if passes(trace[i-1].crank, trace[i].crank, tdc) {
				out = append(out, highest(trace, i, cyl))
			}
		}
	}
	return out
}

// passes says whether the crank went over an angle from a to b [rad].
func passes(a, b, angle float64) bool {
	if b < a { // the cycle began anew
		return angle >= a || angle < b
	}
	return a <= angle && angle < b
}

// highest looks a tenth of a turn or so to both sides: current lags the load.
func highest(trace []point, at, cylinder int) hump {
	const around = sim.TicksPerSecond / 25
	best := at
	for i := max(0, at-around); i < min(len(trace), at+around); i++ {
		if trace[i].current > trace[best].current {
			best = i
		}
	}
	return hump{cylinder, trace[best].seconds, trace[best].current}
}

// A thinIce is a number without a primary figure, and what depends on it.
type thinIce struct {
	key    string // of its name in the texts
	value  float64
	digits int
	unit   string
	half   effect // when the number were half as large
	double effect // when it were twice as large
}

// An effect is what a changed number does to a test of a sound and of a worn
// cylinder by the book.
type effect struct {
	sound, worn float64 // change of the final reading [psi]
	share       float64 // change of first over final, worn [percentage points]
	rpm         float64 // change of the cranking speed, sound
}

func (s *study) thinIce() {
	r := sim.Reference()
	for _, t := range []struct {
		key    string
		value  float64
		digits int
		unit   string
		set    func(p *sim.Params, by float64)
	}{
		{"thin.film", r.Rings.DryFactor, 1, "", func(p *sim.Params, by float64) { p.Rings.DryFactor = 1 + (p.Rings.DryFactor-1)*by }},
		{"thin.ring", r.Cylinder[0].RingArea / mm2, 2, "mm²", func(p *sim.Params, by float64) {
			for i := range p.Cylinders {
				p.Cylinder[i].RingArea *= by
			}
		}},
		{"thin.lift", r.Intake.Lift / mm, 1, "mm", func(p *sim.Params, by float64) {
			p.Intake.Lift, p.Exhaust.Lift = p.Intake.Lift*by, p.Exhaust.Lift*by
		}},
		{"thin.friction", r.Crank.FrictionMEP / kPa, 0, "kPa", func(p *sim.Params, by float64) { p.Crank.FrictionMEP *= by }},
		{"thin.tip", r.Gauge.ValveOpening / kPa, 1, "kPa", func(p *sim.Params, by float64) { p.Gauge.ValveOpening *= by }},
		{"thin.hose", r.Gauge.HoseConductance, 1, "W/K", func(p *sim.Params, by float64) { p.Gauge.HoseConductance *= by }},
		{"thin.inductance", r.Starter.Inductance / 1e-3, 1, "mH", func(p *sim.Params, by float64) { p.Starter.Inductance *= by }},
		{"thin.armature", r.Starter.Inertia, 2, "kg·m²", func(p *sim.Params, by float64) { p.Starter.Inertia *= by }},
		{"thin.heat", r.Heat.Factor, 1, "", func(p *sim.Params, by float64) { p.Heat.Factor *= by }},
	} {
		row := thinIce{key: t.key, value: t.value, digits: t.digits, unit: t.unit}
		row.half, row.double = s.effect(t.set, 0.5), s.effect(t.set, 2)
		s.thin = append(s.thin, row)
	}
}

func (s *study) effect(set func(*sim.Params, float64), by float64) effect {
	changed := func(c condition) reading {
		p := c.params()
		set(&p, by)
		return run(p, test{})
	}
	was, wasWorn := s.strokes[0].readings[0], s.strokes[2].readings[0]
	now, nowWorn := changed(sound), changed(worn)
	return effect{
		sound: now.final.PSI() - was.final.PSI(), worn: nowWorn.final.PSI() - wasWorn.final.PSI(),
		share: nowWorn.share() - wasWorn.share(), rpm: now.rpm - was.rpm,
	}
}

// A stepRow is what one size of sub-step costs, against a very small one.
type stepRow struct {
	degrees     float64
	inUse       bool
	peak, gauge [2]float64 // error [%], throttle open and shut
}

// studyRPM is where the step-size study turns the crank: 24 rad/s.
const studyRPM = 24 * 30 / math.Pi

func (s *study) stepSizes() {
	at := func(step float64, shut bool) (peak, held unit.Gauge) {
		r := run(sim.Reference(), test{plugsIn: true, shut: shut, rpm: studyRPM, step: step})
		return r.peak, r.final
	}
	var limit [2][2]unit.Gauge
	for k, shut := range []bool{false, true} {
		limit[k][0], limit[k][1] = at(sim.SubStep/24, shut)
	}
	const perTick = studyRPM * 6 / sim.TicksPerSecond // [°]
	for _, times := range []float64{2, 1, 0.5, 0.25} {
		row := stepRow{degrees: min(sim.SubStep*times/degree, perTick), inUse: times == 1}
		for k, shut := range []bool{false, true} {
			peak, held := at(sim.SubStep*times, shut)
			row.peak[k] = 100 * (float64(peak/limit[k][0]) - 1)
			row.gauge[k] = 100 * (float64(held/limit[k][1]) - 1)
		}
		s.steps = append(s.steps, row)
	}
}

// constantGamma returns how much higher a sealed stroke without losses would peak
// if the ratio of specific heats stayed at 1.4, as at room temperature [%].
func constantGamma() float64 {
	p := sim.Reference()
	p.Heat.Factor = 0
	c := &p.Cylinder[0]
	c.RingArea, c.IntakeLift, c.ExhaustLift = 0, 0, 0
	e := bench(p, test{plugsIn: true})
	e.SetAngle(c.FiringAngle - math.Pi)
	peak := 0.0
	for range sim.TicksPerSecond / 2 {
		e.Step(sim.Inputs{Driven: studyRPM * math.Pi / 30})
		peak = max(peak, e.Pressure(1))
	}
	return 100 * (math.Pow(p.Compression, 1.4)/(peak/p.Ambient) - 1)
}
