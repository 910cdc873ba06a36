package debrief

import "crankbay/diagnose"

// What the sentence that matters most is about.
const (
	MostHazard  = "hazard"  // a gate was not kept: Line
	MostMistake = "mistake" // one mistake changed a reading more than anything else: Mistake
	MostLine    = "line"    // the line of the grade that cost most: Line
	MostClean   = "clean"   // nothing was lost
)

// Most is the one thing to take away.
type Most struct {
	Kind    string         `json:"kind"`
	Line    *diagnose.Line `json:"line"`
	Mistake string         `json:"mistake"` // its key
}

// mostCost is a cost from which a mistake matters more than any line [Pa]: 10 psi,
// two divisions of a usual gauge.
const mostCost = 69e3

// MostOf chooses: safety first, then that nothing was read, then a mistake that turned the verdict of the card's
// rule or spoiled a reading for good, then the line that cost most points.
func MostOf(g diagnose.Result, m Mistakes) Most {
	for i := range g.Gates {
		if !g.Gates[i].Passed {
			return Most{Kind: MostHazard, Line: &g.Gates[i]}
		}
	}
	if l := unread(g); l != nil {
		return Most{Kind: MostLine, Line: l}
	}
	best, size := "", 0.0
	for _, x := range m.List {
		if w := x.weight(); !x.Corrected && w >= mostCost && w > size {
			best, size = x.Key, w
		}
	}
	if best != "" {
		return Most{Kind: MostMistake, Mistake: best}
	}
	if l := dearest(g); l != nil {
		return Most{Kind: MostLine, Line: l}
	}
	return Most{Kind: MostClean}
}

// unread returns the line that says so when no cylinder was read: nothing else matters
// before that. Nil when one was.
func unread(g diagnose.Result) *diagnose.Line {
	for _, s := range g.Readings {
		if s.Valid || s.WetValid {
			return nil
		}
	}
	for i := range g.Rows {
		for k := range g.Rows[i].Lines {
			if l := &g.Rows[i].Lines[k]; l.Rule == "all_cylinders_dry" && !l.Passed {
				return l
			}
		}
	}
	return nil
}

// dearest returns the line that cost most points, nil when none did.
func dearest(g diagnose.Result) *diagnose.Line {
	var worst *diagnose.Line
	for i := range g.Rows {
		for k := range g.Rows[i].Lines {
			l := &g.Rows[i].Lines[k]
			if lost := l.OutOf - l.Points; lost > 0 && (worst == nil || lost > worst.OutOf-worst.Points) {
				worst = l
			}
		}
	}
	return worst
}
