package diagnose

import (
	"encoding/json"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// anyInput makes an input out of a seed: often like real work, sometimes sheer
// nonsense with NaN and infinities, cylinders that do not exist and ticks out of
// order.
func anyInput(seed uint64) Input {
	rng := rand.New(rand.NewPCG(seed, 1))
	g := nonsense{rng}
	var s *shop
	switch seed % 4 {
	case 0:
		s = soundAttempt()
	case 1:
		s = valveAttempt()
	case 2:
		s = ringAttempt()
	default:
		s = newShop([][][]int{bank4, banks6, banks8, nil, {{1}, {}, {99, -1, 2}}}[rng.IntN(5)])
		s.in.Cylinders = rng.IntN(24) - 4
	}
	for range rng.IntN(12) {
		g.disturb(&s.in)
	}
	return s.in
}

type nonsense struct{ *rand.Rand }

func (g nonsense) number() float64 {
	switch g.IntN(8) {
	case 0:
		return math.NaN()
	case 1:
		return math.Inf(1 - 2*g.IntN(2))
	case 2:
		return 0
	case 3:
		return math.MaxFloat64
	case 4:
		return -g.Float64() * 1e6
	}
	return g.Float64() * 2e6
}

func pickOne(g nonsense, list []string) string {
	if g.IntN(12) == 0 {
		return "no such thing"
	}
	return list[g.IntN(len(list))]
}

// disturb changes one thing.
func (g nonsense) disturb(in *Input) {
	kinds := []string{
		kindGlasses, kindGear, kindBrake, kindFuel, kindIgnition, kindPlugOut, kindPlugIn, kindHoseOn, kindOil, kindStarter,
		kindCrankStart, kindCaution, kindHazard, kindSpec, kindThrottle, kindSwitch, kindFact, kindFinding, kindStart,
		kindTesterOn, kindAir, kindTurn, kindWrench, kindClamp, kindPipe, kindOne, kindLash, kindTiming, kindBorescope, kindCooling,
		kindLook, kindListen, kindHoseOff, kindGauge, kindFluids,
	}
	choices := []string{
		"on", "off", "open", "shut", "ordered", "loose", "hand", "wrench", "disabled", "enabled", "remote", "key", "drive",
		"gear_engaged", "hydrolock", "vapour_ignition", "much_oil", "reach_too_long", "spec_page", "", "pedal",
	}
	dangers := []string{
		"gear_engaged", "hydrolock", "vapour_ignition", "much_oil", "reach_too_long", "air_turned_crank", "belt_caught",
		"wrench_left_on", "much_air", "hot_cap", "gauge_under_pressure", "plate_forced", "starter_hot", "could_start",
	}
	facts := []string{
		"spec_page", "lash_exhaust_none", "lash_exhaust", "timing_right", "timing_intake_late", "bore_hole", "cooling_falls", "plug_oily",
	}
	switch g.IntN(11) {
	case 0, 1:
		kind, list := pickOne(g, kinds), choices
		switch kind {
		case kindCaution, kindHazard:
			list = dangers
		case kindFact:
			list = facts
		}
		in.Record.Events = append(in.Record.Events, record.Event{
			Tick: g.Int64N(90000) - 9, Kind: kind, Choice: pickOne(g, list), Cylinder: g.IntN(20) - 2,
			Number: g.number(), Minutes: g.number(),
		})
	case 2, 3:
		in.Record.Runs = append(in.Record.Runs, g.run())
	case 4:
		in.Sheet.Entries = append(in.Sheet.Entries, Entry{
			Field: pickOne(g, Fields()), Cylinder: g.IntN(20) - 2, Number: g.number(), Tick: g.Int64N(90000),
		})
	case 5:
		in.Sheet.Findings = append(in.Sheet.Findings, Finding{pickOne(g, Families()), []int{g.IntN(20) - 2, g.IntN(5)}})
		in.Sheet.ConcludedTick = g.Int64N(90000)
	case 6:
		in.Sheet.NextTest, in.Sheet.Sure = pickOne(g, NextTests()), pickOne(g, Sureness())
		in.Sheet.Evidence = append(in.Sheet.Evidence, pickOne(g, EvidenceKinds()))
		in.Sheet.Ticks = append(in.Sheet.Ticks, pickOne(g, []string{"glasses", "fuel", "gear", "codes"}))
	case 7:
		if n := len(in.Record.Events); n > 0 {
			i := g.IntN(n)
			in.Record.Events = append(in.Record.Events[:i:i], in.Record.Events[i+1:]...)
		}
		if n := len(in.Record.Runs); n > 0 {
			i := g.IntN(n)
			in.Record.Runs = append(in.Record.Runs[:i:i], in.Record.Runs[i+1:]...)
		}
	case 8:
		in.Card.Limits.Standard, in.Card.Limits.Minimum = unit.Gauge(g.number()), unit.Gauge(g.number())
		in.Card.OilML, in.Card.CoolantMinC, in.Hints = g.number(), g.number(), g.IntN(9)-2
		in.Card.Switch = pickOne(g, []string{"remote", "key", "either"})
		in.Weights.Measure, in.Card.Charger = g.number(), g.IntN(2) == 0
		in.Sheet.Remark = pickOne(g, []string{"", " ", "smokes a little"})
	case 9:
		g.confirming(in)
	case 10:
		in.Sheet.Heard = append(in.Sheet.Heard, Air{Cylinder: g.IntN(20) - 2, Place: pickOne(g, HeardPlaces()), Tick: g.Int64N(90000)})
		in.Ambient = unit.Pressure(g.number())
		in.Card.ThrottleBy = pickOne(g, []string{ThrottlePedal, ThrottleLinkage})
		in.Card.Minutes.Lash, in.Card.LashCheck = g.number(), g.IntN(2) == 0
		in.Opinion = append(in.Opinion, Opinion{
			Row: pickOne(g, RowNames()), Rule: "opinion", Share: g.number(), Part: g.number(), Passed: g.IntN(2) == 0,
		})
	}
}

// confirming puts a confirming test on record, likely or not.
func (g nonsense) confirming(in *Input) {
	r := &in.Record
	one := g.IntN(max(1, len(r.Runs))+1) + 1
	switch g.IntN(4) {
	case 0:
		l := record.Leak{
			Tick: g.Int64N(90000), Cylinder: g.IntN(7) - 1, SupplyPa: g.number(), HeldPa: g.number(), Percent: float64(g.IntN(101)),
			PistonAt: []float64{0, 0.1, 3, -6.28, math.NaN()}[g.IntN(5)], Turned: []float64{0, 0, 0.5, math.Inf(1)}[g.IntN(4)],
		}
		for range g.IntN(6) {
			l.Heard = append(l.Heard, record.Heard{
				Place: pickOne(g, append(HeardPlaces(), holePlace)), Cylinder: g.IntN(6) - 1, Air: g.IntN(2) == 0,
			})
		}
		r.Leaks = append(r.Leaks, l)
	case 1:
		c := record.Current{Run: one, MeanA: g.number()}
		for n := range g.IntN(6) {
			c.Humps = append(c.Humps, record.Hump{Cylinder: n + g.IntN(2), Percent: 60 + 90*g.Float64(), Low: g.IntN(3) == 0})
		}
		r.Currents = append(r.Currents, c)
	case 2:
		r.Vacuums = append(r.Vacuums, record.Vacuum{Run: one, MeanPa: g.number(), SwingPa: g.number()})
	case 3:
		r.Pumped = append(r.Pumped, record.Pumped{
			Tick: g.Int64N(90000), Cylinder: g.IntN(7) - 1, How: pickOne(g, []string{"idle", "snap"}), Shown: g.number(),
		})
	}
}

func (g nonsense) run() record.Run {
	r := record.Run{
		StartTick: g.Int64N(90000) - 9, EndTick: g.Int64N(90000), Cylinder: g.IntN(20) - 2, ThrottleOpen: g.IntN(3) > 0,
		PlugsOut: g.IntN(9), OilML: max(0, g.number()), CoolantC: g.number(), GaugeAtZero: g.IntN(4) > 0,
		FuelDisabled: g.IntN(3) > 0, IgnitionDisabled: g.IntN(3) > 0, SpeedRPM: 120 + 200*g.Float64(), BatteryMinV: g.number(),
	}
	for range g.IntN(12) {
		r.Strokes = append(r.Strokes, record.Stroke{Shown: g.number(), Full: g.IntN(5) > 0, Tick: g.Int64N(90000)})
	}
	return r
}

// Whatever comes in: no panic, points between nothing and all, rows that add up,
// numbers that can be read, JSON that can be written, and a pass only with every
// gate kept and enough points.
func TestAnyInput(t *testing.T) {
	for seed := range uint64(4000) {
		in := anyInput(seed)
		r := Grade(in)
		sum, outOf := 0.0, 0.0
		for _, row := range r.Rows {
			lines := 0.0
			for _, l := range row.Lines {
				require.True(t, finite(l.Minutes) && finite(l.OutOf))
				require.Truef(t, l.Points <= l.OutOf+1e-9 && (l.Points >= 0 || l.OutOf == 0 && l.Points >= -row.OutOf), "seed %d: %s: %g of %g", seed, l.Rule, l.Points, l.OutOf)
				lines += l.Points
				for _, f := range l.Facts {
					require.Truef(t, finite(f.Value), "seed %d: %s: %s", seed, l.Rule, f.Name)
				}
			}
			require.InDeltaf(t, row.Points, lines, 0.005*float64(len(row.Lines)+1), "seed %d: %s", seed, row.Name)
			require.LessOrEqualf(t, row.Points, row.OutOf, "seed %d: %s", seed, row.Name)
			sum += row.Points
			outOf += row.OutOf
		}
		require.InDeltaf(t, sum, r.Points, 0.006, "seed %d", seed)
		require.InDeltaf(t, outOf, r.OutOf, 1e-9, "seed %d", seed)
		gates := true
		for _, g := range r.Gates {
			gates = gates && g.Passed
		}
		low := 0
		for _, row := range r.Rows {
			if row.Points < rounded(r.RowMark*row.OutOf) {
				low++
			}
		}
		require.Lenf(t, r.Low, low, "seed %d", seed)
		require.Equalf(t, gates && low == 0 && r.Points >= rounded(r.PassMark*r.OutOf), r.Pass, "seed %d", seed)
		_, err := json.Marshal(r)
		require.NoErrorf(t, err, "seed %d", seed)
	}
}

// The same input gives the same bytes, and grading changes nothing in it.
func TestSameInputSameBytes(t *testing.T) {
	for seed := range uint64(200) {
		in := anyInput(seed)
		first, err := json.Marshal(Grade(in))
		require.NoError(t, err)
		second, err := json.Marshal(Grade(in))
		require.NoError(t, err)
		require.Equal(t, string(first), string(second), "seed %d: graded twice", seed)
		fresh, err := json.Marshal(Grade(anyInput(seed)))
		require.NoError(t, err)
		require.Equal(t, string(first), string(fresh), "seed %d: made twice", seed)
	}
}

// Leaving something out of whole work never earns more: no event, no number and no
// piece of evidence is worth hiding.
func TestLeavingOutNeverPays(t *testing.T) {
	air := func() *shop { return confirmedAttempts()[0] }
	lobe := func() *shop { return confirmedAttempts()[3] }
	for name, make := range map[string]func() *shop{
		"sound": soundAttempt, "valve": valveAttempt, "rings": ringAttempt, "air": air, "lobe": lobe,
	} {
		full := Grade(make().in).Points
		for i := range make().in.Record.Events {
			in := make().in
			e := in.Record.Events[i]
			in.Record.Events = append(in.Record.Events[:i:i], in.Record.Events[i+1:]...)
			assert.LessOrEqualf(t, Grade(in).Points, full, "%s without event %d %s", name, i, e.Kind)
		}
		for i := range make().in.Record.Runs {
			in := make().in
			dropRun(&in, i)
			assert.LessOrEqualf(t, Grade(in).Points, full, "%s without run %d", name, i+1)
		}
		for i := range make().in.Sheet.Entries {
			in := make().in
			e := in.Sheet.Entries[i]
			in.Sheet.Entries = append(in.Sheet.Entries[:i:i], in.Sheet.Entries[i+1:]...)
			assert.LessOrEqualf(t, Grade(in).Points, full, "%s without number %s", name, e.Field)
		}
	}
}

// The mirror engine with the mirror work earns the same.
func TestMirroredWorkEarnsTheSame(t *testing.T) {
	build := func(mirror bool) Input {
		s := newShop(bank4)
		at := func(n int) int {
			if mirror {
				return 5 - n
			}
			return n
		}
		s.in.Key = Key{Family: FamilyValveLeak, Cylinders: []int{at(3)}}
		s.prepare()
		dry := []float64{185, 187.5, 110, 182.5}
		if mirror {
			dry = []float64{182.5, 110, 187.5, 185}
		}
		s.dry(dry)
		s.wet(at(3), 117.5)
		s.wet(at(2), 205)
		s.conclude(FamilyValveLeak, SureLikely, "vacuum", at(3))
		return s.in
	}
	assert.Equal(t, Grade(build(false)).Points, Grade(build(true)).Points)
}

// goldenGrades is the hash of 400 results as JSON. It is recorded from our own
// code: it says that a grade is the same bytes on every machine, not that it is
// right. When a rule changes on purpose the grader version goes up with it.
const goldenGrades = uint64(0xff4948e9667a53cc)

func TestGoldenGrades(t *testing.T) {
	h := fnv.New64a()
	for seed := range uint64(400) {
		data, err := json.Marshal(Grade(anyInput(seed)))
		require.NoError(t, err)
		_, _ = h.Write(data)
	}
	assert.Equal(t, goldenGrades, h.Sum64())
}
