package num_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/num"
)

// Constants that every table of mathematical constants prints, here from memory
// to 16 digits. They guard against an oracle and a package wrong in the same way.
func TestPrintedConstants(t *testing.T) {
	const digit = 1e-15
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"e", num.Exp(1), 2.718281828459045},
		{"sqrt e", num.Exp(0.5), 1.648721270700128},
		{"1/e", num.Exp(-1), 0.3678794411714423},
		{"ln 2", num.Log(2), 0.6931471805599453},
		{"ln 10", num.Log(10), 2.302585092994046},
		{"sin 1", num.Sin(1), 0.8414709848078965},
		{"cos 1", num.Cos(1), 0.5403023058681397},
		{"sin 30 deg", num.Sin(math.Pi / 6), 0.5},
		{"cube root 2", num.Pow(2, 1.0/3), 1.259921049894873},
	} {
		assert.InDelta(t, c.want, c.got, 2*digit, c.name)
	}
	f, _ := bigPi.Float64()
	assert.Equal(t, math.Pi, f, "oracle: pi")
}

// An interval of arguments in which a function is measured against the oracle.
type interval struct {
	lo, hi float64
	limit  float64 // most units in the last place it may be off
}

func (iv interval) String() string { return fmt.Sprintf("[%g, %g]", iv.lo, iv.hi) }

// measure returns the largest error of f over n points of iv, and where.
func measure(iv interval, n int, f func(float64) float64, exact func(float64) *big.Float) (worst, at float64) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		x := iv.lo + (iv.hi-iv.lo)*r.Float64()
		if i == 0 {
			x = iv.lo
		}
		if u := ulps(f(x), exact(x)); u > worst {
			worst, at = u, x
		}
	}
	return worst, at
}

func TestOneArgumentAgainstOracle(t *testing.T) {
	sine := func(x float64) *big.Float { s, _ := bigSinCos(x); return s }
	cosine := func(x float64) *big.Float { _, c := bigSinCos(x); return c }
	logarithm := func(x float64) *big.Float { return bigLog(newBig(x)) }
	exponential := func(x float64) *big.Float { return bigExp(newBig(x)) }
	for _, c := range []struct {
		name  string
		f     func(float64) float64
		exact func(float64) *big.Float
		over  []interval
	}{
		{"Exp", num.Exp, exponential, []interval{{-20, 20, 1}, {-1e-9, 1e-9, 1}, {-0.5, 0.5, 1}, {-700, 700, 1}}},
		{"Log", num.Log, logarithm, []interval{{1e-3, 40, 1}, {0.99, 1.01, 1}, {1e-300, 1e-290, 1}, {1e3, 1e300, 1}}},
		{"Sin", num.Sin, sine, []interval{{-20, 20, 1}, {-1e-5, 1e-5, 1}, {3.14159, 3.141594, 1}, {800000, 823549, 1}}},
		{"Cos", num.Cos, cosine, []interval{{-20, 20, 1}, {-1e-5, 1e-5, 1}, {1.570796, 1.570797, 1}, {800000, 823549, 1}}},
	} {
		for _, iv := range c.over {
			worst, at := measure(iv, 600, c.f, c.exact)
			assert.Lessf(t, worst, iv.limit, "%s over %v: %.3f units off at %.17g", c.name, iv, worst, at)
		}
	}
}

// The doubles nearest to multiples of π/2 are where an angle reduction shows
// what it is worth: nearly everything cancels.
func TestNearMultiplesOfHalfPi(t *testing.T) {
	for n := 1; n < 524288; n = n*3 + 1 {
		x := float64(n) * (math.Pi / 2)
		s, c := bigSinCos(x)
		assert.Lessf(t, ulps(num.Sin(x), s), 1.0, "Sin(%d·π/2)", n)
		assert.Lessf(t, ulps(num.Cos(x), c), 1.0, "Cos(%d·π/2)", n)
	}
}

func TestPowAgainstOracle(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		name           string
		lo, hi, y0, y1 float64
	}{
		{"flow law", 0.5, 1, 0.7, 1.8},
		{"compression", 0.001, 40, -20, 20},
		{"near one", 1 - 1e-6, 1 + 1e-6, -1e8, 1e8},
		{"far out", 1e-200, 1e-100, -1.5, 1.5},
		{"large", 1, 1e250, -1.2, 1.2},
	} {
		worst, wx, wy := 0.0, 0.0, 0.0
		for range 600 {
			x, y := c.lo+(c.hi-c.lo)*r.Float64(), c.y0+(c.y1-c.y0)*r.Float64()
			if u := ulps(num.Pow(x, y), bigPow(x, y)); u > worst {
				worst, wx, wy = u, x, y
			}
		}
		assert.Lessf(t, worst, 1.0, "%s: %.3f units off at Pow(%.17g, %.17g)", c.name, worst, wx, wy)
	}
}

// Against the standard library on the ranges the model uses: angles to 20 rad,
// exponents to ±20, bases 0.001 to 40.
func TestAgainstStandardMath(t *testing.T) {
	const tol = 1e-15
	r := rand.New(rand.NewPCG(5, 6))
	for range 200000 {
		x := 40*r.Float64() - 20
		b := 0.001 + 40*r.Float64()
		assertClose(t, "Exp", x, num.Exp(x), math.Exp(x), tol)
		assertClose(t, "Log", b, num.Log(b), math.Log(b), tol)
		assertNear(t, "Sin", x, num.Sin(x), math.Sin(x), tol)
		assertNear(t, "Cos", x, num.Cos(x), math.Cos(x), tol)
		y := 3 * (r.Float64() - 0.5)
		assertClose(t, fmt.Sprintf("Pow(%g, y)", b), y, num.Pow(b, y), math.Pow(b, y), tol)
	}
}

// assertClose and assertNear only reach for testify when something is wrong: a
// million passing assertions would take longer than the arithmetic.
func assertClose(t *testing.T, name string, x, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		assert.Failf(t, "not close", "%s at %.17g: %.17g, want %.17g", name, x, got, want)
	}
}

func assertNear(t *testing.T, name string, x, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		assert.Failf(t, "not near", "%s at %.17g: %.17g, want %.17g", name, x, got, want)
	}
}

func TestIdentities(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		x := 40*r.Float64() - 20
		s, c := num.Sin(x), num.Cos(x)
		assert.InDelta(t, 1, s*s+c*c, 4e-16, "sin² + cos² at %g", x)
		assert.Equal(t, -s, num.Sin(-x), "sine is odd at %g", x)
		assert.Equal(t, c, num.Cos(-x), "cosine is even at %g", x)
		assert.InEpsilon(t, 1, num.Exp(x)*num.Exp(-x), 1e-15, "e^x·e^-x at %g", x)
		b := 0.001 + 40*r.Float64()
		assert.InEpsilon(t, b, num.Pow(num.Pow(b, 1.4), 1/1.4), 1e-14, "root of power of %g", b)
		assert.InDelta(t, num.Log(b), -num.Log(1/b), 1e-15*max(1, math.Abs(num.Log(b))), "ln 1/b at %g", b)
	}
}

// Squares, cubes and powers of two are exact in a float64, so the answer must be.
func TestExactPowers(t *testing.T) {
	for n := 1; n <= 1000; n++ {
		x := float64(n)
		assert.Equal(t, x, num.Pow(x, 1))
		assert.Equal(t, x*x, num.Pow(x, 2))
		assert.Equal(t, x*x*x, num.Pow(x, 3))
		assert.Equal(t, x, num.Pow(x*x, 0.5))
	}
	for n := -1074; n <= 1023; n++ {
		assert.Equal(t, math.Ldexp(1, n), num.Pow(2, float64(n)), "2^%d", n)
	}
}

func TestMonotone(t *testing.T) {
	for name, f := range map[string]func(float64) float64{
		"Exp": num.Exp, "Log": num.Log, "root": func(x float64) float64 { return num.Pow(x, 1/1.4) },
	} {
		last := f(0.5)
		for i := 1; i <= 20000; i++ {
			x := 0.5 + float64(i)*2e-5
			y := f(x)
			if y <= last {
				assert.Failf(t, "not rising", "%s at %g", name, x)
			}
			last = y
		}
	}
}
