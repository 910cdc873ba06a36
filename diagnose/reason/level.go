package reason

import "math"

// A mean is what the healthy cylinders show of one thing, with its variance; before
// any of them was measured it is what a sound engine shows.
type mean struct {
	v, variance float64
	seen        int // cylinders it rests on; 0: nobody was measured
}

// levels is at which level an engine stands by its healthy cylinders.
type levels struct {
	dry              mean // [bar]
	first            mean // share
	gain             mean // wet ÷ dry, less 1
	loss             mean // share
	hump, idle, snap mean // of the mean; ÷ dry level; ÷ dry level
	second           mean
}

// What a sound engine shows, by the library's sound engines rounded, and how much
// engines and gauges differ.
var (
	soundFirst  = mean{0.62, 0.08 * 0.08, 0}
	soundGain   = mean{0.09, 0.05 * 0.05, 0}
	soundLoss   = mean{0.06, 0.03 * 0.03, 0}
	soundIdle   = mean{0.38, 0.05 * 0.05, 0}
	soundSnap   = mean{1.0, 0.06 * 0.06, 0}
	soundHump   = mean{1, 0.1 * 0.1, 0}
	soundSecond = mean{1, 0.02 * 0.02, 0}
)

// levelsOf takes the levels of the cylinders that in does not name.
func (v *view) levelsOf(in set) levels {
	n := &v.n
	var l levels
	l.dry = v.robust(in, n.dry, func(c *look) float64 { return c.dry }, true)
	if l.dry.seen > 0 { // every one of them may be dead
		l.dry.v = max(l.dry.v, 3*psi)
	}
	over := 1 / l.dry.v // NaN without a level
	l.first = v.robust(in, n.first, func(c *look) float64 { return c.first }, false).or(soundFirst)
	l.gain = v.robust(in, n.wet, func(c *look) float64 { return float64(c.wet*over) - 1 }, false).or(widened(soundGain, n.gain))
	l.gain.v = max(l.gain.v, -0.9) // next to nothing may be nothing with oil
	l.loss = v.robust(in, n.leak, func(c *look) float64 { return c.leak }, false).or(widened(soundLoss, n.loss))
	l.hump = v.robust(in, n.hump, func(c *look) float64 { return c.hump }, false).or(soundHump)
	l.idle = v.robust(in, soundIdle.v*n.idle, func(c *look) float64 { return c.idle * over }, false).or(widened(soundIdle, 0.3*n.idle))
	l.snap = v.robust(in, n.snap, func(c *look) float64 { return c.snap * over }, false).or(widened(soundSnap, n.snap))
	l.second = v.robust(in, n.second, func(c *look) float64 { return c.second }, false).or(widened(soundSecond, n.second))
	return l
}

func widened(m mean, by float64) mean {
	m.variance += float64(by * by)
	return m
}

// or returns m, or what is thought of a sound engine when nobody was measured.
func (m mean) or(sound mean) mean {
	if m.seen > 0 {
		return m
	}
	return sound
}

// robust returns the centre of what the other cylinders show: from the median on, each
// weighs less the further off it lies (three rounds of reweighting by the t
// distribution). width is one deviation; of is it a share of the centre.
func (v *view) robust(in set, width float64, of func(*look) float64, share bool) mean {
	var list [mostCylinders]float64
	n := 0
	for i := range v.cyl {
		if x := of(&v.cyl[i]); !in.has(i) && known(x) {
			at := n
			for at > 0 && list[at-1] > x {
				list[at] = list[at-1]
				at--
			}
			list[at] = x
			n++
		}
	}
	if n == 0 {
		return mean{math.NaN(), math.NaN(), 0}
	}
	centre := (list[(n-1)/2] + list[n/2]) / 2
	weight := 0.0
	variance := width * width
	for range 3 {
		if share {
			w := max(centre, 10*psi) * width
			variance = float64(w*w) + float64(v.n.abs*v.n.abs)
		}
		sum := 0.0
		weight = 0
		for _, x := range list[:n] {
			off := x - centre
			w := 1 / (1 + float64(off*off/variance/freedom))
			sum += float64(w * x)
			weight += w
		}
		centre = sum / weight
	}
	return mean{centre, variance / weight, n}
}
