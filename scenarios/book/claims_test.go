package book_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios/book"
	"crankbay/sim/unit"
)

// A claim is what a test of one kind has to show. Margins are wide: they are those of
// the trade's words, not of the model's digits.
type claim func(t *testing.T, e *evidence)

// all makes one claim of several.
func all(list ...claim) claim {
	return func(t *testing.T, e *evidence) {
		for _, c := range list {
			c(t, e)
		}
	}
}

// between asserts a number for some cylinders, for all when none is named.
func between(name string, of func(*evidence, *testing.T, int) float64, lo, hi float64, cylinders ...int) claim {
	return func(t *testing.T, e *evidence) {
		list := cylinders
		if len(list) == 0 {
			list = e.cylinders()
		}
		for _, c := range list {
			v := of(e, t, c)
			assert.True(t, v >= lo && v <= hi, "%s: %s of cylinder %d is %.1f, promised %g to %g", e.s.ID, name, c, v, lo, hi)
		}
	}
}

// rest asserts a number for the cylinders that are not named.
func rest(name string, of func(*evidence, *testing.T, int) float64, lo, hi float64, but ...int) claim {
	return func(t *testing.T, e *evidence) {
		if list := e.cylinders(but...); len(list) > 0 {
			between(name, of, lo, hi, list...)(t, e)
		}
	}
}

func dryLevel(e *evidence, t *testing.T, c int) float64 { return e.level(t, c) }
func dryFirst(e *evidence, t *testing.T, c int) float64 { return e.first(t, c) }
func wetGain(e *evidence, t *testing.T, c int) float64  { return e.gain(t, c) - e.sound.gain(t, c) }
func lost(e *evidence, t *testing.T, c int) float64     { return e.leaks(t, c).Percent }
func height(e *evidence, t *testing.T, c int) float64   { return e.humps(t, c) }
func idling(e *evidence, t *testing.T, c int) float64   { return e.idle(t, c) }
func snapped(e *evidence, t *testing.T, c int) float64  { return e.snap(t, c) }

// reads: the named cylinders read so many percent of the sound engine, and the rest
// like the sound engine.
func reads(lo, hi float64, cylinders ...int) claim {
	return all(between("dry level", dryLevel, lo, hi, cylinders...), others(dryLevel, "dry level", 97, 103, cylinders))
}

// others is rest, but nothing when the claim before was about all.
func others(of func(*evidence, *testing.T, int) float64, name string, lo, hi float64, named []int) claim {
	if len(named) == 0 {
		return func(*testing.T, *evidence) {}
	}
	return rest(name, of, lo, hi, named...)
}

// firsts: points of first over final above (+) or below (-) the sound engine.
func firsts(lo, hi float64, cylinders ...int) claim {
	return between("first over final", dryFirst, lo, hi, cylinders...)
}

// normalDry: level and build-up of a sound engine.
func normalDry() claim { return all(reads(97, 103), firsts(-3, 3)) }

// gains: points of gain over those of the same cylinder when sound; the rest gain like
// a sound engine.
func gained(lo, hi float64, cylinders ...int) claim {
	return all(between("wet gain", wetGain, lo, hi, cylinders...), others(wetGain, "wet gain", -3, 3, cylinders))
}

// leak: the named cylinders lose so many percent, most of it one way; the rest lose
// what sound ones lose.
func leak(lo, hi float64, path string, cylinders ...int) claim {
	way := func(e *evidence, t *testing.T, c int) float64 { return e.air(t, c, path) }
	return all(between("leakage", lost, lo, hi, cylinders...), between("air at "+path, way, 40, 100.01, cylinders...),
		others(lost, "leakage", 0, 20, cylinders))
}

// alsoAir: some of the air comes out elsewhere.
func alsoAir(least float64, path string, cylinders ...int) claim {
	return between("air at "+path, func(e *evidence, t *testing.T, c int) float64 { return e.air(t, c, path) }, least, 100.01, cylinders...)
}

// noLeak: a sound engine's leakage, all of it at the oil filler.
func noLeak() claim { return leak(0, 20, book.AirCrankcase) }

// dip: humps of the named cylinders in percent of the sound engine's; the rest stand
// out less.
func dip(lo, hi float64, cylinders ...int) claim {
	return between("hump", height, lo, hi, cylinders...)
}

// level humps: nothing stands out.
func levelHumps() claim { return dip(92, 108) }

// pumped: idle and snap in percent of the sound engine's.
func pumped(idleLo, idleHi, snapLo, snapHi float64, cylinders ...int) claim {
	return all(between("idle", idling, idleLo, idleHi, cylinders...), between("snap", snapped, snapLo, snapHi, cylinders...))
}

func normalRunning() claim { return pumped(88, 112, 93, 107) }

// noRunning: an engine that doesn't start has no such test.
func noRunning() claim {
	return func(t *testing.T, e *evidence) {
		assert.True(t, e.runs(t).NoStart, e.s.ID)
		assert.Empty(t, e.runs(t).Cylinders)
	}
}

// drawn: cranking vacuum in percent of the sound engine's.
func drawn(lo, hi float64) claim {
	return func(t *testing.T, e *evidence) {
		v := 100 * e.vacuums(t).MeanKPa / e.sound.vacuums(t).MeanKPa
		assert.True(t, v >= lo && v <= hi, "%s: vacuum is %.1f percent of a sound engine's, promised %g to %g", e.s.ID, v, lo, hi)
	}
}

// ripple: that of the vacuum, as a multiple of the sound engine's.
func ripple(least float64) claim {
	return func(t *testing.T, e *evidence) {
		v := e.vacuums(t).RippleKPa / e.sound.vacuums(t).RippleKPa
		assert.GreaterOrEqual(t, v, least, "%s: ripple", e.s.ID)
	}
}

// turns: mean speed of the dry test.
func turns(lo, hi float64) claim {
	return between("speed", func(e *evidence, t *testing.T, c int) float64 { return e.dry(t, c).RPM }, lo, hi)
}

// seconds: by the second gauge of the tray it reads like the sound engine.
func seconds() claim {
	return between("second gauge", func(e *evidence, t *testing.T, c int) float64 {
		return 100 * e.byGauge(t, 1, c) / e.sound.dry(t, c).FinalPSI
	}, 95, 105)
}

// firstGauge: what a person reads off the first gauge, percent of the sound engine.
func firstGauge(lo, hi float64) claim {
	return between("first gauge", func(e *evidence, t *testing.T, c int) float64 {
		return 100 * e.byGauge(t, 0, c) / e.sound.dry(t, c).FinalPSI
	}, lo, hi, 1)
}

// passes: by the page's own rule and minimum, as the readings are.
func passes(want bool) claim {
	return func(t *testing.T, e *evidence) {
		lo, hi, sum := 1e9, 0.0, 0.0
		for _, r := range e.wets(t).Dry {
			lo, hi, sum = min(lo, r.FinalPSI), max(hi, r.FinalPSI), sum+r.FinalPSI
		}
		l := e.s.Card.Limits
		allowed := l.Allowed(unit.PSI(hi), unit.PSI(sum/float64(len(e.wets(t).Dry)))).PSI()
		assert.Equal(t, want, lo >= allowed, fmt.Sprintf("%s: lowest %.0f, allowed %.0f psi", e.s.ID, lo, allowed))
	}
}

// gainOf: what oil does to every cylinder, in percent of its dry reading.
func gainOf(lo, hi float64) claim {
	return between("whole wet gain", func(e *evidence, t *testing.T, c int) float64 { return e.gain(t, c) }, lo, hi)
}

// nothing: oil brings a cylinder that makes nothing no pressure.
func nothing(cylinders ...int) claim {
	return between("wet reading", func(e *evidence, t *testing.T, c int) float64 { return e.wets(t).Readings[c-1].FinalPSI }, 0, 20, cylinders...)
}

// onePuff: the first stroke is all there is.
func onePuff(c int) claim {
	return between("first over final", func(e *evidence, t *testing.T, c int) float64 { return share(e.dry(t, c)) }, 97, 103, c)
}

// sinks: the needle falls back between strokes, so that the last reading is no higher
// than the first.
func sinks() claim {
	return between("first over final", func(e *evidence, t *testing.T, c int) float64 { return share(e.dry(t, c)) }, 97, 200)
}

// alike and apart: how far two cylinders read from each other, percent of the higher.
func alike(most float64, a, b int) claim {
	return func(t *testing.T, e *evidence) { assert.Less(t, spread(e, t, a, b), most, e.s.ID) }
}

func apart(least float64, a, b int) claim {
	return func(t *testing.T, e *evidence) { assert.Greater(t, spread(e, t, a, b), least, e.s.ID) }
}

func spread(e *evidence, t *testing.T, cylinders ...int) float64 {
	lo, hi := 1e9, 0.0
	for _, c := range cylinders {
		v := e.level(t, c)
		lo, hi = min(lo, v), max(hi, v)
	}
	return 100 * (1 - lo/hi)
}

// evenly and unevenly: the same for all cylinders of the engine.
func evenly(most float64) claim {
	return func(t *testing.T, e *evidence) { assert.Less(t, spread(e, t, e.cylinders()...), most, e.s.ID) }
}

func unevenly(least float64) claim {
	return func(t *testing.T, e *evidence) { assert.Greater(t, spread(e, t, e.cylinders()...), least, e.s.ID) }
}

// slower: each cylinder tested finds a more tired starter.
func slower() claim {
	return func(t *testing.T, e *evidence) {
		for c := 2; c <= e.s.Engine.Cylinders; c++ {
			assert.Less(t, e.dry(t, c).RPM, e.dry(t, c-1).RPM, e.s.ID)
			assert.Less(t, e.dry(t, c).BatteryMinV, e.dry(t, c-1).BatteryMinV, e.s.ID)
		}
	}
}
