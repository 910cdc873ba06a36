package num_test

import (
	"math"
	"math/big"
)

// The oracle: power series summed in arithmetic of 300 bits. It shares nothing
// with the package but the definition of the functions.

const bits = 300

func newBig(x float64) *big.Float { return new(big.Float).SetPrec(bits).SetFloat64(x) }

func zero() *big.Float { return new(big.Float).SetPrec(bits) }

// bigExp returns e^x: the series at x/2^k, squared k times.
func bigExp(x *big.Float) *big.Float {
	r := zero().Copy(x)
	k := 0
	if e := r.MantExp(nil); e > -8 && r.Sign() != 0 {
		k = e + 8
		r.SetMantExp(r, -k)
	}
	sum, term := newBig(1), newBig(1)
	for n := int64(1); n < 60; n++ {
		term.Mul(term, r)
		term.Quo(term, zero().SetInt64(n))
		sum.Add(sum, term)
	}
	for range k {
		sum.Mul(sum, sum)
	}
	return sum
}

// bigLog returns ln x by Newton's method on bigExp: each round doubles the
// number of good digits.
func bigLog(x *big.Float) *big.Float {
	m := zero()
	e := x.MantExp(m)
	f, _ := m.Float64()
	y := newBig(math.Log(f))
	for range 4 {
		q := zero().Quo(m, bigExp(y))
		y.Add(y, q.Sub(q, newBig(1)))
	}
	if e != 0 {
		y.Add(y, zero().Mul(zero().SetInt64(int64(e)), ln2()))
	}
	return y
}

// ln2 returns ln 2 = Σ 1/(n·2^n).
func ln2() *big.Float {
	sum := zero()
	for n := int64(1); n < bits; n++ {
		t := zero().Quo(newBig(1), zero().SetInt64(n))
		sum.Add(sum, t.SetMantExp(t, -int(n)))
	}
	return sum
}

func bigPow(x, y float64) *big.Float {
	return bigExp(zero().Mul(newBig(y), bigLog(newBig(x))))
}

// arctanInverse returns arctan(1/n) by its series.
func arctanInverse(n int64) *big.Float {
	sum, power := zero(), zero().Quo(newBig(1), zero().SetInt64(n))
	square := zero().SetInt64(n * n)
	for k := int64(0); k < 250; k++ {
		t := zero().Quo(power, zero().SetInt64(2*k+1))
		if k%2 == 1 {
			t.Neg(t)
		}
		sum.Add(sum, t)
		power.Quo(power, square)
	}
	return sum
}

// bigPi is Machin's formula.
var bigPi = func() *big.Float {
	p := zero().Mul(newBig(16), arctanInverse(5))
	return p.Sub(p, zero().Mul(newBig(4), arctanInverse(239)))
}()

// bigSinCos returns sine and cosine of x: whole turns taken off, then the series.
func bigSinCos(x float64) (sin, cos *big.Float) {
	turn := zero().Mul(newBig(2), bigPi)
	n, _ := zero().Quo(newBig(x), turn).Int64()
	r := zero().Sub(newBig(x), zero().Mul(zero().SetInt64(n), turn))
	sin, cos = zero(), newBig(1)
	term := newBig(1)
	for k := int64(1); k < 120; k++ {
		term.Mul(term, r)
		term.Quo(term, zero().SetInt64(k))
		t := zero().Copy(term)
		if k%4 >= 2 {
			t.Neg(t)
		}
		if k%2 == 1 {
			sin.Add(sin, t)
		} else {
			cos.Add(cos, t)
		}
	}
	return sin, cos
}

// ulps returns |got - want| in units of the last place of want.
func ulps(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	unit := math.Nextafter(math.Abs(w), math.Inf(1)) - math.Abs(w)
	d := zero().Sub(newBig(got), want)
	d.Quo(d.Abs(d), newBig(unit))
	f, _ := d.Float64()
	return f
}
