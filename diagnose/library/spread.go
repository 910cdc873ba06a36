package library

import (
	"math"
	"slices"
)

// Width returns the variances within which the numbers of one example speak for others.
func (f *Family) Width(i int) []float64 {
	w := f.Scope.Width()
	return f.Widths[i*w : (i+1)*w]
}

// nearest is how many examples lie within reach of one, as a share of all, and at least
// fewest.
const nearest, fewest = 0.07, 3

// spread works out the widths. An example reaches as far in each number as its nearest
// few neighbours: where examples lie close each speaks for little, where they are sparse
// for more, and what all have in common stays sharp.
func (f *Family) spread() {
	w := f.Scope.Width()
	f.Widths = make([]float64, len(f.Values))
	reach := max(fewest, int(nearest*float64(f.Count)))
	column := make([]float64, 0, f.Count)
	for c := range w {
		column = column[:0]
		for i := range f.Count {
			if v := f.Values[i*w+c]; !math.IsNaN(v) {
				column = append(column, v)
			}
		}
		slices.Sort(column)
		for i := range f.Count {
			if v := f.Values[i*w+c]; !math.IsNaN(v) {
				d := distance(column, v, reach)
				f.Widths[i*w+c] = d * d / 4 // the neighbours' distance is taken for two deviations
			}
		}
	}
}

// distance returns how far off the n-th nearest neighbour of v lies in a sorted column
// that holds v.
func distance(column []float64, v float64, n int) float64 {
	at, _ := slices.BinarySearch(column, v)
	lo, hi := at-1, at+1
	d := 0.0
	for range min(n, len(column)-1) {
		if lo < 0 || hi < len(column) && column[hi]-v < v-column[lo] {
			d = column[hi] - v
			hi++
		} else {
			d = v - column[lo]
			lo--
		}
	}
	return d
}

// Without returns the library as it would be had a design never been simulated, so that
// one can see whether it serves engines it has not seen.
func (l *Library) Without(engine string) *Library {
	out := &Library{Model: l.Model, Seed: l.Seed, Engines: l.Engines, Digest: l.Digest}
	for i := range l.Families {
		f := &l.Families[i]
		g := Family{Name: f.Name, Scope: f.Scope}
		for r := range f.Count {
			if l.Engines[f.EngineOf[r]] != engine {
				g.Count++
				g.Values = append(g.Values, f.Row(r)...)
				g.EngineOf = append(g.EngineOf, f.EngineOf[r])
			}
		}
		if g.Count > 0 {
			g.spread()
			out.Families = append(out.Families, g)
		}
	}
	return out
}
