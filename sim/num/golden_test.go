package num_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"crankbay/sim/num"
	"crankbay/sim/simtest"
)

// digest folds the bits of f over 100,000 arguments, spread evenly over [lo, hi]
// by a multiplicative walk in integers, into one number (FNV-1a on 64-bit words).
func digest(lo, hi float64, f func(float64) float64) uint64 {
	h := uint64(14695981039346656037)
	walk := uint64(1)
	for range 100000 {
		walk = walk*6364136223846793005 + 1442695040888963407
		share := float64(walk>>11) * 0x1p-53
		x := lo + float64((hi-lo)*share)
		h = (h ^ math.Float64bits(f(x))) * 1099511628211
	}
	return h
}

// The recorded digests are not evidence that a value is right; they are the
// promise that every machine, a browser included, computes the same bits. A change
// is a new model version.
func TestGoldenDigests(t *testing.T) {
	var list strings.Builder
	for _, c := range []struct {
		name   string
		lo, hi float64
		f      func(float64) float64
	}{
		{"Exp", -50, 50, num.Exp},
		{"Log", 1e-6, 1e3, num.Log},
		{"Sin", -100, 100, num.Sin},
		{"Cos", -100, 100, num.Cos},
		{"Pow of the flow law", 0.5, 1, func(x float64) float64 { return num.Pow(x, 2/1.4) - num.Pow(x, 2.4/1.4) }},
		{"Pow of base and exponent", 0.001, 40, func(x float64) float64 { return num.Pow(x, 20-x) }},
	} {
		fmt.Fprintf(&list, "%s over [%g, %g]: %016x\n", c.name, c.lo, c.hi, digest(c.lo, c.hi, c.f))
	}
	simtest.Golden(t, "num-digests.txt", list.String())
}
