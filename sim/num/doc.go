// Package num computes Exp, Log, Pow, Sin and Cos with the same bits on every
// machine.
//
// The standard math package does not promise that: it has assembly for some
// processors, and the language lets a compiler fuse x*y + z into one rounding.
// A grade that is recomputed on another machine must not hang on either. Here
// every product that feeds a sum is rounded by hand, float64(x*y) + z, even when it
// passes through a variable first: an assignment does not round. From math only
// the exact functions are used (Floor, bit casts and the like).
//
// The methods and constants are those of Sun's freely distributable math
// library, fdlibm 5.3, rewritten in Go. Its notice:
//
//	Copyright (C) 1993 by Sun Microsystems, Inc. All rights reserved.
//
//	Developed at SunPro, a Sun Microsystems, Inc. business.
//	Permission to use, copy, modify, and distribute this
//	software is freely granted, provided that this notice
//	is preserved.
//
// The error of each function is below one unit in the last place; the tests
// measure it against arithmetic of 200 bits.
package num

import "math"

// ln2Hi + ln2Lo is ln 2; ln2Hi ends in so many zeros that n·ln2Hi is exact for
// every exponent n of a float64.
const (
	ln2Hi  = 6.93147180369123816490e-01
	ln2Lo  = 1.90821492927058770002e-10
	invLn2 = 1.44269504088896338700e+00
)

// highWord returns x with the lower 32 bits of its significand set to zero. The
// product of two such numbers loses little, and the difference x - highWord(x)
// is exact.
func highWord(x float64) float64 {
	return math.Float64frombits(math.Float64bits(x) &^ 0xffffffff)
}

// scale returns x·2^n for x in [0.5, 4) and n within ±1100, rounding once
// where the result is subnormal.
func scale(x float64, n int) float64 {
	if n >= -1020 && n <= 1020 {
		return x * math.Float64frombits(uint64(n+1023)<<52)
	}
	return math.Ldexp(x, n)
}
