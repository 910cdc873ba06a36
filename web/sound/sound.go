// Package sound turns what the engine does into samples: the whine of the
// starter, which sags at every compression, the thump with which each compressed
// charge rocks the engine, and the breath of air at the open plug holes. Nothing
// in it is played back from a recording and nothing of it flows back into the
// simulation: a weak cylinder is heard because its thump is softer and the crank
// slows less for it, a slow battery because everything is slower.
package sound

import "math"

// Rate is the number of samples per second, 20 to a tick of cranking.
const (
	Rate           = 24000
	TicksPerSecond = 1200
	PerTick        = Rate / TicksPerSecond
)

// A Tick is what one tick of cranking sounds like.
type Tick struct {
	Starter bool    // switch held
	Speed   float64 // of the crank [rad/s]
	Current float64 // of the starter [A]
	Breath  float64 // flow through all open plug holes, either way [kg/s]
	Torque  float64 // of the gas of all cylinders on the crank [N·m]
}

const (
	// ringTeeth is the number of teeth of a common ring gear; the pinion meets that
	// many in one turn of the crank (common practice, no source).
	ringTeeth = 132
	// fullCurrent and fullBreath are current and flow at which a part of the sound
	// is as loud as it gets.
	fullCurrent = 400
	fullBreath  = 0.05
	fullTorque  = 300 // [N·m]; change of the gas torque that rocks the engine hardest
	topSpeed    = 200 // [rad/s]; faster than any starter turns
	whineLevel  = 0.16
	breathLevel = 0.35
	clickLevel  = 0.5
	// smooth is the share of a tick's change that reaches the sound with each
	// sample, so that levels don't step audibly.
	smooth = 1.0 / PerTick
)

// A Voice makes samples out of ticks. The zero value is silent and ready.
type Voice struct {
	phase   float64 // of the gear mesh [turns]
	noise   uint32
	low     float64 // two poles that take the edge off the noise
	lower   float64
	whine   float64 // levels now
	breath  float64
	pitch   float64 // of the gear mesh [Hz]
	click   float64
	starter bool
	body    body
}

// Fill writes the samples of ticks in a row into out, PerTick to each, and
// returns how many it wrote; samples lie inside [-1, 1].
func (v *Voice) Fill(out []float32, ticks []Tick) int {
	n := 0
	for _, t := range ticks {
		if n+PerTick > len(out) {
			break
		}
		v.tick(out[n:n+PerTick], t)
		n += PerTick
	}
	return n
}

func (v *Voice) tick(out []float32, t Tick) {
	if t.Starter != v.starter {
		v.starter, v.click = t.Starter, clickLevel
	}
	whine, breath := 0.0, breathLevel*math.Sqrt(share(math.Abs(t.Breath), fullBreath))
	if t.Starter {
		whine = whineLevel * (0.4 + 0.6*share(t.Current, fullCurrent))
	}
	v.body.push(t.Torque)
	pitch := topSpeed * share(math.Abs(t.Speed), topSpeed) / (2 * math.Pi) * ringTeeth
	for i := range out {
		v.whine += smooth * (whine - v.whine)
		v.breath += smooth * (breath - v.breath)
		v.pitch += smooth * (pitch - v.pitch)
		out[i] = v.sample()
	}
}

func (v *Voice) sample() float32 {
	v.phase += v.pitch / Rate
	v.phase -= math.Floor(v.phase)
	// Two harmonics of the mesh: a spur gear growls rather than whistles.
	a := 2 * math.Pi * v.phase
	gear := math.Sin(a) + 0.5*math.Sin(2*a+0.7) + 0.25*math.Sin(3*a+1.9)
	v.low += 0.35 * (v.hiss() - v.low)
	v.lower += 0.35 * (v.low - v.lower)
	v.click *= 0.992
	s := v.whine*gear + v.breath*v.lower*2 + v.click*v.low + v.body.sample()
	return float32(max(-1, min(s, 1)))
}

// hiss is white noise in [-1, 1): a xorshift register of its own, so that the
// same cranking sounds the same.
func (v *Voice) hiss() float64 {
	if v.noise == 0 {
		v.noise = 0x9e3779b9
	}
	v.noise ^= v.noise << 13
	v.noise ^= v.noise >> 17
	v.noise ^= v.noise << 5
	return float64(int32(v.noise)) / (1 << 31)
}

// share returns x/full inside [0, 1]; what is no number is silent.
func share(x, full float64) float64 {
	if !(x > 0) {
		return 0
	}
	return min(x/full, 1)
}
