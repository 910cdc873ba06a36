package num

import (
	"fmt"
	"math"
)

// MaxAngle is the largest argument of Sin and Cos, 2^19·π/2 rad. Up to here
// three parts of π/2 reduce an angle without loss. No crank gets there: angles in
// the model stay within a working cycle or two.
const MaxAngle = 823549.66

// Sin returns the sine of x [-], x in rad, |x| ≤ MaxAngle.
//
// Error below 1 unit in the last place. Sin(±Inf) and Sin(NaN) are NaN; a finite
// x beyond MaxAngle is a bug in the caller and panics.
// Source: fdlibm 5.3, s_sin.c, k_sin.c, k_cos.c, e_rem_pio2.c.
func Sin(x float64) float64 {
	quarter, y, tail := reduce(x)
	switch quarter & 3 {
	case 0:
		return kernelSin(y, tail)
	case 1:
		return kernelCos(y, tail)
	case 2:
		return -kernelSin(y, tail)
	}
	return -kernelCos(y, tail)
}

// Cos returns the cosine of x [-], x in rad, |x| ≤ MaxAngle.
//
// Error below 1 unit in the last place. Cos(±Inf) and Cos(NaN) are NaN; a finite
// x beyond MaxAngle is a bug in the caller and panics. Source: as for Sin.
func Cos(x float64) float64 {
	quarter, y, tail := reduce(x)
	switch quarter & 3 {
	case 0:
		return kernelCos(y, tail)
	case 1:
		return -kernelSin(y, tail)
	case 2:
		return -kernelCos(y, tail)
	}
	return kernelSin(y, tail)
}

// reduce returns n and y + tail = x - n·π/2 with |y| ≤ π/4 or a trifle more.
// For infinite x or NaN, y is NaN.
func reduce(x float64) (n int, y, tail float64) {
	const (
		twoByPi = 6.36619772367581382433e-01
		a1      = 1.57079632673412561417e+00 // first 33 bits of π/2
		a1Rest  = 6.07710050650619224932e-11
		a2      = 6.07710050630396597660e-11 // second 33 bits
		a2Rest  = 2.02226624879595063154e-21
		a3      = 2.02226624871116645580e-21 // third 33 bits
		a3Rest  = 8.47842766036889956997e-32
	)
	if -math.Pi/4 <= x && x <= math.Pi/4 {
		return 0, x, 0
	}
	if x-x != 0 { // infinite or NaN
		return 0, math.NaN(), 0
	}
	if x > MaxAngle || x < -MaxAngle {
		panic(fmt.Sprintf("num: angle %g rad, want within ±%g", x, MaxAngle))
	}
	f := math.Floor(float64(x*twoByPi) + 0.5)
	r := x - float64(f*a1)
	w := float64(f * a1Rest)
	y = r - w
	if lost(x, y) > 16 { // near a multiple of π/2: the next 33 bits matter
		t := r
		w = float64(f * a2)
		r = t - w
		w = float64(f*a2Rest) - ((t - r) - w)
		y = r - w
		if lost(x, y) > 49 {
			t = r
			w = float64(f * a3)
			r = t - w
			w = float64(f*a3Rest) - ((t - r) - w)
			y = r - w
		}
	}
	return int(f), y, (r - y) - w // |f| ≤ 2^19 by the bound above
}

// lost returns how many leading bits of x cancelled on the way to y.
func lost(x, y float64) int {
	const exponent = 0x7ff
	return int(math.Float64bits(x)>>52&exponent) - int(math.Float64bits(y)>>52&exponent)
}

// kernelSin returns sin(x+tail) for |x| ≤ π/4 and a little beyond.
func kernelSin(x, tail float64) float64 {
	const (
		s1 = -1.66666666666666324348e-01
		s2 = 8.33333333332248946124e-03
		s3 = -1.98412698298579493134e-04
		s4 = 2.75573137070700676789e-06
		s5 = -2.50507602534068634195e-08
		s6 = 1.58969099521155010221e-10
	)
	z := float64(x * x)
	v := float64(z * x)
	r := s5 + float64(z*s6)
	r = s4 + float64(z*r)
	r = s3 + float64(z*r)
	r = s2 + float64(z*r)
	if tail == 0 {
		return x + float64(v*(s1+float64(z*r)))
	}
	a := float64(0.5*tail) - float64(v*r)
	return x - ((float64(z*a) - tail) - float64(v*s1))
}

// kernelCos returns cos(x+tail) for |x| ≤ π/4 and a little beyond.
func kernelCos(x, tail float64) float64 {
	const (
		c1 = 4.16666666666666019037e-02
		c2 = -1.38888888888741095749e-03
		c3 = 2.48015872894767294178e-05
		c4 = -2.75573143513906633035e-07
		c5 = 2.08757232129817482790e-09
		c6 = -1.13596475577881948265e-11
	)
	z := float64(x * x)
	lowPart := c2 + float64(z*c3)
	lowPart = c1 + float64(z*lowPart)
	highPart := c5 + float64(z*c6)
	highPart = c4 + float64(z*highPart)
	z2 := float64(z * z)
	r := float64(z*lowPart) + float64(z2*z2*highPart)
	half := float64(0.5 * z)
	w := 1 - half
	return w + (((1 - w) - half) + (float64(z*r) - float64(x*tail)))
}
