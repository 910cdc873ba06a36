package reason

import "math"

// noise is how far a reading may lie from the example it belongs to, one standard
// deviation or so.
//
// Of readings on this bench it is what instruments and eyes add (half a graduation,
// friction of the needle). Of real engines it is more: cylinders of one sound engine
// read a few percent apart, strokes and speed are seldom the same for all, and figures
// are rounded. The rough figures were judged from that (common practice, no source) and
// from nothing that was measured.
type noise struct {
	tail int // half of the degrees of freedom plus one of the t distribution; 2 is very heavy

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
}

func noiseOf(rough bool) noise {
	if rough {
		return noise{
			tail: 2, dry: 0.035, first: 0.06, wet: 0.05, abs: 0.2, leak: 0.04, leakShare: 0.2, hump: 0.08, idle: 0.12, snap: 0.12,
			lash: 0.06, repeat: 0.03, wrongBore: 0.15, wrongEar: 0.08,
			level: 0.06, gain: 0.1, f: 0.1, loss: 0.06, late: 6, vacuum: 0.08, speed: 0.15, volts: 0.8, second: 0.04,
		}
	}
	return noise{
		tail: 3, dry: 0.006, first: 0.015, wet: 0.012, abs: 0.07, leak: 0.008, leakShare: 0.04, hump: 0.02, idle: 0.03, snap: 0.03,
		lash: 0.03, repeat: 0.008, wrongBore: 0.02, wrongEar: 0.02,
		level: 0.03, gain: 0.02, f: 0.02, loss: 0.01, late: 2, vacuum: 0.02, speed: 0.08, volts: 0.3, second: 0.015,
	}
}

// A heap multiplies kernels of the t distribution with ν degrees of freedom, of which
// tail is (ν+1)/2:
//
//	density = Cᵏ · q^-tail / √s    q = Π(1 + z²/ν)    s = Π variance
//
// so that no logarithm is taken per reading.
type heap struct {
	q, s, p float64
	k       int
}

func emptyHeap() heap { return heap{q: 1, s: 1, p: 1} }

// far bounds how improbable one reading can make an example (z² of 150): a dial read
// wrong is always possible.
const far = 150

// add takes in a reading that lies off its example.
func (h *heap) add(off, variance, freedom float64) {
	z := off * off / variance
	if !(z < far) { // also a number that is none
		z = far
	}
	h.q *= 1 + z/freedom
	h.s *= variance
	h.k++
}

// factor takes in a plain probability.
func (h *heap) factor(p float64) { h.p *= p }

// shape is the t distribution of one inference.
type shape struct {
	tail    int
	freedom float64 // ν
	logC    float64 // logarithm of Γ((ν+1)/2)/(Γ(ν/2)·√(νπ))
}

// shapeOf returns the distribution with tail·2 - 1 degrees of freedom, for the two
// tails in use. The constants are 2/(π√3) and 8/(3π√5).
func shapeOf(tail int) shape {
	if tail == 2 {
		return shape{2, 3, -1.0008888496235093}
	}
	return shape{3, 5, -0.9686195890547245}
}

// value returns the density of a heap without Cᵏ.
func (t shape) value(h heap) float64 {
	v := 1 / (h.q * h.q)
	if t.tail == 3 {
		v /= h.q
	}
	return h.p * v / math.Sqrt(h.s)
}
