package sim

// What is in here is for studies of the method: of its step, and of what it costs
// by itself. Nothing that anybody cranks may use it, because the bits follow.

// SetSubStep changes the largest crank travel of a sub-step [rad], greater than 0,
// for studies of the step size. Nothing else may: the bits follow from it.
func (e *Engine) SetSubStep(rad float64) { e.step = rad }

// StepAlone turns the crank by angle [rad], greater than 0, at a held speed [rad/s],
// greater than 0, in one sub-step, and moves only gas and pistons: no starter,
// battery or film, no division into ticks. Manifold, hose and exhaust go as far
// beyond the cylinders as the crank needs for lead [rad], half of the step to come; a
// negative one leaves them where they are.
func (e *Engine) StepAlone(angle, speed, lead float64) { e.stepAlone(angle, speed, lead, false) }

// StepSmooth is StepAlone, but a cylinder that is shut in goes by a method of fourth
// order, for which a sixth of a turn is no long way.
func (e *Engine) StepSmooth(angle, speed, lead float64) { e.stepAlone(angle, speed, lead, true) }

func (e *Engine) stepAlone(angle, speed, lead float64, smooth bool) {
	h := angle / speed
	e.speed, e.gain = speed, 0
	e.hohenberg = e.heatSpeed(speed)
	next := e.angle + angle
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		angle1 := wrap(next - c.params.FiringAngle)
		e.ready(c, h, angle1, rosenbrock)
		if smooth && c.shutIn() {
			e.shutStep(c, h, speed, angle1)
		} else {
			e.exchange(c, h, speed, angle1)
		}
		e.account(c, h)
	}
	if lead >= 0 {
		ahead := max(0, h+float64(lead/speed)-e.ahead)
		e.volumesStep(ahead, false)
		e.ahead += ahead - h
	}
	e.angle = around(next)
}

// shutIn says whether both valves are shut and whatever still passes gas leads to
// where the pressure holds still. What is open then is narrow and of fixed width.
func (c *cylinder) shutIn() bool {
	if !c.shut[0] || !c.shut[1] {
		return false
	}
	for _, o := range c.passing {
		if o.store != nil {
			return false
		}
	}
	return true
}

// shutStep moves a cylinder that is shut in by h seconds. If the pressure passes
// ambient on the way, it steps there and then on: the flow law has a root there,
// across which no method keeps its order.
func (e *Engine) shutStep(c *cylinder, h, omega, angle1 float64) {
	start, angle0, slope0 := c.vessel, c.angle, c.slope
	heat, work := e.heatSum, e.workSum
	c.clearAccounts()
	over0 := e.smooth(c, h, omega, angle0, angle1) - e.crankcase.pressure
	over1 := c.pressure - e.crankcase.pressure
	if over0*over1 >= 0 || len(c.passing) == 0 {
		return
	}
	part := over0 / (over0 - over1)
	middle := wrap(angle0 + float64(part*h*omega))
	c.vessel, e.heatSum, e.workSum = start, heat, work
	c.slope = slope0
	c.clearAccounts()
	e.smooth(c, float64(part*h), omega, angle0, middle)
	e.smooth(c, h-float64(part*h), omega, middle, angle1)
}

func (c *cylinder) clearAccounts() {
	for _, o := range c.passing {
		o.mass, o.energy = 0, 0
	}
}

// kutta is the classical method of fourth order: how far a stage lets the one after
// it start, and its share of the whole. Source: Kutta 1901,
// from memory.
var kutta = [4]struct{ next, share float64 }{{0.5, 1.0 / 6}, {0.5, 1.0 / 3}, {1, 1.0 / 3}, {0, 1.0 / 6}}

// smooth is exchange for a cylinder that is shut in, from angle0 to angle1: the same
// right-hand side by an explicit method. It adds to the accounts of the openings and
// returns the pressure at the start [Pa].
func (e *Engine) smooth(c *cylinder, h, omega, angle0, angle1 float64) (first float64) {
	start := c.vessel
	mass, energy := start.mass, start.energy
	c.torque = 0
	for k := range kutta {
		stage := &kutta[k]
		switch k {
		case 0:
			c.hohenberg = float64(e.hohenberg * e.wall[wallNode(angle0)])
		case 1:
			e.stand(c, wrap(angle0+float64(0.5*h*omega)))
		case 3:
			e.stand(c, angle1)
		}
		torque, loss := e.rates(c, mass, energy, 0, true)
		power, share := float64(c.pressure*c.slope*omega), float64(h*stage.share)
		inflow, gain := 0.0, -power-loss
		for _, o := range c.passing {
			carried := float64(o.flow * o.carried)
			inflow += o.flow
			gain += carried
			o.mass += float64(share * o.flow)
			o.energy += float64(share * carried)
		}
		if k == 0 {
			first = c.pressure
		}
		c.mass += float64(share * inflow)
		c.energy += float64(share * gain)
		mass = start.mass + float64(h*stage.next*inflow)
		energy = start.energy + float64(h*stage.next*gain)
		c.torque += float64(stage.share * torque)
		e.heatSum += float64(share * loss)
		e.workSum += float64(share * power)
	}
	c.pressure = c.vessel.pressure()
	return first
}

// stand puts the piston of c at a crank angle.
func (e *Engine) stand(c *cylinder, angle float64) {
	c.angle = angle
	c.volume, c.slope = e.gasVolume(c, angle)
	c.hohenberg = float64(e.hohenberg * e.wall[wallNode(angle)])
}
