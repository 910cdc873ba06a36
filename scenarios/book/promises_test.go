package book_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// A promise is what the texts and the key of a scenario say its tests will show, one
// claim for each kind of test by the book.
type promise struct {
	id                                          string
	dry, wet, leakage, current, running, vacuum claim
}

// sound is an engine that shows nothing anywhere.
func sound(id string) promise {
	return promise{id, all(normalDry(), passes(true)), gained(-2, 2), noLeak(), levelHumps(), normalRunning(), drawn(93, 107)}
}

// noStart is an engine that can't be run.
func noStart(p promise) promise {
	p.running = noRunning()
	return p
}

// promises, engine by engine. Bounds are percent of the same engine when sound (first
// strokes and gains: points from it); cylinders that are not named read like sound
// ones. Words in the comments are what the text leads to expect.
var promises = []promise{
	sound("sound-inline-four"), sound("sound-v6"), sound("sound-v8"), sound("sound-inline-three"), sound("sound-odd-fire-v6"),
	sound("sound-old-inline-four"), sound("sound-high-mountain"), sound("sound-atkinson-hybrid"), sound("sound-single"),
	sound("tester-at-overlap-flat-four"), sound("part-stroke-inline-five"), sound("not-compression-inline-five"),
	sound("throttle-closed-inline-four"), sound("throttle-closed-plugs-in-inline-four"),

	// One low: valves don't build up less and gain no more; air at their port.
	{"burnt-exhaust-inline-four", all(reads(55, 74, 3), firsts(3, 12, 3), passes(false)), gained(-4, 2, 3), leak(60, 97, book.AirExhaust, 3), dip(65, 92, 3), pumped(85, 100, 85, 99, 3), drawn(80, 97)},
	{"burnt-exhaust-v6", all(reads(55, 74, 5), firsts(3, 12, 5), passes(false)), gained(-4, 2, 5), leak(60, 97, book.AirExhaust, 5), dip(50, 80, 5), pumped(80, 100, 80, 99, 5), drawn(80, 98)},
	{"leaking-intake-inline-four", all(reads(55, 74, 2), firsts(3, 12, 2), passes(false)), gained(-4, 2, 2), leak(60, 97, book.AirIntake, 2), dip(65, 92, 2), pumped(75, 105, 80, 99, 2), drawn(65, 98)},
	{"throttle-shut-over-burnt-inline-four", all(reads(55, 74, 4), firsts(3, 12, 4), passes(false)), gained(-4, 2, 4), leak(60, 97, book.AirExhaust, 4), dip(65, 92, 4), pumped(85, 100, 85, 99, 4), drawn(80, 97)},
	// Oil lifts a burnt valve too, by what it takes of a small chamber: no more than its neighbors.
	{"false-gain-inline-three", all(reads(60, 76, 2), firsts(2, 12, 2), passes(false)), all(gained(-4, 3, 2), gainOf(12, 20)), leak(50, 95, book.AirExhaust, 2), dip(70, 95, 2), pumped(88, 108, 88, 103, 2), drawn(80, 98)},
	{"flake-v8-twin-cam", all(reads(55, 76, 6), firsts(3, 14, 6), passes(false)), gained(-4, 2, 6), leak(60, 99, book.AirExhaust, 6), dip(0, 75, 6), pumped(88, 112, 93, 107, 6) /* gone once it has run */, drawn(88, 100)},
	{"bent-valves-inline-five", all(reads(0, 10, 2, 4), passes(false)), nothing(2, 4), leak(97, 100, book.AirIntake, 2, 4), dip(0, 30, 2, 4), pumped(0, 60, 0, 60, 2, 4), drawn(0, 50)},
	// Shut when cold, held open when warm; as it cools between dry and wet it closes, which looks like a gain.
	{"tight-lash-mountain", all(reads(40, 74, 2), firsts(3, 16, 2), passes(false)), gained(2, 30, 2), leak(80, 100, book.AirExhaust, 2), dip(45, 85, 2), pumped(70, 95, 80, 97, 2), drawn(70, 95)},
	{"bank-tight-flat-four", all(reads(40, 74, 2, 4), firsts(3, 16, 2, 4), passes(false)), gained(2, 40, 2, 4), leak(80, 100, book.AirExhaust, 2, 4), dip(45, 90, 2, 4), pumped(70, 95, 75, 97, 2, 4), drawn(60, 92)},

	// One low: rings start low, build up and gain; air at the oil filler.
	{"worn-rings-inline-four", all(reads(60, 79, 2), firsts(-20, -6, 2), passes(false)), gained(10, 35, 2), leak(70, 98, book.AirCrankcase, 2), dip(65, 92, 2), pumped(85, 102, 85, 102, 2), drawn(80, 98)},
	{"worn-rings-flat-four", all(reads(60, 79, 3), firsts(-20, -6, 3), passes(false)), gained(1, 7, 3) /* oil lies below */, leak(70, 98, book.AirCrankcase, 3), dip(65, 95, 3), pumped(85, 102, 88, 102, 3), drawn(80, 98)},
	{"stuck-ring-hybrid", all(reads(60, 79, 3), firsts(-22, -6, 3), passes(false)), gained(9, 30, 3), leak(70, 98, book.AirCrankcase, 3), dip(55, 90, 3), pumped(85, 105, 85, 102, 3), drawn(75, 98)},
	// No oil seals a groove, a broken land or a hole.
	{"scored-bore-inline-three", all(reads(60, 80, 1), firsts(0, 10, 1), passes(false)), gained(-5, 3, 1), leak(35, 90, book.AirCrankcase, 1), dip(70, 97, 1), pumped(90, 108, 85, 102, 1), drawn(80, 99)},
	{"broken-land-turbo", all(reads(80, 92, 3), firsts(0, 6, 3), passes(true)), gained(-3, 3, 3), leak(22, 60, book.AirCrankcase, 3), dip(85, 99, 3), pumped(88, 105, 90, 102, 3), drawn(88, 100)},
	{"holed-piston-turbo", all(reads(0, 6, 2), passes(false)), nothing(2), leak(97, 100, book.AirCrankcase, 2), dip(0, 10, 2), pumped(0, 60, 0, 50, 2), drawn(0, 60)},

	// Two neighbors in one bank; equal when it is the only path, unequal with a second one.
	{"gasket-inline-four", all(reads(55, 74, 2, 3), alike(5, 2, 3), passes(false)), gained(-4, 2, 2, 3), leak(60, 98, book.AirNeighbour, 2, 3), dip(55, 95, 2, 3), pumped(80, 102, 80, 99, 2, 3), drawn(75, 97)},
	{"gasket-neighbors-v8", all(reads(50, 74, 5, 7), passes(false)), gained(-4, 2, 5, 7), leak(60, 98, book.AirNeighbour, 5, 7), dip(0, 99, 5), pumped(75, 120, 75, 115, 5, 7) /* 5 fires just before 7 and pumps it up */, drawn(75, 99)},
	{"gasket-unequal-inline-six", all(reads(40, 72, 3, 4), apart(20, 3, 4), passes(false)), gained(-4, 2, 3, 4), all(leak(70, 99, book.AirNeighbour, 3, 4), alsoAir(20, book.AirCoolant, 4)), dip(35, 88, 3, 4), pumped(75, 100, 75, 99, 3, 4), drawn(75, 98)},
	{"cracked-head-v8-twin-cam", all(reads(60, 76, 7), firsts(2, 12, 7), passes(false)), gained(-4, 2, 7), leak(60, 97, book.AirCoolant, 7), dip(0, 80, 7), pumped(85, 100, 85, 99, 7), drawn(88, 100)},
	{"gasket-outside-single", all(reads(50, 70, 1), firsts(2, 12, 1), passes(false)), gained(-4, 2, 1), leak(70, 98, book.AirOutside, 1), levelHumps(), pumped(90, 110, 80, 98, 1), drawn(55, 90)},

	// All low, even: the other tests tell which.
	{"timing-late-inline-four", all(reads(79, 87), firsts(-3, 6), evenly(5), passes(false)), gained(-3, 3), noLeak(), levelHumps(), pumped(70, 110, 75, 102), drawn(55, 95)},
	noStart(promise{"no-start-v6", all(reads(45, 75), firsts(-3, 12), evenly(5), passes(false)), gained(-3, 3), noLeak(), levelHumps(), nil, drawn(20, 75)}),
	{"all-rings-worn-inline-four", all(reads(55, 80), firsts(-20, -6), evenly(6), passes(false)), gained(10, 40), leak(70, 99, book.AirCrankcase), levelHumps(), pumped(80, 105, 80, 104), drawn(60, 95)},
	noStart(promise{"washed-inline-six", all(reads(55, 78), firsts(3, 20), evenly(9), passes(false)), gained(25, 70), leak(60, 98, book.AirCrankcase), levelHumps(), nil, drawn(60, 98)}),
	noStart(promise{"stood-odd-fire-v6", all(reads(45, 88), firsts(5, 30), unevenly(20), passes(false)), gained(15, 80), leak(60, 99, book.AirCrankcase), dip(25, 150), nil, drawn(60, 98)}),
	{"weak-battery-inline-four", all(reads(80, 95), evenly(5), turns(150, 190)), gained(-3, 4), noLeak(), levelHumps(), normalRunning(), drawn(30, 90)},
	{"slow-crank-old-inline-four", all(reads(85, 97), evenly(6), turns(140, 190), slower()), gained(-3, 4), noLeak(), levelHumps(), normalRunning(), drawn(40, 90)},
	{"gauge-reads-low-v6", all(normalDry(), firstGauge(80, 90), seconds()), gained(-2, 2), noLeak(), levelHumps(), normalRunning(), drawn(93, 107)},
	{"needle-wanders-v8-twin-cam", all(reads(50, 80), sinks(), seconds()), gained(-4, 4), noLeak(), levelHumps(), pumped(60, 102, 70, 98), drawn(93, 107)},

	// One bank low: little leaks, so it is that bank's cam.
	{"bank-two-late-v6", all(reads(75, 90, 2, 4, 6), passes(false)), gained(-3, 3, 2, 4, 6), noLeak(), dip(70, 97, 2, 4, 6), pumped(70, 102, 80, 103, 2, 4, 6), drawn(60, 98)},
	{"bank-late-flat-four", all(reads(75, 90, 2, 4), passes(false)), gained(-3, 3, 2, 4), noLeak(), dip(75, 97, 2, 4), pumped(70, 102, 80, 103, 2, 4), drawn(70, 98)},

	// High.
	{"timing-early-inline-four", all(reads(107, 118), evenly(5)), gained(-3, 3), noLeak(), levelHumps(), pumped(90, 115, 92, 112), drawn(80, 120)},
	{"carbon-inline-four", reads(107, 120, 1), gained(-3, 4, 1), noLeak(), dip(100, 115, 1), pumped(100, 125, 100, 120, 1), drawn(93, 107)},
	{"liquid-hybrid", reads(115, 140, 1), gained(-35, -8, 1) /* thrown out by then */, noLeak(), dip(105, 130, 1), pumped(105, 150, 105, 140, 1), drawn(93, 107)},

	// Normal or nearly so on the gauge; something else tells.
	{"worn-lobe-v8", reads(107, 125, 5), gained(-3, 3, 5), noLeak(), dip(110, 200, 5), pumped(95, 130, 60, 92, 5), drawn(85, 115)},
	{"dead-exhaust-v8", all(normalDry(), passes(true)), gained(-3, 3), noLeak(), dip(140, 350, 1) /* the exhaust stroke of 6 falls together with 1 */, pumped(90, 115, 93, 110), all(drawn(60, 95), ripple(2))},
	{"pushrod-off-old-inline-four", all(reads(75, 93, 3), onePuff(3)), gained(-4, 8, 3), noLeak(), dip(0, 15, 3), pumped(0, 25, 0, 20, 3), all(drawn(50, 90), ripple(1.7))},
	{"restricted-exhaust-v8-twin-cam", all(normalDry(), passes(true)), gained(-2, 2), noLeak(), levelHumps(), pumped(60, 88, 88, 99), drawn(85, 100)},
	{"weak-spring-turbo", all(normalDry(), passes(true)), gained(-2, 2), noLeak(), levelHumps(), pumped(150, 260, 100, 125), all(drawn(60, 90), ripple(1.6))},
}

// Every scenario shows in all its tests by the book what its text and its key promise.
func TestEveryScenarioKeepsItsPromise(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range promises {
		assert.False(t, seen[p.id], "%s stands there twice", p.id)
		seen[p.id] = true
		e := of(t, p.id)
		p.dry(t, e)
		p.wet(t, e)
		p.leakage(t, e)
		p.current(t, e)
		p.running(t, e)
		p.vacuum(t, e)
	}
	for _, s := range scenarios.Catalogue() {
		assert.True(t, seen[s.ID], "%s has no row", s.ID)
	}
}
