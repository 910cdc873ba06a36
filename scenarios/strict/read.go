package strict

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Err returns the first fault found while reading, or nil.
func (d *Doc) Err() error { return d.err }

// Root returns the outermost value.
func (d *Doc) Root() Value { return Value{doc: d, n: &d.root} }

// A Value is one place in the document. The zero node (a name that is not there)
// reads as zero without a further fault.
type Value struct {
	doc  *Doc
	n    *node
	path string
}

// Present tells whether the document has this value at all.
func (v Value) Present() bool { return v.n != nil }

// Path says where in the document the value stands: faults[0].cylinder.
func (v Value) Path() string { return v.path }

// Fail records a fault at this place, unless an earlier one is recorded already.
func (v Value) Fail(format string, args ...any) {
	if v.doc.err != nil {
		return
	}
	said := fmt.Sprintf(format, args...)
	if v.path != "" {
		said = v.path + ": " + said
	}
	v.doc.err = fmt.Errorf("%s", said)
}

// is tells whether the value is there and of the kind; another kind is a fault.
func (v Value) is(k kind) bool {
	if v.n == nil {
		return false
	}
	if v.n.kind != k {
		v.Fail("%s, want %s", kindName[v.n.kind], kindName[k])
		return false
	}
	return true
}

// Bool returns a truth value.
func (v Value) Bool() bool { return v.is(boolean) && v.n.yes }

// Float returns a number in [lo, hi]. Minus nothing is nothing: a page that reads and
// writes JSON drops that sign, and a digest must not depend on it.
func (v Value) Float(lo, hi float64) float64 {
	if !v.is(number) {
		return 0
	}
	f, err := strconv.ParseFloat(v.n.s, 64)
	if err != nil || !(f >= lo && f <= hi) {
		v.Fail("%s, want a number from %s to %s", clip(v.n.s), short(lo), short(hi))
		return 0
	}
	return f + 0
}

// Int returns a whole number in [lo, hi], both within ±2^53.
func (v Value) Int(lo, hi int64) int64 {
	if !v.is(number) {
		return 0
	}
	f, err := strconv.ParseFloat(v.n.s, 64)
	if err != nil || f != math.Trunc(f) || !(f >= float64(lo) && f <= float64(hi)) {
		v.Fail("%s, want a whole number from %d to %d", clip(v.n.s), lo, hi)
		return 0
	}
	return int64(f)
}

// Uint64 returns a number written as a text of decimal digits, because a JSON
// number would lose bits in a browser. It has no sign and no leading zero.
func (v Value) Uint64() uint64 {
	if !v.is(text) {
		return 0
	}
	u, err := strconv.ParseUint(v.n.s, 10, 64)
	if err != nil || strconv.FormatUint(u, 10) != v.n.s {
		v.Fail("%s, want a whole number in quotes, from \"0\" to \"18446744073709551615\"", quote(v.n.s))
		return 0
	}
	return u
}

// Text returns a text of at most maxRunes characters.
func (v Value) Text(maxRunes int) string {
	if !v.is(text) {
		return ""
	}
	if n := utf8.RuneCountInString(v.n.s); n > maxRunes {
		v.Fail("%d characters, at most %d", n, maxRunes)
		return ""
	}
	return v.n.s
}

// ID returns a name made of small letters, digits, dots, dashes and underscores,
// not empty, at most 64 characters.
func (v Value) ID() string {
	s := v.Text(64)
	if v.n == nil || v.n.kind != text {
		return ""
	}
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '.') {
			v.Fail("%s, want small letters, digits, dashes, dots", quote(s))
			return ""
		}
	}
	if s == "" {
		v.Fail("empty, want a name")
	}
	return s
}

// OneOf returns a text that is one of the choices.
func (v Value) OneOf(choices ...string) string {
	if !v.is(text) {
		return ""
	}
	for _, c := range choices {
		if v.n.s == c {
			return c
		}
	}
	v.Fail("%s, want one of %s", quote(v.n.s), strings.Join(choices, ", "))
	return ""
}

// List returns the items of a list of lo to hi items.
func (v Value) List(lo, hi int) []Value {
	if !v.is(list) {
		return nil
	}
	if n := len(v.n.members); n < lo || n > hi {
		v.Fail("%d items, want %d to %d", n, lo, hi)
		return nil
	}
	items := make([]Value, len(v.n.members))
	for i := range items {
		items[i] = Value{doc: v.doc, n: &v.n.members[i], path: v.path + "[" + strconv.Itoa(i) + "]"}
	}
	return items
}

// short prints a bound the way a person writes it.
func short(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }

// clip keeps a sentence a sentence whatever the file holds.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

func quote(s string) string { return strconv.Quote(clip(s)) }
