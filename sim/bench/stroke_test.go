package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

func TestStrokesAreCountedAndReadAsAPersonCould(t *testing.T) {
	s := prepared(t, tray())
	s.on(bench.KindHoseOn, 2, "")
	s.turn(2, "bdc")
	s.do(bench.KindStarter, "on")
	var seen []float64
	for range 6 {
		require.Positive(t, s.StrokeStep())
		seen = append(seen, float64(s.Needle().Read())) // what the dial shows while time is paused
	}
	s.do(bench.KindStarter, "off")
	s.Settle()
	r := s.Record().Runs[0]
	require.Len(t, r.Strokes, 6)
	assert.Equal(t, 6, r.Full())
	for i, k := range r.Strokes[:5] {
		assert.Equal(t, seen[i], k.Shown, "stroke %d", i+1)
		assert.Less(t, k.True, r.Strokes[i+1].True, "the gauge holds what it has")
	}
	// The last is what stands on the dial when everything is at rest.
	assert.Equal(t, float64(s.Needle().Read()), last(r).Shown)
	assert.InDelta(t, seen[5], last(r).Shown, unit.PascalPerPSI*2.5, "half a graduation from the pause")
	assert.InDelta(t, last(r).True, last(r).Needle, unit.PascalPerPSI, "a good gauge shows the gas but for its friction")
	assert.Equal(t, 6, s.count(bench.EventStroke, "full"))
}

func TestAStrokeIsPartWhenItBeganInTheMiddle(t *testing.T) {
	for _, c := range []struct {
		name        string
		turn        int // cylinder brought to its BDC or TDC, firing order 1-3-4-2
		where       string
		full        bool
		lowestShare float64 // of a whole first stroke
	}{
		{"BDC before compression", 1, "bdc", true, 1},
		{"TDC after compression", 1, "tdc", true, 0.9},
		{"gas exchange TDC", 4, "tdc", true, 0.9},
		{"BDC after expansion", 2, "bdc", true, 0.9},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := prepared(t, tray())
			s.on(bench.KindHoseOn, 1, "")
			s.turn(c.turn, c.where)
			r := s.strokes(1)
			require.NotEmpty(t, r.Strokes)
			assert.Equal(t, c.full, r.Strokes[0].Full)
			assert.Zero(t, s.count(bench.EventCaution, "part_stroke"))
		})
	}
	whole := prepared(t, tray())
	first := whole.crank(1, 1).Strokes[0]

	// Parked by the scenario 60° before the compression TDC of cylinder 1.
	set := tray()
	set.Engine.Crank.Start = float64(unit.Degrees(720 - 60))
	s := prepared(t, set)
	s.on(bench.KindHoseOn, 1, "")
	r := s.strokes(3)
	require.Len(t, r.Strokes, 3)
	assert.False(t, r.Strokes[0].Full)
	assert.True(t, r.Strokes[1].Full)
	assert.Equal(t, 2, r.Full())
	assert.Less(t, r.Strokes[0].True, 0.6*first.True, "a third or so of a whole stroke")
	assert.Equal(t, 1, s.count(bench.EventCaution, "part_stroke"))
}

func TestReleaseTakesTheNeedleBackAndKeepsTheReading(t *testing.T) {
	s := prepared(t, tray())
	r := s.crank(3, 5)
	held := last(r).Shown
	assert.Equal(t, held, float64(s.Needle().Read()), "the tip valve holds it")
	s.do(bench.KindRelease, "")
	s.Settle()
	assert.Zero(t, float64(s.Needle().Read()))
	assert.Equal(t, held, last(s.Record().Runs[0]).Shown, "what was read stays read")

	// Released at once, with crank and needle still moving.
	s.turn(3, "bdc")
	s.do(bench.KindStarter, "on")
	for range 5 {
		s.StrokeStep()
	}
	s.do(bench.KindStarter, "off")
	s.do(bench.KindRelease, "")
	s.Settle()
	again := s.Record().Runs[1]
	assert.InEpsilon(t, held, last(again).Shown, 0.03)
	assert.Zero(t, float64(s.Needle().Read()))
}

func TestTheSwitchWaitsForTheThumbOnTheRelease(t *testing.T) {
	s := prepared(t, tray())
	first := s.crank(3, 4)
	s.do(bench.KindRelease, "")
	s.turn(3, "bdc")
	s.do(bench.KindRelease, "")
	again := s.strokes(4) // at once
	assert.True(t, again.GaugeAtZero)
	assert.Len(t, again.Strokes, 4)
	assert.InEpsilon(t, last(first).True, last(again).True, 0.04, "a film that had less time to drain reads a little higher")
}

func TestAGaugeThatIsNotReleasedCarriesItsReadingOver(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[2].ExhaustSeatArea = 3e-6
	s := prepared(t, set)
	high := last(s.crank(2, 5)).Shown
	s.do(bench.KindHoseOff, "")
	assert.Equal(t, 1, s.count(bench.EventCaution, "gauge_under_pressure"))
	r := s.crank(3, 5)
	assert.False(t, r.GaugeAtZero)
	assert.InEpsilon(t, high, last(r).Shown, 0.02, "cylinder 3 looks as good as cylinder 2")

	s.do(bench.KindRelease, "")
	s.turn(3, "bdc")
	r = s.strokes(5)
	assert.True(t, r.GaugeAtZero)
	assert.Less(t, last(r).Shown, 0.8*high)
}

func TestStepModeIsHoldingTheStarter(t *testing.T) {
	step, hold := prepared(t, tray()), prepared(t, tray())
	for _, s := range []shop{step, hold} {
		s.on(bench.KindHoseOn, 4, "")
		s.turn(4, "bdc")
		s.do(bench.KindStarter, "on")
	}
	for range 4 {
		n := step.StrokeStep()
		hold.Advance(n)
	}
	assert.Equal(t, step.Digest(), hold.Digest())
	for n := step.StrokeStep(); n > 0; n -= 7 {
		hold.Advance(min(7, n))
	}
	assert.Equal(t, step.Digest(), hold.Digest(), "in pieces of seven ticks")
	assert.Equal(t, step.Marks(), hold.Marks())
}

func TestStrokeStepWithoutAGaugeTurnsTheNextCylinderOver(t *testing.T) {
	s := prepared(t, tray())
	s.turn(3, "bdc")
	s.do(bench.KindStarter, "on")
	n := s.StrokeStep()
	a := unit.Angle(s.Engine().CylinderAngle(3)).Degrees()
	assert.InDelta(t, 90, a, 3, "a quarter turn past its TDC")
	assert.Less(t, n, record.TicksPerSecond)
	// Four cylinders, half a turn apart: from now on a step is half a turn.
	s.StrokeStep()
	assert.InDelta(t, 90, unit.Angle(s.Engine().CylinderAngle(4)).Degrees(), 3)
	s.do(bench.KindStarter, "off")
	s.Settle()
	assert.Zero(t, s.StrokeStep(), "nothing moves")
	assert.Empty(t, s.Record().Runs[0].Strokes, "no gauge, nothing read")
}

func TestSpeedAndVoltageLeaveTheInrushOut(t *testing.T) {
	s := prepared(t, tray())
	s.on(bench.KindHoseOn, 1, "")
	s.do(bench.KindStarter, "on")
	low, sum, n := 99.0, 0.0, 0
	for i := range 3 * record.TicksPerSecond {
		s.Advance(1)
		if i >= 3*record.TicksPerSecond/10 {
			low = min(low, s.Engine().Voltage())
			sum += s.Engine().Speed()
			n++
		}
	}
	s.do(bench.KindStarter, "off")
	s.Settle()
	r := s.Record().Runs[0]
	assert.InDelta(t, low, r.BatteryMinV, 1e-12)
	assert.InDelta(t, unit.RPM(sum/float64(n)), r.SpeedRPM, 1e-9, "coasting is not cranking")
}

func TestMetersShowOnlyWhatTheyWereOnFor(t *testing.T) {
	s := prepared(t, tray())
	s.crank(1, 4)
	assert.Nil(t, s.State().VoltsLow)
	assert.Nil(t, s.State().RPMMean)
	s.undo()
	s.do(bench.KindVoltmeter, "on")
	s.do(bench.KindTachometer, "on")
	r := s.crank(1, 4)
	require.NotNil(t, s.State().VoltsLow)
	require.NotNil(t, s.State().RPMMean)
	assert.InDelta(t, r.BatteryMinV, *s.State().VoltsLow, 0.05+1e-9)
	assert.InDelta(t, r.SpeedRPM, *s.State().RPMMean, 2.5+1e-9)
	assert.Zero(t, s.RPM())
	assert.InDelta(t, 12.5, s.Volts(), 0.6)
}

func TestAThrottleLetGoInBetweenWasNotHeldOpen(t *testing.T) {
	s := prepared(t, tray())
	r := s.crank(1, 3)
	assert.True(t, r.ThrottleOpen)
	s.do(bench.KindRelease, "")
	s.turn(1, "bdc")
	s.do(bench.KindStarter, "on")
	s.StrokeStep()
	s.do(bench.KindThrottle, "shut")
	s.StrokeStep()
	s.do(bench.KindThrottle, "open")
	s.StrokeStep()
	s.do(bench.KindStarter, "off")
	s.Settle()
	assert.False(t, s.Record().Runs[1].ThrottleOpen)
}

func TestTwoPressesWhileTheCrankTurnsAreOneRun(t *testing.T) {
	s := prepared(t, tray())
	s.on(bench.KindHoseOn, 1, "")
	s.turn(1, "bdc")
	s.do(bench.KindStarter, "on")
	s.StrokeStep()
	s.do(bench.KindStarter, "off")
	s.Advance(30)
	s.do(bench.KindStarter, "on")
	s.StrokeStep()
	s.do(bench.KindStarter, "off")
	s.Settle()
	require.Len(t, s.Record().Runs, 1)
	assert.Equal(t, 1, s.count(bench.EventCaution, "starter_while_turning"))
	assert.Equal(t, 1, s.count(bench.EventCrankStart, ""))
}

func TestAdvanceAllocatesNothingPerTick(t *testing.T) {
	s := prepared(t, tray())
	s.on(bench.KindHoseOn, 1, "")
	s.do(bench.KindStarter, "on")
	s.Advance(2 * record.TicksPerSecond)
	per := testing.AllocsPerRun(20, func() { s.Advance(60) })
	assert.LessOrEqual(t, per, 0.5, "marks and strokes are appended a few times a second, nothing else")
}

// BenchmarkBenchDry is the same run as the engine's own benchmark, with needle,
// record and marks on top.
func BenchmarkBenchDry(b *testing.B) {
	s := prepared(b, tray())
	s.on(bench.KindHoseOn, 1, "")
	s.do(bench.KindStarter, "on")
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		if s.Tick() > bench.MaxTicks-2 {
			b.StopTimer()
			s = prepared(b, tray())
			s.on(bench.KindHoseOn, 1, "")
			s.do(bench.KindStarter, "on")
			b.StartTimer()
		}
		s.Advance(1)
	}
	b.ReportMetric(float64(b.N)/record.TicksPerSecond/b.Elapsed().Seconds(), "x-realtime")
}
