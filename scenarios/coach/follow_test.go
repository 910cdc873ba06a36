package coach_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/coach"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// An apprentice does what the coach says, and for what is left to him looks at
// the bench: writes what the dial showed, names the key's answer.
type apprentice struct {
	t    *testing.T
	a    *attempt.Session
	keys []string

	own   bool // concludes by the readings, not by the key
	next1 string
}

func (p *apprentice) next() coach.Suggestion {
	return coach.Next(coach.Of(p.a.Scenario(), p.a.Bench(), p.a.Sheet()))
}

func (p *apprentice) do(a record.Action) {
	p.t.Helper()
	require.NoError(p.t, p.a.Do(a), "%s %s %d after %v", a.Kind, a.Choice, a.Cylinder, p.keys)
}

// follow goes on until the sheet is handed in.
func (p *apprentice) follow() {
	p.t.Helper()
	for range 600 {
		s := p.next()
		if s.Key == "" {
			return
		}
		p.keys = append(p.keys, s.Key)
		require.Contains(p.t, coach.Keys(), s.Key)
		if s.Action == nil {
			p.think(s)
			continue
		}
		if s.Key == "count_then_stop" {
			for range p.a.Scenario().Card.StrokesMin {
				p.a.StrokeStep()
			}
		}
		p.a.Advance(int(s.Seconds * record.TicksPerSecond))
		p.do(*s.Action)
		p.a.Settle()
	}
	p.t.Fatalf("no end of advice: %v", p.keys[len(p.keys)-30:])
}

func (p *apprentice) think(s coach.Suggestion) {
	p.t.Helper()
	key := p.a.Scenario().Key
	switch s.Key {
	case "spec", "spec_other_page":
		p.do(record.Action{Kind: bench.KindSpec, Choice: p.a.Scenario().RightPage})
	case "write":
		p.write(s)
	case "conclude":
		if p.own {
			p.honest()
			return
		}
		for _, c := range append([]int{0}, key.Cylinders...) {
			p.do(record.Action{Kind: attempt.KindFinding, Choice: key.Family, Cylinder: c})
		}
	case "sure":
		p.do(record.Action{Kind: attempt.KindSure, Choice: diagnose.SureLikely})
	case "evidence":
		sc := p.a.Scenario()
		e := diagnose.Gather(sc.Card, sc.Engine.Cylinders, sc.Engine.Banks, p.a.Record(), p.a.Bench().Tick())
		for _, k := range append([]string{"dry", "first_stroke", "spec", "speed"}, e.Tests()...) {
			p.do(record.Action{Kind: attempt.KindEvidence, Choice: k})
		}
	case "next_test":
		next := "none"
		if p.own {
			next = p.next1
		} else if len(key.NextTests) > 0 {
			next = key.NextTests[0]
		}
		p.do(record.Action{Kind: attempt.KindNextTest, Choice: next})
	case "remark":
		p.do(record.Action{Kind: attempt.KindRemark, Text: "It may smoke at first."})
	default:
		p.t.Fatalf("advice without a way to follow it: %+v", s)
	}
}

// write puts down what the bench showed.
func (p *apprentice) write(s coach.Suggestion) {
	p.t.Helper()
	if s.Field != "heard" {
		p.do(record.Action{Kind: attempt.KindWrite, Choice: s.Field, Cylinder: s.Cylinder, Number: p.seen(s.Field, s.Cylinder)})
		return
	}
	places := map[string]bool{}
	for _, l := range p.a.Record().Leaks {
		for _, h := range l.Heard {
			place := h.Place
			if h.Cylinder != 0 {
				place = diagnose.HeardNeighbour
			}
			if l.Cylinder == s.Cylinder && h.Air {
				places[place] = true
			}
		}
	}
	for _, place := range diagnose.HeardPlaces() {
		if places[place] || place == diagnose.HeardNowhere && len(places) == 0 {
			p.do(record.Action{Kind: attempt.KindHeard, Choice: place, Cylinder: s.Cylinder})
		}
	}
}

// seen is what the bench showed for a field of the sheet.
func (p *apprentice) seen(field string, cylinder int) float64 {
	p.t.Helper()
	sc, rec := p.a.Scenario(), p.a.Record()
	switch field {
	case diagnose.FieldSpecStandard:
		return float64(sc.Card.Limits.Standard)
	case diagnose.FieldSpecMinimum:
		return float64(sc.Card.Limits.Minimum)
	case diagnose.FieldSpecDifference:
		return float64(sc.Card.Limits.DifferenceMax)
	case diagnose.FieldThrottle:
		for _, r := range rec.Runs {
			if r.ThrottleOpen {
				return 1
			}
		}
		return 0
	case diagnose.FieldOilML:
		return p.a.State().OilML[cylinder-1]
	case diagnose.FieldLeakageSupply:
		return rec.Leaks[0].SupplyPa
	case diagnose.FieldTiming, diagnose.FieldCoolingDrop, diagnose.FieldLashIntake, diagnose.FieldLashExhaust:
		return looked(rec, field, cylinder)
	case diagnose.FieldVacuum:
		return rec.Vacuums[len(rec.Vacuums)-1].MeanPa
	}
	e := diagnose.Gather(sc.Card, sc.Engine.Cylinders, sc.Engine.Banks, rec, p.a.Bench().Tick())
	if v, ok := confirmed(e, rec, field, cylinder); ok {
		return v
	}
	for i := len(rec.Runs) - 1; i >= 0; i-- {
		if r := rec.Runs[i]; r.Full() > 0 && (cylinder == 0 || r.Cylinder == cylinder) {
			return p.ofRun(field, r)
		}
	}
	p.t.Fatalf("%s of cylinder %d wanted before it was cranked", field, cylinder)
	return 0
}

// looked is the number of the last look that gave one; a tooth of the marks is taken
// for eighteen degrees.
func looked(rec record.Record, field string, cylinder int) float64 {
	prefix := map[string]string{
		diagnose.FieldTiming: "timing_", diagnose.FieldCoolingDrop: "cooling_falls",
		diagnose.FieldLashIntake: "lash_intake", diagnose.FieldLashExhaust: "lash_exhaust",
	}[field]
	v := 0.0
	for _, e := range rec.Events {
		if e.Kind == bench.EventFact && strings.HasPrefix(e.Choice, prefix) && (cylinder == 0 || e.Cylinder == cylinder) && e.Number > 0 {
			v = e.Number
			if strings.HasSuffix(e.Choice, "_early") {
				v = -v
			}
		}
	}
	if field == diagnose.FieldTiming {
		return 18 * v
	}
	return v
}

// confirmed is what a confirming test showed for a field.
func confirmed(e diagnose.Evidence, rec record.Record, field string, cylinder int) (float64, bool) {
	switch field {
	case diagnose.FieldLeakage:
		for i := len(rec.Leaks) - 1; i >= 0; i-- {
			if rec.Leaks[i].Cylinder == cylinder {
				return rec.Leaks[i].Percent, true
			}
		}
	case diagnose.FieldHump:
		for _, c := range rec.Currents {
			for _, h := range c.Humps {
				if h.Cylinder == cylinder {
					return h.Percent, true
				}
			}
		}
	case diagnose.FieldRunningIdle, diagnose.FieldRunningSnap:
		for _, x := range rec.Pumped {
			if x.Cylinder == cylinder && (x.How == bench.PumpedIdle) == (field == diagnose.FieldRunningIdle) {
				return x.Shown, true
			}
		}
	case diagnose.FieldSecondLast:
		for _, x := range e.Confirmed.Gauges {
			return float64(x.After), true
		}
	case diagnose.FieldRefitLast:
		for _, x := range e.Confirmed.Refits {
			return float64(x.After), true
		}
	}
	return 0, false
}

func (p *apprentice) ofRun(field string, r record.Run) float64 {
	p.t.Helper()
	switch field {
	case diagnose.FieldDryFirst, diagnose.FieldWetFirst:
		return r.Strokes[0].Shown
	case diagnose.FieldDryLast, diagnose.FieldWetLast:
		return r.Strokes[len(r.Strokes)-1].Shown
	case diagnose.FieldStrokes, diagnose.FieldWetStrokes:
		return float64(r.Full())
	case diagnose.FieldRPM:
		return r.SpeedRPM
	case diagnose.FieldBatteryV:
		return r.BatteryMinV
	case diagnose.FieldCoolantC:
		return r.CoolantC
	}
	p.t.Fatalf("no such field: %s", field)
	return 0
}

// passes asserts that work done by the advice passes, with nothing to say against how
// it was prepared and put back, and no hazard.
func passes(t *testing.T, a *attempt.Session) {
	t.Helper()
	g := a.Grade()
	for _, gate := range g.Gates {
		assert.True(t, gate.Passed, gate.Rule)
	}
	for _, row := range g.Rows {
		for _, line := range row.Lines {
			if !line.Passed {
				t.Logf("%s/%s cylinder %d: %g of %g %v", row.Name, line.Rule, line.Cylinder, line.Points, line.OutOf, line.Facts)
			}
		}
	}
	assert.Equal(t, g.Rows[0].OutOf, g.Rows[0].Points, "%s: the engine is prepared and put back as the card says", a.Scenario().ID)
	assert.True(t, g.Pass, "%s: %g of %g", a.Scenario().ID, g.Points, g.OutOf)
	for _, e := range a.Record().Events {
		assert.NotEqual(t, bench.EventHazard, e.Kind, "%s: %s", a.Scenario().ID, e.Choice)
	}
}

// On every engine of the catalogue the advice is never refused, comes to an end
// and makes a test that the grader finds little to say against, but for what a
// better look at the readings would have told.
func TestFollowingTheAdviceIsAGoodTest(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		t.Run(s.ID, func(t *testing.T) {
			a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
			require.NoError(t, err)
			p := &apprentice{t: t, a: a}
			p.follow()
			require.True(t, a.Sheet().HandedIn)
			passes(t, a)
			for _, row := range a.Grade().Rows {
				if row.Name != diagnose.RowConclude {
					assert.GreaterOrEqual(t, row.Points, 0.9*row.OutOf, row.Name)
				}
			}
			assert.Empty(t, coach.Next(coach.Of(s, a.Bench(), a.Sheet())).Key, "nothing to say after handing in")
		})
	}
}

// Cranked in gear, with fuel and spark live and plugs out: on the bench too the
// coach first makes it safe, and then leads on to the end.
func TestAfterHazardsOnTheBench(t *testing.T) {
	a, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: attempt.ModeReasons})
	require.NoError(t, err)
	p := &apprentice{t: t, a: a}
	for cyl := 1; cyl <= 4; cyl++ {
		p.do(record.Action{Kind: bench.KindPlugOut, Cylinder: cyl, Choice: "ordered"})
	}
	for _, x := range [][2]string{{bench.KindGear, "drive"}, {bench.KindSwitch, "remote"}, {bench.KindStarter, "on"}} {
		err := a.Do(record.Action{Kind: x[0], Choice: x[1]})
		var refused *bench.Refusal
		if !assert.True(t, err == nil || errors.As(err, &refused) && refused.Key == "refusal.already_so", "%v", err) {
			return
		}
	}
	a.Advance(1200)
	p.follow()
	require.GreaterOrEqual(t, len(p.keys), 8)
	assert.Equal(t, []string{"let_go_moved", "gear_moved", "brake", "chocks", "ignition", "fuel", "air_out", "glasses"}, p.keys[:8])
	assert.True(t, a.Sheet().HandedIn)
}
