package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

const twoPi = 2 * math.Pi

// engineKernels multiplies into h how well the levels of an engine fit an example of a
// whole engine. Only what was measured counts.
func (v *view) engineKernels(h *heap, l *levels, near span, row, width []float64, x expectation) {
	n := &v.n
	if l.dry.seen > 0 {
		level := row[library.Level]
		if v.e.Ambient.Is { // both by the air that is there
			level -= num.Log(row[library.Ambient])
		}
		v.atLevel(h, l.dry.seen, near.off(x.log+level), x.variance+width[library.Level], x.page)
		h.s *= max(l.dry.v, 2*psi) * max(l.dry.v, 2*psi) // a density in bar
	}
	for _, k := range []struct {
		m    mean
		at   int
		wide float64
	}{
		{l.first, library.FirstShare, n.f}, {l.gain, library.Gain, n.gain}, {l.loss, library.Loss, n.loss},
		{l.idle, library.IdleShare, n.idle * soundIdle.v}, {l.snap, library.SnapShare, n.snap}, {l.second, library.Second, n.second},
	} {
		if k.m.seen == 0 {
			continue
		}
		if !known(row[k.at]) {
			h.add(0, missingWidth)
			continue
		}
		v.together(h, k.m.seen, k.m.v-row[k.at], float64(k.wide*k.wide)+width[k.at]+k.m.variance, far)
	}
	if l.hump.seen > 0 {
		h.add(l.hump.v-1, l.hump.variance+0.1*0.1)
	}
	v.wholeKernels(h, row, width)
}

// span is between which logarithms a level may lie by its own uncertainty: readings of a
// few psi say that there is next to nothing, however uncertain their logarithm is.
type span struct{ lo, hi float64 }

func (m mean) span() span {
	slack := float64(1.5 * math.Sqrt(m.variance))
	return span{num.Log(max(m.v-slack, 2*psi)), num.Log(max(m.v+slack, 2*psi))}
}

// off returns how far a level lies from an expected one, as near as it can come.
func (s span) off(expected float64) float64 { return max(s.lo, min(expected, s.hi)) - expected }

// together takes in what so many cylinders show on average. Of a real engine three and
// more are believed.
func (v *view) together(h *heap, seen int, off, variance, bound float64) {
	if v.e.Rough && seen >= 3 {
		h.light(off, variance, bound)
	} else {
		h.within(off, variance, bound)
	}
}

// atLevel takes in how far the level of an engine lies off. Where a page says what the engine
// reads there is little that a heavy tail could stand for: a gauge that is wrong, and a page
// that is another engine's, have families of their own.
func (v *view) atLevel(h *heap, seen int, off, variance float64, page bool) {
	if v.e.Rough && page && seen >= 3 {
		h.lighter(off, variance, farLevel)
		return
	}
	v.together(h, seen, off, variance, farLevel)
}

// usualRPM is about what engines crank at, when the design's own speed is not known.
const usualRPM = 235

// wholeKernels holds what is measured once for the engine against the example.
func (v *view) wholeKernels(h *heap, row, width []float64) {
	n := &v.n
	e := &v.e
	for _, k := range []struct {
		obs, wide float64
		at        int
	}{
		{e.Vacuum.or() / v.air(), n.vacuum, library.Vacuum}, {e.Speed.or() / usualRPM, n.speed, library.Speed}, {e.Volts.or(), n.volts, library.Volts},
	} {
		if !known(k.obs) {
			continue
		}
		if !known(row[k.at]) {
			h.add(0, 1)
			continue
		}
		h.add(k.obs-row[k.at], float64(k.wide*k.wide)+width[k.at])
	}
	if late := v.late(); known(late) {
		h.add(late-row[library.Late], float64(n.late*n.late)+float64(width[library.Late]/4))
	}
}

func (v *view) air() float64 {
	if v.e.Ambient.Is {
		return v.e.Ambient.V
	}
	return standardAtmosphere
}

// late returns the mean of the cam timing of the banks, NaN when nobody looked.
func (v *view) late() float64 {
	sum, n := 0.0, 0.0
	for _, x := range v.e.Late {
		if x.Is {
			sum, n = sum+x.V, n+1
		}
	}
	return sum / n
}

// integral returns the logarithm of what is left of the levels' own uncertainty: a level
// taken from the readings themselves was fitted, which the density at the best fit
// overstates by its width.
func (l *levels) integral() float64 {
	sum := 0.0
	for _, m := range []*mean{&l.dry, &l.first, &l.gain, &l.loss, &l.hump, &l.idle, &l.snap, &l.second} {
		if m.seen > 0 {
			sum += float64(num.Log(twoPi*m.variance) / 2)
		}
	}
	return sum
}

// none returns the logarithm of the likelihood of all readings when no single cylinder
// is at fault and the engine is one of a family.
func (v *view) none(k *kind, l *levels, x expectation) float64 {
	return meanLog(v.wholes(k, l, x)) + l.integral()
}

// givesOut is how far the readings of one engine lie apart whose battery gives out while it
// is tested, one standard deviation (judgement).
const givesOut = 0.1

// wholes returns the logarithm of how well all readings fit each example of a whole
// engine. Each cylinder is taken by itself: the product of a big engine's kernels is
// beyond what a float holds.
func (v *view) wholes(k *kind, l *levels, x expectation) []float64 {
	out := make([]float64, len(k.rows))
	near := l.dry.span()
	for r, row := range k.rows {
		var mean [roleWidth]float64
		role := cylinderOf(k, row, &mean)
		u := k.uneven[r]
		h := emptyHeap()
		if k.Name == SlowCranking && v.falls > 0 {
			u.dry = max(u.dry, givesOut*givesOut)
			h.factor(v.falls)
		}
		v.engineKernels(&h, l, near, row, k.widths[r], x)
		h.factor(v.cooling(0))
		h.factor(v.otherGauge(k.Name))
		if k.Name == NotHere {
			h.factor(v.misfiring())
		}
		out[r] = num.Log(max(k.weight[r], 1e-9)) + logOf(h.value(), h.k)
		for i := range v.cyl {
			if !v.cyl[i].any {
				out[r] += v.unlisted(i, u.level)
			} else {
				h = emptyHeap()
				v.kernels(&h, &v.cyl[i], role, v.healthy, l, &u, false)
				v.refit(&h, i, -1, l.dry.v)
				out[r] += logOf(h.value(), h.k)
			}
		}
	}
	return out
}

// unlisted returns the logarithm of how probably nothing is said of cylinder i that reads
// a share of what it should. Who writes down some cylinders of an engine mostly writes
// down those that are wrong (assumption, of readings in the field): a low one is passed
// over four times where a normal one is ten times, a dead one once. But a gap in a list
// that is otherwise whole is rather where there was nothing to write down: ten times where
// a normal one is left out three or four times.
func (v *view) unlisted(i int, share float64) float64 {
	if !v.e.Rough || !v.listed || !v.passed.has(i) {
		return 0
	}
	if v.gap {
		return num.Log(0.35 + float64(0.65*below(0.6, share, 0.15)))
	}
	return num.Log(1 - float64(0.6*below(0.78, share, 0.1)) - float64(0.3*below(0.25, share, 0.08)))
}

// meanLog returns the logarithm of the mean of numbers given by their logarithms.
func meanLog(logs []float64) float64 {
	best := math.Inf(-1)
	for _, x := range logs {
		best = max(best, x)
	}
	sum := 0.0
	for _, x := range logs {
		sum += num.Exp(x - best)
	}
	return best + num.Log(sum/float64(len(logs)))
}

// under returns the logarithm of how well the levels that the healthy cylinders show fit
// an engine of a family.
func (v *view) under(k *kind, l *levels, x expectation) float64 {
	sum, count := 0.0, 0
	near := l.dry.span()
	for r, row := range k.rows {
		h := emptyHeap()
		v.engineKernels(&h, l, near, row, k.widths[r], x)
		h.factor(v.evenness(l, &k.uneven[r]))
		h.factor(v.otherGauge(k.Name))
		sum += float64(k.weight[r] * h.value())
		count = h.k
	}
	return logOf(sum/float64(len(k.rows)), count)
}

// otherGauge returns how probably another gauge reads what it does where the first read next
// to nothing, when the first leaks or not.
func (v *view) otherGauge(family string) float64 {
	reads, nothing := readsAnyway, 1-readsAnyway
	if family == GaugeLeaks {
		reads, nothing = readsMended, 1-readsMended
	}
	for i := range v.cyl {
		switch v.cyl[i].reads {
		case Yes:
			return reads
		case No:
			return nothing
		}
	}
	return 1
}

// evenness returns how much rarer it is among cylinders that differ as an example's do that
// the healthy ones read alike, as they are taken to beside a faulty one.
func (v *view) evenness(l *levels, u *uneven) float64 {
	p := 1.0
	for _, x := range []struct {
		noise, healthy, uneven float64
		seen                   int
	}{{v.n.dry, v.healthy[library.Dry], u.dry, l.dry.seen}, {v.n.wet, v.healthy[library.Wet], u.wet, l.gain.seen}} {
		own := float64(x.noise*x.noise) + x.healthy
		share := math.Sqrt(own / (own + x.uneven))
		for range min(x.seen, 4) - 1 {
			p *= share
		}
	}
	return p
}

// cooling returns how probable the cooling test is with an engine that leaks into the
// coolant (1) or not (0).
func (v *view) cooling(falls float64) float64 {
	p := 0.02 + float64(0.9*falls)
	switch v.e.Cooling {
	case Yes:
		return p
	case No:
		return 1 - p
	}
	return 1
}
