package reason

import (
	"math"

	"crankbay/diagnose/library"
)

// healthyRow is a healthy cylinder beside its like.
var healthyRow = func() []float64 {
	r := make([]float64, library.OfCylinder.Width())
	for _, k := range []int{library.Dry, library.Wet, library.Hump, library.Idle, library.Snap, library.Pull, library.Filler} {
		r[k] = 1
	}
	return r
}()

// idleRow is a healthy cylinder that may or may not pull, for a reason that is none of
// compression: spark, fuel.
var idleRow = func() []float64 {
	r := append([]float64(nil), healthyRow...)
	r[library.Pull] = 0.65
	return r
}()

// healthyWidth is the variance among healthy cylinders of one engine, by the library's
// healthy examples, rounded.
var healthyWidth = func() []float64 {
	r := make([]float64, library.OfCylinder.Width())
	for _, k := range []struct {
		at int
		sd float64
	}{
		{library.Dry, 0.012}, {library.First, 0.008}, {library.Wet, 0.012}, {library.Leakage, 0.025}, {library.Hump, 0.035},
		{library.Idle, 0.02}, {library.Snap, 0.012},
	} {
		r[k.at] = k.sd * k.sd
	}
	return r
}()

// missingWidth is the variance of a reading for which an example has no figure.
const missingWidth = 0.5 * 0.5

// kernels multiplies into h how well the readings of cylinder c fit an example, with the
// healthy cylinders at l. uneven widens what belongs to engines whose cylinders differ
// among themselves; one says that the dry reading is not the cylinder's own.
func (v *view) kernels(h *heap, c *look, row, width []float64, l *levels, uneven float64, one bool) {
	n, t := &v.n, v.t.freedom
	level := l.dry.v
	spread := max(0, float64(uneven*uneven)-healthyWidth[library.Dry]) // over what healthy ones differ by
	if known(c.dry) {
		obs, tries := c.dry, c.tries
		if one {
			obs, tries = c.once, 1
		}
		pred := float64(level * row[library.Dry])
		w := float64(n.dry*pred*n.dry*pred)/tries + float64(n.abs*n.abs)/tries + float64(level*level*(width[library.Dry]+spread))
		w += float64(row[library.Dry] * row[library.Dry] * l.dry.variance)
		h.add(obs-pred, w, t)
		v.again(h, c, l, one)
	}
	if known(c.first) {
		off, w := c.first-l.first.v-row[library.First], width[library.First]
		if !known(row[library.First]) {
			off, w = 0, missingWidth
		}
		rel := n.abs / max(c.once, n.abs)
		w += float64(n.first*n.first) + l.first.variance + float64(rel*rel*(1+float64(c.first*c.first))) + float64(spread/4)
		h.add(off, w, t)
	}
	if known(c.wet) {
		v.wetKernel(h, c, row, width, l, spread, one)
	}
	if known(c.leak) {
		pred := max(0, min(l.loss.v+row[library.Leakage], 1))
		w := float64(n.leak*n.leak) + float64(n.leakShare*pred*n.leakShare*pred) + width[library.Leakage] + l.loss.variance + float64(spread/4)
		h.add(c.leak-pred, w, t)
	}
	if c.ears {
		h.factor(v.heard(c, row, l))
	}
	v.pumped(h, c, row, width, l, spread)
	v.looks(h, c, row, width)
}

// again holds further readings against the first: a cylinder repeats itself, unless the
// first reading was a bad one; then the others show a healthy cylinder.
func (v *view) again(h *heap, c *look, l *levels, one bool) {
	n := &v.n
	for _, r := range c.again {
		pred := c.once
		if one {
			pred = l.dry.v
		}
		w := float64(n.repeat*pred*n.repeat*pred) + float64(n.abs*n.abs)
		if one {
			w += l.dry.variance + float64(0.02*0.02*pred*pred)
		}
		h.add(r-pred, w, v.t.freedom)
	}
	if !known(c.second) {
		return
	}
	pred := l.second.v
	w := float64(n.second*n.second) + l.second.variance
	if one {
		pred = l.dry.v / max(c.dry, n.abs)
		w += float64(0.05 * pred * 0.05 * pred)
	}
	rel := n.abs / max(c.dry, n.abs)
	h.add(c.second-pred, w+float64(rel*rel), v.t.freedom)
}

// wetKernel holds the wet reading against the example. What a cylinder reads over or
// under its example dry it reads wet too, so only the gain counts.
func (v *view) wetKernel(h *heap, c *look, row, width []float64, l *levels, spread float64, one bool) {
	n := &v.n
	level := l.dry.v * (1 + l.gain.v)
	if !known(row[library.Wet]) {
		h.add(0, float64(missingWidth*level*level), v.t.freedom)
		return
	}
	pred := float64(level * row[library.Wet])
	if known(c.dry) && !one {
		off := max(-0.12, min(c.dry/l.dry.v-row[library.Dry], 0.12))
		pred += float64(off * level * min(1.5, row[library.Wet]/max(row[library.Dry], 0.15)))
	}
	w := float64(n.wet*pred*n.wet*pred) + float64(n.abs*n.abs) + float64(level*level*(width[library.Wet]+spread))
	rel := pred / level * l.dry.v
	w += float64(rel * rel * l.gain.variance)
	h.add(c.wet-pred, w, v.t.freedom)
}

// pumped holds humps and running compression against the example.
func (v *view) pumped(h *heap, c *look, row, width []float64, l *levels, spread float64) {
	n := &v.n
	for _, x := range []struct {
		obs, unit, rel float64
		at             int
		l              mean
	}{
		{c.hump, 1, n.hump, library.Hump, l.hump}, {c.idle, l.dry.v, n.idle, library.Idle, l.idle}, {c.snap, l.dry.v, n.snap, library.Snap, l.snap},
	} {
		if !known(x.obs) {
			continue
		}
		scale := x.unit * x.l.v
		r := row[x.at]
		if !known(r) {
			h.add(0, float64(missingWidth*scale*scale), v.t.freedom)
			continue
		}
		pred := float64(scale * r)
		w := float64(x.rel*pred*x.rel*pred) + float64(scale*scale*(width[x.at]+spread)) + float64(r*r*x.unit*x.unit*x.l.variance)
		if x.at != library.Hump {
			w += float64(n.abs * n.abs)
		} else {
			w += float64(n.hump * n.hump)
		}
		h.add(x.obs-pred, w, v.t.freedom)
	}
}

// looks holds clearances, the borescope and the cylinder's work against the example.
func (v *view) looks(h *heap, c *look, row, width []float64) {
	n := &v.n
	for _, x := range []struct {
		obs float64
		at  int
	}{{c.lashIn, library.LashIn}, {c.lashEx, library.LashEx}} {
		if known(x.obs) {
			h.add(x.obs-row[x.at], float64(n.lash*n.lash)+width[x.at], v.t.freedom)
		}
	}
	if c.bore >= 0 {
		p := n.wrongBore / 4
		if int(row[library.Bore]) == c.bore {
			p = 1 - n.wrongBore
		}
		h.factor(p)
	}
	if c.low != NotKnown && !known(c.dry) {
		p := 0.03 + float64(0.94*below(0.78, row[library.Dry], 0.1))
		if c.low == No {
			p = 1 - p
		}
		h.factor(p)
	}
	if c.dead != NotKnown {
		p := deadOf(row[library.Pull])
		if c.dead == No {
			p = 1 - p
		}
		h.factor(p)
	}
}

// deadOf returns how probably a cylinder that does a share of its work is called dead or
// weak: half of the time at 65 % (judgement).
func deadOf(pull float64) float64 {
	x := (0.65 - pull) / 0.25
	return 0.03 + float64(0.94*max(0, min(0.5+float64(x/2), 1)))
}

// How much air has to go a way to be heard there half of the time, share of the supply:
// 0.1 g/s at an opening, bubbles far sooner (by the bench, rounded).
const (
	halfHeard   = 0.015
	halfBubbles = 0.002
)

// heard returns how probably air is said to be heard where it was and not where it was
// not. Sound rings are heard at the oil filler of any engine, so that on this bench the
// filler says nothing; in the field it is named when it is the most there is. People
// name the most telling place and leave others out.
func (v *view) heard(c *look, row []float64, l *levels) float64 {
	lost := max(0.01, min(l.loss.v+row[library.Leakage], 1))
	if known(c.leak) {
		lost = max(0.01, c.leak)
	}
	named := 0.92
	if v.e.Rough {
		named = 0.5
	}
	p := 1.0
	for k := range c.heard {
		share := row[library.Throttle+k]
		flow := float64(share * lost)
		half := halfHeard
		switch library.Throttle + k {
		case library.Filler:
			if !v.e.Rough {
				continue
			}
			a := float64(share * share)
			if c.heard[k] {
				p *= v.n.wrongEar + float64((1-v.n.wrongEar)*a)
			} else {
				p *= 1 - float64(0.5*a)
			}
			continue
		case library.Neck:
			half = halfBubbles
		}
		a := flow / (flow + half)
		if c.heard[k] {
			p *= float64(v.n.wrongEar/2) + float64((1-v.n.wrongEar)*a)
		} else {
			p *= 1 - float64(named*a)
		}
	}
	if math.IsNaN(p) {
		return 1
	}
	return p
}
