package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Work done by the book earns every point: what is asked can be done.
func TestWholeWorkEarnsAll(t *testing.T) {
	for name, s := range map[string]*shop{"sound": soundAttempt(), "valve": valveAttempt(), "rings": ringAttempt()} {
		r := Grade(s.in)
		assert.Emptyf(t, missed(r), name)
		assert.Equalf(t, 100.0, r.Points, name)
		assert.Equalf(t, 100.0, r.OutOf, name)
		assert.Truef(t, r.Pass, name)
	}
}

// Nothing done earns nothing.
func TestNothingDoneEarnsNothing(t *testing.T) {
	s := newShop(bank4)
	r := Grade(s.in)
	assert.Equal(t, 0.0, r.Points)
	assert.Equal(t, 100.0, r.OutOf)
	assert.False(t, r.Pass)
}

// Each way of doing it wrong is found by the rule that is meant to find it, and
// costs. The list says what else may speak up because of the same deed.
func TestMethodErrors(t *testing.T) {
	shut := func(r *record.Run) { r.ThrottleOpen = false }
	cases := []struct {
		name string
		make func() *shop
		want []string // rules that must be missed
		row  string   // row that must lose points
	}{
		{"throttle shut", func() *shop {
			s := newShop(bank4)
			s.prepare()
			s.dry([]float64{150, 152.5, 150, 150}, shut)
			s.conclude(FamilySound, SureCertain, "none")
			s.putBack()
			return s
		}, []string{"throttle_held", "method_first", "conclusion_fits_readings", "conclusion_fits_engine"}, RowMeasure},
		{"plugs in", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { eachRun(in, func(r *record.Run) { r.PlugsOut = 1 }) })
		}, []string{"plugs_all_out", "method_first"}, RowMeasure},
		{"gauge not released", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { in.Record.Runs[2].GaugeAtZero = false })
		}, []string{"gauge_released", "method_first"}, RowMeasure},
		{"unequal strokes", func() *shop {
			return tamper(soundAttempt(), func(in *Input) {
				in.Record.Runs[3].Strokes = in.Record.Runs[3].Strokes[:4]
				in.Record.Runs[3].Strokes[3].Shown = 182.5 * unit.PascalPerPSI
			})
		}, []string{"strokes_equal", "strokes_written"}, RowMeasure},
		{"too few strokes", func() *shop {
			return tamper(soundAttempt(), func(in *Input) {
				eachRun(in, func(r *record.Run) { r.Strokes = append(r.Strokes[:1:1], r.Strokes[5]) })
			})
		}, []string{"strokes_enough", "method_first"}, RowMeasure},
		{"cold engine", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { eachRun(in, func(r *record.Run) { r.CoolantC = 20 }) })
		}, []string{"temperature_right", "temperature_written"}, RowMeasure},
		{"weak battery not noticed", func() *shop {
			return tamper(soundAttempt(), func(in *Input) {
				eachRun(in, func(r *record.Run) { r.SpeedRPM, r.BatteryMinV = 170, 8.1 })
			})
		}, []string{"speed_enough", "method_first", "conclusion_fits_readings"}, RowMeasure},
		{"no healthy cylinder wet", func() *shop {
			return tamper(valveAttempt(), func(in *Input) { dropRun(in, len(in.Record.Runs)-1) })
		}, []string{"wet_control"}, RowChoose},
		{"surprise believed", func() *shop {
			return tamper(valveAttempt(), func(in *Input) { dropRun(in, 4) })
		}, []string{"surprise_repeated"}, RowMeasure},
		{"too much oil", func() *shop {
			return tamper(valveAttempt(), func(in *Input) { in.Record.Runs[5].OilML = 40 })
		}, []string{"oil_amount"}, RowMeasure},
		{"oil before all were dry", func() *shop {
			return tamper(valveAttempt(), func(in *Input) {
				in.Record.Events = append([]record.Event{{Kind: kindOil, Cylinder: 3, Number: 10}}, in.Record.Events...)
			})
		}, []string{"dry_before_oil"}, RowChoose},
		{"oil though all is well", func() *shop {
			s := newShop(bank4)
			s.prepare()
			s.dry([]float64{185, 187.5, 185, 182.5})
			s.wet(1, 205)
			s.conclude(FamilySound, SureCertain, "none")
			s.putBack()
			return s
		}, []string{"no_needless_oil"}, RowChoose},
		{"one cylinder left out", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropRun(in, 3) })
		}, []string{"all_cylinders_dry", "no_number_invented", "dry_last_written"}, RowMeasure},
		{"specification not looked up", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindSpec) })
		}, []string{"spec_looked_up", "no_number_invented", "spec_written", "ticks_true"}, RowChoose},
		{"wrong page", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { in.Sheet.Entries[0].Number = 1080e3 })
		}, []string{"spec_written"}, RowRecord},
		{"no glasses", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindGlasses) })
		}, []string{"glasses_on", "ticks_true"}, RowPrepare},
		{"fuel live", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { in.Record.Runs[0].FuelDisabled = false })
		}, []string{"fuel_disabled"}, RowPrepare},
		{"plugs left out", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindPlugIn) })
		}, []string{"plugs_by_hand", "plugs_torqued", "ticks_true"}, RowPrepare},
		{"not started", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindStart) })
		}, []string{"engine_started"}, RowPrepare},
		{"key instead of remote", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindSwitch) })
		}, []string{"switch_as_card"}, RowPrepare},
		{"wrong adapter", func() *shop {
			return tamper(soundAttempt(), func(in *Input) {
				in.Record.Events = append(in.Record.Events, record.Event{Kind: kindCaution, Choice: "reach_too_long"})
			})
		}, []string{"adapter_fits"}, RowPrepare},
		{"starter hot", func() *shop {
			return tamper(soundAttempt(), func(in *Input) {
				in.Record.Events = append(in.Record.Events, record.Event{Kind: kindCaution, Choice: "starter_hot", Tick: 99})
			})
		}, []string{"starter_spared"}, RowPrepare},
		{"first stroke not written", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEntries(in, FieldDryFirst) })
		}, []string{"dry_first_written"}, RowRecord},
		{"speed made up without a tachometer", func() *shop {
			return tamper(soundAttempt(), func(in *Input) { dropEvents(in, kindTach) })
		}, []string{"no_number_invented", "speed_written"}, RowRecord},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := Grade(c.make().in)
			got := missed(r)
			for _, w := range c.want {
				assert.Containsf(t, got, w, "missed: %v", got)
			}
			for _, row := range r.Rows {
				if row.Name == c.row {
					assert.Less(t, row.Points, row.OutOf)
				}
			}
		})
	}
}

// Hazards stop the pass however many points there are; cautions only cost.
func TestHazardStopsThePass(t *testing.T) {
	for key, gate := range map[string]string{
		"gear_engaged": "gate_transmission", "vapour_ignition": "gate_fuel_ignition", "hydrolock": "gate_liquid_lock",
		"never heard of": "gate_other",
	} {
		s := soundAttempt()
		s.in.Record.Events = append(s.in.Record.Events, record.Event{Kind: kindHazard, Choice: key, Tick: 7200})
		r := Grade(s.in)
		assert.Falsef(t, r.Pass, key)
		assert.Greaterf(t, r.Points, PassMark*r.OutOf, key)
		l, ok := line(r, gate)
		require.Truef(t, ok, key)
		assert.Falsef(t, l.Passed, key)
		assert.Equalf(t, int64(7200), l.Tick, key)
	}
}

// Live fuel and live ignition over open plug holes is a hazard even when nothing
// on the bench cried out.
func TestLiveFuelAndIgnitionIsAGate(t *testing.T) {
	s := soundAttempt()
	s.in.Record.Runs[1].FuelDisabled, s.in.Record.Runs[1].IgnitionDisabled = false, false
	r := Grade(s.in)
	assert.False(t, r.Pass)
	assert.Contains(t, missed(r), "gate_fuel_ignition")
}

// A number written down must have been read: within a graduation of what the dial
// showed, on that cylinder, before it was written.
func TestNumberWithoutReading(t *testing.T) {
	const psi = unit.PascalPerPSI
	cases := []struct {
		name   string
		number float64 // [psi], cylinder 3 showed 185
		backed bool
	}{
		{"as read", 185, true}, {"one graduation above", 190, true}, {"one graduation below", 180, true},
		{"a graduation and a bit", 190.5, false}, {"round and wrong", 150, false}, {"zero", 0, false},
	}
	for _, c := range cases {
		s := soundAttempt()
		for i, e := range s.in.Sheet.Entries {
			if e.Field == FieldDryLast && e.Cylinder == 3 {
				s.in.Sheet.Entries[i].Number = c.number * psi
			}
		}
		l, ok := line(Grade(s.in), "no_number_invented")
		require.Truef(t, ok, c.name)
		assert.Equalf(t, c.backed, l.Passed, c.name)
		if !c.backed {
			assert.Equalf(t, 3, l.Cylinder, c.name)
		}
	}
}

// A number written before its run had ended was not read from it.
func TestNumberWrittenTooEarly(t *testing.T) {
	s := soundAttempt()
	for i, e := range s.in.Sheet.Entries {
		if e.Field == FieldDryLast && e.Cylinder == 4 {
			s.in.Sheet.Entries[i].Tick = s.in.Record.Runs[3].StartTick
		}
	}
	assert.Contains(t, missed(Grade(s.in)), "no_number_invented")
}

// The number of another cylinder is told apart from one out of thin air.
func TestNumberOfAnotherCylinder(t *testing.T) {
	s := valveAttempt()
	for i, e := range s.in.Sheet.Entries {
		if e.Field == FieldDryLast && e.Cylinder == 4 {
			s.in.Sheet.Entries[i].Number = 110 * unit.PascalPerPSI
		}
	}
	l, _ := line(Grade(s.in), "no_number_invented")
	assert.Contains(t, l.Facts, count("other", 3))
}

// What stood on the dial after a part stroke was read, so it is not invented; but
// it is no first stroke.
func TestPartStrokeWrittenAsFirst(t *testing.T) {
	s := soundAttempt()
	r := &s.in.Record.Runs[1]
	r.Strokes = append([]record.Stroke{{Shown: 60 * unit.PascalPerPSI}}, r.Strokes...)
	for i, e := range s.in.Sheet.Entries {
		if e.Field == FieldDryFirst && e.Cylinder == 2 {
			s.in.Sheet.Entries[i].Number = 60 * unit.PascalPerPSI
		}
	}
	got := missed(Grade(s.in))
	assert.Equal(t, []string{"first_stroke_whole", "dry_first_written"}, got)
	l, _ := line(Grade(s.in), "dry_first_written")
	assert.Contains(t, l.Facts, count("part_stroke", 2))
}

// A mistake noticed and done again costs the reading nothing.
func TestMistakeMended(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.run(1, 100, 150, func(r *record.Run) { r.ThrottleOpen = false })
	s.dry([]float64{185, 187.5, 185, 182.5})
	s.conclude(FamilySound, SureCertain, "none")
	s.putBack()
	r := Grade(s.in)
	assert.Empty(t, missed(r))
	l, ok := line(r, "method_first")
	assert.True(t, ok && l.Passed)
}

// What became known only after the conclusion does not hold it up.
func TestOnlyWhatWasKnownCounts(t *testing.T) {
	s := valveAttempt()
	s.in.Sheet.ConcludedTick = s.in.Record.Runs[3].EndTick // before the wet tests
	l, _ := line(Grade(s.in), "conclusion_fits_readings")
	full, _ := line(Grade(valveAttempt().in), "conclusion_fits_readings")
	assert.Less(t, l.Points, full.Points)
}

// A starter is spared by letting go of the switch; coasting to rest costs nothing.
func TestStarterSpared(t *testing.T) {
	for _, c := range []struct {
		held float64 // [s]
		kept bool
	}{{3, true}, {15, true}, {16, false}, {40, false}} {
		s := soundAttempt()
		r := &s.in.Record.Runs[3]
		r.EndTick = r.StartTick + int64(50*ticksPerSecond)
		for i, e := range s.in.Record.Events {
			if e.Kind == kindStarter && e.Choice == "off" && e.Tick > r.StartTick {
				s.in.Record.Events[i].Tick = r.StartTick + int64(c.held*ticksPerSecond)
			}
		}
		l, ok := line(Grade(s.in), "starter_spared")
		require.True(t, ok)
		assert.Equalf(t, c.kept, l.Passed, "%g s", c.held)
	}
}

// Mode and hints stand beside the score and don't change it.
func TestModeAndHintsAreReported(t *testing.T) {
	s := soundAttempt()
	s.in.Mode, s.in.Hints = "alone", 3
	r := Grade(s.in)
	assert.Equal(t, "alone", r.Mode)
	assert.Equal(t, 3, r.Hints)
	assert.Equal(t, 100.0, r.Points)
}

// Weights are the instructor's: they scale the rows and nothing else.
func TestWeights(t *testing.T) {
	s := soundAttempt()
	s.in.Weights = Weights{Prepare: 1, Measure: 2, Record: 3, Choose: 4, Conclude: 30}
	r := Grade(s.in)
	assert.Equal(t, 40.0, r.OutOf)
	assert.Equal(t, 40.0, r.Points)
	assert.Equal(t, 30.0, r.Rows[4].OutOf)
}

// helpers that spoil an attempt

func tamper(s *shop, f func(*Input)) *shop { f(&s.in); return s }

func eachRun(in *Input, f func(*record.Run)) {
	for i := range in.Record.Runs {
		f(&in.Record.Runs[i])
	}
}

func dropRun(in *Input, i int) {
	in.Record.Runs = append(in.Record.Runs[:i:i], in.Record.Runs[i+1:]...)
}

func dropEvents(in *Input, kind string) {
	var keep []record.Event
	for _, e := range in.Record.Events {
		if e.Kind != kind {
			keep = append(keep, e)
		}
	}
	in.Record.Events = keep
}

func dropEntries(in *Input, field string) {
	var keep []Entry
	for _, e := range in.Sheet.Entries {
		if e.Field != field {
			keep = append(keep, e)
		}
	}
	in.Sheet.Entries = keep
}
