package diagnose

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// ears is where a careful student listens.
var ears = []string{HeardThrottle, HeardTailpipe, HeardFiller, HeardNeck}

// leak puts air on a cylinder, listens everywhere and writes it down. air lists where
// it came out.
func (s *shop) leak(cylinder int, percent float64, air []string, change ...func(*record.Leak)) {
	s.do("turn-by-hand", "tdc", cylinder, 0)
	s.do("tester-on", "", cylinder, 0)
	s.do("wrench", "off", 0, 0)
	s.do("air", "on", 0, 690)
	s.tick += 700
	l := record.Leak{Tick: s.tick, Minutes: s.minutes, Cylinder: cylinder, SupplyPa: 690e3, Percent: percent}
	for _, p := range ears {
		s.do("listen", p, 0, 0)
		l.Heard = append(l.Heard, record.Heard{Place: p, Air: slices.Contains(air, p)})
	}
	for _, n := range []int{cylinder - 1, cylinder + 1} {
		if n >= 1 && n <= s.in.Cylinders {
			s.do("listen", holePlace, n, 0)
			l.Heard = append(l.Heard, record.Heard{Place: holePlace, Cylinder: n, Air: slices.Contains(air, HeardNeighbour)})
		}
	}
	for _, f := range change {
		f(&l)
	}
	s.in.Record.Leaks = append(s.in.Record.Leaks, l)
	s.do("air", "off", 0, 0)
	s.do("tester-off", "", 0, 0)
	s.write(FieldLeakage, cylinder, l.Percent)
	s.write(FieldLeakageSupply, 0, 690e3)
	for _, place := range air {
		s.in.Sheet.Heard = append(s.in.Sheet.Heard, Air{cylinder, place, s.tick})
	}
	if len(air) == 0 {
		s.in.Sheet.Heard = append(s.in.Sheet.Heard, Air{cylinder, HeardNowhere, s.tick})
	}
}

// look takes one look and notes what it showed.
func (s *shop) look(kind string, cylinder int, fact string, number float64) {
	s.do(kind, "", cylinder, 0)
	s.do(kindFact, fact, cylinder, number)
}

// clamp cranks with the meter round the cable.
func (s *shop) clamp(percent ...float64) {
	s.do("clamp", "on", 0, 0)
	s.do("starter", "on", 0, 0)
	r := record.Run{
		ID: len(s.in.Record.Runs) + 1, StartTick: s.tick, EndTick: s.tick + 4800, Minutes: s.minutes, CoolantC: s.coolant,
		FuelDisabled: true, IgnitionDisabled: true, Charger: true, SpeedRPM: 210, BatteryMinV: s.volts,
	}
	c := record.Current{Run: r.ID, Seconds: 4, MeanA: 150, MeanHumpA: 60}
	for i, p := range percent {
		c.Humps = append(c.Humps, record.Hump{Cylinder: firing[i], HeightA: 0.6 * p, Percent: p, Low: p <= 80})
	}
	s.tick = r.EndTick
	s.in.Record.Runs, s.in.Record.Currents = append(s.in.Record.Runs, r), append(s.in.Record.Currents, c)
	s.do("starter", "off", 0, 0)
	s.do("clamp", "off", 0, 0)
	for _, h := range c.Humps {
		s.write(FieldHump, h.Cylinder, h.Percent)
	}
}

// firing is the order of the inline four of these tests.
var firing = []int{1, 3, 4, 2}

// running runs the engine with the gauge on one cylinder [psi].
func (s *shop) running(cylinder int, idle, snap float64) {
	s.do("disable-one", "disabled", cylinder, 0)
	for _, x := range []struct {
		how   string
		psi   float64
		field string
	}{{"idle", idle, FieldRunningIdle}, {"snap", snap, FieldRunningSnap}} {
		s.tick += 2000
		s.in.Record.Pumped = append(s.in.Record.Pumped, record.Pumped{
			Tick: s.tick, Minutes: s.minutes, Cylinder: cylinder, How: x.how, Shown: x.psi * unit.PascalPerPSI,
		})
		s.write(x.field, cylinder, x.psi*unit.PascalPerPSI)
	}
	s.do("disable-one", "enabled", cylinder, 0)
}

// vacuum cranks with the vacuum gauge on the manifold and the throttle shut.
func (s *shop) vacuum(kpa float64, change ...func(*record.Run)) {
	s.do("vacuum-gauge", "on", 0, 0)
	s.do("starter", "on", 0, 0)
	r := record.Run{
		ID: len(s.in.Record.Runs) + 1, StartTick: s.tick, EndTick: s.tick + 4800, Minutes: s.minutes, CoolantC: s.coolant,
		FuelDisabled: true, IgnitionDisabled: true, Charger: true, SpeedRPM: 230, BatteryMinV: s.volts,
	}
	for _, f := range change {
		f(&r)
	}
	s.tick = r.EndTick
	s.in.Record.Runs = append(s.in.Record.Runs, r)
	s.in.Record.Vacuums = append(s.in.Record.Vacuums, record.Vacuum{Run: r.ID, MeanPa: kpa * 1e3, SwingPa: 2e3})
	s.do("starter", "off", 0, 0)
	s.write(FieldVacuum, 0, kpa*1e3)
}

// dryLow is the engine whose third cylinder reads 110 psi, read twice.
func dryLow() *shop {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{3}}
	s.prepare()
	s.dry([]float64{185, 187.5, 110, 182.5})
	s.again(3, 110)
	return s
}

// confirmedAttempts are attempts that use confirming tests, well and badly.
func confirmedAttempts() []*shop {
	good := dryLow()
	good.leak(3, 62, []string{HeardTailpipe, HeardFiller})
	good.write(FieldRatio, 0, 59)
	good.write(FieldSpread, 0, 77.5*unit.PascalPerPSI)
	good.conclude(FamilyValveLeak, SureCertain, "none", 3)
	good.in.Sheet.Evidence = append(good.in.Sheet.Evidence, "leakage", "repeat")
	good.putBack()

	bad := dryLow()
	bad.in.Card.LashCheck, bad.in.Card.ThrottleBy = true, ThrottlePedal
	for _, key := range []string{"plate_forced", "wrench_left_on", "tester_under_air", "hot_cap", "gauge_under_pressure"} {
		bad.do(kindCaution, key, 0, 0)
	}
	bad.do(kindHazard, "belt_caught", 0, 0)
	bad.look(kindLash, 3, "lash_exhaust", 0.3) // twenty minutes before seven
	bad.look(kindTiming, 0, "timing_right", 0)
	bad.leak(3, 97, []string{HeardThrottle, HeardTailpipe}, func(l *record.Leak) { l.PistonAt = 6.28 })
	bad.leak(2, 40, nil, func(l *record.Leak) { l.Heard = l.Heard[:1] })
	bad.do("clamp", "on", 0, 0)
	bad.do("disable-one", "disabled", 3, 0)
	bad.vacuum(30, func(r *record.Run) { r.ThrottleOpen = true })
	bad.write(FieldRatio, 0, 75)
	bad.in.Sheet.Heard = append(bad.in.Sheet.Heard, Air{2, HeardEdge, bad.tick})
	bad.conclude(FamilyValveLeak, SureCertain, "timing_marks", 3)

	pedal := soundAttempt()
	pedal.in.Card.ThrottleBy = ThrottlePedal

	seen := newShop(bank4)
	seen.in.Key = Key{Family: FamilyValveNotOpening, Cylinders: []int{2}}
	seen.prepare()
	seen.dry([]float64{185, 187.5, 185, 182.5})
	seen.clamp(98, 99, 102, 101)
	seen.vacuum(34)
	seen.running(2, 70, 95)
	seen.running(3, 75, 160)
	seen.conclude(FamilyValveNotOpening, SureLikely, "none", 2)
	return []*shop{good, bad, pedal, seen}
}

// Every row of the table of patterns that a leakage test tells apart (trade practice;
// the percentages are examples of the bands stated in confirm.go).
func TestLeakageTellsApart(t *testing.T) {
	low := []float64{185, 187.5, 110, 182.5}
	pair := []float64{185, 100, 102.5, 182.5}
	even := []float64{130, 132.5, 130, 127.5}
	for _, x := range []struct {
		name    string
		dry     []float64
		at      int
		percent float64
		air     []string
		family  string
		cyl     []int
		decided bool
		against []string
	}{
		{"tailpipe: exhaust valve", low, 3, 55, []string{HeardTailpipe, HeardFiller}, FamilyValveLeak, []int{3}, true, []string{FamilyRingOrBore, FamilyHeadGasket}},
		{"throttle: intake valve", low, 3, 55, []string{HeardThrottle}, FamilyValveLeak, []int{3}, true, []string{FamilyRingOrBore}},
		{"filler alone: rings", low, 3, 45, []string{HeardFiller}, FamilyRingOrBore, []int{3}, true, []string{FamilyValveLeak, FamilyTightLash}},
		{"bubbles: gasket", low, 3, 45, []string{HeardNeck, HeardFiller}, FamilyHeadGasket, []int{3}, true, []string{FamilyValveLeak, FamilyRingOrBore}},
		{"puff at the neighbour's", pair, 3, 70, []string{HeardNeighbour, HeardFiller}, FamilyHeadGasket, []int{2, 3}, true, nil},
		{"small, one low: the valve hardly opens", low, 3, 6, nil, FamilyValveNotOpening, []int{3}, true, []string{FamilyValveLeak, FamilyRingOrBore, FamilyTightLash}},
		{"small, all low: timing", even, 2, 6, nil, FamilyValveTiming, nil, true, []string{FamilyRingOrBore, FamilyWashedOrDry}},
	} {
		s := newShop(bank4)
		s.prepare()
		s.dry(x.dry)
		s.leak(x.at, x.percent, x.air)
		j := Judge(Gather(s.in.Card, 4, bank4, s.in.Record, s.tick), s.in.Card.Limits, true)
		how, fit := j.Standing(Finding{x.family, x.cyl}, 4)
		assert.Equal(t, Supported, how, x.name)
		assert.InDelta(t, 1, fit, 0, x.name)
		if len(x.dry) == 4 && x.at == 3 {
			assert.Equal(t, x.decided, j.Decided, x.name)
		}
		for _, f := range x.against {
			how, _ := j.Standing(Finding{f, x.cyl}, 4)
			assert.Equal(t, Contradicted, how, "%s: %s", x.name, f)
		}
	}
}

// At overlap, off the top, or with the crank pushed round, a leakage test says
// nothing; between the bands it says nothing either.
func TestLeakageThatSaysNothing(t *testing.T) {
	before := dryLow()
	want := Judge(Gather(before.in.Card, 4, bank4, before.in.Record, before.tick), before.in.Card.Limits, true)
	for fault, change := range map[string]func(*record.Leak){
		leakOverlap: func(l *record.Leak) { l.PistonAt = -6.25 },
		leakOff:     func(l *record.Leak) { l.PistonAt = 3.1 },
		leakTurned:  func(l *record.Leak) { l.Turned = -0.2 },
		"":          func(l *record.Leak) { l.Percent = 19 },
	} {
		s := dryLow()
		s.leak(3, 99, []string{HeardThrottle, HeardTailpipe}, change)
		e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
		l, ok := e.Confirmed.leak(3)
		require.True(t, ok)
		assert.Equal(t, fault, l.Fault)
		assert.Equal(t, want, Judge(e, s.in.Card.Limits, true), fault)
	}
}

// Done again the right way, the first attempt at it costs nothing but its gate.
func TestLeakageDoneAgain(t *testing.T) {
	s := dryLow()
	s.leak(3, 99, []string{HeardThrottle, HeardTailpipe}, func(l *record.Leak) { l.PistonAt = 6.28 })
	s.in.Sheet.Heard = nil
	s.leak(3, 55, []string{HeardTailpipe, HeardFiller})
	s.conclude(FamilyValveLeak, SureCertain, "none", 3)
	r := Grade(s.in)
	for _, name := range []string{"leak_at_top", "leak_listened", "heard_written", "tests_written"} {
		l, ok := line(r, name)
		require.True(t, ok, name)
		assert.True(t, l.Passed, name)
	}
}

// The other tests, each by the row of the table that it tells apart.
func TestLooksTellApart(t *testing.T) {
	even := []float64{130, 132.5, 130, 127.5}
	low := []float64{185, 187.5, 110, 182.5}
	high := []float64{185, 187.5, 225, 182.5}
	sound := []float64{185, 187.5, 185, 182.5}
	for _, x := range []struct {
		name   string
		dry    []float64
		do     func(*shop)
		family string
		cyl    []int
		how    Standing
	}{
		{"marks off", even, func(s *shop) { s.look(kindTiming, 1, "timing_intake_late", 1) }, FamilyValveTiming, nil, Supported},
		{"marks right", even, func(s *shop) { s.look(kindTiming, 0, "timing_right", 0) }, FamilyValveTiming, nil, Contradicted},
		{"lash tight", low, func(s *shop) { s.look(kindLash, 3, "lash_exhaust", 0.2) }, FamilyTightLash, []int{3}, Supported},
		{"lash right", low, func(s *shop) { s.look(kindLash, 3, "lash_exhaust", 0.3) }, FamilyTightLash, []int{3}, Contradicted},
		{"pushrod off", low, func(s *shop) { s.look(kindLash, 3, "lash_intake_wide", 1) }, FamilyValveNotOpening, []int{3}, Supported},
		{"a hole", low, func(s *shop) { s.look(kindBorescope, 3, "bore_hole", 0) }, FamilyRingOrBore, []int{3}, Supported},
		{"carbon", high, func(s *shop) { s.look(kindBorescope, 3, "bore_carbon", 0) }, FamilyCarbonOrLiquid, []int{3}, Supported},
		{"no carbon", high, func(s *shop) { s.look(kindBorescope, 3, "bore_clean", 0) }, FamilyCarbonOrLiquid, []int{3}, Contradicted},
		{"coolant pressed out", low, func(s *shop) { s.look(kindCooling, 0, "cooling_falls", 0) }, FamilyHeadGasket, []int{3}, Supported},
		{"little at speed", sound, func(s *shop) { s.running(2, 70, 95); s.running(3, 75, 160) }, FamilyValveNotOpening, []int{2}, Supported},
		{"enough at speed", sound, func(s *shop) { s.running(2, 75, 160); s.running(3, 75, 165) }, FamilyValveNotOpening, []int{2}, Contradicted},
		{"with nothing beside it", sound, func(s *shop) { s.running(2, 75, 160) }, FamilyValveNotOpening, []int{2}, Open},
		{"a compression too many", sound, func(s *shop) { s.clamp(90, 150, 80.5, 81) }, FamilyValveNotOpening, []int{2}, Supported},
		{"the starter feels it too", low, func(s *shop) { s.clamp(104, 65, 105, 106) }, FamilyMethodOrGauge, nil, Contradicted},
		{"oil of one's own is no liquid", low, func(s *shop) {
			s.do("oil", "", 3, 10)
			s.look(kindBorescope, 3, "bore_liquid", 0)
		}, FamilyCarbonOrLiquid, []int{3}, Contradicted},
	} {
		s := newShop(bank4)
		s.prepare()
		s.dry(x.dry)
		x.do(s)
		j := Judge(Gather(s.in.Card, 4, bank4, s.in.Record, s.tick), s.in.Card.Limits, true)
		how, _ := j.Standing(Finding{x.family, x.cyl}, 4)
		assert.Equal(t, x.how, how, x.name)
	}
}

// A second gauge clears the first, or shows it up; readings by it stand beside the
// others and don't mix with them.
func TestSecondGauge(t *testing.T) {
	for after, want := range map[float64]Standing{127.5: Contradicted, 150: Supported} {
		s := newShop(bank4)
		s.prepare()
		s.dry([]float64{130, 132.5, 130, 127.5})
		s.do("gauge", "b", 0, 0)
		s.run(2, after*0.7, after)
		e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
		assert.InDelta(t, 132.5, e.Seen[1].DryLast.PSI(), 1e-9, "of the gauge the others were read with")
		assert.Equal(t, want, standing(Judge(e, s.in.Card.Limits, true), FamilyMethodOrGauge), "%g", after)
		assert.Contains(t, e.Tests(), "second_gauge")
	}
}

func standing(j Judgement, family string) Standing {
	how, _ := j.Standing(Finding{Family: family}, 4)
	return how
}

// A neighbour's plug put back for a comparison is no plug forgotten.
func TestRefit(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 100, 102.5, 182.5})
	s.run(3, 90, 130, func(r *record.Run) { r.PlugsOut = 3 })
	s.conclude(FamilyHeadGasket, SureLikely, "leakage", 2, 3)
	r := Grade(s.in)
	for _, name := range []string{"plugs_all_out", "method_first"} {
		if l, ok := line(r, name); ok {
			assert.True(t, l.Passed, name)
		}
	}
	e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
	assert.InDelta(t, 102.5, e.Seen[2].DryLast.PSI(), 1e-9)
	require.Len(t, e.Confirmed.Refits, 1)
	how, _ := Judge(e, s.in.Card.Limits, true).Standing(Finding{FamilyHeadGasket, []int{2, 3}}, 4)
	assert.Equal(t, Supported, how)
}

// Whole work with a confirming test earns every point, whether or not oil was used.
func TestConfirmedWorkEarnsAll(t *testing.T) {
	for i, s := range confirmedAttempts() {
		if i == 1 {
			continue
		}
		if i == 3 {
			s.putBack()
			s.in.Sheet.Evidence = append(s.in.Sheet.Evidence, "running", "current")
		}
		assert.Empty(t, missed(Grade(s.in)), "attempt %d", i)
	}
}

// Dear before cheap loses, and the same test at the price of a moment doesn't.
func TestCheapBeforeDear(t *testing.T) {
	for minutes, cheap := range map[float64]bool{2: true, 20: false} {
		s := dryLow()
		s.in.Card.LashCheck, s.in.Card.Minutes.Lash = true, minutes
		s.look(kindLash, 3, "lash_exhaust", 0.3)
		s.leak(3, 55, []string{HeardTailpipe})
		s.conclude(FamilyValveLeak, SureLikely, "none", 3)
		l, ok := line(Grade(s.in), "tests_by_cost")
		require.True(t, ok)
		assert.Equal(t, cheap, l.Passed, "%g min", minutes)
		if !cheap {
			assert.Contains(t, l.Facts, word("test", "lash"))
			assert.Contains(t, l.Facts, word("better", "leakage"))
			assert.Contains(t, l.Facts, fact("better_minutes", 7, "min"))
		}
	}
}

// A test that can tell nothing costs its minutes for nothing: the marks of an engine
// with one low cylinder, the starter's current where all are low alike, anything once
// it is decided.
func TestTestsThatTellNothing(t *testing.T) {
	told := func(s *shop) bool {
		s.conclude(FamilyUndecided, SureLikely, "leakage")
		l, ok := line(Grade(s.in), "tests_told")
		require.True(t, ok)
		return l.Passed
	}
	marks := dryLow()
	marks.look(kindTiming, 0, "timing_right", 0)
	assert.False(t, told(marks))
	clamp := newShop(bank4)
	clamp.prepare()
	clamp.dry([]float64{130, 132.5, 130, 127.5})
	clamp.clamp(100, 99, 100, 101)
	assert.False(t, told(clamp))
	late := dryLow()
	late.leak(3, 55, []string{HeardTailpipe})
	late.look(kindBorescope, 3, "bore_clean", 0)
	assert.False(t, told(late))
	for _, test := range []string{"timing_marks", "cooling_pressure"} {
		called := dryLow() // by complaint and history of the job
		called.in.Key.NextTests = []string{test}
		called.look(map[string]string{"timing_marks": kindTiming, "cooling_pressure": kindCooling}[test], 0, "", 0)
		assert.True(t, told(called), test)
	}
}

// The limits of the day: one correction by the air there is, and readings that are
// low by the page alone point to the altitude.
func TestLimitsAtAltitude(t *testing.T) {
	s := newShop(bank4)
	s.in.Key = Key{Family: FamilySound}
	s.prepare()
	s.dry([]float64{155, 157.5, 155, 152.5})
	s.conclude(FamilySound, SureLikely, "none")
	s.putBack()
	standing := func() Standing { return open(s.in).claim[0].standing }
	assert.Equal(t, Open, standing(), "low at sea level, yet over the minimum")
	s.in.Ambient = 83e3
	assert.Equal(t, Supported, standing())
	l, _ := line(Grade(s.in), "spec_written")
	assert.True(t, l.Passed, "the page is written down as printed")
	s.in.Sheet.Findings[0].Family = FamilyAltitude
	assert.Equal(t, Supported, standing())
	s.in.Ambient = 101e3
	assert.Equal(t, Contradicted, standing())
}

// Another judge's lines stand at the end of their row, scored only with a share.
func TestOpinion(t *testing.T) {
	s := soundAttempt()
	plain := Grade(s.in)
	s.in.Opinion = []Opinion{{Row: RowConclude, Rule: "second_judge", Passed: true, Facts: []Fact{{Name: "odds", Value: 3}}}}
	told := Grade(s.in)
	assert.Equal(t, plain.Points, told.Points)
	row := told.Rows[4]
	assert.Equal(t, Line{Rule: "second_judge", Passed: true, Facts: []Fact{{Name: "odds", Value: 3}}}, row.Lines[len(row.Lines)-1])
	s.in.Opinion[0].Share = 5
	scored := Grade(s.in)
	assert.Less(t, scored.Points, plain.Points)
	s.in.Opinion[0].Part = 1
	assert.Equal(t, plain.Points, Grade(s.in).Points)
}

// The student's own sums, by the student's own numbers.
func TestArithmetic(t *testing.T) {
	for _, x := range []struct {
		field  string
		cyl    int
		number float64
		good   bool
	}{
		{FieldRatio, 0, 58.7, true}, {FieldRatio, 0, 75, false}, {FieldSpread, 0, 77.5 * unit.PascalPerPSI, true},
		{FieldSpread, 0, 110 * unit.PascalPerPSI, false}, {FieldGain, 3, 6.8, true}, {FieldGain, 3, 60, false},
	} {
		s := valveAttempt()
		s.write(x.field, x.cyl, x.number)
		r := Grade(s.in)
		l, ok := line(r, "arithmetic")
		require.True(t, ok)
		assert.Equal(t, x.good, l.Passed, "%s %g", x.field, x.number)
		l, _ = line(r, "no_number_invented")
		assert.True(t, l.Passed)
	}
}

// One cylinder that shows at the first stroke all it will ever show squeezes the same
// gas each time: nothing new gets in, however normal it reads (the model's pushrod off
// its rocker; common practice looks at the rocker).
func TestFlatCylinder(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	for i, first := range []float64{95, 97.5, 120, 95} {
		s.run(i+1, first, []float64{130, 132.5, 120, 130}[i])
	}
	s.in.Card.Limits = Limits{Standard: 900e3, Minimum: 700e3, Rule: RuleRatio75, RatioMin: 0.75}
	j := Judge(Gather(s.in.Card, 4, bank4, s.in.Record, s.tick), s.in.Card.Limits, true)
	assert.Equal(t, PatternWithin, j.Pattern)
	assert.False(t, j.Decided)
	how, _ := j.Standing(Finding{FamilyValveNotOpening, []int{3}}, 4)
	assert.Equal(t, Supported, how)
	assert.Contains(t, j.Next, "lash")
	assert.Zero(t, flatOne([]Seen{{Valid: true, DryFirst: 5, DryLast: 5}, {Valid: true, DryFirst: 6, DryLast: 6}}), "all of them: a shut throttle")
}

// What is tight on one engine is right on another: the card says.
func TestTightIsByTheCard(t *testing.T) {
	for _, c := range []struct {
		asked Lash
		drags float64
		want  Standing
	}{
		{DefaultLash(), 0.30, Contradicted}, {DefaultLash(), 0.25, Contradicted}, {DefaultLash(), 0.20, Supported},
		{Lash{0.25, 0.40, 0.05}, 0.30, Supported}, {Lash{0.25, 0.40, 0.05}, 0.35, Contradicted},
		{Lash{0.10, 0.15, 0.02}, 0.15, Contradicted}, {Lash{0.10, 0.15, 0.02}, 0.10, Supported},
	} {
		s := newShop(bank4)
		s.in.Card.LashCheck, s.in.Card.Lash = true, c.asked
		s.prepare()
		s.dry([]float64{185, 187.5, 120, 182.5})
		s.look(kindLash, 3, "lash_exhaust", c.drags)
		e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
		how, _ := Judge(e, s.in.Card.Limits, true).Standing(Finding{FamilyTightLash, []int{3}}, 4)
		assert.Equal(t, c.want, how, "%+v", c)
	}
}

// The engine that idles on without a cylinder does not need it; feelers and marks are
// read in millimetres and teeth.
func TestMeasuredLooks(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5, 185, 182.5})
	s.in.Record.Balances = []record.Balance{{Tick: s.tick, RPM: 700, Without: []float64{500, 690, 500, 500}}}
	s.look(kindTiming, 1, "timing_intake_late", 1)
	s.look(kindLash, 2, "lash_intake", 0.2)
	s.do(kindFact, "lash_exhaust", 2, 0.15)
	s.conclude(FamilyValveNotOpening, SureLikely, "running", 2)
	e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
	assert.Contains(t, e.Tests(), "power_balance")
	j := Judge(e, s.in.Card.Limits, true)
	for _, f := range []Finding{{FamilyTightLash, []int{2}}, {Family: FamilyValveTiming}} {
		how, _ := j.Standing(f, 4)
		assert.Equal(t, Supported, how, f.Family)
	}
	how, _ := j.Standing(Finding{FamilyValveNotOpening, []int{2}}, 4)
	assert.Equal(t, Open, how, "a balance leans, and what was measured goes before it")
	l, ok := line(Grade(s.in), "tests_written")
	require.True(t, ok)
	assert.Contains(t, l.Facts, count("of", 3))
	s.write(FieldTiming, 0, 18)
	s.write(FieldLashIntake, 2, 0.2)
	s.write(FieldLashExhaust, 2, 0.15)
	r := Grade(s.in)
	l, _ = line(r, "tests_written")
	assert.True(t, l.Passed)
	l, _ = line(r, "no_number_invented")
	assert.True(t, l.Passed)
}
