package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// dial makes evidence out of dry and wet readings [psi]; 0 wet means not tested.
func dial(banks [][]int, dry, wet []float64) Evidence {
	e := Evidence{Cylinders: len(dry), Banks: banks}
	for i, d := range dry {
		s := Seen{Cylinder: i + 1, Valid: d >= 0, DryLast: unit.PSI(d), Strokes: 6, Faults: []string{}}
		if i < len(wet) && wet[i] > 0 {
			s.WetValid, s.WetLast, s.OilML = true, unit.PSI(wet[i]), 10
			s.WetGain = wet[i]/d - 1
		}
		e.Seen = append(e.Seen, s)
	}
	return e
}

// The table of patterns of the trade, one row after the other: what the readings
// point to, what they leave open, what they speak against.
func TestPatterns(t *testing.T) {
	cases := []struct {
		name         string
		banks        [][]int
		dry, wet     []float64
		pattern      string
		points, open []Finding
		against      []Finding
	}{
		{"even and good", bank4, []float64{185, 187.5, 182.5, 185}, nil, PatternWithin,
			[]Finding{{Family: FamilySound}, {Family: FamilyNotCompression}},
			[]Finding{{FamilyValveNotOpening, []int{2}}},
			[]Finding{{FamilyValveLeak, []int{3}}, {Family: FamilyValveTiming}}},
		{"one low, no oil yet", bank4, []float64{185, 187.5, 110, 185}, nil, PatternOneLow, nil,
			[]Finding{{FamilyValveLeak, []int{3}}, {FamilyRingOrBore, []int{3}}, {FamilyHeadGasket, []int{3}}, {Family: FamilyMethodOrGauge}},
			[]Finding{{FamilyValveLeak, []int{2}}, {Family: FamilySound}, {Family: FamilySlowCranking}}},
		{"burnt valve: gains like its healthy neighbor", bank4, []float64{185, 187.5, 110, 185}, []float64{0, 205, 120, 0},
			PatternOneLow, []Finding{{FamilyValveLeak, []int{3}}}, []Finding{{FamilyTightLash, []int{3}}},
			[]Finding{{FamilyRingOrBore, []int{3}}}},
		{"rings: gains far more than its healthy neighbor", bank4, []float64{185, 135, 187.5, 185}, []float64{0, 175, 205, 0},
			PatternOneLow, []Finding{{FamilyRingOrBore, []int{2}}}, nil, []Finding{{FamilyValveLeak, []int{2}}}},
		{"gain alone tells nothing", bank4, []float64{185, 135, 187.5, 185}, []float64{0, 175, 0, 0},
			PatternOneLow, nil, []Finding{{FamilyRingOrBore, []int{2}}, {FamilyValveLeak, []int{2}}}, nil},
		{"stands out but keeps the rule", bank4, []float64{190, 187.5, 190, 160}, nil, PatternOneLow, nil,
			[]Finding{{Family: FamilySound}, {FamilyRingOrBore, []int{4}}}, []Finding{{Family: FamilySlowCranking}}},
		{"valve that hardly opens", bank4, []float64{185, 187.5, 185, 10}, nil, PatternOneLow, nil,
			[]Finding{{FamilyValveNotOpening, []int{4}}}, nil},
		{"two neighbors", bank4, []float64{185, 125, 125, 185}, nil, PatternPair,
			[]Finding{{FamilyHeadGasket, []int{2, 3}}}, []Finding{{FamilyRingOrBore, []int{2, 3}}},
			[]Finding{{FamilyHeadGasket, []int{1, 2}}}},
		{"two neighbors, oil no help", bank4, []float64{185, 125, 125, 185}, []float64{205, 137.5, 137.5, 0}, PatternPair,
			[]Finding{{FamilyHeadGasket, []int{2, 3}}}, nil, []Finding{{FamilyRingOrBore, []int{2, 3}}}},
		{"two low, not neighbors", bank4, []float64{125, 185, 125, 185}, nil, PatternSeveral, nil,
			[]Finding{{FamilyValveLeak, []int{1, 3}}}, []Finding{{Family: FamilySound}}},
		{"neighbors by bank in a vee", banks8, []float64{170, 170, 170, 170, 115, 170, 115, 170}, nil, PatternPair,
			[]Finding{{FamilyHeadGasket, []int{5, 7}}}, nil, []Finding{{FamilyHeadGasket, []int{5, 6}}}},
		{"numbers side by side are no neighbors in a vee", banks8, []float64{170, 170, 170, 170, 115, 115, 170, 170}, nil,
			PatternSeveral, nil, nil, nil},
		{"one bank low", banks6, []float64{180, 152.5, 180, 155, 182.5, 152.5}, nil, PatternBankLow,
			[]Finding{{FamilyValveTiming, []int{2, 4, 6}}}, []Finding{{FamilyTightLash, []int{2, 4, 6}}},
			[]Finding{{FamilyValveTiming, []int{1, 3, 5}}, {Family: FamilySound}}},
		{"all low and even, no oil yet", bank4, []float64{130, 132.5, 130, 130}, nil, PatternAllLow, nil,
			[]Finding{{Family: FamilyValveTiming}, {Family: FamilyRingOrBore}, {Family: FamilyWashedOrDry}, {Family: FamilyAltitude}},
			[]Finding{{Family: FamilySlowCranking}, {Family: FamilySound}, {FamilyValveLeak, []int{1}}}},
		{"all low and even, oil does little", bank4, []float64{130, 132.5, 130, 130}, []float64{147.5, 0, 0, 0}, PatternAllLow,
			[]Finding{{Family: FamilyValveTiming}}, nil, []Finding{{Family: FamilyRingOrBore}}},
		{"all low and even, oil does a lot", bank4, []float64{115, 117.5, 115, 115}, []float64{160, 0, 0, 0}, PatternAllLow,
			[]Finding{{Family: FamilyRingOrBore}}, []Finding{{Family: FamilyWashedOrDry}}, []Finding{{Family: FamilyValveTiming}}},
		{"even and between minimum and nine tenths of standard", bank4, []float64{160, 162.5, 160, 160}, nil, PatternAllLow, nil,
			[]Finding{{Family: FamilySound}, {Family: FamilyValveTiming}}, nil},
		{"all high and even", bank4, []float64{215, 212.5, 215, 215}, nil, PatternAllHigh, nil,
			[]Finding{{Family: FamilyValveTiming}, {Family: FamilyCarbonOrLiquid}}, []Finding{{Family: FamilyRingOrBore}}},
		{"one high", bank4, []float64{235, 185, 187.5, 185}, nil, PatternOneHigh,
			[]Finding{{FamilyCarbonOrLiquid, []int{1}}}, nil, []Finding{{FamilyValveLeak, []int{2}}}},
		{"uneven after standing, all gain hugely", bank4, []float64{95, 165, 70, 70}, []float64{120, 215, 90, 130}, PatternSeveral,
			[]Finding{{Family: FamilyWashedOrDry}, {FamilyRingOrBore, []int{1, 3, 4}}}, nil, nil},
		{"less wet than dry is the method", bank4, []float64{95, 180, 170, 170}, []float64{20, 215, 0, 0}, PatternOneLow, nil,
			[]Finding{{Family: FamilyMethodOrGauge}}, nil},
		{"not all cylinders read", bank4, []float64{185, -1, 110, -1}, nil, PatternPartLow, nil,
			[]Finding{{FamilyValveLeak, []int{3}}}, nil},
		{"nothing read", bank4, []float64{-1, -1, -1, -1}, nil, PatternNothing, nil, nil, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			j := Judge(dial(c.banks, c.dry, c.wet), testCard().Limits, true)
			assert.Equal(t, c.pattern, j.Pattern)
			for _, want := range []struct {
				standing Standing
				list     []Finding
			}{{Supported, c.points}, {Open, c.open}, {Contradicted, c.against}} {
				for _, f := range want.list {
					s, _ := j.Standing(f, len(c.dry))
					assert.Equalf(t, want.standing, s, "%v", f)
				}
			}
			if c.points == nil {
				assert.Empty(t, j.Supported)
			}
			if c.pattern == PatternNothing {
				s, _ := j.Standing(Finding{Family: FamilySound}, 4)
				assert.Equal(t, Baseless, s)
			}
		})
	}
}

// Method faults come before meaning, and a cylinder that stands out all the same
// stays possible: a method fault can lie over a real one.
func TestMethodBeforeMeaning(t *testing.T) {
	e := dial(bank4, []float64{140, 142.5, 140, 140}, nil)
	for i := range e.Seen {
		e.Seen[i].Faults = []string{MethodThrottleShut}
	}
	j := Judge(e, testCard().Limits, true)
	assert.Equal(t, PatternMethod, j.Pattern)
	assert.Contains(t, j.Next, "open_throttle")
	assertStanding(t, j, Supported, Finding{Family: FamilyMethodOrGauge})
	assertStanding(t, j, Contradicted, Finding{Family: FamilyValveTiming})

	e.Seen[2].DryLast = unit.PSI(70)
	j = Judge(e, testCard().Limits, true)
	assert.Equal(t, PatternMethodLo, j.Pattern)
	assertStanding(t, j, Open, Finding{FamilyValveLeak, []int{3}})
}

// All low, even or falling in the order of the tests, at low speed: the battery.
func TestSlowCrankingPattern(t *testing.T) {
	e := dial(bank4, []float64{160, 157.5, 152.5, 147.5}, nil)
	for i := range e.Seen {
		e.Seen[i].Faults = []string{MethodSlowCranking}
	}
	j := Judge(e, testCard().Limits, true)
	assert.Equal(t, PatternSlow, j.Pattern)
	assert.Contains(t, j.Next, "charge_battery")
	assertStanding(t, j, Supported, Finding{Family: FamilySlowCranking})
	assertStanding(t, j, Contradicted, Finding{Family: FamilyValveTiming})
	assertStanding(t, j, Contradicted, Finding{Family: FamilyRingOrBore})
}

func assertStanding(t *testing.T, j Judgement, want Standing, f Finding) {
	t.Helper()
	got, _ := j.Standing(f, 4)
	assert.Equalf(t, want, got, "%v", f)
}

// A cylinder that reads differently every time is the method's fault first.
func TestReadingsThatWander(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5, 185, 185})
	s.again(2, 150)
	e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
	j := Judge(e, s.in.Card.Limits, true)
	assert.Equal(t, PatternWander, j.Pattern)
	assertStanding(t, j, Supported, Finding{Family: FamilyMethodOrGauge})
}

// Turning the numbering of the cylinders round turns the judgement round.
func TestMirroredReadings(t *testing.T) {
	dry := []float64{185, 135, 187.5, 182.5}
	wet := []float64{0, 175, 205, 0}
	j := Judge(dial(bank4, dry, wet), testCard().Limits, true)
	turn := func(v []float64) []float64 { return []float64{v[3], v[2], v[1], v[0]} }
	m := Judge(dial(bank4, turn(dry), turn(wet)), testCard().Limits, true)
	assert.Equal(t, j.Pattern, m.Pattern)
	assert.Equal(t, []int{2}, j.Suspects)
	assert.Equal(t, []int{3}, m.Suspects)
	assert.Equal(t, j.OwnGain, m.OwnGain)
	assert.Equal(t, j.Control, m.Control)
}

// The pattern is a matter of shares: all readings and limits k times as large
// look the same.
func TestPatternsScale(t *testing.T) {
	for _, k := range []float64{0.5, 0.8, 1.25, 2} {
		dry := []float64{185, 135, 187.5, 182.5}
		e := dial(bank4, dry, []float64{0, 175, 205, 0})
		l := testCard().Limits
		for i := range e.Seen {
			e.Seen[i].DryLast *= unit.Gauge(k)
			e.Seen[i].WetLast *= unit.Gauge(k)
		}
		l.Standard *= unit.Gauge(k)
		l.Minimum *= unit.Gauge(k)
		assert.Equalf(t, Judge(dial(bank4, dry, []float64{0, 175, 205, 0}), testCard().Limits, true), Judge(e, l, true), "k = %g", k)
	}
}

// A part stroke from where the crank was parked is no reading; a run without a
// full stroke is none at all.
func TestPartStrokesDoNotCount(t *testing.T) {
	r := record.Run{Strokes: []record.Stroke{{Shown: 40, Full: false}, {Shown: 120, Full: true}, {Shown: 160, Full: true}}}
	first, last := firstLast(r)
	assert.Equal(t, unit.Gauge(120), first)
	assert.Equal(t, unit.Gauge(160), last)

	s := newShop(bank4)
	s.run(1, 100, 150, func(r *record.Run) {
		for i := range r.Strokes {
			r.Strokes[i].Full = false
		}
	})
	e := Gather(s.in.Card, 4, bank4, s.in.Record, s.tick)
	assert.False(t, e.Seen[0].Valid)
}
