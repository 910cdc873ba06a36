package num

import "math"

// The remez polynomial of degree 5 in r² that approximates
// r·(e^r + 1)/(e^r - 1) - 2 on [0, ln2/2], shared by Exp and Pow.
const (
	p1 = 1.66666666666666019037e-01
	p2 = -2.77777777770155933842e-03
	p3 = 6.61375632143793436117e-05
	p4 = -1.65339022054652515390e-06
	p5 = 4.13813679705723846039e-08
)

// expPoly returns r - r²·(p1 + p2·r² + ...), the c of fdlibm's e_exp.c.
func expPoly(r float64) float64 {
	t := float64(r * r)
	s := p4 + float64(t*p5)
	s = p3 + float64(t*s)
	s = p2 + float64(t*s)
	s = p1 + float64(t*s)
	return r - float64(t*s)
}

// Exp returns e^x [-].
//
//	x = k·ln2 + r,  |r| ≤ ln2/2      e^x = 2^k · e^r
//	e^r = 1 + (r·c/(2-c) + r)        c = r - r²·P(r²)
//
// Error below 1 unit in the last place. Special cases:
//
//	Exp(+Inf) = +Inf   Exp(-Inf) = 0   Exp(NaN) = NaN
//	Exp(x) = +Inf for x > 709.78   Exp(x) = 0 for x < -745.13
//
// Source: fdlibm 5.3, e_exp.c.
func Exp(x float64) float64 {
	const (
		overflow  = 7.09782712893383973096e+02
		underflow = -7.45133219101941108420e+02
		tiny      = 1.0 / (1 << 28)
	)
	switch {
	case x != x:
		return x
	case x > overflow:
		return math.Inf(1)
	case x < underflow:
		return 0
	case -tiny < x && x < tiny:
		return 1 + x
	}
	if -0.5*math.Ln2 <= x && x <= 0.5*math.Ln2 {
		c := expPoly(x)
		return 1 - (float64(x*c)/(c-2) - x)
	}
	n := math.Floor(float64(invLn2*x) + 0.5)
	hi := x - float64(n*ln2Hi)
	lo := float64(n * ln2Lo)
	r := hi - lo
	c := expPoly(r)
	y := 1 - ((lo - float64(r*c)/(2-c)) - hi)
	return scale(y, int(n)) // |n| ≤ 1075 by the bounds above
}
