package sim

import "math"

// A cylinder is the gas and the oil of one cylinder. Mass and internal energy
// are its state; pressure and temperature follow from them.
type cylinder struct {
	vessel // the gas
	params *CylinderParams
	film   float64 // oil film of the ring pack [-]
	excess float64 // oil beyond the normal film [-]
	dry    float64 // share of the film that turning can't rebuild [-]
	oil    float64 // on the piston [m³]
	liquid float64 // fuel or coolant on the piston [m³]
	flake  float64 // Cd·A past a flake on a seat [m²]
	plug   PlugState
	lazy   bool // open to the air: one step a tick will do
	shared bool // a neighbour leaks into it
	seen   side // what that neighbour sees

	angle     float64 // after its compression TDC [rad], in [-2π, 2π)
	slope     float64 // of the volume [m³/rad]
	clearance float64 // volume at TDC, plug or gauge in place, before oil [m³]
	hohenberg float64 // volume and speed factor of the wall loss
	torque    float64 // on the crank over the last sub-step [N·m]
	pressure  float64 // at its end [Pa]

	intake, exhaust valveGroup
	open            []opening           // its paths, in the order of their numbers
	shut            [2]bool             // whether nothing can pass the intake, the exhaust valves in this sub-step
	passing         []*opening          // the other paths
	room            [pathCount]*opening // for passing
	paths           [pathCount]opening  // room for open
	flow            [pathCount]float64  // out of the cylinder in the last sub-step [kg/s]
}

// A side is what an opening sees on the far side.
type side struct {
	pressure    float64 // [Pa]
	enthalpy    float64 // specific [J/kg]
	perRoot     float64 // 1/√(R·T) [s/m]
	temperature float64 // [K]
}

func newSide(pressure, temperature float64) side {
	return side{pressure, enthalpy(temperature), 1 / math.Sqrt(gasConstant*temperature), temperature}
}

// An opening joins a cylinder to a far side.
type opening struct {
	path         int
	area0, area1 float64      // Cd·A at the start and at the end of the sub-step [m²]
	far          *side        // what it sees
	store        *vessel      // far side that fills and empties with the flow; nil if it doesn't
	valve        *GaugeParams // the opening is a tip valve that only lets gas out
	flow         float64      // present rate into the cylinder [kg/s]
	carried      float64      // its specific enthalpy [J/kg]
	stiff        float64      // first-stage flow per pascal [kg/(s·Pa)]
	first        float64      // first-stage enthalpy [J/kg]
	give         float64      // far pressure that a joule moves, times γ·h [Pa·s/J]
	damp         float64      // 1/(1 + stiff·first·give)
	mass         float64      // moved into the cylinder: rate, then over the sub-step [kg]
	energy       float64      // moved with it [J]
	ahead        side         // of store in the second stage
	lifted       bool         // tip valve open in this sub-step
}

// rosenbrock is γ of the two-stage method below. It goes with the slope of the
// flow law that orificeFlow gives, a secant, which near equal pressures is twice
// the tangent. 1 - 1/√2 chatters with either, because a pressure difference may die
// within a sub-step; 1 + 1/√2 is three times as far from the equations as 1
// (step-size study of the problems in testdata/crosscheck).
const rosenbrock = 1.0

// stiffness is ∂p/∂U = (κ-1)/V without the V, for the implicit part only: any
// value keeps the order of the method.
const stiffness = 0.4

// exchange moves a cylinder over one sub-step of h seconds, in which the crank
// turns to angle1 at omega [rad/s].
//
// First law for the gas, mass m and internal energy U:
//
//	dm/dt = Σ ṁ              ṁ > 0 into the cylinder, by orificeFlow
//	dU/dt = Σ ṁ·h - p·dV/dt - G·(T - Twall)
//
// Wide openings near equal pressure are stiff. The method is the two-stage
// linearly implicit one that is of second order for any approximate Jacobian
// (Verwer, Spee, Blom and Hundsdorfer 1999, from memory), here with the Jacobian
// of the flows by the pressures on both sides; where nothing is open it is
// Heun's method. Every opening keeps its own account, so what leaves one volume
// arrives in the next one.
func (e *Engine) exchange(c *cylinder, h, omega, angle1 float64) {
	open := c.passing
	slope0 := c.slope
	torque0, loss0 := e.rates(c, c.mass, c.energy, h, false)
	pressure0 := c.pressure
	other0 := -float64(pressure0*slope0*omega) - loss0
	drift := float64(-rosenbrock * h * pressure0 * slope0 * omega / c.volume)
	push, grip := firstPush(open, other0, drift, rosenbrock*h*stiffness/c.volume)
	mass, energy := c.mass, c.energy+float64(h*other0)
	for _, o := range open {
		o.mass = o.oneWay(float64((o.flow - float64(o.stiff*push)) * o.damp))
		o.energy = float64(o.mass * o.first)
		mass += float64(h * o.mass)
		energy += float64(h * o.energy)
		if o.store != nil {
			o.lookAhead(h)
		}
	}
	c.angle = angle1
	c.volume, c.slope = e.gasVolume(c, angle1)
	torque1, loss1 := e.rates(c, mass, energy, h, true)
	other1 := -float64(c.pressure*c.slope*omega) - loss1
	push = secondPush(open, other1-float64(2*other0), -drift, grip)
	for _, o := range open {
		rate := (float64(o.flow*o.carried) - float64(2*o.energy) - float64(o.stiff*push*o.first)) * o.damp
		flow := o.flow - float64(2*o.mass) - float64(o.stiff*(push+float64(o.give*rate)))
		o.mass = o.oneWay(float64(h * (float64(1.5*o.mass) + float64(0.5*flow))))
		o.energy = float64(h * (float64(1.5*o.energy) + float64(0.5*rate)))
		if o.lifted {
			o.limit(max(pressure0, c.pressure))
		}
		c.mass += o.mass
		c.energy += o.energy
	}
	c.torque = 0.5 * (torque0 + torque1)
	c.energy += float64(0.5 * h * (other0 + other1))
	e.heatSum += float64(0.5 * h * (loss0 + loss1))
	e.workSum += float64(0.5 * h * omega * (float64(pressure0*slope0) + float64(c.pressure*c.slope)))
}

// relax is exchange for a cylinder that is open to the air: one linearly implicit
// step of first order, which is quasi-steady where the openings are wide.
func (e *Engine) relax(c *cylinder, h, omega, angle1 float64) {
	open := c.passing
	torque, loss := e.rates(c, c.mass, c.energy, h, false)
	other := -float64(c.pressure*c.slope*omega) - loss
	push, _ := firstPush(open, other, float64(-h*c.pressure*c.slope*omega/c.volume), h*stiffness/c.volume)
	for _, o := range open {
		o.mass = float64(h * (o.flow - float64(o.stiff*push)) * o.damp)
		o.energy = float64(o.mass * o.first)
		c.mass += o.mass
		c.energy += o.energy
	}
	c.torque = torque
	c.energy += float64(h * other)
	e.heatSum += float64(h * loss)
	e.workSum += float64(h * omega * c.pressure * c.slope)
	c.angle = angle1
	c.volume, c.slope = e.gasVolume(c, angle1)
}

// A grip is what turns power [W] and drift [Pa] into pressure in a stage.
type grip struct {
	perWatt float64 // γ·h·∂p/∂U [Pa/W]
	share   float64 // what the openings leave of it [-]
}

// firstPush solves the linear system of the first stage for how far the
// cylinder's pressure gets, γ·h·dp/dt [Pa]. other [W] is the power that isn't
// flow, drift [Pa] what the moving piston does by itself: without it a cylinder
// that follows the manifold would lag by two thirds of a sub-step.
func firstPush(open []*opening, other, drift, perWatt float64) (push float64, g grip) {
	sum, drive := 0.0, other
	for _, o := range open {
		o.damp = 1
		if o.store != nil {
			o.damp = 1 / (1 + float64(o.stiff*o.first*o.give))
		}
		sum += float64(o.stiff * o.first * o.damp)
		drive += float64(o.flow * o.first * o.damp)
	}
	g = grip{perWatt, 1 / (1 + float64(perWatt*sum))}
	return float64((float64(drive*perWatt) + drift) * g.share), g
}

// secondPush is firstPush for the second stage, with the same matrix.
func secondPush(open []*opening, other, drift float64, g grip) float64 {
	for _, o := range open {
		other += float64((float64(o.flow*o.carried) - float64(2*o.energy)) * o.damp)
	}
	return float64((float64(other*g.perWatt) + drift) * g.share)
}

// oneWay keeps a lifted tip valve from passing gas back into the cylinder.
func (o *opening) oneWay(flow float64) float64 {
	if o.lifted && flow > 0 {
		return 0
	}
	return flow
}

// limit keeps what a lifted tip valve has passed from filling the hose above
// the cylinder's highest pressure in this sub-step [Pa], which no valve can do
// and a finite step near the peak otherwise does.
func (o *opening) limit(cylinder float64) {
	v := *o.store
	before := v.pressure()
	v.mass -= o.mass
	v.energy -= o.energy
	rise, room := v.pressure()-before, cylinder-o.valve.ValveOpening-before
	switch {
	case o.mass == 0 || room <= 0:
		o.mass, o.energy = 0, 0
	case rise > room:
		o.mass *= room / rise
		o.energy *= room / rise
	}
}

// lookAhead puts the far side of the second stage where the first-stage flow
// takes it in h seconds.
func (o *opening) lookAhead(h float64) {
	o.ahead = *o.far
	if o.mass == 0 {
		return
	}
	v := *o.store
	v.mass -= float64(h * o.mass)
	v.energy -= float64(h * o.energy)
	if v.mass > 0 && v.energy > 0 {
		o.ahead = v.side()
	}
}

// rates evaluates the right-hand side at the present volume of c for a gas of
// the given mass [kg] and energy [J]: torque on the crank [N·m], heat to the
// walls [W], and the flow through every opening. The first stage also notes the
// stiffness of every opening.
func (e *Engine) rates(c *cylinder, mass, energy, h float64, second bool) (torque, loss float64) {
	each := energy / mass
	t, perRoot := thermal(each)
	specific := float64(gasConstant * t)
	pressure := float64(mass / c.volume * specific)
	own := side{pressure, each + specific, perRoot, t}
	for _, o := range c.passing {
		if second {
			far := o.far
			if o.store != nil {
				far = &o.ahead
			}
			o.flow, o.carried, _ = o.through(o.area1, &own, far)
			continue
		}
		// A valve that opens within the sub-step is as stiff as it gets.
		area := larger(o.area0, o.area1)
		o.lifted = false
		o.flow, o.carried, o.stiff = o.through(area, &own, o.far)
		o.first = o.carried
		if o.area0 < area {
			o.flow *= o.area0 / area
		}
	}
	c.pressure = pressure
	loss = e.wallLoss(c, c.volume, pressure, t)
	if most := float64(h * loss * t); most > wallShare*energy {
		share := most / energy
		loss /= 1 + float64(share*share)
	}
	loss *= t - e.coolant
	return (pressure - e.crankcase.pressure) * c.slope, loss
}

// wallShare is how much of its energy a wall may take from a gas in a sub-step by
// the plain law. In a thimble of gas that law would overshoot; in a filled cylinder
// it takes a thousandth of this.
const wallShare = 0.003

// through returns the flow into the cylinder [kg/s], the enthalpy it carries
// [J/kg] and its stiffness. A tip valve is a poppet under a spring: it opens
// fully when the cylinder is ValveOpening above the hose, and passes what that
// difference less drives.
func (o *opening) through(area float64, own, far *side) (flow, carried, stiff float64) {
	pressure := own.pressure
	if o.valve != nil {
		if driven := pressure - o.valve.ValveOpening; driven > far.pressure {
			area, pressure, o.lifted = o.valve.ValveArea, driven, true
		}
	}
	if area == 0 {
		return 0, own.enthalpy, 0
	}
	if pressure < far.pressure {
		flow, stiff = orificeFlow(area, far.pressure, far.perRoot, pressure)
		return flow, far.enthalpy, stiff
	}
	flow, stiff = orificeFlow(area, pressure, own.perRoot, far.pressure)
	return -flow, own.enthalpy, stiff + flow/pressure
}

// gasVolume returns the volume left to the gas [m³] and its slope [m³/rad] at a
// crank angle. Liquid takes room; blockLiquid stops the crank before it takes all,
// and leastGas is always left.
func (e *Engine) gasVolume(c *cylinder, angle float64) (volume, slope float64) {
	swept, slope := e.volumes.at(angle)
	left, least := swept+c.clearance-c.oil-c.liquid, float64(e.swept*leastGas)
	if left < least {
		return least, 0
	}
	return left, slope
}
