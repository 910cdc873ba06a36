package debrief

import (
	"crankbay/scenarios/book"
)

// tests lists them in the order a shop would think of them.
func tests() []string {
	return []string{
		TestBalance, TestDry, TestWet, TestLeakage, TestCurrent, TestVacuum, TestLash, TestTiming, TestScope, TestCooling, TestSecond,
		TestRunning,
	}
}

// wanted lists the tests that can tell causes of a shape apart. The starter's current
// and the manifold's vacuum say which cylinder is weak, or that one is, which the dry
// test has said already; only where that says nothing do they add something.
func wanted(shape string) []string {
	switch shape {
	case ShapeNone:
		return []string{TestDry, TestCurrent, TestBalance, TestRunning}
	case ShapeAll: // a gauge that reads wrong does so on every cylinder
		return []string{TestDry, TestWet, TestLeakage, TestLash, TestTiming, TestScope, TestCooling, TestSecond, TestRunning}
	}
	return []string{TestDry, TestWet, TestLeakage, TestLash, TestTiming, TestScope, TestCooling, TestRunning}
}

// A Shown is one number or one fact that a test shows, and what a trained eye makes of
// it.
type Shown struct {
	Name     string  `json:"name"` // key of its words
	Cylinder int     `json:"cylinder"`
	Value    float64 `json:"value"`
	Unit     string  `json:"unit"`  // psi, %, rpm, mm; empty for a mere fact
	Means    string  `json:"means"` // key: Unclear, or one of few others for each name
}

// ShownKeys lists every name with every word it can have, as name.means. Those of mere
// facts are missing: their words are keys of the bench's facts.
func ShownKeys() []string {
	var keys []string
	for _, x := range []struct {
		name  string
		means []string
	}{
		{"first", []string{"like", "builds", Unclear}}, {"rpm", []string{"slow", "fair", Unclear}}, {"control", []string{"like"}},
		{"gain", []string{"like", "clear", Unclear}},
		{"leakage", []string{
			"small", Unclear, book.AirIntake, book.AirExhaust, book.AirCrankcase, book.AirNeighbour, book.AirCoolant, book.AirOutside,
		}},
		{"hump", []string{"even", "weak", "extra", Unclear}}, {"stalled", []string{"stalled"}},
		{"tower", []string{"none", "extra"}},
		{"second", []string{"agrees", "differs", Unclear}}, {"idle", []string{"weak", "fair", Unclear}},
		{"snap", []string{"weak", "fair", Unclear}}, {"balance", []string{"dead", "works", Unclear}},
		{"lash_intake", []string{"tight", "right", "wide"}}, {"lash_exhaust", []string{"tight", "right", "wide"}},
	} {
		for _, m := range x.means {
			keys = append(keys, x.name+"."+m)
		}
	}
	return keys
}

// Unclear is what lies between two bands: it tells nothing apart.
const Unclear = "unclear"

// differs says whether somebody who did the test would tell two engines apart.
func differs(a, b []Shown) bool {
	if len(a) != len(b) {
		return true
	}
	for i := range a {
		if a[i].Means != b[i].Means && a[i].Means != Unclear && b[i].Means != Unclear {
			return true
		}
	}
	return false
}

// band names a value: one word up to lo, another from hi on, nothing between.
func band(v, lo, hi float64, low, high string) string {
	switch {
	case v <= lo:
		return low
	case v >= hi:
		return high
	}
	return Unclear
}
