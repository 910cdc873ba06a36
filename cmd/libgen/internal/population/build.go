package population

import (
	"fmt"
	"math"
	"sort"

	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// A Result is the rows of one job, as a shard writes them.
type Result struct {
	Job  int
	Rows []Example
}

// Build puts the rows of all jobs into a library. The order they come in makes no
// difference.
func Build(seed uint64, model int, bases []Base, results []Result) (*library.Library, error) {
	sort.Slice(results, func(i, k int) bool { return results[i].Job < results[k].Job })
	for i := 1; i < len(results); i++ {
		if results[i].Job == results[i-1].Job {
			return nil, fmt.Errorf("job %d is there twice", results[i].Job)
		}
	}
	for _, r := range results {
		blur(r.Rows)
	}
	l := &library.Library{Model: model, Seed: seed}
	for _, b := range bases {
		l.Engines = append(l.Engines, b.ID)
	}
	scopes := map[string]library.Scope{reason.ScopeCylinder: library.OfCylinder, reason.ScopePair: library.OfPair, reason.ScopeBank: library.OfBank, reason.ScopeEngine: library.OfEngine}
	families := reason.Families()
	families = append(families, reason.Family{Name: Healthy, Scope: reason.ScopeCylinder})
	for _, f := range families {
		out := library.Family{Name: f.Name, Scope: scopes[f.Scope]}
		for _, r := range results {
			for _, row := range r.Rows {
				if row.Family == f.Name {
					out.Count++
					out.Values = append(out.Values, row.Values...)
					out.EngineOf = append(out.EngineOf, uint8(row.Base))
				}
			}
		}
		if out.Count > 0 {
			l.Families = append(l.Families, out)
		}
	}
	return l, nil
}

// blur takes the current humps out of rows that come from one engine when one of its
// cylinders hardly breathes or lies full: it makes its own turn of the crank easier or
// harder for the next in firing order too, and that would be taken for theirs.
func blur(rows []Example) {
	for i := range rows {
		switch rows[i].Family {
		case reason.IntakeDead, reason.ExhaustDead, reason.LiquidOne, reason.ValveHeldOpen:
			for k := range rows {
				if k != i && rows[k].Family != Healthy && len(rows[k].Values) == library.OfCylinder.Width() {
					rows[k].Values[library.Hump] = math.NaN()
				}
			}
		}
	}
}
