package bench_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// facts returns what was learned by looking, in order, with its numbers.
func facts(s shop) (keys []string, numbers []float64) {
	for _, e := range s.Record().Events {
		if e.Kind == bench.EventFact {
			keys, numbers = append(keys, e.Choice), append(numbers, e.Number)
		}
	}
	return keys, numbers
}

func TestLashIsMeasuredWhereThereIsAny(t *testing.T) {
	const mm = 1e-3
	for _, c := range []struct {
		intake, exhaust float64
		want            []string
		feelers         []float64 // mm
	}{
		{0, 0, []string{"lash_intake", "lash_exhaust"}, []float64{0.20, 0.30}},
		{0.02 * mm, -0.02 * mm, []string{"lash_intake", "lash_exhaust"}, []float64{0.20, 0.30}},
		{0, -0.1 * mm, []string{"lash_intake", "lash_exhaust"}, []float64{0.20, 0.20}},
		{0.2 * mm, -0.3 * mm, []string{"lash_intake", "lash_exhaust_none"}, []float64{0.40, 0}},
		{-0.1 * mm, 2 * mm, []string{"lash_intake", "lash_exhaust_wide"}, []float64{0.10, 1}},
	} {
		set := tray()
		set.LashCheck = true
		set.Engine.Cylinder[1].IntakeLash, set.Engine.Cylinder[1].ExhaustLash = c.intake, c.exhaust
		s := open(t, set)
		s.on(bench.KindLash, 2, "")
		keys, feelers := facts(s)
		assert.Equal(t, c.want, keys)
		assert.InDeltaSlice(t, c.feelers, feelers, 1e-9)
		assert.InDelta(t, 20, s.Minutes(), 1e-9)
		assert.Subset(t, bench.Facts(), keys)
	}
}

// A fault is a difference from what the page of this engine asks for.
func TestLashIsMeasuredFromWhatIsAsked(t *testing.T) {
	set := tray()
	set.LashCheck, set.Lash = true, bench.Lash{IntakeMM: 0.1, ExhaustMM: 0.4, WithinMM: 0.02}
	set.Engine.Cylinder[1].ExhaustLash = -0.1e-3
	s := open(t, set)
	assert.Equal(t, set.Lash, s.Lash())
	s.on(bench.KindLash, 2, "")
	_, feelers := facts(s)
	assert.InDeltaSlice(t, []float64{0.10, 0.30}, feelers, 1e-9)
}

// Set by feeler, a valve that was tight seats: the next crank reads what its neighbors
// do, and one set too tight reads low. What can't be set says so.
func TestLashIsSet(t *testing.T) {
	set := tray()
	set.LashCheck = true
	set.Engine.Cylinder[1].ExhaustLash = -0.18e-3
	set.Engine.Cylinder[3].IntakeLash = 5e-3
	s := prepared(t, set)
	last := func(cylinder int) float64 {
		t.Helper()
		r := s.crank(cylinder, 6)
		s.undo()
		return r.Strokes[len(r.Strokes)-1].True
	}
	act := func(kind, choice string, cylinder int, number float64) record.Action {
		return record.Action{Kind: kind, Choice: choice, Cylinder: cylinder, Number: number}
	}
	refused := func(key string, a record.Action) {
		t.Helper()
		var no *bench.Refusal
		require.ErrorAs(t, s.Do(a), &no)
		assert.Equal(t, "refusal."+key, no.Key)
	}
	refused("cover_on", act(bench.KindSetLash, "exhaust", 2, 0.3))
	s.on(bench.KindLash, 2, "")
	refused("unknown_choice", act(bench.KindSetLash, "both", 2, 0.3))
	refused("number", act(bench.KindSetLash, "exhaust", 2, 0))
	refused("number", act(bench.KindSetLash, "exhaust", 2, 1.2))
	refused("lash_out_of_reach", act(bench.KindSetLash, "intake", 4, 0.2)) // its pushrod is off
	low, sound := last(2), last(1)
	assert.Less(t, low, 0.8*sound)
	before, minutes := s.Digest(), s.Minutes()
	require.NoError(t, s.Do(act(bench.KindSetLash, "exhaust", 2, 0.3)))
	assert.InDelta(t, 5, s.Minutes()-minutes, 1e-9, "a quarter of what measuring takes")
	assert.NotEqual(t, before, s.Digest())
	assert.InDelta(t, sound, last(2), 0.03*sound)
	s.on(bench.KindLash, 2, "")
	keys, mm := facts(s)
	assert.Equal(t, []string{"lash_intake", "lash_exhaust"}, keys[len(keys)-2:])
	assert.InDelta(t, 0.3, mm[len(mm)-1], 1e-9)
	require.NoError(t, s.Do(act(bench.KindSetLash, "intake", 1, 0.05)))
	assert.Less(t, last(1), 0.95*sound)
	again, err := bench.Replay(set, s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), again.Digest())
}

func TestTimingMarksCountTeeth(t *testing.T) {
	tooth := func(n, wheel float64) float64 { return n * 4 * math.Pi / wheel }
	for _, c := range []struct {
		name   string
		change func(*bench.Setup)
		want   []string
		teeth  []float64
	}{
		{"right", func(*bench.Setup) {}, []string{"timing_right"}, []float64{0}},
		{"a tooth late", func(s *bench.Setup) {
			for i := range s.Engine.Cylinder {
				s.Engine.Cylinder[i].IntakeShift = tooth(1, 40)
			}
		}, []string{"timing_intake_late"}, []float64{1}},
		{"two of 48 early", func(s *bench.Setup) {
			s.WheelTeeth = 48
			for i := range s.Engine.Cylinder {
				s.Engine.Cylinder[i].IntakeShift, s.Engine.Cylinder[i].ExhaustShift = tooth(-2, 48), tooth(-2, 48)
			}
		}, []string{"timing_intake_early", "timing_exhaust_early"}, []float64{2, 2}},
		{"one bank", func(s *bench.Setup) {
			s.Engine.Cylinder[2].Bank, s.Engine.Cylinder[3].Bank = 1, 1
			s.Engine.Cylinder[2].ExhaustShift, s.Engine.Cylinder[3].ExhaustShift = tooth(1, 40), tooth(1, 40)
		}, []string{"timing_exhaust_late"}, []float64{1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			set := tray()
			c.change(&set)
			s := open(t, set)
			s.do(bench.KindTiming, "")
			keys, teeth := facts(s)
			assert.Equal(t, c.want, keys)
			assert.Equal(t, c.teeth, teeth)
			assert.Subset(t, bench.Facts(), keys)
		})
	}
}

func TestBorescopeSeesWhatIsThere(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[0].Deposit = 3e-6
	set.Engine.Cylinder[1].Liquid = 5e-6
	set.Engine.Cylinder[3].ExhaustSeatArea = 6e-6 // out of sight
	set.Seen = []bench.Visible{{}, {Scored: true}, {Hole: true}}
	s := open(t, set)
	for _, c := range []int{2, 1, 3, 4} { // what lies on a piston runs past it in time
		s.on(bench.KindPlugOut, c, "ordered")
		s.on(bench.KindBorescope, c, "")
	}
	keys, _ := facts(s)
	assert.Equal(t, []string{"bore_liquid", "bore_scored", "bore_carbon", "bore_hole", "bore_clean"}, keys)
	assert.Subset(t, bench.Facts(), keys)
}

func TestPlugsShowLiquidAndCoolant(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[1].Liquid = 30e-6
	set.Engine.Cylinder[2].CoolantArea = 1e-6
	s := open(t, set)
	for _, c := range []int{2, 1, 3} {
		s.on(bench.KindPlugOut, c, "ordered")
		s.on(bench.KindPlugLook, c, "")
	}
	keys, _ := facts(s)
	assert.Equal(t, []string{"plug_wet", "plug_normal", "plug_steamed"}, keys)
	assert.Subset(t, bench.Facts(), keys)
}

func TestCoolingSystemTellsALeakIntoIt(t *testing.T) {
	crank := func(area float64, seconds float64) shop {
		set := tray()
		set.Engine.CoolantTemperature = 300
		set.Engine.Cylinder[1].CoolantArea = area
		s := open(t, set)
		s.do(bench.KindFuel, "disabled")
		s.do(bench.KindIgnition, "disabled")
		s.do(bench.KindCoolingPressure, "")
		s.do(bench.KindCoolantWatch, "on")
		s.do(bench.KindStarter, "on")
		s.Advance(int(seconds * record.TicksPerSecond))
		s.do(bench.KindStarter, "off")
		s.Settle()
		require.Len(t, s.Record().Runs, 1)
		assert.Zero(t, s.count(bench.EventCaution, "hot_cap"))
		return s
	}
	keys, _ := facts(crank(0, 3))
	assert.Equal(t, []string{"cooling_holds", "no_bubbles"}, keys)
	keys, _ = facts(crank(0.5e-6, 3))
	assert.Equal(t, []string{"cooling_falls", "bubbles_cranked"}, keys)
	keys, _ = facts(crank(0.5e-6, 1))
	assert.Equal(t, []string{"cooling_falls"}, keys, "too short to see")
}

// A small loss by hand: 0.002 mm² at 1 bar pass 0.0277 ml/s, in five minutes 8.3 ml,
// which the air over the coolant, half a litre at 2.013 bar absolute, feels as
// 201.3·500/508.3 = 198.0 kPa: 3 kPa on the dial.
func TestCoolingSystemFallsByHand(t *testing.T) {
	for _, c := range []struct{ area, perMinute float64 }{{2e-9, 600}, {5e-10, 0}} {
		set := tray()
		set.Engine.CoolantTemperature = 300
		set.Engine.Cylinder[0].CoolantArea = c.area
		s := open(t, set)
		s.do(bench.KindCoolingPressure, "")
		_, numbers := facts(s)
		assert.InDeltaSlice(t, []float64{c.perMinute}, numbers, 1e-9)
	}
	set := tray()
	set.Engine.CoolantTemperature = 300
	set.Engine.Cylinder[0].CoolantArea = 1e-5
	s := open(t, set)
	s.do(bench.KindCoolingPressure, "")
	_, numbers := facts(s)
	assert.InDeltaSlice(t, []float64{20e3}, numbers, 1e-9, "all of it")
}

func TestAHotCapScalds(t *testing.T) {
	set := tray()
	set.Engine.CoolantTemperature = 360
	for _, act := range []record.Action{{Kind: bench.KindCoolingPressure}, {Kind: bench.KindCoolantWatch, Choice: "on"}} {
		s := open(t, set)
		s.act(act)
		assert.Equal(t, 1, s.count(bench.EventCaution, "hot_cap"))
	}
	assert.Contains(t, bench.Cautions(), "hot_cap")
}

func TestLooksReplay(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[1].CoolantArea = 1e-6
	s := prepared(t, set)
	s.do(bench.KindCoolantWatch, "on")
	s.crank(2, 6)
	s.do(bench.KindTiming, "")
	r, err := bench.Replay(set, s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), r.Digest())
	assert.Equal(t, s.Record(), r.Record())
}
