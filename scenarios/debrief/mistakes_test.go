package debrief_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/book"
	"crankbay/scenarios/debrief"
	"crankbay/sim/record"
)

// report compiles a script of intent and verifies the file that comes of it.
func report(t testing.TB, text string) attempt.Report {
	t.Helper()
	a, err := script.Compile(text, scenarios.Find)
	require.NoError(t, err)
	data, err := a.Encode()
	require.NoError(t, err)
	f, err := attempt.Decode(data)
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	return v
}

func mistakes(t testing.TB, text string) debrief.Mistakes {
	t.Helper()
	m, err := debrief.MistakesOf(report(t, text), nil)
	require.NoError(t, err)
	return m
}

func find(m debrief.Mistakes, key string) *debrief.Mistake {
	for i := range m.List {
		if m.List[i].Key == key {
			return &m.List[i]
		}
	}
	return nil
}

// A pair is one attempt with a mistake and the same attempt without it.
type pair struct {
	key           string
	with, without string
	least         float64 // the largest cost is at least this [psi]; of a leakage test percent
}

const (
	sound   = "scenario sound-inline-four\nmode grade\n"
	burnt   = "scenario burnt-exhaust-inline-four\nmode grade\n"
	worn    = "scenario worn-rings-inline-four\nmode grade\n"
	weak    = "scenario weak-battery-inline-four\nmode grade\n"
	allFour = "\nsix strokes on 1\nsix strokes on 2\nsix strokes on 3\nsix strokes on 4\nhand in"
	inOrder = `
do plug-out ordered on 1
six strokes on 1
do plug-in hand on 1
do plug-torque
do plug-out ordered on 2
six strokes on 2
do plug-in hand on 2
do plug-torque
hand in`
	charged = `prepare without charger wells plugs throttle
do wells-blow
do charger on
do plug-out ordered on 1
do plug-out ordered on 2
do plug-out ordered on 3
do plug-out ordered on 4
do throttle open`
	allOut = `
do plug-out ordered on 1
do plug-out ordered on 2
do plug-out ordered on 3
do plug-out ordered on 4
six strokes on 1
six strokes on 2
hand in`
)

// air tests the leakage of cylinder 3 with its piston somewhere.
func air(at string) string {
	return "prepare\nsix strokes on 3\ndo turn-by-hand " + at + ` on 3
do wrench off
do tester-on on 3
do air on number 550
do wait number 1
do listen tailpipe
do air off
do tester-off
hand in`
}

func pairs() []pair {
	return []pair{
		{debrief.ThrottleShut, sound + "prepare without throttle" + allFour, sound + "prepare" + allFour, 4},
		{debrief.PlugsIn, sound + "prepare without plugs" + inOrder, sound + "prepare without plugs" + allOut, 2},
		{debrief.FewStrokes, worn + "prepare\nthree strokes on 2\nsix strokes on 3\nhand in", worn + "prepare\nsix strokes on 2\nsix strokes on 3\nhand in", 5},
		{debrief.UnequalStrokes, worn + "prepare\nfive strokes on 3\neight strokes on 4\nhand in", worn + "prepare\neight strokes on 3\neight strokes on 4\nhand in", 2},
		{debrief.PartStroke, sound + "prepare\nsix strokes on 3 as parked\nsix strokes on 1\nhand in", sound + "prepare\nsix strokes on 3\nsix strokes on 1\nhand in", 5},
		{debrief.ColdEngine, sound + "prepare without warm" + allFour, sound + "prepare" + allFour, 2},
		{debrief.NoCharger, weak + "prepare without charger" + allFour, weak + charged + allFour, 2},
		{debrief.FuelLive, sound + "prepare without fuel" + allFour, sound + "prepare" + allFour, 2},
		{debrief.NotReleased, burnt + "prepare\nsix strokes on 2 and stay\ndo hose-off\nsix strokes on 3\nhand in", burnt + "prepare\nsix strokes on 2\nsix strokes on 3\nhand in", 30},
		{debrief.AdapterReach, sound + "prepare\ndo adapter m14-12.7-ring" + allFour, sound + "prepare\ndo adapter m14-19-ring" + allFour, 2},
		{debrief.AdapterRing, sound + "prepare\ndo adapter m14-19-bare" + allFour, sound + "prepare\ndo adapter m14-19-ring" + allFour, 2},
		{debrief.OilMuch, worn + "prepare\nsix strokes on 3\n30 ml in 3\nsix strokes on 3\nhand in", worn + "prepare\nsix strokes on 3\n10 ml in 3\nsix strokes on 3\nhand in", 5},
		{debrief.OilLittle, worn + "prepare\nsix strokes on 3\n1 ml in 3\nsix strokes on 3\nhand in", worn + "prepare\nsix strokes on 3\n10 ml in 3\nsix strokes on 3\nhand in", 2},
		{debrief.TesterOverlap, burnt + air("overlap"), burnt + air("tdc"), 10},
		{debrief.TesterOff, burnt + air("bdc"), burnt + air("tdc"), 10},
	}
}

// With a gauge that reads 12 psi high beside a good one.
func TestCostOfABadGauge(t *testing.T) {
	s := *scenarios.Find("sound-inline-four")
	s.ID = "gauge-off-inline-four"
	s.Faults = []scenarios.Fault{{Kind: scenarios.ZeroError, Tool: "gauge-a", ErrorPSI: 12}}
	run := func(s scenarios.Scenario) attempt.Report {
		lookup := func(string) *scenarios.Scenario { return &s }
		a, err := script.Compile("scenario gauge-off-inline-four\nmode grade\nprepare"+allFour, lookup)
		require.NoError(t, err)
		v, err := attempt.Verify(a.File(), lookup)
		require.NoError(t, err)
		return v
	}
	bad := run(s)
	s.Tools.Gauges = []scenarios.Gauge{s.Tools.Gauges[1], s.Tools.Gauges[0]} // the good one lies nearer
	good := run(s)
	m, err := debrief.MistakesOf(bad, nil)
	require.NoError(t, err)
	one := find(m, debrief.BadGauge)
	require.NotNil(t, one)
	require.Len(t, one.Effects, 4)
	for _, e := range one.Effects {
		same(t, last(bad.Session.Record().Runs[e.Run-1])-last(good.Session.Record().Runs[e.Run-1]), e.Delta)
		assert.Greater(t, e.Delta/psi, 10.0)
	}
	assert.Nil(t, find(mistakesOf(t, good), debrief.BadGauge), "the good one is no mistake")
}

func mistakesOf(t *testing.T, v attempt.Report) debrief.Mistakes {
	t.Helper()
	m, err := debrief.MistakesOf(v, nil)
	require.NoError(t, err)
	return m
}

// Cards that contradict the usual one turn the mistake round.
func TestCostOnOtherCards(t *testing.T) {
	own := func(change func(*scenarios.Scenario)) *scenarios.Scenario {
		s := *scenarios.Find("sound-inline-four")
		s.ID = "own-card"
		change(&s)
		return &s
	}
	held := own(func(s *scenarios.Scenario) { s.Card.ThrottleOpen = false })
	in := own(func(s *scenarios.Scenario) { s.Card.PlugsOut = false })
	cool := own(func(s *scenarios.Scenario) { s.Card.CoolantMinC, s.Card.CoolantMaxC = 10, 40 })
	one := "\nsix strokes on 1\nhand in"
	out1 := "\ndo plug-out ordered on 1"
	for _, x := range []struct {
		key           string
		s             *scenarios.Scenario
		with, without string
		slack         float64 // [psi]
	}{
		{debrief.ThrottleHeld, held, "prepare\ndo throttle open" + one, "prepare" + one, 0},
		{debrief.PlugsOut, in, "prepare" + out1 + "\ndo plug-out ordered on 2\ndo plug-out ordered on 3\ndo plug-out ordered on 4" + one,
			"prepare" + out1 + "\ndo plug-out ordered on 2\ndo plug-out ordered on 3\ndo plug-out ordered on 4\ndo hose-on on 1\ndo plug-in hand on 2\ndo plug-in hand on 3\ndo plug-in hand on 4\ndo hose-off" + one, 2.6},
		{debrief.HotEngine, cool, "prepare without warm fuel\ndo plug-in hand on 1\ndo plug-in hand on 2\ndo plug-in hand on 3\ndo plug-in hand on 4\ndo plug-torque\ndo plug-leads-on\n" +
			"do ignition enabled\ndo warm-up number 30\ndo ignition disabled\ndo fuel disabled" + out1 + "\ndo plug-out ordered on 2\ndo plug-out ordered on 3\ndo plug-out ordered on 4" + one, "", 0},
	} {
		lookup := func(string) *scenarios.Scenario { return x.s }
		run := func(text string) attempt.Report {
			a, err := script.Compile("scenario own-card\nmode grade\n"+text, lookup)
			require.NoError(t, err, x.key)
			v, err := attempt.Verify(a.File(), lookup)
			require.NoError(t, err)
			return v
		}
		before := run(x.with)
		m := find(mistakesOf(t, before), x.key)
		require.NotNil(t, m, x.key)
		if x.without == "" {
			require.NotEmpty(t, m.Facts)
			assert.Greater(t, m.Facts[0].Value, 40.0)
			continue
		}
		after := run(x.without)
		told := 0.0 // other plugs change little on an engine with a good battery
		if len(m.Effects) > 0 {
			told = m.Effects[0].Delta
		}
		assert.InDelta(t, last(before.Session.Record().Runs[0])-last(after.Session.Record().Runs[0]), told, 1+x.slack*psi, x.key)
	}
}

// The vacuum of a cranked engine with the throttle open is none.
func TestCostOfVacuumWithTheThrottleOpen(t *testing.T) {
	work := "prepare without plugs throttle\ndo vacuum-gauge on\n%scrank 6 s\nhand in"
	with := report(t, sound+fmt.Sprintf(work, "do throttle open\n"))
	without := report(t, sound+fmt.Sprintf(work, "")).Session.Record()
	m := find(mistakesOf(t, with), debrief.VacuumOpen)
	require.NotNil(t, m)
	require.Len(t, m.Effects, 1)
	assert.InDelta(t, with.Session.Record().Vacuums[0].MeanPa-without.Vacuums[0].MeanPa, m.Effects[0].Delta, 1)
	assert.Less(t, m.Effects[0].Delta, -1e4)
}

// By the card there is nothing to find, nothing to take together, and the one thing
// to take away is a line of the grade or nothing.
func TestByTheCardThereIsNothing(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "burnt-exhaust-v6", "tester-at-overlap-flat-four"} {
		text := "scenario " + id + "\nmode grade\nprepare"
		for c := range scenarios.Find(id).Engine.Cylinders {
			text += fmt.Sprintf("\n%d strokes on %d", book.Strokes(scenarios.Find(id).Card), c+1)
		}
		m := mistakes(t, text+"\nhand in")
		assert.Empty(t, m.List, id)
		assert.Empty(t, m.Together)
		assert.Contains(t, []string{debrief.MostLine, debrief.MostHazard}, m.Most.Kind)
	}
}

// Several mistakes at once: without all of them the readings are those of the card.
func TestTogetherIsByTheCard(t *testing.T) {
	m := mistakes(t, sound+"prepare without throttle fuel"+allFour)
	right := report(t, sound+"prepare"+allFour).Session.Record()
	wrong := report(t, sound+"prepare without throttle fuel"+allFour).Session.Record()
	require.NotNil(t, find(m, debrief.ThrottleShut))
	require.NotNil(t, find(m, debrief.FuelLive))
	require.Len(t, m.Together, 4)
	for _, e := range m.Together {
		same(t, last(wrong.Runs[e.Run-1])-last(right.Runs[e.Run-1]), e.Delta)
	}
	assert.Equal(t, debrief.MostMistake, m.Most.Kind)
	assert.Equal(t, debrief.FuelLive, m.Most.Mistake, "it cost most")
}

// A mistake that was noticed and done again is said to be.
func TestNoticedMistakes(t *testing.T) {
	again := mistakes(t, sound+"prepare\nthree strokes on 1\nsix strokes on 1\nsix strokes on 2\nhand in")
	require.NotNil(t, find(again, debrief.FewStrokes))
	assert.True(t, find(again, debrief.FewStrokes).Corrected)
	once := mistakes(t, sound+"prepare\nthree strokes on 1\nsix strokes on 2\nhand in")
	assert.False(t, find(once, debrief.FewStrokes).Corrected)
	assert.Equal(t, []int{1}, find(once, debrief.FewStrokes).Cylinders)
}

// What the debrief says a mistake cost is the difference of two attempts, one with
// the mistake and one without, both played by hand through the public calls.
func TestCostIsTheDifferenceOfTwoRuns(t *testing.T) {
	for _, x := range pairs() {
		t.Run(x.key, func(t *testing.T) {
			before, after := report(t, x.with).Session.Record(), report(t, x.without).Session.Record()
			one := find(mistakes(t, x.with), x.key)
			require.NotNil(t, one, "the mistake is found")
			require.NotEmpty(t, one.Effects)
			largest := 0.0
			for _, e := range one.Effects {
				if e.On == debrief.OnLeakage {
					assert.InDelta(t, before.Leaks[0].Percent-after.Leaks[0].Percent, e.Delta, 0.01)
					largest = max(largest, math.Abs(e.Delta))
					continue
				}
				a, b := before.Runs[e.Run-1], after.Runs[e.Run-1]
				same(t, last(a)-last(b), e.Delta)
				same(t, a.Strokes[0].Shown-b.Strokes[0].Shown, e.FirstDelta)
				largest = max(largest, math.Abs(e.Delta)/psi, math.Abs(e.FirstDelta)/psi)
				t.Logf("%s %d: %.1f → %.1f psi, first %.1f → %.1f", e.On, e.Cylinder, e.Before/psi, e.After/psi, e.FirstBefore/psi, e.FirstAfter/psi)
			}
			assert.GreaterOrEqual(t, largest, x.least)
			told := map[int]bool{}
			for _, e := range one.Effects {
				told[e.Run] = true
			}
			for i := range before.Runs {
				if math.Abs(last(before.Runs[i])-last(after.Runs[i])) > 5*psi {
					assert.True(t, told[i+1], "run %d differs and is not told", i+1)
				}
			}
		})
	}
}

// same checks what the debrief says against the difference of two runs. Where it
// says none, the needle moved by less than a quarter of a division; what is read can
// then still go from one half of a division to the next.
func same(t *testing.T, difference, told float64) {
	t.Helper()
	if told == 0 {
		assert.LessOrEqual(t, math.Abs(difference), 2.51*psi)
		return
	}
	assert.InDelta(t, difference, told, 1)
}

const psi = 6894.757

func last(r record.Run) float64 { return r.Strokes[len(r.Strokes)-1].Shown }
