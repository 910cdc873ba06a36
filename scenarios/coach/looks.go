package coach

import (
	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// looks leads through the tests that are one look each.
func looks(s Situation, test string, cyl int) (Suggestion, bool) {
	switch test {
	case "lash":
		if !s.Card.LashCheck {
			return Suggestion{}, false
		}
		return do("lash", record.Action{Kind: bench.KindLash, Cylinder: cyl})
	case "timing_marks":
		return do("timing_marks", record.Action{Kind: bench.KindTiming})
	case "borescope":
		switch {
		case s.State.HoseOn == cyl:
			return s.hoseAway()
		case s.plug(cyl) == "in":
			return do("plug_out", record.Action{Kind: bench.KindPlugOut, Cylinder: cyl, Choice: "ordered"})
		}
		return do("borescope", record.Action{Kind: bench.KindBorescope, Cylinder: cyl})
	case "cooling_pressure":
		if c := s.State.CoolantC; c != nil && *c > capC {
			return do("neck_cool", record.Action{Kind: bench.KindCoolDown, Number: 15})
		}
		return do("cooling_pressure", record.Action{Kind: bench.KindCoolingPressure})
	}
	return Suggestion{}, false // what the bench can't do is for another day
}

// secondGauge reads the lowest cylinder once more by another gauge of the tray.
func secondGauge(s Situation, j diagnose.Judgement) (Suggestion, bool) {
	e, _ := s.seen()
	cyl := s.target(e, j, "second_gauge")
	first := s.firstGauge()
	if s.State.Gauge != "" && s.State.Gauge != first {
		if s.sinceGauge() > 1 || oilIn(s, cyl) > 0 {
			return Suggestion{}, false
		}
		if out, ok := prepare(s); ok {
			return out, true
		}
		return fitAndCrank(s, cyl)
	}
	if out, ok := s.hoseAway(); ok {
		return out, true
	}
	for _, g := range s.Tools.Gauges {
		if g.ID != first && !s.bad(g.ID) {
			return do("second_gauge", record.Action{Kind: bench.KindGauge, Choice: g.ID})
		}
	}
	return Suggestion{}, false
}

// firstGauge returns the gauge that the cylinders were read with.
func (s Situation) firstGauge() string {
	first := ""
	for _, e := range s.Record.Events {
		switch e.Kind {
		case bench.KindGauge:
			first = e.Choice
		case bench.EventCrankStart:
			if e.Cylinder != 0 {
				return first
			}
		}
	}
	return first
}

// sinceGauge counts the gauged runs since a gauge was last taken in hand.
func (s Situation) sinceGauge() int {
	n := 0
	for _, e := range s.Record.Events {
		switch {
		case e.Kind == bench.KindGauge:
			n = 0
		case e.Kind == bench.EventCrankStop && e.Cylinder != 0:
			n++
		}
	}
	return n
}

// bad reports whether a gauge was proved and found wanting.
func (s Situation) bad(gauge string) bool {
	now := ""
	for _, e := range s.Record.Events {
		switch {
		case e.Kind == bench.KindGauge:
			now = e.Choice
		case e.Kind == bench.EventFact && (e.Choice == "gauge_leaks" || e.Choice == "gauge_off_zero") && now == gauge:
			return true
		}
	}
	return false
}

// refit reads one of a pair with the other's plug in: where the two fire close
// together in one bank it helps.
func refit(s Situation, j diagnose.Judgement) (Suggestion, bool) {
	if len(j.Suspects) != 2 {
		return Suggestion{}, false
	}
	cyl, mate := j.Suspects[0], j.Suspects[1]
	if s.State.HoseOn == mate {
		return s.hoseAway()
	}
	if s.plug(mate) == "out" {
		return do("refit", record.Action{Kind: bench.KindPlugIn, Cylinder: mate, Choice: "hand"})
	}
	return fitAndCrank(s, cyl)
}
