package sim

import "math"

// A vessel is well-mixed gas in a volume.
type vessel struct {
	mass   float64 // [kg]
	energy float64 // internal [J]
	volume float64 // [m³]
}

// fill puts the vessel at a pressure [Pa] and temperature [K].
func (v *vessel) fill(pressure, temperature float64) {
	v.mass = pressure * v.volume / (gasConstant * temperature)
	v.energy = v.mass * energy(temperature)
}

// pressure returns the gas pressure [Pa].
func (v *vessel) pressure() float64 {
	return v.mass * gasConstant * temperature(v.energy/v.mass) / v.volume
}

// side returns what an opening into the vessel sees.
func (v *vessel) side() side {
	each := v.energy / v.mass
	specific := float64(gasConstant * temperature(each))
	return side{v.mass * specific / v.volume, each + specific, 1 / math.Sqrt(specific)}
}

// flowFrom returns the flow from far into own [kg/s], the enthalpy it carries and
// its stiffness, through an opening of effective area cdA.
func flowFrom(own, far *side, cdA float64) (flow, carried, stiff float64) {
	if own.pressure < far.pressure {
		flow, stiff = orificeFlow(cdA, far.pressure, far.perRoot, own.pressure)
		return flow, far.enthalpy, stiff
	}
	flow, stiff = orificeFlow(cdA, own.pressure, own.perRoot, far.pressure)
	return -flow, own.enthalpy, stiff + flow/own.pressure
}

// exchange lets gas pass between the vessel, which looks like own, and a far side
// through cdA [m²] for h seconds, by the method of Engine.exchange, and returns
// what came in [kg], [J].
func (v *vessel) exchange(own, far *side, cdA, h float64) (mass, energy float64) {
	if cdA == 0 {
		return 0, 0
	}
	grip := rosenbrock * h * stiffness / v.volume
	flow, first, stiff := flowFrom(own, far, cdA)
	grip /= 1 + float64(grip*stiff*first)
	kept := flow - float64(stiff*flow*first*grip)
	start := *v
	v.mass += float64(h * kept)
	v.energy += float64(h * kept * first)
	ahead := v.side()
	flow, carried, _ := flowFrom(&ahead, far, cdA)
	back := float64(stiff * (float64(flow*carried) - float64(2*kept*first)) * grip)
	*v = start
	mass = float64(0.5 * h * (kept + flow - back))
	energy = float64(0.5 * h * (float64((kept-back)*first) + float64(flow*carried)))
	v.mass += mass
	v.energy += energy
	return mass, energy
}

// warm lets a wall at temperature wall [K] exchange heat with the gas, which looks
// like own, through a conductance [W/K] for h seconds and returns the heat to the
// gas [J]. The temperature difference falls exponentially, as it does at constant
// heat capacity.
func (v *vessel) warm(own *side, wall, conductance, h float64) float64 {
	t := 1 / float64(own.perRoot*own.perRoot*gasConstant)
	capacity := v.energy / t
	heat := float64(capacity * (wall - t) * (1 - decay(h*conductance/capacity)))
	v.energy += heat
	return heat
}

// A plenum is the intake manifold between the throttle plate and the valves.
type plenum struct {
	vessel
	port     side    // what the intake valves see
	throttle float64 // Cd·A past the plate and the idle passage [m²]
}

func (m *plenum) settle(e *Engine) {
	m.volume = e.p.PlenumVolume
	m.fill(e.p.Ambient, e.p.AmbientTemperature)
	m.port = m.side()
	m.throttle = e.throttleArea()
}

// step lets air in past the plate after the cylinders have drawn.
func (m *plenum) step(e *Engine, h float64) {
	mass, energy := m.exchange(&m.port, &e.outside, m.throttle, h)
	e.massIn += mass
	e.energyIn += energy
	e.heatSum -= m.warm(&m.port, e.coolant, e.p.Heat.Manifold, h)
	m.port = m.side()
}

// A hose is the gas of the gauge between its tip valve and its needle.
type hose struct {
	vessel
	cylinder int  // gauged, from 1; 0 when it hangs free
	inside   side // what the tip valve of a gauged cylinder sees
}

func (g *hose) settle(e *Engine) {
	g.volume = e.p.Gauge.HoseVolume
	g.fill(e.p.Ambient, e.p.AmbientTemperature)
	g.inside = g.side()
}

// step passes gas through the release and the hose wall, and, while the hose
// hangs free, back through the tip valve. The tip valve of a gauged cylinder is
// one of that cylinder's openings.
func (g *hose) step(e *Engine, h float64, release bool) {
	q := &e.p.Gauge
	area := q.ReleaseLeak
	if release {
		area += q.ReleaseArea
	}
	if g.cylinder == 0 {
		area += q.ValveLeak
	}
	mass, energy := g.exchange(&g.inside, &e.outside, area, h)
	e.massIn += mass
	e.energyIn += energy
	if area != 0 {
		g.inside = g.side()
	}
	e.heatSum -= g.warm(&g.inside, e.p.AmbientTemperature, q.HoseConductance, h)
	g.inside = g.side()
}
