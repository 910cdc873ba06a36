package reason

import (
	"math"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// A Label is what one wants to know: which group, on which cylinders. What no test of
// compression tells apart counts as one: an engine that seals and a complaint that has
// nothing to do with it.
type Label struct {
	Group       string  `json:"group"`
	Cylinders   []int   `json:"cylinders"`
	Probability float64 `json:"probability"`
}

// Merged returns the group under which a group is counted when one asks what tests can
// still tell apart.
func Merged(group string) string {
	switch group {
	case notCompression, normalByDesign, altitude:
		return sound
	}
	return group
}

// Labels sums explanations up by what a conclusion would say, most probable first.
func (o *Opinion) Labels() []Label {
	var out []Label
	for _, x := range o.Explanations {
		g := Merged(x.Group)
		at := -1
		for i := range out {
			if out[i].Group == g && sameInts(out[i].Cylinders, x.Cylinders) {
				at = i
			}
		}
		if at < 0 {
			at = len(out)
			out = append(out, Label{Group: g, Cylinders: x.Cylinders})
		}
		out[at].Probability += x.Probability
	}
	sortBy(out, func(l *Label) float64 { return l.Probability })
	return out
}

// A sample is one example of what may be there, weighed by the readings so far.
type sample struct {
	weight   float64
	in       set       // cylinders at fault
	first    set       // of a pair, the one the first half of the row is about
	row      []float64 // of a faulty cylinder; nil for none
	width    []float64
	one      bool
	bankLate bool               // one bank's cams are off
	method   string             // what the whole engine is, when it is a matter of method
	whole    []float64          // of the whole engine, when nothing else is the matter
	mean     [roleWidth]float64 // and the mean cylinder of that
}

// role returns the row of cylinder i under a sample.
func (s *sample) role(i int) (row, width []float64) {
	if s.row == nil {
		return s.mean[:], noWidth
	}
	if !s.in.has(i) {
		return healthyRow, noWidth
	}
	half := library.OfCylinder.Width()
	if len(s.row) > half && !s.first.has(i) {
		return s.row[half:], s.width[half:]
	}
	return s.row[:half], s.width[:half]
}

// noWidth is the width of an example that stands for itself.
var noWidth = make([]float64, roleWidth)

// A heading is a label with the samples that make it up.
type heading struct {
	label   Label
	samples []sample
}

const (
	mostHeadings = 10    // labels a test is judged by
	leastHeading = 0.004 // and how probable each has to be
	mostSamples  = 40    // examples of one world
	leastWorld   = 1e-4  // worlds that count
)

// headings lists the labels with what each would let a test show.
func (s *state) headings() []heading {
	var out []heading
	for _, w := range s.worlds {
		if w.p < leastWorld {
			continue
		}
		k, cylinders := &s.kinds[w.whole], []int{}
		if w.claim >= 0 && !s.blind(w) {
			k, cylinders = s.claims[w.claim].kind, s.claims[w.claim].in.list()
		}
		g := Merged(k.Group)
		at := -1
		for i := range out {
			if out[i].label.Group == g && sameInts(out[i].label.Cylinders, cylinders) {
				at = i
			}
		}
		if at < 0 {
			at = len(out)
			out = append(out, heading{label: Label{Group: g, Cylinders: cylinders}})
		}
		out[at].label.Probability += w.p
		out[at].samples = append(out[at].samples, s.samples(w)...)
	}
	sortBy(out, func(h *heading) float64 { return h.label.Probability })
	n := 0
	for n < min(len(out), mostHeadings) && out[n].label.Probability >= leastHeading {
		n++
	}
	return out[:n]
}

// samples lists the examples of a world, weighed by how well each fits.
func (s *state) samples(w world) []sample {
	k := &s.kinds[w.whole]
	method := ""
	if k.Name == ThrottleShut || k.Name == PlugsIn || k.Name == SlowCranking || k.Name == GaugeLeaks {
		method = k.Name
	}
	if w.claim < 0 {
		weights := s.v.wholes(k, &s.none, s.x)
		best := math.Inf(-1)
		for _, x := range weights {
			best = max(best, x)
		}
		for r := range weights {
			weights[r] = num.Exp(weights[r] - best)
		}
		return thin(weights, w.p, func(r int) sample {
			x := sample{whole: k.rows[r], width: k.widths[r], method: method}
			cylinderOf(k, k.rows[r], &x.mean)
			return x
		})
	}
	c := &s.claims[w.claim]
	weights := s.v.rowWeights(c)
	return thin(weights, w.p, func(r int) sample {
		return sample{in: c.in, first: setOf(c.first), row: c.kind.rows[r], width: c.kind.widths[r], one: c.kind.one, bankLate: c.kind.Name == BankTiming, method: method}
	})
}

// rowWeights returns how well each example of a claim's family fits its cylinders. Of
// several cylinders with a severity each, the first in order stands for all.
func (v *view) rowWeights(c *claim) []float64 {
	weights := make([]float64, len(c.kind.rows))
	for r, row := range c.kind.rows {
		h := emptyHeap()
		for i := range v.cyl {
			if !c.in.has(i) || !v.cyl[i].any {
				continue
			}
			from := 0
			if c.kind.Scope == ScopePair && i != c.first {
				from = library.OfCylinder.Width()
			}
			v.kernels(&h, &v.cyl[i], row[from:], c.kind.widths[r][from:], &c.l, &even, c.kind.one)
			if c.kind.Scope == ScopeCylinder {
				break
			}
		}
		weights[r] = c.kind.weight[r] * h.value()
	}
	return weights
}

// thin keeps the examples that weigh most and gives them a sum of p.
func thin(weights []float64, p float64, make func(int) sample) []sample {
	var out []sample
	best := 0.0
	for _, w := range weights {
		best = max(best, w)
	}
	sum := 0.0
	for r, w := range weights {
		if w >= 0.02*best && len(out) < mostSamples {
			x := make(r)
			x.weight = w
			sum += w
			out = append(out, x)
		}
	}
	for i := range out {
		out[i].weight *= p / sum
	}
	return out
}

// Groups that are counted together.
const (
	sound          = diagnose.FamilySound
	notCompression = diagnose.FamilyNotCompression
	normalByDesign = diagnose.FamilyNormalByDesign
	altitude       = diagnose.FamilyAltitude
)
