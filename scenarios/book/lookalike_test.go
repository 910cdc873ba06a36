package book_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A measure is one number that a shop can have of a scenario's suspects, with how far
// two of them have to be apart before an instrument tells them apart: a division of
// the dial or more, twice.
type measure struct {
	name  string
	noise float64
	of    func(*evidence, *testing.T) float64
}

// mean is a number of each suspect, averaged.
func mean(of func(*evidence, *testing.T, int) float64) func(*evidence, *testing.T) float64 {
	return func(e *evidence, t *testing.T) float64 {
		sum := 0.0
		for _, c := range e.suspects() {
			sum += of(e, t, c)
		}
		return sum / float64(len(e.suspects()))
	}
}

// air is the share of the suspects' leak that goes one way, percent.
func airAt(path string) measure {
	return measure{"air at " + path, 15, mean(func(e *evidence, t *testing.T, c int) float64 { return e.air(t, c, path) })}
}

// saw is 1 when a look at the bench finds a fact, at the first suspect or with the whole
// engine.
func saw(kind, fact string) measure {
	return measure{fact, 0.5, func(e *evidence, t *testing.T) float64 {
		c := e.suspects()[0]
		if kind == bench.KindTiming || kind == bench.KindCoolingPressure {
			c = 0
		}
		if slices.ContainsFunc(e.looks(t, kind, c), func(x record.Event) bool { return x.Choice == fact }) {
			return 1
		}
		return 0
	}}
}

// feeler is the feeler that drags at a valve of the first suspect [mm], none being 0;
// with -1 the tighter is the higher.
func feeler(valve string, sign float64) measure {
	return measure{"lash " + valve, 0.05, func(e *evidence, t *testing.T) float64 {
		for _, x := range e.looks(t, bench.KindLash, e.suspects()[0]) {
			if x.Choice == "lash_"+valve || x.Choice == "lash_"+valve+"_none" || x.Choice == "lash_"+valve+"_wide" {
				return sign * x.Number
			}
		}
		t.Errorf("%s: no gap at the %s valve", e.s.ID, valve)
		return 0
	}}
}

var (
	dryOf    = measure{"dry level", 4, mean(dryLevel)}
	firstOf  = measure{"first stroke", 4, mean(dryFirst)}
	gainOfIt = measure{"wet gain", 4, mean(wetGain)}
	lossOf   = measure{"leakage", 6, mean(lost)}
	humpOf   = measure{"hump", 8, mean(height)}
	idleOf   = measure{"idle", 7, mean(idling)}
	snapOf   = measure{"snap", 7, mean(snapped)}

	// tallest is the hump that stands out most.
	tallest = measure{"highest hump", 20, func(e *evidence, t *testing.T) float64 {
		most := 0.0
		for _, c := range e.cylinders() {
			most = max(most, e.humps(t, c))
		}
		return most
	}}
	vacuumOf = measure{"vacuum", 5, func(e *evidence, t *testing.T) float64 {
		return 100 * e.vacuums(t).MeanKPa / e.sound.vacuums(t).MeanKPa
	}}
	speedOf = measure{"speed", 4, func(e *evidence, t *testing.T) float64 { return 100 * e.dry(t, 1).RPM / e.sound.dry(t, 1).RPM }}
	// gauges is how far the second gauge reads above the first, percent.
	gauges = measure{"second gauge", 6, func(e *evidence, t *testing.T) float64 {
		return 100 * (e.byGauge(t, 1, 1)/e.byGauge(t, 0, 1) - 1)
	}}
	// apartBy is how far the suspects read from each other, percent of the higher.
	apartBy = measure{"spread", 5, func(e *evidence, t *testing.T) float64 { return spread(e, t, e.suspects()...) }}
	// ofAll is how far all cylinders read from each other.
	ofAll = measure{"spread of all", 5, func(e *evidence, t *testing.T) float64 { return spread(e, t, e.cylinders()...) }}
	// ofPage is the lowest reading over the page's minimum, percent.
	ofPage = measure{"of the page's minimum", 5, func(e *evidence, t *testing.T) float64 {
		return 100 * low(e.wets(t).Dry) / e.s.Card.Limits.Minimum.PSI()
	}}
	// told is first over final of the test that the history tells of, percent.
	told = measure{"first stroke as told", 6, func(e *evidence, t *testing.T) float64 { return share(dry(t, e.s)[0]) }}
	// coldOf is the level of an engine tested as cold as the day.
	coldOf = measure{"dry level cold", 5, mean(func(e *evidence, t *testing.T, c int) float64 {
		return 100 * variant(t, e, 0).Readings[c-1].FinalPSI / variant(t, e.sound, 0).Readings[c-1].FinalPSI
	})}
	// ranOf is the level once it has been warmed up and tested again.
	ranOf = measure{"dry level after a run", 5, mean(func(e *evidence, t *testing.T, c int) float64 {
		return 100 * variant(t, e, 60).Readings[c-1].FinalPSI / variant(t, e.sound, 60).Readings[c-1].FinalPSI
	})}
	// refitOf is what a neighbor's plug in its hole does to the suspects, percent; the
	// one that it does most to.
	refitOf = measure{"neighbor's plug refitted", 6, func(e *evidence, t *testing.T) float64 {
		k := e.s.Key.Cylinders
		return max(refit(t, e.s, k[0], k[1]), refit(t, e.s, k[1], k[0]))
	}}
)

// variant is a dry test from a coolant temperature on; from 0 the engine isn't run.
func variant(t *testing.T, e *evidence, least float64) book.Result {
	t.Helper()
	s := *e.s
	s.Card.CoolantMinC, s.Card.CoolantMaxC = least, 105
	return run(t, &s, book.Dry)
}

// refit does a dry test of a cylinder with all other plugs out, and again with one of
// them back in, and returns what that changed, percent.
func refit(t *testing.T, s *scenarios.Scenario, cylinder, neighbour int) float64 {
	t.Helper()
	b, err := bench.New(s.Setup())
	require.NoError(t, err)
	do := func(kind, choice string, c int) {
		require.NoError(t, b.Do(record.Action{Kind: kind, Choice: choice, Cylinder: c}))
	}
	do(bench.KindFuel, "disabled", 0)
	do(bench.KindIgnition, "disabled", 0)
	do(bench.KindSwitch, "remote", 0)
	for c := 1; c <= s.Engine.Cylinders; c++ {
		do(bench.KindPlugOut, "ordered", c)
	}
	do(bench.KindThrottle, "open", 0)
	do(bench.KindGauge, s.Tools.Gauges[0].ID, 0)
	for _, a := range s.Tools.Adapters {
		if a.ReachMM == s.Engine.Plug.ReachMM && a.ORing {
			do(bench.KindAdapter, a.ID, 0)
		}
	}
	var finals [2]float64
	for i := range finals {
		do(bench.KindHoseOn, "", cylinder)
		do(bench.KindTurn, "bdc", cylinder)
		do(bench.KindWrench, "off", 0)
		do(bench.KindStarter, "on", 0)
		for range book.Strokes(s.Card) {
			b.StrokeStep()
		}
		do(bench.KindStarter, "off", 0)
		b.Settle()
		runs := b.Record().Runs
		strokes := runs[len(runs)-1].Strokes
		finals[i] = strokes[len(strokes)-1].True
		do(bench.KindRelease, "", 0)
		do(bench.KindHoseOff, "", 0)
		if i == 0 {
			do(bench.KindPlugIn, "hand", neighbour)
			do(bench.KindPlugTorque, "", 0)
		}
	}
	return 100 * (finals[1]/finals[0] - 1)
}

// A pair is a scenario and one that it is mistaken for, with the measure that tells
// them apart: the first's is higher by more than an instrument's noise.
type pair struct {
	high, low string
	by        measure
}

var lookalikes = []pair{
	// All low and even.
	{"all-rings-worn-inline-four", "timing-late-inline-four", lossOf}, {"all-rings-worn-inline-four", "timing-late-inline-four", gainOfIt},
	{"timing-late-inline-four", "weak-battery-inline-four", speedOf}, {"timing-late-inline-four", "gauge-reads-low-v6", saw(bench.KindTiming, "timing_intake_late")},
	{"gauge-reads-low-v6", "timing-late-inline-four", gauges}, {"washed-inline-six", "all-rings-worn-inline-four", firstOf},
	{"washed-inline-six", "all-rings-worn-inline-four", saw(bench.KindPlugLook, "plug_wet_fuel")}, {"washed-inline-six", "no-start-v6", gainOfIt},
	{"no-start-v6", "washed-inline-six", saw(bench.KindTiming, "timing_intake_late")}, {"stood-odd-fire-v6", "washed-inline-six", ofAll},
	{"stood-odd-fire-v6", "sound-odd-fire-v6", gainOfIt}, {"washed-inline-six", "stood-odd-fire-v6", saw(bench.KindPlugLook, "plug_wet_fuel")},
	{"all-rings-worn-inline-four", "weak-battery-inline-four", gainOfIt}, {"sound-old-inline-four", "slow-crank-old-inline-four", speedOf},
	{"all-rings-worn-inline-four", "slow-crank-old-inline-four", speedOf}, {"throttle-closed-inline-four", "timing-late-inline-four", dryOf},
	{"throttle-closed-plugs-in-inline-four", "timing-late-inline-four", told}, {"sound-high-mountain", "timing-late-inline-four", ofPage},
	{"sound-atkinson-hybrid", "timing-late-inline-four", ofPage}, {"all-rings-worn-inline-four", "sound-atkinson-hybrid", lossOf},
	{"needle-wanders-v8-twin-cam", "gauge-reads-low-v6", firstOf}, {"needle-wanders-v8-twin-cam", "timing-late-inline-four", gauges},
	{"sound-inline-four", "weak-battery-inline-four", speedOf},

	// One low.
	{"worn-rings-inline-four", "burnt-exhaust-inline-four", gainOfIt}, {"burnt-exhaust-inline-four", "worn-rings-inline-four", firstOf},
	{"burnt-exhaust-inline-four", "leaking-intake-inline-four", airAt(book.AirExhaust)}, {"leaking-intake-inline-four", "burnt-exhaust-inline-four", airAt(book.AirIntake)},
	{"false-gain-inline-three", "scored-bore-inline-three", airAt(book.AirExhaust)}, {"worn-rings-flat-four", "false-gain-inline-three", airAt(book.AirCrankcase)},
	{"worn-rings-flat-four", "burnt-exhaust-inline-four", airAt(book.AirCrankcase)}, {"worn-rings-inline-four", "scored-bore-inline-three", gainOfIt},
	{"scored-bore-inline-three", "false-gain-inline-three", saw(bench.KindBorescope, "bore_scored")}, {"sound-inline-three", "scored-bore-inline-three", dryOf},
	{"stuck-ring-hybrid", "scored-bore-inline-three", gainOfIt}, {"stuck-ring-hybrid", "sound-atkinson-hybrid", lossOf},
	{"broken-land-turbo", "not-compression-inline-five", lossOf}, {"holed-piston-turbo", "bent-valves-inline-five", airAt(book.AirCrankcase)},
	{"holed-piston-turbo", "bent-valves-inline-five", saw(bench.KindBorescope, "bore_hole")}, {"bent-valves-inline-five", "holed-piston-turbo", airAt(book.AirIntake)},
	{"flake-v8-twin-cam", "burnt-exhaust-v6", ranOf}, {"burnt-exhaust-v6", "cracked-head-v8-twin-cam", airAt(book.AirExhaust)}, {"sound-v6", "burnt-exhaust-v6", dryOf},
	{"tight-lash-mountain", "burnt-exhaust-inline-four", coldOf}, {"tight-lash-mountain", "burnt-exhaust-inline-four", feeler("exhaust", -1)},
	{"tight-lash-mountain", "worn-rings-inline-four", airAt(book.AirExhaust)}, {"cracked-head-v8-twin-cam", "burnt-exhaust-v6", saw(bench.KindCoolingPressure, "cooling_falls")},
	{"gasket-outside-single", "sound-single", lossOf}, {"gasket-outside-single", "sound-single", airAt(book.AirOutside)},
	{"throttle-closed-inline-four", "throttle-shut-over-burnt-inline-four", dryOf},

	// Two neighbors, one bank.
	{"gasket-inline-four", "bank-tight-flat-four", airAt(book.AirNeighbour)}, {"bank-tight-flat-four", "gasket-inline-four", feeler("exhaust", -1)},
	{"gasket-inline-four", "bank-late-flat-four", lossOf}, {"bank-late-flat-four", "bank-tight-flat-four", saw(bench.KindTiming, "timing_intake_late")},
	{"bank-tight-flat-four", "bank-two-late-v6", lossOf}, {"gasket-unequal-inline-six", "gasket-inline-four", apartBy},
	{"gasket-unequal-inline-six", "gasket-inline-four", saw(bench.KindCoolingPressure, "cooling_falls")}, {"gasket-neighbors-v8", "gasket-inline-four", refitOf},

	// High.
	{"carbon-inline-four", "timing-early-inline-four", ofAll}, {"timing-early-inline-four", "carbon-inline-four", saw(bench.KindTiming, "timing_intake_early")},
	{"carbon-inline-four", "liquid-hybrid", gainOfIt}, {"carbon-inline-four", "worn-lobe-v8", snapOf}, {"carbon-inline-four", "worn-lobe-v8", saw(bench.KindBorescope, "bore_carbon")},
	{"liquid-hybrid", "worn-lobe-v8", saw(bench.KindBorescope, "bore_liquid")},

	// Normal, or nearly, on the gauge.
	{"dead-exhaust-v8", "sound-v8", tallest}, {"burnt-exhaust-inline-four", "pushrod-off-old-inline-four", idleOf},
	{"pushrod-off-old-inline-four", "sound-old-inline-four", feeler("intake", 1)}, {"sound-old-inline-four", "pushrod-off-old-inline-four", humpOf},
	{"not-compression-inline-five", "restricted-exhaust-v8-twin-cam", idleOf}, {"weak-spring-turbo", "not-compression-inline-five", idleOf},
	{"not-compression-inline-five", "weak-spring-turbo", vacuumOf}, {"bent-valves-inline-five", "tester-at-overlap-flat-four", lossOf},
	{"part-stroke-inline-five", "worn-rings-inline-four", dryOf},
}

// What is mistaken for something else can be told from it, by a test that the bench
// has and by more than its instruments err.
func TestLookalikesCanBeToldApart(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range lookalikes {
		seen[p.high], seen[p.low] = true, true
		high, low := p.by.of(of(t, p.high), t), p.by.of(of(t, p.low), t)
		assert.Greater(t, high-low, p.by.noise, "%s against %s by %s: %.1f and %.1f", p.high, p.low, p.by.name, high, low)
	}
	for _, s := range scenarios.Catalogue() {
		assert.True(t, seen[s.ID], "%s is mistaken for nothing", s.ID)
	}
	for id := range notByGauge {
		assert.True(t, seen[id], id)
	}
}
