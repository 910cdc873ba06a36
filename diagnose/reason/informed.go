package reason

// informed returns the priors with what the history and the conditions of the test say.
// The factors are assumptions: somebody who says that the throttle was held open is
// seldom wrong; where nobody says anything it was shut one time in ten or so.
func (v *view) informed(p Priors) []Prior {
	families := Families()
	out := p.of(families)
	scale := func(family string, by float64) {
		for i := range out {
			if out[i].Family == family {
				out[i].One *= by
				out[i].Several *= by
			}
		}
	}
	for _, word := range v.e.History {
		for _, h := range historyTable {
			if h.word == word {
				for _, c := range h.changes {
					scale(c.family, c.factor)
				}
			}
		}
	}
	sure := 0.02
	if v.e.Rough {
		sure = 0.15
	}
	for _, a := range []struct {
		is     Answer
		family string
	}{{v.e.Throttle, ThrottleShut}, {v.e.Plugs, PlugsIn}, {v.e.Strokes, FewStrokes}} {
		switch a.is {
		case Yes:
			scale(a.family, sure)
		case No:
			scale(a.family, 12)
			scale(Sound, 0.3)
			scale(NotHere, 0.3)
		}
	}
	if v.e.Throttle == Yes {
		scale(PlugsIn, 0.6) // whoever holds the throttle takes the plugs out
	}
	v.made(scale)
	if v.e.Hydraulic == Yes {
		for _, family := range []string{TightLash, BankLash, LashAll} {
			scale(family, 0.02)
		}
	}
	if v.e.TwoStroke {
		for i := range out {
			if needsValves(out[i].Family) {
				out[i].One, out[i].Several = 0, 0
			}
			switch out[i].Family { // ports wear rings, and oil burns them fast
			case RingsAll, WornRings, BrokenLand, ScoredBore:
				out[i].One, out[i].Several = 2.5*out[i].One, 2.5*out[i].Several
			}
		}
	}
	return out
}

// made says what layout and ratio tell of the valve gear. Opposed engines mostly have one
// camshaft between the banks, by gear, and screws that are set by hand; so have engines of
// one or two cylinders, or a short chain (common practice, no source).
func (v *view) made(scale func(family string, by float64)) {
	if v.e.Layout == LayoutFlat {
		scale(BankTiming, 0.3)
		scale(BankLash, 2.5)
		scale(LashAll, 1.5)
	}
	if e := &v.e; e.Ratio.Is && e.Ratio.V >= 11.8 && !e.Standard.Is && !e.Minimum.Is {
		scale(ByDesign, 4) // what has such a ratio mostly closes its intake late
	}
	if v.e.Layout == LayoutV { // mostly with lifters that set themselves
		scale(BankLash, 0.5)
	}
	if len(v.cyl) == 1 { // what is on all of one is on that one
		for _, family := range []string{RingsAll, ValvesAll, BoresDry, LashAll, CarbonAll} {
			scale(family, 0)
		}
	}
	if n := len(v.cyl); v.e.Layout == LayoutFlat || n > 0 && n <= 2 {
		scale(TimingLate, 0.5)
		scale(TimingFar, 0.4)
		scale(RingsAll, 1.6) // two that wear alike are sooner met than four
	}
}
