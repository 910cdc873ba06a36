package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

const twoPi = 2 * math.Pi

// engineKernels multiplies into h how well the levels of an engine fit an example of a
// whole engine. Only what was measured counts.
func (v *view) engineKernels(h *heap, l *levels, row, width []float64, x expectation) {
	n, t := &v.n, v.t.freedom
	if l.dry.seen > 0 {
		level := row[library.Level]
		if v.e.Ambient.Is { // both by the air that is there
			level -= num.Log(row[library.Ambient])
		}
		w := x.variance + width[library.Level] + l.dry.variance/(l.dry.v*l.dry.v)
		h.add(num.Log(max(l.dry.v, 2*psi))-x.log-level, w, t)
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
			h.add(0, missingWidth, t)
			continue
		}
		h.add(k.m.v-row[k.at], float64(k.wide*k.wide)+width[k.at]+k.m.variance, t)
	}
	if l.hump.seen > 0 {
		h.add(l.hump.v-1, l.hump.variance+0.1*0.1, t)
	}
	v.wholeKernels(h, row, width)
}

// usualRPM is about what engines crank at, when the design's own speed is not known.
const usualRPM = 235

// wholeKernels holds what is measured once for the engine against the example.
func (v *view) wholeKernels(h *heap, row, width []float64) {
	n, t := &v.n, v.t.freedom
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
			h.add(0, 1, t)
			continue
		}
		h.add(k.obs-row[k.at], float64(k.wide*k.wide)+width[k.at], t)
	}
	if late := v.late(); known(late) {
		h.add(late-row[library.Late], float64(n.late*n.late)+float64(width[library.Late]/4), t)
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
	sum, count := 0.0, 0
	for r := range k.rows {
		h := v.wholeHeap(k, r, l, x)
		sum += v.t.value(h)
		count = h.k
	}
	return v.t.log(sum/float64(len(k.rows)), count) + l.integral()
}

// wholeHeap holds all readings against one example of a whole engine.
func (v *view) wholeHeap(k *kind, r int, l *levels, x expectation) heap {
	h := emptyHeap()
	row, role := k.rows[r], healthyRow
	if k.Name == NotHere {
		role = idleRow
	}
	v.engineKernels(&h, l, row, k.widths[r], x)
	for i := range v.cyl {
		if v.cyl[i].any {
			v.kernels(&h, &v.cyl[i], role, healthyWidth, l, row[library.Uneven], false)
		}
	}
	h.factor(v.cooling(0))
	return h
}

// under returns the logarithm of how well the levels that the healthy cylinders show fit
// an engine of a family.
func (v *view) under(k *kind, l *levels, x expectation) float64 {
	sum, count := 0.0, 0
	for r, row := range k.rows {
		h := emptyHeap()
		v.engineKernels(&h, l, row, k.widths[r], x)
		sum += v.t.value(h)
		count = h.k
	}
	return v.t.log(sum/float64(len(k.rows)), count)
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

// log returns the logarithm of a mean of densities of so many kernels each.
func (t shape) log(mean float64, kernels int) float64 {
	if !(mean > 1e-300) {
		mean = 1e-300
	}
	return num.Log(mean) + float64(float64(kernels)*t.logC)
}
