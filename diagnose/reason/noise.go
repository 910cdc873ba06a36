package reason

import (
	"math"

	"crankbay/sim/num"
)

// noise is how far a reading may lie from the example it belongs to, one standard
// deviation or so.
//
// Of readings on this bench it is what instruments and eyes add (half a graduation,
// friction of the needle). Of real engines it is more: cylinders of one sound engine
// read a few percent apart, strokes and speed are seldom the same for all, and figures
// are rounded. The rough figures were judged from that (common practice, no source) and
// from nothing that was measured.
type noise struct {
	dry, first, wet      float64 // of the healthy level
	abs                  float64 // [bar], of any pressure
	leak, leakShare      float64 // share of the supply; and of the leakage itself
	hump, idle, snap     float64 // of the healthy
	lash                 float64 // [mm]
	repeat               float64 // of the reading
	wrongBore, wrongEar  float64 // how often eye or ear are mistaken
	level, gain, f, loss float64 // of a whole engine: logarithm; wet gain; first share; leakage
	late                 float64 // [degrees]
	vacuum, speed, volts float64 // of ambient; of design; [V]
	second               float64
	wander               float64 // of the healthy level, of a bad reading that is taken again; 0: it shows the cylinder
}

func noiseOf(rough bool) noise {
	if rough {
		return noise{
			dry: 0.028, first: 0.06, wet: 0.055, abs: 0.2, leak: 0.03, leakShare: 0.2, hump: 0.08, idle: 0.12, snap: 0.12,
			lash: 0.06, repeat: 0.03, wrongBore: 0.15, wrongEar: 0.03,
			level: 0.06, gain: 0.05, f: 0.1, loss: 0.02, late: 6, vacuum: 0.08, speed: 0.15, volts: 0.8, second: 0.04, wander: 0.17,
		}
	}
	return noise{
		dry: 0.006, first: 0.015, wet: 0.012, abs: 0.07, leak: 0.008, leakShare: 0.04, hump: 0.02, idle: 0.03, snap: 0.03,
		lash: 0.03, repeat: 0.008, wrongBore: 0.02, wrongEar: 0.02,
		level: 0.03, gain: 0.02, f: 0.02, loss: 0.01, late: 2, vacuum: 0.02, speed: 0.08, volts: 0.3, second: 0.015,
	}
}

// A heap multiplies kernels of the t distribution with ν = 5 degrees of freedom:
//
//	density = Cᵏ / (q³·√s)    q = Π(1 + z²/ν)    s = Π variance
//
// so that no logarithm is taken per reading. Tails like these let one reading be off
// without letting it decide; a reading that is plain wrong has a family of its own.
type heap struct {
	q, s, p float64
	k       int
}

func emptyHeap() heap { return heap{q: 1, s: 1, p: 1} }

const (
	freedom = 5.0
	logC    = -0.9686195890547242 // logarithm of Γ(3)/(Γ(2.5)·√(5π)) = 8/(3π√5)
)

// far bounds how improbable one reading can make an example (z² of 150): a dial read
// wrong is always possible.
const far = 150

// farLevel is the bound for the level of a whole engine: nobody misreads all cylinders.
const farLevel = 5000

// add takes in a reading that lies off its example.
func (h *heap) add(off, variance float64) { h.within(off, variance, far) }

// within is add with another bound.
func (h *heap) within(off, variance, bound float64) {
	h.q *= 1 + h.squared(off, variance, bound)/freedom
}

// light is within with the tails of eleven degrees of freedom: what several cylinders
// show together is not misread.
func (h *heap) light(off, variance, bound float64) {
	f := 1 + h.squared(off, variance, bound)/11
	h.q *= f * f
}

// lighter is within with the tails of twenty-three degrees of freedom.
func (h *heap) lighter(off, variance, bound float64) {
	f := 1 + h.squared(off, variance, bound)/23
	f *= f
	h.q *= f * f
}

// squared counts one more reading, takes in its variance and returns z², at most the bound.
func (h *heap) squared(off, variance, bound float64) float64 {
	z := off * off / variance
	if !(z < bound) { // also a number that is none
		z = bound
	}
	if !(variance > 0) {
		variance = 1 // nothing to go by; all explanations alike
	}
	h.s *= variance
	h.k++
	return z
}

// factor takes in a plain probability.
func (h *heap) factor(p float64) { h.p *= p }

// value returns the density of a heap without Cᵏ.
func (h heap) value() float64 { return h.p / (h.q * h.q * h.q * math.Sqrt(h.s)) }

// logOf returns the logarithm of a mean of densities of so many kernels each.
func logOf(mean float64, kernels int) float64 {
	if !(mean > 1e-300) {
		mean = 1e-300
	}
	return num.Log(mean) + float64(float64(kernels)*logC)
}
