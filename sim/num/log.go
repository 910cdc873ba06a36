package num

import "math"

// Log returns the natural logarithm of x [-].
//
//	x = 2^k · (1+f),  √2/2 ≤ 1+f < √2        s = f/(2+f)
//	ln(1+f) = f - (f²/2 - s·(f²/2 + R))       R = L1·s² + L2·s⁴ + ... + L7·s¹⁴
//	ln x = k·ln2 + ln(1+f)
//
// Error below 1 unit in the last place. Special cases:
//
//	Log(+Inf) = +Inf   Log(0) = -Inf   Log(x < 0) = NaN   Log(NaN) = NaN
//
// Source: fdlibm 5.3, e_log.c.
func Log(x float64) float64 {
	const (
		l1 = 6.666666666666735130e-01
		l2 = 3.999999999940941908e-01
		l3 = 2.857142874366239149e-01
		l4 = 2.222219843214978396e-01
		l5 = 1.818357216161805012e-01
		l6 = 1.531383769920937332e-01
		l7 = 1.479819860511658591e-01
	)
	switch {
	case x != x || x > math.MaxFloat64:
		return x
	case x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	}
	m, e := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m *= 2
		e--
	}
	f := m - 1
	k := float64(e)

	s := f / (2 + f)
	s2 := float64(s * s)
	s4 := float64(s2 * s2)
	odd := l5 + float64(s4*l7)
	odd = l3 + float64(s4*odd)
	odd = l1 + float64(s4*odd)
	even := l4 + float64(s4*l6)
	even = l2 + float64(s4*even)
	r := float64(s2*odd) + float64(s4*even)
	half := float64(0.5 * f * f)
	tail := float64(s*(half+r)) + float64(k*ln2Lo)
	return float64(k*ln2Hi) - ((half - tail) - f)
}
