package code

import "math"

// forms are the ways a number gets onto a job sheet: typed with some decimals in a
// unit, and turned into the unit of its field. A number is packed as what was
// typed when that gives back the same bits, else bit by bit. Appending is a change
// that old readers can't follow.
var forms = [...]func(typed float64) float64{
	func(x float64) float64 { return x },
	func(x float64) float64 { return x * 6894.757293168361 }, // psi
	func(x float64) float64 { return x * 1e3 },               // kPa
	func(x float64) float64 { return x * 1e5 },               // bar
	func(x float64) float64 { return (x - 32) / 1.8 },        // °F
	func(x float64) float64 { return x * 15 },                // tablespoons
	func(x float64) float64 { return x * 25.4 },              // inch
	func(x float64) float64 { return x * 3386.389 },          // inHg
	func(x float64) float64 { return x * -3386.389 },         // inHg, the other way
}

// undo guesses what was typed; a wrong guess is noticed when it is done again.
var undo = [...]func(v float64) float64{
	func(v float64) float64 { return v },
	func(v float64) float64 { return v / 6894.757293168361 },
	func(v float64) float64 { return v / 1e3 },
	func(v float64) float64 { return v / 1e5 },
	func(v float64) float64 { return float64(v*1.8) + 32 },
	func(v float64) float64 { return v / 15 },
	func(v float64) float64 { return v / 25.4 },
	func(v float64) float64 { return v / 3386.389 },
	func(v float64) float64 { return v / -3386.389 },
}

const (
	bitByBit    = len(forms) // instead of a form
	maxDecimals = 7
	maxTyped    = 1 << 36
)

var tens = [maxDecimals + 1]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7}

// A typed number is whole·10^-decimals, put into a form.
type typed struct {
	form, decimals int
	whole          int64
}

// value is the number itself.
func (t typed) value() float64 { return forms[t.form](float64(t.whole)/tens[t.decimals]) + 0 }

// typedAs finds the way with the fewest decimals; ok is false when there is none.
func typedAs(v float64) (t typed, ok bool) {
	for d := range maxDecimals {
		for f := range forms {
			x := math.Round(undo[f](v) * tens[d])
			if !(math.Abs(x) < maxTyped) {
				continue
			}
			t = typed{f, d, int64(x)}
			if math.Float64bits(t.value()) == math.Float64bits(v) {
				return t, true
			}
		}
	}
	return typed{}, false
}

// number codes v. Numbers of one column are near each other, so what is coded is
// how far a number lies from the one before in the same form.
func (p *packer) number(v float64, column uint32) float64 {
	if p.c.mode != reading {
		v += 0
	}
	last := p.last[column]
	t, ok := typedAs(v)
	if !ok {
		t.form = bitByBit
	}
	t.form = min(p.c.symbol(t.form, 4, hash(0x6001, column), hash(0x6002, uint32(last.form)), 0x6003), bitByBit)
	if t.form == bitByBit {
		v = math.Float64frombits(p.c.plain(math.Float64bits(v), 64))
		if p.c.mode == reading && (math.IsNaN(v) || math.IsInf(v, 0)) {
			p.err = errDamagedCode // no action holds such a number
			return 0
		}
		return v
	}
	t.decimals = p.c.symbol(t.decimals, 3, hash(0x6004, uint32(t.form)), hash(hash(0x6005, column), uint32(last.decimals)))
	same := hash(hash(0x6006, uint32(t.form)), uint32(t.decimals))
	from := int64(0)
	if last.form == t.form && last.decimals == t.decimals {
		from = last.whole
	}
	off := t.whole - from
	sign, size := 0, uint64(off)
	if off < 0 {
		sign, size = 1, uint64(-off)
	}
	size = p.c.length(size, hash(same, column), hash(0x6007, column), same)
	if size != 0 {
		sign = p.c.symbol(sign, 1, hash(0x6008, column), 0x6009)
	}
	if off = int64(size); sign == 1 {
		off = -off
	}
	t.whole = min(max(from+off, -maxTyped), maxTyped)
	p.last[column] = t
	return t.value()
}
