package book_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// healthy returns one scenario for each engine of the catalogue, without its faults
// and with a good battery's charge, to be tested by the card.
func healthy(t *testing.T) []*scenarios.Scenario {
	t.Helper()
	var all []*scenarios.Scenario
	seen := map[string]bool{}
	for _, of := range scenarios.Catalogue() {
		if seen[of.Engine.ID] {
			continue
		}
		seen[of.Engine.ID] = true
		all = append(all, without(pick(t, of.ID)))
	}
	return all
}

// Every engine of the catalogue without its faults, tested by its own card: inside
// its own page, even, built up as gauges do, turned at a speed that makers print, by
// a battery that holds. Oil lifts a healthy cylinder by what the field reports; where
// it reaches only part of the ring, by what it takes of the room.
func TestEverySoundEngine(t *testing.T) {
	var table strings.Builder
	table.WriteString("\nengine                        kPa            of page  spread  first   rpm      V    wet\n")
	engines := healthy(t)
	for _, s := range engines {
		r := run(t, s, book.Wet)
		limits := s.Card.Limits
		least := 5.0
		if s.Engine.OiledShare > 0 {
			least = 3
		}
		for k, c := range r.Dry {
			at := fmt.Sprintf("%s, cylinder %d", s.ID, c.Cylinder)
			kPa := c.FinalPSI * 6.894757
			assert.GreaterOrEqual(t, kPa, limits.Minimum.KPa(), at)
			assert.LessOrEqual(t, kPa, 1.1*limits.Standard.KPa(), at)
			assert.InDelta(t, 66, share(c), 14, at)
			assert.InDelta(t, 265, c.RPM, 85, at)
			assert.GreaterOrEqual(t, c.BatteryMinV, 9.6, at)
			gain := 100 * (r.Readings[k].FinalPSI/c.FinalPSI - 1)
			assert.GreaterOrEqual(t, gain, least, at)
			assert.LessOrEqual(t, gain, 25.0, at)
		}
		assert.Greater(t, low(r.Dry), 0.95*high(r.Dry), s.ID)
		c, top, bottom := r.Dry[0], high(r.Dry)*6.894757, low(r.Dry)*6.894757
		fmt.Fprintf(&table, "%-26s %5.0f to %4.0f %10.2f %6.1f%% %5.0f%% %5.0f %6.2f %5.1f%%\n", s.Engine.ID, bottom, top,
			(bottom+top)/2/limits.Standard.KPa(), 100*(1-bottom/top), share(c), c.RPM, c.BatteryMinV,
			100*(r.Readings[0].FinalPSI/c.FinalPSI-1))
	}
	t.Log(table.String())
	assert.Len(t, engines, 14)
}

// What makes the readings of some engines low is in the engine: without it they
// read like any other.
func TestLowByDesign(t *testing.T) {
	hybrid := pick(t, "sound-atkinson-hybrid")
	before := low(dry(t, hybrid))
	hybrid.Engine.Valves.Intake.ClosesDegABDC = 60
	assert.Greater(t, low(dry(t, hybrid)), 1.5*before, "an early closing at 13 to 1")

	single := pick(t, "sound-single")
	assert.InDelta(t, 85, low(dry(t, single)), 29, "57 to 114 psi with the release")
	single.Engine.Release = nil
	assert.Greater(t, low(dry(t, single)), 120.0, "no release")

	high := pick(t, "sound-high-mountain")
	before = low(dry(t, high))
	high.Conditions.AmbientKPa = 101.3
	assert.InEpsilon(t, 101.3/80, low(dry(t, high))/before, 0.03, "at the coast")
}
