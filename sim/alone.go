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
func (e *Engine) StepAlone(angle, speed, lead float64) {
	h := angle / speed
	e.speed, e.gain = speed, 0
	e.hohenberg = e.heatSpeed(speed)
	if lead >= 0 {
		e.pass(h, speed, lead/speed, false)
		return
	}
	next := e.angle + angle
	for i := range e.p.Cylinders {
		e.advance(&e.cyl[i], h, speed, next)
	}
	e.angle = around(next)
}
