package sim

import (
	"math"

	"crankbay/sim/num"
)

// A starter is a permanent-magnet motor that drives the crank through a pinion
// and an overrunning clutch. Speeds are seen at the crank.
type starter struct {
	held   float64 // how long the switch has been closed [s]
	pulled bool    // pinion in mesh, contacts closed
	locked bool    // clutch carries
	speed  float64 // armature ÷ all gears [rad/s]
	amps   float64
	rise   float64 // of the current in the last sub-step [A]
}

// clock counts the switch time of a tick and lets the pinion go when it opens.
func (s *starter) clock(on bool, pullIn float64) {
	if !on {
		*s = starter{}
		return
	}
	s.held += dt
	s.pulled = s.held > pullIn
}

// constant returns torque per ampere at the pinion [N·m/A] under armature
// reaction: K/(1 + (I/Isat)²). Judgement, fitted to the printed load and lock
// points of StarterA.
func (p *StarterParams) constant(amps float64) float64 {
	x := amps / p.Saturation
	return p.Constant / (1 + float64(x*x))
}

// loss returns the torque lost in the starter at pinion speed [N·m].
func (p *StarterParams) loss(pinion float64) float64 {
	return p.Drag + float64(p.Windage*pinion*pinion)
}

// motor returns the mean torque of the starter on the crank [N·m] over h seconds at
// a speed of the armature seen at the crank [rad/s], and advances the current:
//
//	L·dI/dt = Vsource + Icharger·Rbattery - K(I)·ratio·ω - I·(Rbattery + Rcable + Rmotor)
//	T = ratio · (K(I)·I - loss)
//
// exactly for what holds still within h. An armature that runs free and overshoots
// gives a little current back.
func (e *Engine) motor(speed, h float64) float64 {
	s, q := &e.starter, &e.p.Starter
	volts, ohms := e.battery.source(e)
	charger := 0.0
	if e.battery.charger {
		charger = e.p.Battery.ChargerAmps
	}
	if !s.pulled {
		s.amps, s.rise = 0, 0
		e.battery.current = -min(charger, idleChargeAmps)
		e.battery.terminal = volts - float64(e.battery.current*ohms)
		return 0
	}
	pinion := speed * q.Ratio
	around := ohms + e.p.Battery.Cable + e.p.Battery.Ground + q.Resistance
	constant := q.constant(s.amps + float64(0.5*s.rise)) // in the middle of the sub-step
	aim := (volts + float64(charger*ohms) - float64(constant*pinion)) / around
	lags := h * around / q.Inductance
	left := decay(lags)
	away := s.amps - aim
	mean := aim + float64(away*(1-left)/lags)
	s.rise = float64(away * (left - 1))
	s.amps += s.rise
	e.battery.current = s.amps - charger
	e.battery.terminal = volts - float64(e.battery.current*ohms)
	torque := q.Ratio * (float64(constant*mean) - q.loss(pinion))
	if pinion <= 0 { // friction turns nothing round
		return max(0, torque)
	}
	return torque
}

// idleChargeAmps is all that a charger gives a battery at rest here, so that a
// full one does not show charger voltage [A] (judgement).
const idleChargeAmps = 2.0

// Friction reference: SAE 30 at 90 °C, about 12 mm²/s, and 21 rad/s (200 rpm).
const (
	frictionSpeed     = 21.0  // [rad/s]
	frictionViscosity = 12e-6 // [m²/s]
	boundaryShare     = 0.6   // of the friction at that reference (judgement)
)

// friction returns the friction torque [N·m] at a speed ≥ 0 [rad/s]:
//
//	T = mep·Vd/(4π)·( b + (1-b)·√(ν·ω / (ν0·ω0)) )
//
// a boundary part that any speed pays and a hydrodynamic part that goes with the
// root of viscosity times speed. No primary figure exists at 150–250 rpm (thin
// ice); the reference is the 1.0 bar that Barnes-Moss gives when stretched down
// to 200 rpm (Heywood1988 eq. 13.6, from memory).
func (e *Engine) friction(speed float64) float64 {
	hydro := math.Sqrt(e.viscosity() * speed / (frictionViscosity * frictionSpeed))
	mep := e.p.Crank.FrictionMEP * (boundaryShare + float64((1-boundaryShare)*hydro))
	return mep * e.swept * float64(e.p.Cylinders) / (4 * math.Pi)
}

// viscosity returns the oil's kinematic viscosity [m²/s] at the coolant's
// temperature by Walther's line through 40 °C and 100 °C:
//
//	log log(ν + 0.7) = A - B·log T        ν in mm²/s
//
// Source: ASTM D341 (from memory).
func (e *Engine) viscosity() float64 {
	if e.coolant == e.viscosityAt {
		return e.viscosityNow
	}
	w := func(nu float64) float64 { return num.Log(num.Log(float64(nu*1e6) + 0.7)) }
	cold, hot := w(e.p.Crank.OilGradeCold), w(e.p.Crank.OilGradeHot)
	t0, t1 := num.Log(313.15), num.Log(373.15)
	line := cold + float64((hot-cold)*(num.Log(e.coolant)-t0)/(t1-t0))
	e.viscosityAt = e.coolant
	e.viscosityNow = (num.Exp(num.Exp(min(line, 2.6))) - 0.7) * 1e-6
	return e.viscosityNow
}

// drive turns the crank for h seconds under gas, starter and friction. While
// the clutch carries, armature and crank are one; it lets go when the crank
// would have to drag the armature, and catches when the armature has caught up.
//
// A driven crank is held at its speed by combustion that isn't modelled.
func (e *Engine) drive(h, middle, driven float64) {
	if driven > 0 {
		e.speed, e.gain = driven, 0
		return
	}
	start := e.speed
	e.turnCrank(h, middle)
	e.gain = e.speed - start
}

// turnCrank is drive without what holds a speed.
func (e *Engine) turnCrank(h, middle float64) {
	gas := 0.0
	for i := range e.p.Cylinders {
		gas += e.cyl[i].torque
	}
	s := &e.starter
	pinion := s.speed
	if s.locked {
		pinion = middle
	}
	motor := e.motor(pinion, h)
	inertia := e.p.Crank.Inertia
	if s.pulled && !s.locked && s.speed > e.speed {
		both := inertia + e.p.Starter.Inertia
		e.speed = (float64(inertia*e.speed) + float64(e.p.Starter.Inertia*s.speed)) / both
		s.locked = true
	}
	if !s.locked {
		e.speed = coulomb(e.speed+gas*h/inertia, e.friction(math.Abs(middle))*h/inertia)
		s.speed = max(0, s.speed+motor*h/max(e.p.Starter.Inertia, 1e-3))
		return
	}
	both := inertia + e.p.Starter.Inertia
	before := e.speed
	rub := e.friction(math.Abs(middle)) * h / both
	e.speed = coulomb(before+(gas+motor)*h/both, rub)
	carried := motor - e.p.Starter.Inertia*(e.speed-before)/h
	s.speed = e.speed
	if carried < 0 && e.speed > 0 {
		s.locked = false
	}
}

// coulomb lets friction take at most loss off a speed, never turning it round.
func coulomb(speed, loss float64) float64 {
	if math.Abs(speed) <= loss {
		return 0
	}
	return speed - math.Copysign(loss, speed)
}

// blockLiquid stops the crank before a piston meets liquid that has nowhere to
// go. With the plug out, what does not fit is thrown out.
func (e *Engine) blockLiquid() {
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		if c.oil+c.liquid < c.clearance/2 {
			continue
		}
		swept, slope := e.volumes.at(c.angle)
		room := swept + c.clearance - float64(e.swept*liquidGap)
		if c.oil+c.liquid < room {
			continue
		}
		if c.plug == PlugOut {
			c.oil, c.liquid = min(c.oil, max(0, room)), 0
			e.resize(c)
			continue
		}
		if slope*e.speed < 0 {
			e.speed, e.gain, e.starter.speed, e.jammed = 0, 0, 0, true
		}
	}
}

// Shares of the displacement of one cylinder: liquidGap is where liquid counts as
// touching the head, leastGas what the gas keeps then. Less would be a thimble
// of gas that a sub-step fills many times over.
const (
	liquidGap = 12e-3
	leastGas  = 10e-3
)
