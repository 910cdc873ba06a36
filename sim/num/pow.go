package num

import "math"

// Pow returns x^y [-] for x ≥ 0.
//
//	log2 x = t1 + t2,  t1 with 21 significant bits, the sum good to 2^-68
//	y·log2 x = n + z,  |z| ≤ 1/2           x^y = 2^n · e^(z·ln2)
//
// Error below 1 unit in the last place (0.76 was the most seen). A negative base has no meaning in
// the model, so it gives NaN whatever y is. Special cases, tried in this order:
//
//	Pow(x, 0) = 1      Pow(1, y) = 1     Pow(x, y) = NaN if x or y is NaN or x < 0
//	Pow(0, y > 0) = 0  Pow(0, y < 0) = +Inf
//	Pow(+Inf, y > 0) = +Inf   Pow(+Inf, y < 0) = 0
//	Pow(x > 1, ±Inf) = +Inf or 0   Pow(x < 1, ±Inf) = 0 or +Inf
//
// Source: fdlibm 5.3, e_pow.c.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case x != x || y != y || x < 0:
		return math.NaN()
	case x == 0 || x > math.MaxFloat64:
		if (x == 0) == (y > 0) {
			return 0
		}
		return math.Inf(1)
	case y > 1e300 || y < -1e300: // the result is far out of range
		if (x > 1) == (y > 0) {
			return math.Inf(1)
		}
		return 0
	}
	t1, t2 := log2Split(x)
	y1 := highWord(y)
	lo := float64((y-y1)*t1) + float64(y*t2)
	hi := float64(y1 * t1)
	return exp2Split(hi, lo)
}

// log2Split returns t1 + t2 = log2 x for finite x > 0; t1 has at most 21
// significant bits.
//
// With s = (m-b)/(m+b) and b = 1 or 3/2, whichever is nearer to the significand
// m: log2 m = log2 b + 2/ln2·(s + s³/3 + s⁵/5 + ...), each quantity carried as a
// high and a low part.
func log2Split(x float64) (t1, t2 float64) {
	const (
		l1      = 5.99999999999994648725e-01
		l2      = 4.28571428578550184252e-01
		l3      = 3.33333329818377432918e-01
		l4      = 2.72728123808534006489e-01
		l5      = 2.30660745775561754067e-01
		l6      = 2.06975017800338417784e-01
		logHi   = 5.84962487220764160156e-01 // log2(3/2), high part
		logLo   = 1.35003920212974897128e-08
		scaleTo = 9.61796693925975554329e-01 // 2/(3·ln2)
		scaleHi = 9.61796700954437255859e-01
		scaleLo = -7.02846165095275826516e-09
	)
	m, b, n := splitBase(x)
	var bHi, bLo float64
	if b != 1 {
		bHi, bLo = logHi, logLo
	}
	u := m - b
	v := 1 / (m + b)
	s := float64(u * v)
	sHi := highWord(s)
	mHi := highWord(m + b)
	mLo := m - (mHi - b)
	sLo := float64(v * ((u - float64(sHi*mHi)) - float64(sHi*mLo)))

	s2 := float64(s * s)
	r := l5 + float64(s2*l6)
	r = l4 + float64(s2*r)
	r = l3 + float64(s2*r)
	r = l2 + float64(s2*r)
	r = l1 + float64(s2*r)
	r = float64(s2*s2*r) + float64(sLo*(sHi+s))
	s2 = float64(sHi * sHi)
	cubeHi := highWord(3 + s2 + r)
	cubeLo := r - ((cubeHi - 3) - s2)
	u = float64(sHi * cubeHi)
	v = float64(sLo*cubeHi) + float64(cubeLo*s)
	pHi := highWord(u + v)
	pLo := v - (pHi - u)
	zHi := float64(scaleHi * pHi)
	zLo := float64(scaleLo*pHi) + float64(pLo*scaleTo) + bLo
	t1 = highWord(((zHi + zLo) + bHi) + n)
	return t1, zLo - (((t1 - n) - bHi) - zHi)
}

// splitBase writes finite x > 0 as m·2^n with m in [√3/2, √3) and names the b,
// 1 or 3/2, that is nearer to m in ratio.
func splitBase(x float64) (m, b, n float64) {
	const (
		root3by2 = 1.22474487139158904910
		root3    = 1.73205080756887729353
	)
	f, e := math.Frexp(x)
	m, e = 2*f, e-1
	switch {
	case m < root3by2:
		return m, 1, float64(e)
	case m < root3:
		return m, 1.5, float64(e)
	}
	return m / 2, 1, float64(e + 1)
}

// exp2Split returns 2^(hi+lo), where hi is exact and |lo| is small beside it.
func exp2Split(hi, lo float64) float64 {
	const (
		lg2   = 6.93147180559945286227e-01
		lg2Hi = 6.93147182464599609375e-01
		lg2Lo = -1.90465429995776804525e-09
	)
	z := hi + lo
	if z >= 1025 {
		return math.Inf(1)
	}
	if z < -1076 {
		return 0
	}
	n := math.Floor(z + 0.5)
	hi -= n
	t := highWord(hi + lo)
	u := float64(t * lg2Hi)
	v := float64((lo-(t-hi))*lg2) + float64(t*lg2Lo)
	z = u + v
	w := v - (z - u)
	c := expPoly(z)
	r := float64(z*c)/(c-2) - (w + float64(z*w))
	return scale(1-(r-z), int(n)) // |n| ≤ 1076 by the bounds above
}
