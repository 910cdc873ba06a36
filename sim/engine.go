package sim

import "math"

// ModelVersion changes whenever the same actions give other bits.
const ModelVersion = 1

// TicksPerSecond is the fixed rate of the simulation; 60 divides it. A tick is
// cut into sub-steps by crank angle, so their number follows from the state.
const TicksPerSecond = 1200

const dt = 1.0 / TicksPerSecond // [s]; never a parameter

// stepAngle is the largest crank travel of a sub-step [rad]. The step-size study
// in study_test.go says what it costs.
const stepAngle = 0.75 * math.Pi / 180

// substepsMax bounds the work of one tick: at the default step a crank at
// 3,200 rpm still gets every sub-step.
const substepsMax = 64

// PlugState says what is screwed into a plug hole.
type PlugState int

const (
	PlugIn    PlugState = iota // spark plug
	PlugOut                    // nothing
	PlugGauge                  // the gauge's hose; at most one cylinder at a time
)

// Inputs is what hands do while a tick passes.
type Inputs struct {
	Starter bool // starter switch closed
	Release bool // gauge release pressed
}

// The paths out of a cylinder, as indices.
const (
	pathRings = iota
	pathIntake
	pathExhaust
	pathPlug
	pathTip
	pathGasket
	pathCount
)

// An Engine is the whole state of one engine with battery, starter and gauge.
// It is not safe for concurrent use.
type Engine struct {
	p       Params
	gear    crankGear
	volumes *volumeTable
	wall    *[volumeNodes + 1]float64

	swept          float64 // of one cylinder [m³]
	headArea       float64 // [m²]
	linerPerVolume float64 // liner area per volume [1/m]
	step           float64 // largest crank travel of a sub-step [rad]

	tick     int64
	angle    float64 // crank [rad], in [0, 4π)
	speed    float64 // crank [rad/s]
	coolant  float64 // block, walls, oil [K]
	throttle float64 // 0 shut … 1 wide open
	jammed   bool    // liquid stopped the crank

	cyl     [MaxCylinders]cylinder
	plenum  plenum
	hose    hose
	battery battery
	starter starter

	outside, crankcase, manifold side // ambient, below the pistons, exhaust
	neighbour                    side // scratch: the far side of a gasket path

	viscosityAt, viscosityNow float64            // oil: temperature [K] it was computed for, [m²/s]
	hohenberg                 float64            // heat factor · (Sp + 1.4)^0.8 of this tick
	open                      [pathCount]opening // scratch

	// Accounts since New, for balances: work on the pistons, heat to walls,
	// manifold and hose [J], mass [kg] and energy [J] from outside.
	workSum, heatSum, massIn, energyIn float64
}

// New builds an engine at rest: crank parked, cylinders at ambient pressure and
// wall temperature, throttle shut, plugs in, films drained.
func New(p Params) (*Engine, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	e := &Engine{p: p, gear: newCrankGear(&p), step: stepAngle, coolant: p.CoolantTemperature}
	e.volumes = newVolumeTable(&e.gear)
	e.swept = e.gear.swept()
	clearance := e.swept / (p.Compression - 1)
	e.wall = hohenbergVolume(clearance, e.volumes)
	e.headArea = 2.1 * e.gear.area // a chamber roof is about a tenth more than flat (judgement)
	e.linerPerVolume = math.Pi * p.Bore / e.gear.area
	e.outside = newSide(p.Ambient, p.AmbientTemperature)
	for i := range p.Cylinders {
		c := &e.cyl[i]
		c.params = &e.p.Cylinder[i]
		c.clearance = clearance - c.params.Deposit
		c.intake = newLobe(&p.Intake, c.params.IntakeLift, c.params.IntakeShift)
		c.exhaust = newLobe(&p.Exhaust, c.params.ExhaustLift, c.params.ExhaustShift)
		c.intakeArea = e.shareTable(i, &p.Intake, true)
		c.exhaustArea = e.shareTable(i, &p.Exhaust, false)
	}
	e.angle = math.Mod(p.Crank.Start, cycle)
	e.battery.reset(&p)
	e.sides()
	e.plenum.settle(e)
	e.hose.settle(e)
	e.settleGas()
	return e, nil
}

// shareTable finds the area table of an earlier cylinder with the same lift, or
// makes one.
func (e *Engine) shareTable(i int, v *ValveParams, intake bool) *areaTable {
	for k := range i {
		other, own := &e.p.Cylinder[k], &e.p.Cylinder[i]
		if intake && other.IntakeLift == own.IntakeLift {
			return e.cyl[k].intakeArea
		}
		if !intake && other.ExhaustLift == own.ExhaustLift {
			return e.cyl[k].exhaustArea
		}
	}
	if intake {
		return newAreaTable(v, &e.cyl[i].intake)
	}
	return newAreaTable(v, &e.cyl[i].exhaust)
}

// sides brings the fixed surroundings up to date with the coolant.
func (e *Engine) sides() {
	e.crankcase = newSide(e.p.Ambient, e.coolant)
	e.manifold = newSide(e.p.Ambient+e.p.ExhaustBack, e.coolant)
}

// settleGas puts every cylinder at ambient pressure and wall temperature, as
// after any minutes of standing.
func (e *Engine) settleGas() {
	u := energy(e.coolant)
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		e.place(c)
		c.mass = e.p.Ambient * c.volume / (gasConstant * e.coolant)
		c.energy = c.mass * u
		c.pressure = e.p.Ambient
		c.torque = 0
		c.flow = [pathCount]float64{}
	}
}

// place recomputes what follows from the crank angle and the oil, and nothing else.
func (e *Engine) place(c *cylinder) {
	c.angle = wrap(e.angle - c.params.FiringAngle)
	c.valves = e.valveAreas(c, c.angle)
	c.volume, c.slope = e.gasVolume(c, c.angle)
}

// Step advances the engine by one tick. The order is fixed and is part of the
// model version: cylinders, plenum, hose, crank, electrics, check.
func (e *Engine) Step(in Inputs) {
	e.starter.clock(in.Starter, e.p.Starter.PullIn)
	travel := math.Abs(e.speed) * dt / e.step
	n := int(min(max(math.Floor(travel)+1, 1), substepsMax))
	e.hohenberg = hohenbergSpeed(e.p.Stroke, e.speed) * e.p.Heat.Factor
	h := dt / float64(n)
	turned := 0.0
	for range n {
		turned += e.substep(h, in)
	}
	e.turnFilm(turned)
	e.battery.step(e, dt)
	e.tick++
	e.check()
}

// substep advances everything that follows the crank by h seconds and returns
// how far the crank turned [rad].
func (e *Engine) substep(h float64, in Inputs) float64 {
	e.blockLiquid()
	before := e.speed
	next := e.angle + float64(before*h)
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		angle1 := wrap(next - c.params.FiringAngle)
		open := e.openings(i, angle1, h)
		c.hohenberg = e.hohenberg * e.wall[wallNode(angle1)]
		e.exchange(c, open, h, before, angle1)
		e.account(i, open, h)
	}
	e.plenum.step(e, h)
	e.hose.step(e, h, in.Release)
	if next >= cycle {
		next -= cycle
	} else if next < 0 {
		next += cycle
	}
	e.angle = next
	e.drive(h)
	return math.Abs(float64(before * h))
}

func wallNode(angle float64) int {
	if angle < 0 {
		angle += turn
	}
	return min(int(max(angle, 0)*volumeScale), volumeNodes)
}

// openings lists the paths of cylinder i for a sub-step of h seconds that ends
// at angle1.
func (e *Engine) openings(i int, angle1, h float64) []opening {
	c := &e.cyl[i]
	q := c.params
	rings := e.ringArea(c)
	valves := e.valveAreas(c, angle1)
	open := e.open[:0]
	open = append(open,
		opening{path: pathRings, area0: rings, area1: rings, far: &e.crankcase},
		opening{path: pathIntake, area0: c.valves[0], area1: valves[0], far: &e.plenum.port,
			store: &e.plenum.vessel, give: rosenbrock * h * stiffness / e.plenum.volume},
		opening{path: pathExhaust, area0: c.valves[1], area1: valves[1], far: &e.manifold})
	c.valves = valves
	switch c.plug {
	case PlugOut:
		a := e.p.PlugHoleArea
		open = append(open, opening{path: pathPlug, area0: a, area1: a, far: &e.outside})
	case PlugGauge:
		a, back := e.p.Gauge.SealLeak, e.p.Gauge.ValveLeak
		e.hose.inside = e.hose.side()
		open = append(open,
			opening{path: pathPlug, area0: a, area1: a, far: &e.outside},
			opening{path: pathTip, area0: back, area1: back, far: &e.hose.inside, valve: &e.p.Gauge,
				store: &e.hose.vessel, give: rosenbrock * h * stiffness / e.hose.volume})
	}
	if q.GasketArea > 0 && q.GasketTo > 0 {
		other := &e.cyl[q.GasketTo-1]
		e.neighbour = other.side()
		open = append(open, opening{path: pathGasket, area0: q.GasketArea, area1: q.GasketArea, far: &e.neighbour,
			store: &other.vessel, give: rosenbrock * h * stiffness / other.volume})
	}
	return open
}

// valveAreas returns Cd·A past the intake and exhaust valves of c [m²] at a crank
// angle, seats that leak included.
func (e *Engine) valveAreas(c *cylinder, angle float64) [2]float64 {
	return [2]float64{
		c.intakeArea.at(wrap(angle-c.intake.centre)) + c.params.IntakeSeatArea,
		c.exhaustArea.at(wrap(angle-c.exhaust.centre)) + c.params.ExhaustSeatArea,
	}
}

// account hands what left cylinder i to the volumes on the other side.
func (e *Engine) account(i int, open []opening, h float64) {
	c := &e.cyl[i]
	c.flow = [pathCount]float64{}
	for k := range open {
		o := &open[k]
		c.flow[o.path] = -o.mass / h
		if o.store != nil {
			o.store.mass -= o.mass
			o.store.energy -= o.energy
		} else {
			e.massIn += o.mass
			e.energyIn += o.energy
		}
	}
	if c.flow[pathIntake] != 0 {
		e.plenum.port = e.plenum.side()
	}
}

// checkMassMin is the least gas a cylinder can hold, a millionth of its filling [kg].
const checkMassMin = 1e-10

// check panics on a state no engine can be in: a bug here, not a bad input.
func (e *Engine) check() {
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		if !(c.mass > checkMassMin && c.mass < 1 && c.energy > 0 && c.energy < 1e6) {
			panic("sim: " + e.describe(i))
		}
	}
	if !(math.Abs(e.speed) < 1e4) {
		panic("sim: crank speed out of range")
	}
}
