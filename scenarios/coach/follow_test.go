package coach_test

import (
	"errors"
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
	for range 400 {
		s := p.next()
		if s.Key == "" {
			return
		}
		p.keys = append(p.keys, s.Key)
		if s.Action != nil {
			if s.Key == "count_then_stop" {
				for range p.a.Scenario().Card.StrokesMin {
					p.a.StrokeStep()
				}
			}
			p.do(*s.Action)
			p.a.Settle()
			continue
		}
		p.think(s)
	}
	p.t.Fatalf("no end of advice: %v", p.keys[len(p.keys)-10:])
}

func (p *apprentice) think(s coach.Suggestion) {
	p.t.Helper()
	key := p.a.Scenario().Key
	switch s.Key {
	case "spec", "spec_other_page":
		p.do(record.Action{Kind: bench.KindSpec, Choice: p.a.Scenario().RightPage})
	case "write":
		p.do(record.Action{Kind: attempt.KindWrite, Choice: s.Field, Cylinder: s.Cylinder, Number: p.seen(s.Field, s.Cylinder)})
	case "conclude":
		for _, c := range append([]int{0}, key.Cylinders...) {
			p.do(record.Action{Kind: attempt.KindFinding, Choice: key.Family, Cylinder: c})
		}
	case "sure":
		p.do(record.Action{Kind: attempt.KindSure, Choice: diagnose.SureLikely})
	case "evidence":
		for _, e := range []string{"dry", "first_stroke", "spec"} {
			p.do(record.Action{Kind: attempt.KindEvidence, Choice: e})
		}
	case "next_test":
		next := "none"
		if len(key.NextTests) > 0 {
			next = key.NextTests[0]
		}
		p.do(record.Action{Kind: attempt.KindNextTest, Choice: next})
	case "remark":
		p.do(record.Action{Kind: attempt.KindRemark, Text: "It may smoke at first."})
	default:
		p.t.Fatalf("advice without a way to follow it: %+v", s)
	}
}

// seen is what the bench showed for a field of the sheet.
func (p *apprentice) seen(field string, cylinder int) float64 {
	p.t.Helper()
	l := p.a.Scenario().Card.Limits
	switch field {
	case diagnose.FieldSpecStandard:
		return float64(l.Standard)
	case diagnose.FieldSpecMinimum:
		return float64(l.Minimum)
	case diagnose.FieldSpecDifference:
		return float64(l.DifferenceMax)
	case diagnose.FieldThrottle:
		return 1
	case diagnose.FieldOilML:
		return p.a.State().OilML[cylinder-1]
	}
	runs := p.a.Record().Runs
	for i := len(runs) - 1; i >= 0; i-- {
		if r := runs[i]; cylinder == 0 || r.Cylinder == cylinder {
			return p.ofRun(field, r)
		}
	}
	p.t.Fatalf("%s of cylinder %d wanted before it was cranked", field, cylinder)
	return 0
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

// On every engine of the catalogue the advice is never refused, comes to an end
// and makes a test that the grader finds nothing to say against, but for what a
// better look at the readings would have told.
func TestFollowingTheAdviceIsAGoodTest(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		t.Run(s.ID, func(t *testing.T) {
			a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
			require.NoError(t, err)
			p := &apprentice{t: t, a: a}
			p.follow()
			require.True(t, a.Sheet().HandedIn)
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
				if row.Name != diagnose.RowConclude {
					assert.GreaterOrEqual(t, row.Points, 0.95*row.OutOf, row.Name)
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
