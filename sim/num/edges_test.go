package num_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/num"
)

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func TestExpEdges(t *testing.T) {
	assert.Equal(t, 1.0, num.Exp(0))
	assert.Equal(t, inf, num.Exp(inf))
	assert.Equal(t, 0.0, num.Exp(-inf))
	assert.True(t, math.IsNaN(num.Exp(nan)))
	assert.Equal(t, inf, num.Exp(709.79))
	assert.False(t, math.IsInf(num.Exp(709.78), 1))
	assert.Equal(t, 0.0, num.Exp(-745.14))
	assert.Equal(t, 5e-324, num.Exp(-745.13), "the smallest subnormal")
	assert.InEpsilon(t, math.Exp(-720), num.Exp(-720), 1e-10, "a subnormal with few bits left")
}

func TestLogEdges(t *testing.T) {
	assert.Equal(t, 0.0, num.Log(1))
	assert.Equal(t, inf, num.Log(inf))
	assert.Equal(t, -inf, num.Log(0))
	assert.True(t, math.IsNaN(num.Log(-1)))
	assert.True(t, math.IsNaN(num.Log(-inf)))
	assert.True(t, math.IsNaN(num.Log(nan)))
	assert.InEpsilon(t, -744.4400719213812, num.Log(5e-324), 1e-15)
	assert.InEpsilon(t, 709.782712893384, num.Log(math.MaxFloat64), 1e-15)
}

func TestPowEdges(t *testing.T) {
	for _, c := range []struct{ x, y, want float64 }{
		{0, 0, 1}, {2, 0, 1}, {nan, 0, 1}, {inf, 0, 1},
		{1, nan, 1}, {1, inf, 1}, {1, -inf, 1},
		{0, 2, 0}, {0, -2, inf}, {0, inf, 0}, {0, -inf, inf},
		{inf, 2, inf}, {inf, -2, 0}, {inf, inf, inf}, {inf, -inf, 0},
		{2, inf, inf}, {2, -inf, 0}, {0.5, inf, 0}, {0.5, -inf, inf},
		{2, 1e301, inf}, {2, -1e301, 0}, {0.5, 1e301, 0}, {0.5, -1e301, inf},
		{10, 400, inf}, {10, -400, 0}, {2, 1024, inf}, {2, -1075, 0}, {2, -1074, 5e-324},
		{5e-324, 1, 5e-324}, {5e-324, -0.5, math.Ldexp(1, 537)},
	} {
		assert.Equal(t, c.want, num.Pow(c.x, c.y), "Pow(%g, %g)", c.x, c.y)
	}
	for _, c := range [][2]float64{{nan, 1}, {2, nan}, {-1, 2}, {-8, 1.0 / 3}, {-inf, 1}} {
		assert.True(t, math.IsNaN(num.Pow(c[0], c[1])), "Pow(%g, %g)", c[0], c[1])
	}
}

func TestSinCosEdges(t *testing.T) {
	assert.Equal(t, 0.0, num.Sin(0))
	assert.Equal(t, 1.0, num.Cos(0))
	assert.Equal(t, 1e-300, num.Sin(1e-300))
	for _, x := range []float64{inf, -inf, nan} {
		assert.True(t, math.IsNaN(num.Sin(x)), "Sin(%g)", x)
		assert.True(t, math.IsNaN(num.Cos(x)), "Cos(%g)", x)
	}
	assert.PanicsWithValue(t, "num: angle 823550 rad, want within ±823549.66", func() { num.Sin(823550) })
	assert.PanicsWithValue(t, "num: angle -1e+09 rad, want within ±823549.66", func() { num.Cos(-1e9) })
}
