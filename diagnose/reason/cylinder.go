package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// healthyRow is a healthy cylinder beside its like.
var healthyRow = func() []float64 {
	r := make([]float64, library.OfCylinder.Width())
	for _, k := range []int{library.Dry, library.Wet, library.Hump, library.Idle, library.Snap, library.Pull} {
		r[k] = 1
	}
	r[library.Filler], r[library.Tailpipe] = 0.96, 0.04 // no seat is perfect
	return r
}()

// cylinderOf is the mean cylinder of an engine of which nothing else is known than its
// example: healthy beside its like, with what all of them have in common.
func cylinderOf(k *kind, row []float64, into *[roleWidth]float64) []float64 {
	copy(into[:], healthyRow)
	into[library.Throttle], into[library.Tailpipe], into[library.Filler] = row[library.AllThrottle], row[library.AllTailpipe], row[library.AllFiller]
	into[library.LashIn], into[library.LashEx] = row[library.AllLashIn], row[library.AllLashEx]
	into[library.Bore] = row[library.AllBore]
	if k.Name == NotHere {
		into[library.Pull] = elsewhere
	}
	return into[:]
}

// elsewhere stands for the work of a cylinder that is decided by spark and fuel.
const elsewhere = -1

// misfiring returns how probably those cylinders do not pull that don't, when the reason
// lies elsewhere: mostly none or one, any of them.
func (v *view) misfiring() float64 {
	dead, asked, n := 0, 0, len(v.cyl) // those that nobody names pull
	for i := range v.cyl {
		asked += flag(v.cyl[i].dead != NotKnown)
		dead += flag(v.cyl[i].dead == Yes)
	}
	switch {
	case asked == 0:
		return 1
	case dead == 0:
		return 0.35
	case dead == 1:
		return 0.5 / float64(n)
	}
	return 0.15 / choose(n, dead)
}

// roleWidth is how many numbers are known of one cylinder.
const roleWidth = library.Pull + 1

// healthyWidth takes the variances among healthy cylinders of one engine from the
// library's examples of them. A t distribution has heavier tails than its width says, so
// that it is taken somewhat narrower.
func healthyWidth(l *library.Library) []float64 {
	out := make([]float64, library.OfCylinder.Width())
	f := l.Family(HealthyExamples)
	if f == nil {
		return out
	}
	for _, k := range []int{library.Dry, library.First, library.Wet, library.Leakage, library.Hump, library.Idle, library.Snap} {
		sum, n := 0.0, 0.0
		for i := range f.Count {
			if x := f.Row(i)[k]; known(x) {
				off := x - healthyRow[k]
				sum += float64(off * off)
				n++
			}
		}
		if n > 0 {
			out[k] = narrower * sum / n
		}
	}
	return out
}

const narrower = 0.7

// An uneven is how the cylinders of one engine differ, over what healthy ones do: each a
// variance, but for how far a wet reading follows its dry one.
type uneven struct {
	dry, wet, first, loss, follows float64
	level                          float64 // of the engine, of its design: only words without figures are held against it
}

// even is an engine whose cylinders are alike.
var even = uneven{follows: 1, level: 1}

// unevenOf reads it off an example of a whole engine.
func (v *view) unevenOf(row []float64) uneven {
	over := func(at, healthy int) float64 {
		return max(0, float64(row[at]*row[at])-v.healthy[healthy]/narrower)
	}
	scatter := 0.0
	if gain := row[library.Gain]; v.e.Rough && known(gain) {
		scatter = float64(oilScatter * max(0, min(gain, 1)))
	}
	return uneven{
		dry: over(library.Uneven, library.Dry), wet: over(library.UnevenWet, library.Wet) + float64(scatter*scatter), first: over(library.UnevenFirst, library.First),
		loss: over(library.UnevenLoss, library.Leakage), follows: row[library.WetFollows], level: num.Exp(row[library.Level]),
	}
}

// missingWidth is the variance of a reading for which an example has no figure.
const missingWidth = 0.5 * 0.5

// kernels multiplies into h how well the readings of cylinder c fit an example, with the
// healthy cylinders at l. u widens what belongs to engines whose cylinders differ among
// themselves; one says that the dry reading is not the cylinder's own.
func (v *view) kernels(h *heap, c *look, row, width []float64, l *levels, u *uneven, one bool) {
	n := &v.n
	level := l.dry.v
	if known(c.dry) {
		obs, tries := c.dry, c.tries
		if one {
			obs, tries = c.once, 1
		}
		pred := float64(level * row[library.Dry])
		w := float64(n.dry*pred*n.dry*pred)/tries + float64(n.abs*n.abs)/tries + float64(level*level*(width[library.Dry]+u.dry))
		w += float64(row[library.Dry] * row[library.Dry] * l.dry.variance)
		h.add(obs-pred, w)
		v.again(h, c, l, one)
	}
	if known(c.first) {
		off, w := c.first-l.first.v-row[library.First], width[library.First]
		if !known(row[library.First]) {
			off, w = 0, missingWidth
		}
		rel := n.abs / max(c.once, n.abs)
		w += float64(n.first*n.first) + l.first.variance + float64(rel*rel*(1+float64(c.first*c.first))) + u.first
		h.add(off, w)
	}
	if known(c.wet) {
		v.wetKernel(h, c, row, width, l, u, one)
	}
	if known(c.leak) {
		pred := max(0, min(l.loss.v+row[library.Leakage], 1))
		w := float64(n.leak*n.leak) + float64(n.leakShare*pred*n.leakShare*pred) + width[library.Leakage] + l.loss.variance + u.loss
		h.add(c.leak-pred, w)
	}
	if c.ears {
		h.factor(v.heard(c, row, l))
	}
	v.pumped(h, c, row, width, l, u.dry)
	v.looks(h, c, row, width, u)
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
			if n.wander > 0 { // better, or as bad in another way
				pred = (c.once + l.dry.v) / 2
				w = float64(n.wander * l.dry.v * n.wander * l.dry.v)
			}
		}
		h.add(r-pred, w)
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
	h.add(c.second-pred, w+float64(rel*rel))
}

// wetKernel holds the wet reading against the example. What a cylinder reads over or
// under its example dry it reads wet too, so only the gain counts.
func (v *view) wetKernel(h *heap, c *look, row, width []float64, l *levels, u *uneven, one bool) {
	n := &v.n
	level := l.dry.v * (1 + l.gain.v)
	if !known(row[library.Wet]) {
		h.add(0, float64(missingWidth*level*level))
		return
	}
	pred := float64(level * row[library.Wet])
	if known(c.dry) && !one {
		most := 0.12 + float64(3*math.Sqrt(u.dry)) // more where cylinders differ anyway
		off := max(-most, min(c.dry/l.dry.v-row[library.Dry], most))
		pred += float64(off * level * u.follows * min(1.5, row[library.Wet]/max(row[library.Dry], 0.15)))
	}
	w := float64(n.wet*pred*n.wet*pred) + float64(n.abs*n.abs) + float64(level*level*(width[library.Wet]+u.wet))
	rel := pred / level * l.dry.v
	w += float64(rel * rel * l.gain.variance)
	h.add(c.wet-pred, w)
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
			h.add(0, float64(missingWidth*scale*scale))
			continue
		}
		pred := float64(scale * r)
		w := float64(x.rel*pred*x.rel*pred) + float64(scale*scale*(width[x.at]+spread)) + float64(r*r*x.unit*x.unit*x.l.variance)
		if x.at != library.Hump {
			w += float64(n.abs * n.abs)
		} else {
			w += float64(n.hump * n.hump)
		}
		h.add(x.obs-pred, w)
	}
}

// looks holds clearances, the borescope and the cylinder's work against the example.
func (v *view) looks(h *heap, c *look, row, width []float64, u *uneven) {
	n := &v.n
	for _, x := range []struct {
		obs float64
		at  int
	}{{c.lashIn, library.LashIn}, {c.lashEx, library.LashEx}} {
		if known(x.obs) {
			h.add(x.obs-row[x.at], float64(n.lash*n.lash)+width[x.at])
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
		p := 0.03 + float64(0.94*below(0.78, float64(row[library.Dry]*u.level), 0.1))
		if c.low == No {
			p = 1 - p
		}
		h.factor(p)
	}
	if c.dead != NotKnown && row[library.Pull] != elsewhere {
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
	if !known(pull) {
		return 0.5
	}
	x := (0.65 - pull) / 0.25
	return 0.015 + float64(0.97*max(0, min(0.5+float64(x/2), 1)))
}

// How much air has to go a way to be heard there half of the time, share of the supply:
// 0.1 g/s at an opening, bubbles far sooner (by the bench, rounded).
const (
	halfHeard   = 0.013
	halfBubbles = 0.0004
)

// audible returns how probably a flow is heard: on this bench everybody has the same
// ears, in the field not.
func audible(flow, half float64, rough bool) float64 {
	if rough {
		return flow / (flow + half)
	}
	f, h := float64(flow*flow), float64(half*half)
	f, h = float64(f*f), float64(h*h)
	return f / (f + h)
}

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
		named = 0.5 + float64(0.45*lost) // a gale is named
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
		if v.e.Rough && library.Throttle+k != library.Neck { // a gale drowns a hiss
			half = max(half, float64(0.15*lost))
		}
		a := audible(flow, half, v.e.Rough)
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
