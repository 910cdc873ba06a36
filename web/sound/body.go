package sound

import "math"

// A body is the engine on its rubber mounts: two modes of rocking that every
// change of the gas torque sets off. The low one is felt more than heard; the
// upper one is what a small loudspeaker still carries.
type body struct {
	rest   bool    // a torque has been seen
	torque float64 // eased towards the tick's [N·m]
	goal   float64
	mode   [2]resonator
}

// modes, set by ear: frequency [Hz], decay [1/s], share.
var modes = [2]struct{ pitch, decay, level float64 }{{62, 45, 1.6}, {155, 80, 1}}

// thumpLevel is the loudness of a torque step of fullTorque.
const thumpLevel = 1.5

// push takes the torque of a new tick. The first one sets the rest position, and
// what is no number leaves things as they were.
func (b *body) push(torque float64) {
	if math.IsNaN(torque) {
		return
	}
	torque = max(-4*fullTorque, min(torque, 4*fullTorque))
	b.goal = torque
	if !b.rest {
		b.rest, b.torque = true, torque
		for i := range b.mode {
			b.mode[i].tune(modes[i].pitch, modes[i].decay)
		}
	}
}

func (b *body) sample() float64 {
	step := smooth * (b.goal - b.torque)
	b.torque += step
	sum := 0.0
	for i := range b.mode {
		sum += modes[i].level * b.mode[i].ring(step/fullTorque)
	}
	return thumpLevel * sum
}

// A resonator is a damped oscillation, stepped once a sample.
type resonator struct{ a, b, y1, y2 float64 }

// tune sets its pitch [Hz] and the rate at which it dies away [1/s].
func (r *resonator) tune(pitch, decay float64) {
	fade := math.Exp(-decay / Rate)
	r.a, r.b = 2*fade*math.Cos(2*math.Pi*pitch/Rate), -fade*fade
}

// ring adds a push and returns the deflection, of about the size of the push.
func (r *resonator) ring(push float64) float64 {
	const still = 1e-9 // dies out for good instead of creeping on
	y := r.a*r.y1 + r.b*r.y2 + push*0.03
	if math.Abs(y) < still && math.Abs(r.y1) < still {
		y = 0
	}
	r.y2, r.y1 = r.y1, y
	return y
}
