package reason

import (
	"math"

	"crankbay/diagnose/library"
	"crankbay/sim/num"
)

// A kind is a family with its examples at hand.
type kind struct {
	Family
	rows   [][]float64
	widths [][]float64 // of each example, the variances within which it speaks for others
	one    bool        // OneOff: the dry reading is not the cylinder's
	weight []float64   // how often each example is met, on average 1
	uneven []uneven    // of whole engines: how the cylinders of each example differ
}

// kinds makes the families ready, in the order of Families.
func (v *view) kinds(l *library.Library, known expectation) []kind {
	rough := v.e.Rough
	all := Families()
	out := make([]kind, len(all))
	for i, f := range all {
		k := kind{Family: f, one: f.Name == OneOff}
		if f.Name == ByDesign {
			k.rows, k.widths = byDesign(known)
		} else if rows := l.Family(f.Name); rows != nil {
			for r := range rows.Count {
				k.rows = append(k.rows, rows.Row(r))
				k.widths = append(k.widths, rows.Width(r))
			}
		}
		if rough {
			k.roughen(v.e.Layout == LayoutFlat)
		}
		k.weight = weightsOf(&k, rough)
		k.differ(v)
		out[i] = k
	}
	if known.air < 0.94 {
		lift(out)
	}
	return out
}

// differ reads off how the cylinders of each example of a whole engine differ.
func (k *kind) differ(v *view) {
	if k.Scope == ScopeEngine {
		k.uneven = make([]uneven, len(k.rows))
		for i, row := range k.rows {
			k.uneven[i] = v.unevenOf(row)
		}
	}
}

// lift lets sound engines be those at a height, when the height is known: the manifold
// idles at the same pressure there and other things differ than the level.
func lift(all []kind) {
	for i := range all {
		if all[i].Name != Altitude {
			continue
		}
		for k := range all {
			if all[k].Name == Sound || all[k].Name == NotHere {
				all[k].rows, all[k].widths, all[k].weight, all[k].uneven = all[i].rows, all[i].widths, all[i].weight, all[i].uneven
			}
		}
	}
}

// byDesignWidth lets the few made-up examples run into each other.
var byDesignWidth = func() []float64 {
	r := make([]float64, library.OfEngine.Width())
	r[library.Level] = 0.05 * 0.05
	return r
}()

// highPage is a page that asks for so much that its engine does not close late when it is
// cranked [bar]: there is nothing that another parking place of its cam could add. The pages
// of late-closing engines ask for 118 to 167 psi, most of them for less than this.
const highPage = 150 * psi

// byDesign makes the examples of an engine that reads low, or high, because it was made
// so: a cam that closes late or lifts a valve to help the starter. Where the page says
// what the engine reads it reads about that; where only its ratio is known, or nothing,
// it reads from a third less to hardly less (assumption; late-closing engines of the
// trade read 118 to 167 psi at ratios of 12 to 13, singles with a release half).
func byDesign(e expectation) (rows, widths [][]float64) {
	low := []float64{-0.9, -0.7, -0.55, -0.45, -0.35, -0.3, -0.25, -0.2, -0.15, 0.1, 0.2}
	if e.page {
		low = []float64{-0.18, -0.14, -0.1, 0.1, 0.15, 0.2, 0.25, 0.3} // what meets its page needs no such word
		if num.Exp(e.log)/e.air > highPage {
			low = low[:3]
		}
	}
	for _, level := range low {
		r := make([]float64, library.OfEngine.Width())
		r[library.Level], r[library.FirstShare], r[library.Gain] = level, soundFirst.v, soundGain.v
		r[library.Loss], r[library.IdleShare], r[library.SnapShare] = soundLoss.v, soundIdle.v, soundSnap.v
		r[library.Vacuum], r[library.Speed], r[library.Volts], r[library.Ambient] = 0.3, 1, math.NaN(), 1
		r[library.Second], r[library.Uneven], r[library.WetFollows] = 1, 0.01, 1
		r[library.AllFiller], r[library.AllTailpipe] = 0.96, 0.04
		rows, widths = append(rows, r), append(widths, byDesignWidth)
	}
	return rows, widths
}

// expectation is what a sound engine should read: the natural logarithm of it [bar], its
// variance, and where it comes from.
type expectation struct {
	log, variance float64
	page          bool // a specification page says it
	air           float64
}
