package sim

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
	t, perRoot := thermal(each)
	specific := float64(gasConstant * t)
	return side{v.mass / v.volume * specific, each + specific, perRoot, t}
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

// A surround is what a vessel of fixed size exchanges gas and heat with.
type surround struct {
	far         *side
	area        float64 // Cd·A of the opening to it [m²]
	wall        float64 // temperature of the vessel's wall [K]
	conductance float64 // from there to the gas [W/K]; not stiff within a sub-step
}

// exchange moves the vessel, which looks like own, by h seconds, by the method of
// Engine.exchange, and returns what came in through the opening [kg], [J] and from
// the wall [J].
func (v *vessel) exchange(own *side, s *surround, h float64) (mass, energy, heat float64) {
	flow, first, stiff := flowFrom(own, s.far, s.area)
	grip := rosenbrock * h * stiffness / v.volume
	grip /= 1 + float64(grip*stiff*first)
	warm := float64(s.conductance * (s.wall - own.temperature))
	kept := flow - float64(stiff*(float64(flow*first)+warm)*grip)
	start := *v
	v.mass += float64(h * kept)
	v.energy += float64(h * (float64(kept*first) + warm))
	ahead := v.side()
	flow, carried, _ := flowFrom(&ahead, s.far, s.area)
	after := float64(s.conductance * (s.wall - ahead.temperature))
	gain := float64(flow*carried) - float64(2*kept*first) + after - float64(2*warm)
	back := float64(stiff * gain * grip)
	*v = start
	mass = float64(0.5 * h * (kept + flow - back))
	energy = float64(0.5 * h * (float64((kept-back)*first) + float64(flow*carried)))
	heat = float64(0.5 * h * (warm + after))
	v.mass += mass
	v.energy += energy + heat
	return mass, energy, heat
}

// warm lets a wall at temperature wall [K] exchange heat with the gas, which looks
// like own, through a conductance [W/K] for h seconds and returns the heat to the
// gas [J]. The temperature difference falls exponentially, as it does at constant
// heat capacity.
func (v *vessel) warm(own *side, wall, conductance, h float64) float64 {
	capacity := v.energy / own.temperature
	heat := float64(capacity * (wall - own.temperature) * (1 - decay(h*conductance/capacity)))
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
	s := surround{&e.outside, m.throttle, e.coolant, e.p.Heat.Manifold}
	mass, energy, heat := m.exchange(&m.port, &s, h)
	e.massIn += mass
	e.energyIn += energy
	e.heatSum -= heat
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
	if area != 0 {
		mass, energy, _ := g.exchange(&g.inside, &surround{far: &e.outside, area: area}, h)
		e.massIn += mass
		e.energyIn += energy
		g.inside = g.side()
	}
	e.heatSum -= g.warm(&g.inside, e.p.AmbientTemperature, q.HoseConductance, h)
	g.inside = g.side()
}
