package book_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// What the histories tell of comes out when it is done as they tell it.

// "Over 90 percent on all four, air at throttle and tailpipe both": the tester one
// turn out, with both valves open.
func TestTheStoryOfTheTesterAtOverlap(t *testing.T) {
	s := pick(t, "tester-at-overlap-flat-four")
	r, err := book.Leakage(s, book.LeakageOptions{AfterDeg: 360, AsRead: true})
	require.NoError(t, err)
	for _, c := range r.Cylinders {
		assert.Greater(t, c.Percent, 90.0)
		paths := map[string]float64{}
		for _, a := range c.Air {
			paths[a.Path] = a.SharePercent
		}
		assert.Greater(t, paths[book.AirIntake], 15.0, "cylinder %d", c.Cylinder)
		assert.Greater(t, paths[book.AirExhaust], 15.0, "cylinder %d", c.Cylinder)
	}
}

// "Only first puffs, all different": the switch hit from wherever the crank stood. The
// strokes after them are those of a sound engine.
func TestTheStoryOfTheFirstPuffs(t *testing.T) {
	s := pick(t, "part-stroke-inline-five")
	b, err := bench.New(s.Setup())
	require.NoError(t, err)
	do := func(kind, choice string, c int) {
		require.NoError(t, b.Do(record.Action{Kind: kind, Choice: choice, Cylinder: c}), kind)
	}
	do(bench.KindFuel, "disabled", 0)
	do(bench.KindIgnition, "disabled", 0)
	do(bench.KindSwitch, "remote", 0)
	for c := 1; c <= 5; c++ {
		do(bench.KindPlugOut, "ordered", c)
	}
	do(bench.KindThrottle, "open", 0)
	do(bench.KindGauge, "gauge-a", 0)
	do(bench.KindAdapter, "m14-19-ring", 0)
	lo, hi, parts := 1e9, 0.0, 0
	for c := 1; c <= 5; c++ {
		do(bench.KindHoseOn, "", c)
		do(bench.KindStarter, "on", 0)
		for range 7 {
			b.StrokeStep()
		}
		do(bench.KindStarter, "off", 0)
		b.Settle()
		runs := b.Record().Runs
		strokes := runs[len(runs)-1].Strokes
		first, last := unit.Gauge(strokes[0].True).PSI(), unit.Gauge(strokes[len(strokes)-1].True).PSI()
		lo, hi = min(lo, first), max(hi, first)
		if !strokes[0].Full {
			parts++
		}
		assert.Greater(t, last, 185.0, "cylinder %d", c)
		do(bench.KindRelease, "", 0)
		do(bench.KindHoseOff, "", 0)
	}
	assert.Less(t, lo, 0.7*hi, "the first puffs tell where the crank stood")
	assert.Positive(t, parts)
}

// A neighbor's plug refitted helps the one of a V8 pair whose neighbor fires just
// before it, and changes nothing in an inline pair.
func TestRefittingANeighbor(t *testing.T) {
	v8 := scenarios.Find("gasket-neighbors-v8")
	assert.Greater(t, refit(t, v8, 7, 5), 8.0, "5 fires 90 degrees before 7")
	assert.InDelta(t, 0, refit(t, v8, 5, 7), 6, "7 fires long after 5")
	four := scenarios.Find("gasket-inline-four")
	assert.InDelta(t, 0, refit(t, four, 2, 3), 6)
	assert.InDelta(t, 0, refit(t, four, 3, 2), 6)
	assert.InDelta(t, 0, refit(t, v8, 1, 3), 3, "nothing leaks there")
}

// Tight lash: shut when cold, lower the hotter it gets, and cured by feeler gauge and
// screw, not by a head.
func TestTheStoryOfTheTightLash(t *testing.T) {
	for _, id := range []string{"tight-lash-mountain", "bank-tight-flat-four"} {
		e := of(t, id)
		s := *e.s
		s.Card.CoolantMinC, s.Card.CoolantMaxC = 0, 60
		cold := run(t, &s, book.Dry)
		s.Faults = nil
		cured := run(t, &s, book.Dry)
		for _, c := range e.s.Key.Cylinders {
			assert.InEpsilon(t, cured.Readings[c-1].FinalPSI, cold.Readings[c-1].FinalPSI, 0.02, "%s, cylinder %d cold", id, c)
			assert.Less(t, e.level(t, c), 75.0, "%s, cylinder %d hot", id, c)
		}
	}
}

// The page of the coast would fail the mountain engine, and its own page passes it.
func TestTheStoryOfTheMountain(t *testing.T) {
	e := of(t, "sound-high-mountain")
	own := e.s.Card.Limits
	coast := own
	k := unit.Gauge(101.325 / 80)
	coast.PrintedAt = 0 // the sea
	coast.Standard, coast.Minimum, coast.DifferenceMax = own.Standard*k, own.Minimum*k, own.DifferenceMax*k
	lowest := unit.PSI(low(e.wets(t).Dry))
	assert.GreaterOrEqual(t, lowest, own.Minimum)
	assert.InEpsilon(t, float64(own.Minimum), float64(coast.AtAltitude(80000).Minimum), 1e-9, "corrected once it is the same page")
	assert.Less(t, lowest, coast.Standard*9/10)
}

// An uneven V6 has humps of two heights; held against those of its own bank none is low.
func TestUnevenFiringMarksNoSoundCylinder(t *testing.T) {
	e := of(t, "sound-odd-fire-v6")
	least, most := e.currents(t).Humps[0].HeightA, 0.0
	for _, h := range e.currents(t).Humps {
		assert.False(t, h.Low, "cylinder %d", h.Cylinder)
		least, most = min(least, h.HeightA), max(most, h.HeightA)
	}
	assert.Greater(t, most, 2*least)
	for c := 1; c <= 6; c++ {
		assert.InDelta(t, 100, e.level(t, c), 1)
	}
}

// Whoever doesn't follow the card of an engine that wants the key gets one puff; one
// that is turned by its generator doesn't turn at all.
func TestTheOtherSwitch(t *testing.T) {
	s := pick(t, "sound-inline-three")
	s.Card.Switch = "remote"
	r := run(t, s, book.Dry)
	for i, c := range r.Readings {
		assert.Less(t, c.FinalPSI, 0.9*of(t, "sound-inline-three").dry(t, i+1).FinalPSI)
		assert.InDelta(t, 100, share(c), 3, "it doesn't climb")
	}
	s = pick(t, "sound-atkinson-hybrid")
	s.Card.Switch = "remote"
	_, err := book.Run(s, book.Options{})
	assert.ErrorContains(t, err, "refusal.remote_dead")
	s = pick(t, "broken-land-turbo")
	s.Card.Switch = "key"
	fired := run(t, s, book.Dry)
	times := 0
	for _, e := range fired.Record.Events {
		if e.Kind == bench.EventCaution && e.Choice == "injectors_fire" {
			times++
		}
	}
	assert.Positive(t, times)
	assert.Less(t, fired.Readings[0].FinalPSI, 0.99*of(t, "broken-land-turbo").dry(t, 1).FinalPSI, "washed")
}
