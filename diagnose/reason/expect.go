package reason

import (
	"math"

	"crankbay/sim/num"
)

// What is taken for the reading of a sound engine (assumptions).
const (
	// A minimum is 71 to 89 % of the standard on the pages quoted in SpecificationPages.
	minimumShare = 0.80
	// barPerRatio: printed standards of engines from 7 to 11 to 1 lie about 18 psi a
	// unit of ratio, older engines under it, newer over it (ServiceDataFamilies).
	barPerRatio = 18 * psi
	// ratioKnown is where those pages end. A higher ratio is mostly bought with an intake that
	// closes later, so that the pressure does not follow it: pages of engines of 12 and 13 to 1
	// ask for 118 to about 200 psi. ratioWider is how much less sure each unit more leaves
	// one, a logarithm (judgement).
	ratioKnown, ratioWider = 11, 0.08
	// usual is the middle of what sound gasoline engines read: 120 to 200 psi in trade
	// articles, 100 for old low-ratio ones, 220 for new ones.
	usual = 158 * psi
	// usualTwo is the middle of two-strokes: 90 to 150 psi (common practice, no source).
	usualTwo = 120 * psi
)

// expect works out what a sound engine would read: by the page's standard, else by its
// minimum, else by the ratio, else as gasoline engines do. Pages speak of sea level.
func (v *view) expect() expectation {
	e := &v.e
	x := expectation{air: 1}
	if e.Ambient.Is {
		x.air = e.Ambient.V / standardAtmosphere
	}
	level := 0.0
	sd := 0.0
	switch {
	case e.Standard.Is:
		level, sd, x.page = e.Standard.V/bar, 0.035, true
	case e.Minimum.Is:
		level, sd, x.page = e.Minimum.V/bar/minimumShare, 0.08, true
	case e.Ratio.Is:
		over := max(0, e.Ratio.V-ratioKnown)
		level, sd = (e.Ratio.V-over)*barPerRatio, math.Sqrt(0.14*0.14+float64(ratioWider*ratioWider*over*over))
	case e.TwoStroke:
		level, sd = usualTwo, 0.22
	default:
		level, sd = usual, 0.26
	}
	x.log = num.Log(level * x.air)
	x.variance = float64(sd*sd) + float64(v.n.level*v.n.level)
	return x
}
