package sim

import "math"

// Tick returns how many ticks have passed since New.
func (e *Engine) Tick() int64 { return e.tick }

// Angle returns the crank angle [rad] in [0, 4π); 0 is compression TDC of the
// cylinder whose FiringAngle is 0.
func (e *Engine) Angle() float64 { return e.angle }

// CylinderAngle returns the crank angle after cyl's compression TDC [rad], in [-2π, 2π).
func (e *Engine) CylinderAngle(cyl int) float64 { return e.cyl[cyl-1].angle }

// Speed returns the crank speed [rad/s]; negative when the gas pushes it back.
func (e *Engine) Speed() float64 { return e.speed }

// AtRest says whether crank and starter stand still.
func (e *Engine) AtRest() bool { return e.speed == 0 && e.starter.held == 0 }

// Current returns the starter current [A].
func (e *Engine) Current() float64 { return e.starter.amps }

// Voltage returns the voltage at the battery posts [V].
func (e *Engine) Voltage() float64 { return e.battery.terminal }

// Charge returns the battery's state of charge [-].
func (e *Engine) Charge() float64 { return e.battery.charge }

// Pressure returns the gas pressure in cyl [Pa].
func (e *Engine) Pressure(cyl int) float64 {
	c := &e.cyl[cyl-1]
	return c.mass * gasConstant * e.Temperature(cyl) / c.volume
}

// Temperature returns the gas temperature in cyl [K].
func (e *Engine) Temperature(cyl int) float64 {
	c := &e.cyl[cyl-1]
	return temperature(c.energy / c.mass)
}

// Volume returns the gas volume of cyl [m³].
func (e *Engine) Volume(cyl int) float64 { return e.cyl[cyl-1].volume }

// PistonTravel returns 0 at TDC and 1 at BDC.
func (e *Engine) PistonTravel(cyl int) float64 {
	swept, _ := e.volumes.at(e.cyl[cyl-1].angle)
	return swept / e.swept
}

// ValveLift returns the lifts of cyl's intake and exhaust valves [m].
func (e *Engine) ValveLift(cyl int) (intake, exhaust float64) {
	c := &e.cyl[cyl-1]
	return c.intake.at(c.angle), c.exhaust.at(c.angle)
}

// LeakFlow returns the flows out of cyl in the last sub-step [kg/s]: past the
// rings, through the intake and exhaust ports, and past the gasket to its
// neighbour.
func (e *Engine) LeakFlow(cyl int) (rings, intake, exhaust, gasket float64) {
	f := &e.cyl[cyl-1].flow
	return f[pathRings], f[pathIntake], f[pathExhaust], f[pathGasket]
}

// HeadFlow returns the flows out of cyl in the last sub-step [kg/s] into the
// coolant and past gasket or head to the open air.
func (e *Engine) HeadFlow(cyl int) (coolant, outside float64) {
	f := &e.cyl[cyl-1].flow
	return f[pathCoolant], f[pathOutside]
}

// PlugFlow returns the flow out of cyl's plug hole in the last sub-step [kg/s].
func (e *Engine) PlugFlow(cyl int) float64 { return e.cyl[cyl-1].flow[pathPlug] }

// GasTorque returns the torque of cyl's gas on the crank [N·m].
func (e *Engine) GasTorque(cyl int) float64 { return e.cyl[cyl-1].torque }

// OilOnPiston returns the oil lying in cyl [m³].
func (e *Engine) OilOnPiston(cyl int) float64 { return e.cyl[cyl-1].oil }

// LiquidOnPiston returns the fuel or coolant lying in cyl [m³].
func (e *Engine) LiquidOnPiston(cyl int) float64 { return e.cyl[cyl-1].liquid }

// Film returns the oil film of cyl's rings, 0 dry … 1 normal, and what a wet
// test has put on top of it, 0 … 1.
func (e *Engine) Film(cyl int) (film, excess float64) {
	return e.cyl[cyl-1].film, e.cyl[cyl-1].excess
}

// HosePressure returns the gas pressure in the gauge [Pa].
func (e *Engine) HosePressure() float64 { return e.hose.pressure() }

// PlenumPressure returns the manifold pressure [Pa].
func (e *Engine) PlenumPressure() float64 { return e.plenum.port.pressure }

// Coolant returns the temperature of coolant, walls and oil [K].
func (e *Engine) Coolant() float64 { return e.coolant }

// Hydrolocked says whether liquid has stopped the crank at any time.
func (e *Engine) Hydrolocked() bool { return e.jammed }

// Digest folds the bits of the whole state into 64 by FNV-1a.
func (e *Engine) Digest() uint64 {
	h := digest(fnvOffset)
	h.float(float64(e.tick), e.angle, e.speed, e.gain, e.coolant, e.throttle)
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		h.float(c.mass, c.energy, c.film, c.excess, c.dry, c.oil, c.liquid, c.flake, float64(c.plug), c.torque)
	}
	h.float(e.exhaust.mass, e.exhaust.energy, e.air.pressure, e.airArea)
	h.float(e.plenum.mass, e.plenum.energy, e.hose.mass, e.hose.energy, float64(e.hose.cylinder))
	h.float(e.battery.charge, e.battery.polarisation, e.battery.terminal, e.ahead)
	h.float(e.starter.held, e.starter.speed, e.starter.amps, e.starter.rise)
	h.flag(e.starter.pulled, e.starter.locked, e.battery.charger, e.jammed)
	return uint64(h)
}

type digest uint64

const (
	fnvOffset = 14695981039346656037
	fnvPrime  = 1099511628211
)

func (h *digest) word(w uint64) {
	for range 8 {
		*h = (*h ^ digest(w&0xff)) * fnvPrime
		w >>= 8
	}
}

func (h *digest) float(values ...float64) {
	for _, v := range values {
		h.word(math.Float64bits(v))
	}
}

func (h *digest) flag(values ...bool) {
	for _, v := range values {
		w := uint64(0)
		if v {
			w = 1
		}
		h.word(w)
	}
}
