package reason

import (
	"math"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
)

// leastRatio is a reading that another gauge's can be no share of, readsSomething one that
// is not nothing [bar].
const leastRatio, readsSomething = 5 * psi, 25 * psi

// How probably another gauge reads something where the first read next to nothing: when the
// first was to blame, and when not (judgement).
const readsMended, readsAnyway = 0.95, 0.03

const (
	standardAtmosphere = 101325.0  // [Pa]
	bar                = 1e5       // [Pa]
	psi                = 0.0689476 // [bar]
)

// look is one cylinder as the inference sees it, pressures in bar; what is missing is
// NaN.
type look struct {
	any     bool      // something is known of it
	dry     float64   // [bar]; mean of all tries
	once    float64   // the first try
	tries   float64   // how many
	again   []float64 // the further ones
	first   float64   // share of the first try
	wet     float64   // [bar]
	second  float64   // other gauge ÷ dry
	reads   Answer    // whether another gauge reads anything where the first read next to nothing
	refit   float64   // a neighbour's plug back in [bar]
	leak    float64   // share of the supply
	hump    float64   // of the mean
	idle    float64   // [bar]
	snap    float64   // [bar]
	lashIn  float64   // [mm]
	lashEx  float64   // [mm]
	bore    int       // -1 nobody looked
	dead    Answer
	low     Answer
	heard   [6]bool // places in the order of package library, from Throttle on
	nowhere bool    // listened and heard nothing
	ears    bool    // somebody listened
}

// view is the evidence made ready.
type view struct {
	e   Evidence
	cyl []look
	n   noise

	listed  bool      // of some cylinders something is known
	gap     bool      // of all of them but one or so
	passed  set       // those of which nothing is said
	falls   float64   // how much oftener than by chance the readings fall in the order of their numbers; 0: they don't
	usual   float64   // what a sound engine would read [bar]
	healthy []float64 // variances among healthy cylinders
	shaken  []float64 // the same beside one that shakes the crank
}

func (n Number) or() float64 {
	if n.Is {
		return n.V
	}
	return math.NaN()
}

func known(v float64) bool { return !math.IsNaN(v) }

func viewOf(e Evidence) view {
	v := view{e: e.sane(), n: noiseOf(e.Rough)}
	said := 0
	for _, c := range v.e.Cylinders {
		l := c.look()
		v.cyl, v.listed = append(v.cyl, l), v.listed || l.any
		if l.any {
			said++
		} else {
			v.passed |= setOf(len(v.cyl) - 1)
		}
	}
	missing := len(v.cyl) - said
	v.gap = len(v.cyl) > 2 && missing > 0 && (missing == 1 || 6*missing <= len(v.cyl)) // two left out of six are two that nobody came to
	v.falls = v.inOrder()
	return v
}

// inOrder returns by how much it speaks for a battery that gives out that every reading is
// lower than the one of the cylinder before it, 0 when they aren't. Cylinders are mostly
// tested in the order of their numbers. Of cylinders that differ for any other reason one
// engine of n! is sorted so; where the starter turned too slowly three in ten, since a weak
// battery gets weaker (judgement).
func (v *view) inOrder() float64 {
	const steady, most, fall = 0.3, 120, 0.92
	ways := 1.0
	for i := range v.cyl {
		c := &v.cyl[i]
		if !known(c.dry) || i > 0 && c.dry >= 0.99*v.cyl[i-1].dry {
			return 0
		}
		ways = min(most, ways*float64(i+1))
	}
	n := len(v.cyl)
	if !v.e.Rough || n < 4 || v.cyl[n-1].dry > fall*v.cyl[0].dry {
		return 0
	}
	return 1 - steady + float64(steady*ways)
}

// look prepares a cylinder. A leakage near all the air, heard at throttle and tailpipe
// both, is a piston one turn out: it says nothing.
func (c Cylinder) look() look {
	l := look{
		dry: c.Dry.or() / bar, tries: 1, first: math.NaN(), wet: c.Wet.or() / bar, second: math.NaN(), refit: c.Refit.or() / bar,
		leak: c.Leakage.or() / 100, hump: c.Hump.or() / 100, idle: c.Idle.or() / bar, snap: c.Snap.or() / bar,
		lashIn: c.LashIn.or(), lashEx: c.LashEx.or(), bore: boreCode(c.Bore), dead: c.Dead, low: c.Low,
	}
	if known(l.dry) {
		l.dry = max(0, l.dry)
		l.once = l.dry
		for _, r := range c.Repeats {
			l.again = append(l.again, max(0, r/bar))
			l.dry += max(0, r/bar)
			l.tries++
		}
		l.dry /= l.tries
		if c.First.Is && l.once > 2*psi {
			l.first = max(0, min(c.First.V/bar/l.once, 1.5))
		}
		switch {
		case c.Second.Is && l.dry > leastRatio:
			l.second = max(0, c.Second.V/bar/l.dry)
		case c.Second.Is && c.Second.V/bar > readsSomething:
			l.reads = Yes
		case c.Second.Is:
			l.reads = No
		}
	}
	for _, place := range c.Heard {
		l.hear(place)
	}
	if known(l.leak) && l.leak > 0.8 && l.heard[0] && l.heard[1] {
		l.leak, l.heard, l.ears = math.NaN(), [6]bool{}, false
	}
	l.any = known(l.dry) || known(l.wet) || known(l.leak) || known(l.hump) || known(l.idle) || known(l.snap) || l.ears ||
		known(l.lashIn) || known(l.lashEx) || l.bore >= 0 || l.dead != NotKnown || l.low != NotKnown
	return l
}

func (l *look) hear(place string) {
	for k, p := range heardOrder {
		if p == place {
			l.heard[k], l.ears = true, true
		}
	}
	if place == diagnose.HeardNowhere {
		l.nowhere, l.ears = true, true
	}
}

// heardOrder is the order of the places in package library, from Throttle on.
var heardOrder = [6]string{
	diagnose.HeardThrottle, diagnose.HeardTailpipe, diagnose.HeardFiller, diagnose.HeardNeighbour, diagnose.HeardNeck, diagnose.HeardEdge,
}

func boreCode(word string) int {
	switch word {
	case BoreClean:
		return library.BoreClean
	case BoreHole:
		return library.BoreHole
	case BoreScored:
		return library.BoreScored
	case BoreLiquid:
		return library.BoreLiquid
	case BoreCarbon:
		return library.BoreCarbon
	}
	return -1
}
