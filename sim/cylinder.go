package sim

import "math"

// A cylinder is the gas and the oil of one cylinder. Mass and internal energy
// are its state; pressure and temperature follow from them.
type cylinder struct {
	params *CylinderParams
	mass   float64 // gas [kg]
	energy float64 // gas, internal [J]
	film   float64 // oil film of the ring pack [-]
	excess float64 // oil beyond the normal film [-]
	oil    float64 // on the piston [m³]
	plug   PlugState

	angle     float64 // after its compression TDC [rad], in [-2π, 2π)
	volume    float64 // of gas [m³]
	slope     float64 // of the volume [m³/rad]
	clearance float64 // volume at TDC, plug or gauge in place, before oil [m³]
	hohenberg float64 // volume and speed factor of the wall loss
	torque    float64 // on the crank over the last sub-step [N·m]
	pressure  float64 // at its end [Pa]

	intake, exhaust         lobe
	intakeArea, exhaustArea *areaTable
	valves                  [2]float64         // Cd·A of intake and exhaust now, seats included [m²]
	flow                    [pathCount]float64 // out of the cylinder in the last sub-step [kg/s]
}

// A side is what an opening sees on the far side.
type side struct {
	pressure float64 // [Pa]
	enthalpy float64 // specific [J/kg]
	root     float64 // √(R·T) [m/s]
}

func newSide(pressure, temperature float64) side {
	return side{pressure, enthalpy(temperature), math.Sqrt(gasConstant * temperature)}
}

// An opening joins a cylinder to a far side during one sub-step.
type opening struct {
	area0, area1 float64 // Cd·A at the start and at the end [m²]
	far          *side
	flow         float64 // present rate into the cylinder [kg/s]
	carried      float64 // its specific enthalpy [J/kg]
	stiff        float64 // first-stage flow per pascal [kg/(s·Pa)]
	first        float64 // first-stage enthalpy [J/kg]
	mass         float64 // moved into the cylinder over the sub-step [kg]
	energy       float64 // moved with it [J]
}

// rosenbrock is γ of the two-stage method below. Of the two values that damp a
// stiff flow at once, 1 + 1/√2 also damps it when the Jacobian is off by a factor
// of three either way, as it is when a pressure difference dies within a sub-step;
// 1 - 1/√2 chatters there.
const rosenbrock = 1 + math.Sqrt2/2

// stiffness is ∂p/∂U = (κ-1)/V without the V, for the implicit part only: any
// value keeps the order of the method.
const stiffness = 0.4

// A stage is one evaluation of the rates of a cylinder.
type stage struct {
	dm, du float64 // of mass [kg/s] and energy [W]
	torque float64 // of gas and crankcase on the crank [N·m]
	loss   float64 // heat to the walls [W]
}

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
// of the flows by pressure alone; where nothing is open it is Heun's method.
// Every opening keeps its own account, so what leaves one volume arrives in the
// next one.
func (e *Engine) exchange(c *cylinder, open []opening, h, omega, angle1 float64) {
	one := e.rates(c, open, c.mass, c.energy, omega, false)
	grip := rosenbrock * h * stiffness / c.volume
	sumMass, sumEnthalpy := 0.0, 0.0
	for i := range open {
		sumMass += open[i].stiff
		sumEnthalpy += float64(open[i].stiff * open[i].first)
	}
	grip /= 1 + float64(grip*sumEnthalpy)
	push := one.du * grip
	for i := range open {
		o := &open[i]
		kept := 0.5 * (o.flow - float64(o.stiff*push))
		o.mass, o.energy = kept, kept*o.first
	}
	rateM := one.dm - float64(sumMass*push)
	rateU := one.du - float64(sumEnthalpy*push)

	pressure0, slope0 := c.pressure, c.slope
	c.angle = angle1
	c.volume, c.slope = e.gasVolume(c, angle1)
	two := e.rates(c, open, c.mass+float64(h*rateM), c.energy+float64(h*rateU), omega, true)
	push = (two.du - float64(2*rateU)) * grip
	for i := range open {
		o := &open[i]
		back := o.stiff * push
		o.mass = h * (o.mass + float64(0.5*(o.flow-back)))
		o.energy = h * (o.energy + float64(0.5*(float64(o.flow*o.carried)-float64(back*o.first))))
		c.mass += o.mass
		c.energy += o.energy
	}
	c.torque = 0.5 * (one.torque + two.torque)
	heat := 0.5 * h * (one.loss + two.loss)
	work := 0.5 * h * omega * (float64(pressure0*slope0) + float64(c.pressure*c.slope))
	c.energy -= work + heat
	e.heatSum += heat
	e.workSum += work
}

// rates evaluates the right-hand side at the present volume of c for a gas of
// the given mass [kg] and energy [J]. The first stage also notes the stiffness
// of every opening.
func (e *Engine) rates(c *cylinder, open []opening, mass, energy, omega float64, second bool) stage {
	t := temperature(energy / mass)
	specific := gasConstant * t
	pressure := mass * specific / c.volume
	root := math.Sqrt(specific)
	enthalpy := energy/mass + specific
	s := stage{}
	for i := range open {
		o := &open[i]
		area := o.area0
		if second {
			area = o.area1
		}
		if area == 0 {
			o.flow, o.carried = 0, enthalpy
			if !second {
				o.stiff, o.first = 0, enthalpy
			}
			continue
		}
		stiff := 0.0
		if pressure < o.far.pressure {
			o.flow, stiff = orificeFlow(area, o.far.pressure, o.far.root, pressure)
			o.carried = o.far.enthalpy
		} else {
			o.flow, stiff = orificeFlow(area, pressure, root, o.far.pressure)
			stiff += o.flow / pressure
			o.flow = -o.flow
			o.carried = enthalpy
		}
		if !second {
			o.stiff, o.first = stiff, o.carried
		}
		s.dm += o.flow
		s.du += float64(o.flow * o.carried)
	}
	s.torque = (pressure - e.crankcase.pressure) * c.slope
	s.loss = e.wallLoss(c, c.volume, pressure, t) * (t - e.coolant)
	s.du -= float64(pressure*c.slope*omega) + s.loss
	c.pressure = pressure
	return s
}

// gasVolume returns the volume left to the gas [m³] and its slope [m³/rad] at a
// crank angle. Oil takes room; a chamber that would be full of it keeps a
// thousandth of the displacement, in which the pressure then stalls the crank.
func (e *Engine) gasVolume(c *cylinder, angle float64) (volume, slope float64) {
	swept, slope := e.volumes.at(angle)
	return max(swept+c.clearance-c.oil, e.swept*1e-3), slope
}
