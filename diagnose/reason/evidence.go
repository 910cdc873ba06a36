package reason

import "math"

// A Number is a reading that may be missing. The zero value is missing.
type Number struct {
	Is bool    `json:"is"`
	V  float64 `json:"v"`
}

// Of returns a reading; one that is no number is missing.
func Of(v float64) Number {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return Number{}
	}
	return Number{true, v}
}

// An Answer is yes, no, or not known. The zero value is not known.
type Answer int8

// The answers.
const (
	NotKnown Answer = 0
	Yes      Answer = 1
	No       Answer = -1
)

// Evidence is what is known of an engine. Everything may be missing. Pressures are
// gauge pressures in Pa.
type Evidence struct {
	Cylinders []Cylinder `json:"cylinders"` // by number, from 1
	Banks     [][]int    `json:"banks"`     // cylinder numbers front to rear; nil when nobody said
	Layout    string     `json:"layout"`    // inline, v, flat, or empty
	Order     []int      `json:"order"`     // firing order, by number; nil when nobody said

	Throttle Answer `json:"throttle"` // held open in the dry test
	Plugs    Answer `json:"plugs"`    // all out
	Warm     Answer `json:"warm"`     // engine at the temperature its card asks for
	Strokes  Answer `json:"strokes"`  // enough of them, and as many on each cylinder

	Speed   Number   `json:"speed"`   // cranking speed [rpm]
	Volts   Number   `json:"volts"`   // lowest at the battery while cranking [V]
	Vacuum  Number   `json:"vacuum"`  // cranking, throttle shut [Pa below ambient]
	Cooling Answer   `json:"cooling"` // the pumped-up cooling system falls
	Late    []Number `json:"late"`    // cam timing by bank, late positive [degrees of crank]

	Ratio    Number `json:"ratio"`    // compression ratio
	Ambient  Number `json:"ambient"`  // pressure of the air of the day [Pa]
	Standard Number `json:"standard"` // what the page says a good engine reads
	Minimum  Number `json:"minimum"`  // the page's minimum

	History   []string `json:"history"`    // of Histories
	TwoStroke bool     `json:"two_stroke"` // without valves
	Hydraulic Answer   `json:"hydraulic"`  // lifters set their clearance themselves
	Rough     bool     `json:"rough"`      // written down somewhere about a real engine, not read on this bench
}

// Cylinder is what is known of one cylinder. Dry and wet readings are the last of
// their strokes.
type Cylinder struct {
	Dry     Number    `json:"dry"`
	First   Number    `json:"first"` // first full stroke of the dry test
	Wet     Number    `json:"wet"`
	Repeats []float64 `json:"repeats"` // further dry readings, same gauge
	Second  Number    `json:"second"`  // dry, another gauge
	Refit   Number    `json:"refit"`   // dry, with a neighbour's plug back in
	Leakage Number    `json:"leakage"` // [%]
	Heard   []string  `json:"heard"`   // places where its air was heard, as package diagnose names them
	Hump    Number    `json:"hump"`    // height of its current hump, of the mean of all [%]
	Idle    Number    `json:"idle"`    // running compression
	Snap    Number    `json:"snap"`
	LashIn  Number    `json:"lash_in"` // clearance less specification [mm]
	LashEx  Number    `json:"lash_ex"`
	Bore    string    `json:"bore"` // by borescope: clean, hole, scored, liquid, carbon; empty when nobody looked
	Dead    Answer    `json:"dead"` // does not pull its share when the engine runs
	Low     Answer    `json:"low"`  // in words, without a figure: clearly low, or as it should be
}

// Words of [Cylinder.Bore].
const (
	BoreClean  = "clean"
	BoreHole   = "hole"
	BoreScored = "scored"
	BoreLiquid = "liquid"
	BoreCarbon = "carbon"
)

// Words of Evidence.Layout.
const (
	LayoutInline = "inline"
	LayoutV      = "v"
	LayoutFlat   = "flat"
)

// mostCylinders bounds the size of an engine.
const mostCylinders = 16

// sane returns the evidence without what nobody can have read: no more cylinders than
// an engine has, no cylinder in a bank that is not there or stands there twice, no
// number that is none.
func (e Evidence) sane() Evidence {
	if len(e.Cylinders) > mostCylinders {
		e.Cylinders = e.Cylinders[:mostCylinders]
	}
	n := len(e.Cylinders)
	cyl := make([]Cylinder, n)
	for i, c := range e.Cylinders {
		for _, p := range []*Number{&c.Dry, &c.First, &c.Wet, &c.Second, &c.Refit, &c.Idle, &c.Snap} {
			p.within(-2e5, 1e7)
		}
		c.Leakage.within(0, 100)
		c.Hump.within(0, 1000)
		c.LashIn.within(-5, 5)
		c.LashEx.within(-5, 5)
		var repeats []float64
		for _, r := range c.Repeats {
			if r > -2e5 && r < 1e7 && len(repeats) < 8 {
				repeats = append(repeats, r)
			}
		}
		c.Repeats = repeats
		cyl[i] = c
	}
	e.Cylinders = cyl
	for _, p := range []*Number{&e.Standard, &e.Minimum} {
		p.within(1e4, 1e7)
	}
	e.Speed.within(0, 2000)
	e.Volts.within(0, 60)
	e.Vacuum.within(-1e5, 1.1e5)
	e.Ratio.within(3, 30)
	e.Ambient.within(4e4, 1.2e5)
	e.Banks = saneBanks(e.Banks, n)
	return e
}

// within makes a number outside its range missing.
func (n *Number) within(lo, hi float64) {
	if !(n.Is && n.V >= lo && n.V <= hi) {
		*n = Number{}
	}
}

func saneBanks(banks [][]int, n int) [][]int {
	var out [][]int
	var seen [mostCylinders + 1]bool
	for _, bank := range banks {
		var b []int
		for _, c := range bank {
			if c >= 1 && c <= n && !seen[c] {
				seen[c] = true
				b = append(b, c)
			}
		}
		if len(b) > 0 {
			out = append(out, b)
		}
	}
	return out
}
