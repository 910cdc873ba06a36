package diagnose

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
)

// How far a number on the sheet may lie from what an instrument showed.
func TestNumbersFromInstruments(t *testing.T) {
	cases := []struct {
		field  string
		number float64 // the runs showed 260 rpm, 10.4 V, 88 °C, throttle open, 10 ml
		backed bool
	}{
		{FieldRPM, 270, true}, {FieldRPM, 240, true}, {FieldRPM, 300, false},
		{FieldBatteryV, 10.2, true}, {FieldBatteryV, 10.7, true}, {FieldBatteryV, 11.2, false}, {FieldBatteryV, 9.6, false},
		{FieldCoolantC, 85, true}, {FieldCoolantC, 70, false},
		{FieldThrottle, 1, true}, {FieldThrottle, 0, false},
		{FieldOilML, 10, true}, {FieldOilML, 10.5, true}, {FieldOilML, 15, false},
		{FieldStrokes, 6, true}, {FieldStrokes, 7, false},
	}
	for _, c := range cases {
		s := valveAttempt()
		for i, e := range s.in.Sheet.Entries {
			if e.Field == c.field {
				s.in.Sheet.Entries[i].Number = c.number
			}
		}
		l, ok := line(Grade(s.in), "no_number_invented")
		require.True(t, ok)
		assert.Equalf(t, c.backed, l.Passed, "%s = %g", c.field, c.number)
	}
}

// The card's window has two sides, and an engine may cool a little meanwhile.
func TestTemperatureWindow(t *testing.T) {
	for _, c := range []struct {
		coolant float64
		kept    bool
	}{{77, false}, {78, true}, {80, true}, {105, true}, {107, true}, {109, false}} {
		s := soundAttempt()
		eachRun(&s.in, func(r *record.Run) { r.CoolantC = c.coolant })
		l, ok := line(Grade(s.in), "temperature_right")
		require.True(t, ok)
		assert.Equalf(t, c.kept, l.Passed, "%g °C", c.coolant)
	}
}

// A cold engine is marked down, but which cylinder differs can still be seen.
func TestColdEngineStillCompares(t *testing.T) {
	s := valveAttempt()
	eachRun(&s.in, func(r *record.Run) { r.CoolantC = 20 })
	assert.NotContains(t, missed(Grade(s.in)), "conclusion_fits_readings")
}

// Three strokes fewer than the rest and a reading can't be compared; two fewer only
// cost points.
func TestFarFewerStrokesSpoil(t *testing.T) {
	for fewer, spoils := range []bool{false, false, false, true, true} {
		s := newShop(bank4)
		s.in.Card.StrokesMin, s.in.Card.StrokesMax = 3, 12
		for n := 1; n <= 4; n++ {
			s.run(n, 130, 185, func(r *record.Run) {
				r.Strokes = climb(r.StartTick, 8, 130, 185)
				if n == 2 {
					r.Strokes = r.Strokes[:8-fewer]
				}
			})
		}
		e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
		assert.Equalf(t, spoils, slices.Contains(e.Seen[1].Faults, MethodUnequalStrokes), "%d fewer", fewer)
		assert.Equal(t, !spoils, Judge(e, s.in.Card.Limits, true).Complete)
	}
}

// Naming the wet test as the next one is worth half of doing it.
func TestWetNamedIsHalf(t *testing.T) {
	part := func(next string) float64 {
		s := lowThree()
		s.conclude(FamilyUndecided, SureLikely, next)
		l, ok := line(Grade(s.in), "confirmed_when_called")
		require.True(t, ok)
		return l.Points / l.OutOf
	}
	assert.InDelta(t, 0.5, part("wet"), 0.01)
	assert.InDelta(t, 0.5, part("leakage"), 0.01)
	assert.Equal(t, 0.0, part("none"))
}

// Which page it was, and whether it was looked up before the conclusion: the log
// knows the order even where no crank turned in between.
func TestSpecificationPage(t *testing.T) {
	s := soundAttempt()
	s.in.Record.Events = append([]record.Event{{Kind: kindFact, Choice: factPage, Number: 0}}, s.in.Record.Events...)
	l, _ := line(Grade(s.in), "spec_looked_up")
	assert.InDelta(t, 0.5, l.Points/l.OutOf, 0.01, "another engine's page")

	s.in.Record.Events = append([]record.Event{s.in.Record.Events[0], {Kind: kindFact, Choice: factPage, Number: 1}}, s.in.Record.Events[1:]...)
	l, _ = line(Grade(s.in), "spec_looked_up")
	assert.True(t, l.Passed, "then the right one")

	late := soundAttempt()
	dropEvents(&late.in, kindSpec)
	late.in.Record.Events = append(late.in.Record.Events, record.Event{Kind: kindSpec, Tick: late.in.Sheet.ConcludedTick})
	l, _ = line(Grade(late.in), "spec_looked_up")
	assert.False(t, l.Passed, "after the conclusion, at the same tick")
}

// Real gasket pairs are often unequal: beside one low cylinder a neighbor that is a
// little low itself keeps the pair possible.
func TestUnequalPairStaysPossible(t *testing.T) {
	j := Judge(dial(bank4, []float64{185, 110, 165, 185}, nil), testCard().Limits, true)
	assert.Equal(t, PatternOneLow, j.Pattern)
	standing, fit := j.Standing(Finding{FamilyHeadGasket, []int{2, 3}}, 4)
	assert.Equal(t, Open, standing)
	assert.Equal(t, 1.0, fit, "both cylinders of the claim")
	j = Judge(dial(bank4, []float64{185, 110, 182.5, 185}, nil), testCard().Limits, true)
	assertStandingNot(t, j, Finding{FamilyHeadGasket, []int{3, 4}})
}

func assertStandingNot(t *testing.T, j Judgement, f Finding) {
	t.Helper()
	got, _ := j.Standing(f, 4)
	assert.Equalf(t, Contradicted, got, "%v", f)
}

// Putting back has an order: torque after the plugs, codes and start after the last
// cranking.
func TestPuttingBackInOrder(t *testing.T) {
	for kind, rule := range map[string]string{kindTorque: "plugs_torqued", kindCodes: "codes_cleared", kindStart: "engine_started"} {
		s := soundAttempt()
		dropEvents(&s.in, kind)
		s.in.Record.Events = append([]record.Event{{Kind: kind}}, s.in.Record.Events...)
		assert.Containsf(t, missed(Grade(s.in)), rule, "%s first", kind)
	}
	s := soundAttempt() // a plug screwed in again after all were torqued
	s.in.Record.Events = append(s.in.Record.Events, record.Event{Kind: kindPlugIn, Cylinder: 2, Choice: "hand", Tick: s.tick})
	assert.Equal(t, []string{"plugs_torqued", "left_apart", "ticks_true"}, missed(Grade(s.in)))
	s = soundAttempt() // out again and left out
	s.in.Record.Events = append(s.in.Record.Events, record.Event{Kind: kindPlugOut, Cylinder: 2, Choice: "ordered", Tick: s.tick})
	assert.Contains(t, missed(Grade(s.in)), "plugs_by_hand")
}

// What was put back is looked at as it stood when the engine was started.
func TestReconnected(t *testing.T) {
	for _, kind := range []string{kindFuel, kindIgnition, kindThrottle, kindLeads} {
		s := soundAttempt()
		var keep []record.Event
		for _, e := range s.in.Record.Events {
			if e.Kind != kind || e.Choice == "disabled" || e.Choice == "open" {
				keep = append(keep, e)
			}
		}
		s.in.Record.Events = keep
		l, ok := line(Grade(s.in), "reconnected")
		require.True(t, ok)
		assert.InDeltaf(t, 0.75, l.Points/l.OutOf, 0.01, kind)
	}
}

// What a conclusion earns by how sure it is said to be, on readings that leave it
// open.
func TestClaimTooSure(t *testing.T) {
	claim := func(sure string) float64 {
		s := lowThree()
		s.conclude(FamilyValveLeak, sure, "leakage", 3)
		c, _ := conclusion(s)
		return c
	}
	assert.InDelta(t, 0.6, claim(SureLikely), 0.01)
	assert.Less(t, claim(SureCertain), 0.5)
}

// A conclusion after half the engine is worth half of what it would be.
func TestCoverage(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5})
	s.conclude(FamilyUndecided, SureLikely, "repeat")
	l, _ := line(Grade(s.in), "conclusion_fits_readings")
	assert.InDelta(t, 0.5, l.Points/l.OutOf, 0.01)
}

// Lists for those who hold a text for each entry.
func TestListsAreWhole(t *testing.T) {
	for name, list := range map[string][]string{
		"patterns": Patterns(), "run faults": RunFaults(), "families": Families(), "next tests": NextTests(),
		"evidence": EvidenceKinds(), "fields": Fields(), "rows": RowNames(), "limit rules": RuleIDs(),
	} {
		seen := map[string]bool{}
		for _, x := range list {
			assert.NotEmpty(t, x, name)
			assert.False(t, seen[x], "%s: %s twice", name, x)
			seen[x] = true
		}
	}
	assert.Len(t, Standings(), 4)
	for seed := range uint64(300) {
		in := anyInput(seed)
		c := open(in)
		assert.Contains(t, Patterns(), c.j.Pattern)
		for _, f := range c.all.faults {
			for _, x := range f {
				assert.Contains(t, RunFaults(), x)
			}
		}
		for _, n := range c.j.Next {
			assert.Contains(t, NextTests(), n)
		}
		for _, f := range append(append([]Finding{}, c.j.Supported...), c.j.Open...) {
			assert.Contains(t, Families(), f.Family)
		}
	}
}
