package sim

import "math"

// ModelVersion changes whenever the same actions give other bits.
const ModelVersion = 4

// TicksPerSecond is the fixed rate of the simulation; 60 divides it. A tick is
// cut into sub-steps by crank angle, so their number follows from the state.
const TicksPerSecond = 1200

const dt = 1.0 / TicksPerSecond // [s]; never a parameter

// SubStep is the largest crank travel of a sub-step [rad]; an engine with a small
// plenum takes a part of it. The step-size study in study_test.go says what it costs.
const SubStep = 0.75 * math.Pi / 180

// substepsMax bounds the work of one tick: at the default step a crank at
// 3,200 rpm still gets every sub-step.
const substepsMax = 64

// PlugState says what is screwed into a plug hole.
type PlugState int

const (
	PlugIn    PlugState = iota // spark plug
	PlugOut                    // nothing
	PlugGauge                  // the gauge's hose; at most one cylinder at a time
	PlugAir                    // the leakage tester's hose; at most one cylinder at a time
)

// Inputs is what hands do while a tick passes.
type Inputs struct {
	Starter bool    // starter switch closed
	Release bool    // gauge release pressed
	Driven  float64 // crank speed that combustion in the other cylinders holds [rad/s]; 0 none
}

// The paths out of a cylinder.
const (
	pathRings = iota // past rings and piston to the crankcase
	pathIntake
	pathExhaust
	pathPlug // open plug hole, adapter seal, or the leakage tester
	pathTip
	pathGasket
	pathCoolant
	pathOutside
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
	gain     float64 // of speed in the last sub-step [rad/s]
	coolant  float64 // block, walls, oil [K]
	throttle float64 // 0 shut … 1 wide open
	fired    bool    // cylinders with plugs burn
	ahead    float64 // how far the volumes have gone before the cylinders [s]
	jammed   bool    // liquid stopped the crank

	cyl     [MaxCylinders]cylinder
	plenum  plenum
	hose    hose
	battery battery
	starter starter

	outside, crankcase side    // ambient, below the pistons
	manifold, jacket   side    // exhaust manifold, coolant
	air                side    // behind the leakage tester's restrictor
	airArea            float64 // its effective area [m²]
	exhaust            vessel  // up to a restriction; empty when there is none

	viscosityAt, viscosityNow float64 // oil: temperature [K] it was computed for, [m²/s]
	hohenberg                 float64 // heat factor · (Sp + 1.4)^0.8 of this tick

	// Accounts since New, for balances: work on the pistons, heat to walls,
	// manifold and hose [J], mass [kg] and energy [J] from outside.
	workSum, heatSum, massIn, energyIn float64
}

// sides brings the surroundings up to date with the coolant, with the exhaust
// empty and still.
func (e *Engine) sides() {
	e.crankcase = newSide(e.p.Ambient, e.coolant)
	e.jacket = e.crankcase
	e.manifold = e.crankcase
	e.exhaust.fill(e.p.Ambient, e.coolant)
	for i := range e.p.Cylinders {
		e.cyl[i].setHeld(&e.p, e.coolant)
	}
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
	c.volume, c.slope = e.gasVolume(c, c.angle)
	if len(c.open) > 0 {
		c.open[pathIntake].area1, c.open[pathExhaust].area1 = e.valveAreas(c, c.angle)
	}
}

// Step advances the engine by one tick. The order is fixed and is part of the
// model version: see the package comment.
func (e *Engine) Step(in Inputs) {
	e.starter.clock(in.Starter, e.p.Starter.PullIn)
	travel := math.Abs(e.speed) * dt / e.step
	n := int(min(max(math.Floor(travel)+1, 1), substepsMax))
	e.hohenberg = e.heatSpeed(e.speed)
	e.fired = in.Driven > 0 && e.p.FiredExhaust > 0
	h := dt / float64(n)
	start, turned := e.angle, 0.0
	for range n {
		turned += e.substep(h, in)
	}
	e.catchUp(start)
	e.turnFilm(turned)
	e.battery.step(e, dt)
	e.tick++
	e.check()
}

// substep advances everything that follows the crank by h seconds and returns
// how far the crank turned [rad].
func (e *Engine) substep(h float64, in Inputs) float64 {
	e.blockLiquid()
	middle := e.middleSpeed()
	e.pass(h, middle, float64(0.5*h), in.Release)
	e.drive(h, middle, in.Driven)
	return math.Abs(float64(middle * h))
}

// pass moves gas and pistons by h seconds, in which the crank turns at middle
// [rad/s], and the volumes to lead seconds beyond them.
func (e *Engine) pass(h, middle, lead float64, release bool) {
	next := e.angle + float64(middle*h)
	for i := range e.p.Cylinders {
		if c := &e.cyl[i]; !c.lazy {
			e.advance(c, h, middle, next)
		}
	}
	// The volumes go from the middle of one sub-step to the middle of the next: the
	// error of taking turns is then as small as one step of each can make it.
	ahead := max(0, h+lead-e.ahead)
	e.volumesStep(ahead, release)
	e.ahead += ahead - h
	e.angle = around(next)
}

// around brings a crank angle that has just passed an end of [0, 4π) back into it.
func around(a float64) float64 {
	if a >= cycle {
		return a - cycle
	}
	if a < 0 {
		return a + cycle
	}
	return a
}

// volumesStep passes gas between the volumes of fixed size and the outside.
func (e *Engine) volumesStep(h float64, release bool) {
	e.plenum.step(e, h)
	e.hose.step(e, h, release)
	e.empty(h)
}

// middleSpeed returns the crank speed in the middle of the sub-step to come
// [rad/s], as the last one changed it. A crank at rest stays for it, and one that
// may stop in it doesn't turn round in it.
func (e *Engine) middleSpeed() float64 {
	middle := e.speed + float64(0.5*e.gain)
	if middle*e.speed <= 0 {
		return 0
	}
	return middle
}

// catchUp moves the cylinders that are open to the air through the whole tick,
// in which the crank came here from the angle start [rad]. Their pressure hardly
// leaves ambient, so one step of first order will do.
func (e *Engine) catchUp(start float64) {
	moved := wrap(e.angle - start)
	for i := range e.p.Cylinders {
		if c := &e.cyl[i]; c.lazy {
			angle1 := wrap(e.angle - c.params.FiringAngle)
			e.ready(c, dt, angle1, 1)
			e.relax(c, dt, moved/dt, angle1)
			e.account(c, dt)
		}
	}
}

// advance moves one cylinder over h seconds to the crank angle next and hands
// what left it to the volumes on the other side.
func (e *Engine) advance(c *cylinder, h, omega, next float64) {
	angle1 := wrap(next - c.params.FiringAngle)
	e.ready(c, h, angle1, rosenbrock)
	e.exchange(c, h, omega, angle1)
	e.account(c, h)
}

// ready sets the areas of c for a sub-step of h seconds that ends at angle1, and
// how far the volumes behind them give way within implicit·h.
func (e *Engine) ready(c *cylinder, h, angle1, implicit float64) {
	rings := e.ringArea(c) + c.params.PistonArea
	o := &c.paths[pathRings]
	o.area0, o.area1 = rings, rings
	intake, exhaust := e.valveAreas(c, angle1)
	o = &c.paths[pathIntake]
	o.area0, o.area1 = o.area1, intake
	o = &c.paths[pathExhaust]
	o.area0, o.area1 = o.area1, exhaust
	if shut := c.shutValves(); shut != c.shut {
		c.shut = shut
		c.sort()
	}
	for _, o := range c.passing {
		if o.store != nil {
			o.give = implicit * stiffness * h / o.store.volume
		}
	}
	c.hohenberg = e.hohenberg * e.wall[wallNode(angle1)]
}

// shutValves says through which of the valves nothing can pass in this sub-step.
func (c *cylinder) shutValves() (shut [2]bool) {
	in, ex := &c.paths[pathIntake], &c.paths[pathExhaust]
	return [2]bool{in.area0 == 0 && in.area1 == 0, ex.area0 == 0 && ex.area1 == 0}
}

// sort lists the paths that can pass something.
func (c *cylinder) sort() {
	c.passing = c.room[:0]
	for k := range c.open {
		o := &c.open[k]
		if k == pathIntake && c.shut[0] || k == pathExhaust && c.shut[1] {
			c.flow[o.path] = 0
			continue
		}
		c.passing = append(c.passing, o)
	}
}

func wallNode(angle float64) int {
	if angle < 0 {
		angle += turn
	}
	return min(int(larger(angle, 0)*volumeScale), volumeNodes)
}

// account hands what left c over h seconds to the volumes on the other side, and
// brings what other cylinders see of those up to date.
func (e *Engine) account(c *cylinder, h float64) {
	perSecond := 1 / h
	for _, o := range c.passing {
		c.flow[o.path] = -o.mass * perSecond
		if o.store == nil {
			e.massIn += o.mass
			e.energyIn += o.energy
			continue
		}
		if o.mass == 0 {
			continue
		}
		o.store.mass -= o.mass
		o.store.energy -= o.energy
		if e.fired && o.path == pathExhaust && o.mass < 0 && c.plug == PlugIn {
			e.burn(o)
		}
		*o.far = o.store.side()
	}
	if c.shared {
		c.seen = c.side()
	}
}

// burn gives what a fired cylinder has pushed into the exhaust the temperature
// that combustion leaves it with.
func (e *Engine) burn(o *opening) {
	heat := o.energy - float64(o.mass*enthalpy(e.p.FiredExhaust))
	if heat > 0 {
		o.store.energy += heat
		e.heatSum -= heat
	}
}

// empty lets the exhaust manifold blow down through its restriction.
func (e *Engine) empty(h float64) {
	if e.p.ExhaustOutlet == 0 {
		return
	}
	s := surround{far: &e.outside, area: e.p.ExhaustOutlet}
	mass, energy, _ := e.exhaust.exchange(&e.manifold, &s, h)
	e.massIn += mass
	e.energyIn += energy
	e.manifold = e.exhaust.side()
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
