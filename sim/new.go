package sim

import "math"

// A sub-step is a part of SubStep where the plenum holds less than stepPlenum times
// one cylinder: what taking turns with it costs goes with one over its volume. It
// is never less than stepLeast of it.
const (
	stepPlenum = 1.25
	stepLeast  = 0.25
)

// New builds an engine at rest: crank parked, cylinders at ambient pressure and
// wall temperature, throttle shut, plugs in, films drained.
func New(p Params) (*Engine, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	e := &Engine{p: p, gear: newCrankGear(&p), coolant: p.CoolantTemperature}
	e.volumes = newVolumeTable(&e.gear)
	e.swept = e.gear.swept()
	e.step = SubStep * min(1, max(stepLeast, p.PlenumVolume/(stepPlenum*e.swept)))
	clearance := e.swept / (p.Compression - 1)
	e.wall = hohenbergVolume(clearance, e.volumes)
	e.headArea = 2.1 * e.gear.area // a chamber roof is about a tenth more than flat (judgement)
	e.linerPerVolume = math.Pi * p.Bore / e.gear.area
	e.outside = newSide(p.Ambient, p.AmbientTemperature)
	for i := range p.Cylinders {
		c := &e.cyl[i]
		c.params = &e.p.Cylinder[i]
		c.clearance = clearance - c.params.Deposit
		c.liquid, c.dry, c.flake = c.params.Liquid, c.params.Dryness, c.params.FlakeArea
		c.intake.lobe = newLobe(&p.Intake, c.params.IntakeLift, c.params.IntakeShift)
		c.exhaust.lobe = newLobe(&p.Exhaust, c.params.ExhaustLift, c.params.ExhaustShift)
		e.setValves(i)
	}
	e.angle = math.Mod(p.Crank.Start, cycle)
	e.battery.reset(&p)
	e.plenum.settle(e)
	e.exhaust.volume = p.ExhaustVolume
	e.sides()
	e.hose.settle(e)
	e.settleGas()
	e.wire()
	return e, nil
}

// wire lists the paths of every cylinder. It runs when something is screwed in
// or out; areas that move are set step by step.
func (e *Engine) wire() {
	for i := range e.p.Cylinders {
		c, q := &e.cyl[i], &e.p.Cylinder[i]
		intake, exhaust := e.valveAreas(c, c.angle)
		open := append(c.paths[:0],
			opening{path: pathRings, far: &e.crankcase},
			opening{path: pathIntake, area1: intake, far: &e.plenum.port, store: &e.plenum.vessel},
			opening{path: pathExhaust, area1: exhaust, far: &e.manifold})
		if e.p.ExhaustOutlet > 0 {
			open[pathExhaust].store = &e.exhaust
		}
		fixed := func(path int, area float64, far *side) {
			if area > 0 {
				open = append(open, opening{path: path, area0: area, area1: area, far: far})
			}
		}
		switch c.plug {
		case PlugOut:
			fixed(pathPlug, e.p.PlugHoleArea, &e.outside)
		case PlugGauge:
			fixed(pathPlug, e.p.Gauge.SealLeak, &e.outside)
			back := e.p.Gauge.ValveLeak
			open = append(open, opening{path: pathTip, area0: back, area1: back, far: &e.hose.inside,
				valve: &e.p.Gauge, store: &e.hose.vessel})
		case PlugAir:
			fixed(pathPlug, e.airArea, &e.air)
		}
		if q.GasketTo > 0 {
			other := &e.cyl[q.GasketTo-1]
			fixed(pathGasket, q.GasketArea, &other.seen)
			if q.GasketArea > 0 {
				open[len(open)-1].store = &other.vessel
				other.shared, other.seen = true, other.side()
			}
		}
		fixed(pathCoolant, q.CoolantArea, &e.jacket)
		fixed(pathOutside, q.OutsideArea, &e.outside)
		c.open = open
		c.sort()
		c.lazy = c.plug == PlugOut && !e.coupled(i)
	}
}

// coupled says whether gas passes between cylinder i and a neighbour.
func (e *Engine) coupled(i int) bool {
	for k := range e.p.Cylinders {
		q := &e.p.Cylinder[k]
		if q.GasketArea > 0 && q.GasketTo > 0 && (k == i || q.GasketTo == i+1) {
			return true
		}
	}
	return false
}
