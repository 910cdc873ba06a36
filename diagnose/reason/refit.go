package reason

import (
	"math"

	"crankbay/diagnose/library"
)

// How probably a cylinder reads higher once the plug of the neighbour it shares a burnt
// gasket with is back in. It does where the neighbour is on its compression while this
// one's rises: where it fires 30 to 150° of crank earlier, as pairs of some V engines do.
// In an inline-four neighbours fire 180 or 540° apart and nothing changes. Common practice
// and this model; no source.
const (
	risesTimed   = 0.8
	risesUntimed = 0.06
	risesUnknown = 0.3 // nobody gave the firing order, and the engine may be such a V
	risesAnyway  = 0.03
)

// refit holds the reading with a neighbour's plug back in against the dry one. pair is the
// other cylinder of a gasket between two, -1 for any other explanation. Both ways of
// reading, as before and higher by anything up to the level of the engine, are weighed.
func (v *view) refit(h *heap, i, pair int, level float64) {
	c := &v.cyl[i]
	if !known(c.refit) || !known(c.dry) {
		return
	}
	p := risesAnyway
	if pair >= 0 {
		p = v.rises(i, pair)
	}
	sd := 2*float64(v.n.repeat*c.dry) + v.n.abs
	rise := c.refit - c.dry
	z := rise / sd
	q := 1 + float64(z*z/freedom)
	same := 1 / (q * q * q)
	higher := 0.0
	if rise > sd {
		higher = float64(2*sd) / max(level-c.dry, float64(4*sd))
	}
	h.factor(max(1e-4, float64((1-p)*same)+float64(p*higher)))
}

// rises says how probably cylinder i reads higher when the plug of the other one is in.
func (v *view) rises(i, other int) float64 {
	n := len(v.e.Order)
	if n != len(v.cyl) || n < 2 {
		if v.e.Layout == LayoutInline && len(v.cyl) <= 4 {
			return risesUntimed
		}
		return risesUnknown
	}
	at := [2]int{-1, -1}
	for k, c := range v.e.Order {
		if c == i+1 {
			at[0] = k
		}
		if c == other+1 {
			at[1] = k
		}
	}
	if at[0] < 0 || at[1] < 0 {
		return risesUnknown
	}
	earlier := math.Mod(float64(at[0]-at[1]+n), float64(n)) * 720 / float64(n)
	if earlier >= 30 && earlier <= 150 {
		return risesTimed
	}
	return risesUntimed
}

// probeRefit is whether cylinder i reads higher with the neighbour's plug in.
func probeRefit(st *state, s *sample, i int) outcome {
	p := risesAnyway
	if s.row != nil && len(s.row) > library.OfCylinder.Width() && s.in.has(i) {
		for k := range st.v.cyl {
			if k != i && s.in.has(k) {
				p = st.v.rises(i, k)
			}
		}
	}
	return chance(p)
}
