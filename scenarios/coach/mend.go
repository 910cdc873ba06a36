package coach

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// mend is the one repair that the bench can do: a valve found too tight is set by
// feeler, and the cylinder cranked once more to see whether that was it.
func mend(s Situation) (Suggestion, bool) {
	e, _ := s.seen()
	for _, f := range s.Sheet.Findings {
		for _, cyl := range f.Cylinders {
			if f.Family != diagnose.FamilyTightLash || !s.Card.LashCheck {
				continue
			}
			if out, ok := s.setLash(e, cyl); ok {
				return out, true
			}
			if out, ok := s.tryMended(cyl); ok {
				return out, true
			}
		}
	}
	return Suggestion{}, false
}

// setLash sets what the feelers found too tight on a cylinder.
func (s Situation) setLash(e diagnose.Evidence, cyl int) (Suggestion, bool) {
	lash := s.Card.Lash
	if lash.IsZero() {
		lash = diagnose.DefaultLash()
	}
	for _, x := range []struct {
		valve string
		mm    float64
	}{{"intake", lash.IntakeMM}, {"exhaust", lash.ExhaustMM}} {
		tight := slices.ContainsFunc(e.Confirmed.Looks, func(l diagnose.Look) bool {
			head := "lash_" + x.valve
			return l.Cylinder == cyl && (l.Fact == head+"_none" || l.Fact == head && lash.Tight(l.Fact, l.Number))
		})
		if _, done := s.lashSet(cyl, x.valve); tight && !done {
			return do("set_lash", record.Action{Kind: bench.KindSetLash, Cylinder: cyl, Choice: x.valve, Number: x.mm})
		}
	}
	return Suggestion{}, false
}

// lashSet returns the tick at which a cylinder's valves were last set, of one kind or of
// either for an empty text.
func (s Situation) lashSet(cyl int, valve string) (tick int64, ok bool) {
	for _, ev := range s.Record.Events {
		if ev.Kind == bench.KindSetLash && ev.Cylinder == cyl && (valve == "" || ev.Choice == valve) {
			tick, ok = ev.Tick, true
		}
	}
	return tick, ok
}

// tryMended cranks a cylinder whose valves were set, if it was ever cranked before.
func (s Situation) tryMended(cyl int) (Suggestion, bool) {
	tick, ok := s.lashSet(cyl, "")
	if !ok || s.count(cyl, false) == 0 {
		return Suggestion{}, false
	}
	for _, r := range s.Record.Runs {
		if r.Cylinder == cyl && r.EndTick > tick {
			return Suggestion{}, false
		}
	}
	if out, ok := prepare(s); ok {
		return out, true
	}
	out, ok := fitAndCrank(s, cyl)
	if ok && out.Key == "crank" {
		out.Key = "crank_mended"
	}
	return out, ok
}
