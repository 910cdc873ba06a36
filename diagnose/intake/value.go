package intake

import (
	"strconv"
	"strings"
	"unicode"
)

// A value is what one cell says: one number, or several parted by slashes.
type value struct {
	numbers []number
	unit    string
	text    string
	about   bool // said not to be exact
	middle  bool // of a range
}

// about holds the words for what isn't exact. They stand before a number, or after
// it.
func about(word string) bool {
	switch word {
	case "~", "≈", "about", "approx", "approximately", "ca", "circa", "around", "aprox", "aproximadamente", "unos", "casi", "nearly",
		">", "<", "≥", "≤", ">=", "<=", "+", "over", "under", "or more", "o mas", "mas", "more", "plus":
		return true
	}
	return false
}

// valueOf reads a cell that should hold a number.
func valueOf(text string, at place) (value, *Error) {
	v := value{text: text}
	s := strings.NewReplacer("\u00a0", "", "\u202f", "", "’", "").Replace(strings.TrimSpace(text))
	for {
		word, rest := leading(s)
		if !about(bareWord(word)) {
			break
		}
		v.about, s = true, rest
	}
	digits := func() (number, bool) {
		end := strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) && !(r == '-' || r == '+') })
		if end < 0 {
			end = len(s)
		}
		if cut := strings.IndexAny(s[min(1, end):end], "+-"); cut >= 0 {
			end = cut + 1
		}
		n, ok := numberOf(strings.TrimRight(s[:end], ".,"))
		s = strings.TrimSpace(s[end:])
		return n, ok
	}
	n, ok := digits()
	if !ok {
		return v, trouble(at, ErrNumber, text)
	}
	v.numbers = []number{n}
	for strings.HasPrefix(s, "/") && len(s) > 1 && len(v.numbers) < 10 {
		s = strings.TrimSpace(s[1:])
		if n, ok = digits(); !ok {
			return v, trouble(at, ErrNumber, text)
		}
		v.numbers = append(v.numbers, n)
	}
	for _, dash := range []string{"-", "–", "—", "to ", "a "} {
		rest, ok := strings.CutPrefix(s, dash)
		if rest = strings.TrimSpace(rest); !ok || len(v.numbers) != 1 || !startsWithDigit(rest) {
			continue
		}
		s = rest
		if n, ok = digits(); !ok || n.v <= v.numbers[0].v {
			return v, trouble(at, ErrNumber, text)
		}
		v.numbers[0], v.middle = number{v: (v.numbers[0].v + n.v) / 2, text: text}, true
		break
	}
	return v, v.ending(s, at)
}

// ending reads what stands after the number: a unit, a word of doubt, nothing.
func (v *value) ending(s string, at place) *Error {
	s = strings.TrimSpace(s)
	if rest, ok := strings.CutPrefix(s, "+"); ok {
		v.about, s = true, strings.TrimSpace(rest)
	}
	for _, w := range []string{"or more", "o mas", "o más"} {
		if rest, ok := strings.CutSuffix(s, w); ok {
			v.about, s = true, strings.TrimSpace(rest)
		}
	}
	if s == "" {
		return nil
	}
	u := squeezed(s)
	if _, ok := unitOf(u); !ok {
		return trouble(at, ErrNumber, v.text)
	}
	v.unit = u
	return nil
}

// squeezed makes a unit comparable: plain, without blanks.
func squeezed(s string) string { return strings.ReplaceAll(plain(s), " ", "") }

// leading parts the first word or sign of doubt from the rest.
func leading(s string) (word, rest string) {
	end := strings.IndexFunc(s, func(r rune) bool { return unicode.IsSpace(r) || r >= '0' && r <= '9' })
	if end <= 0 {
		return "", s
	}
	return s[:end], strings.TrimSpace(s[end:])
}

func bareWord(s string) string { return strings.TrimSuffix(plain(s), ".") }

// tellOf tells what a value isn't sure of.
func (p *parser) tellOf(v value, at place) {
	if v.about {
		p.tell(Note{Key: NoteAbout, Line: at.line, Text: v.text})
	}
	if v.middle {
		p.tell(Note{Key: NoteMiddle, Line: at.line, Text: v.text})
	}
}

// value takes what a name of the whole engine was given.
func (p *parser) value(f *field, text string, at place) *Error {
	if blank(text) {
		return nil
	}
	switch f.kind {
	case kindRemark:
		p.tell(Note{Key: NoteNotUsed, Line: at.line, Text: text})
		return nil
	case kindStated:
		return p.stated(text, at)
	case kindAnswer, kindLayout, kindUnit, kindOrder, kindBanks, kindHistory:
		return p.add(raw{f: f, text: text, at: at})
	}
	if f.name == "ratio" {
		text = toOne(text)
	}
	v, err := valueOf(text, at)
	switch {
	case err != nil:
		return err
	case len(v.numbers) > 1:
		return trouble(at, ErrNumber, text)
	}
	p.tellOf(v, at)
	return p.add(raw{f: f, n: v.numbers[0], unit: v.unit, at: at})
}

// toOne takes ":1" and "to 1" off a ratio.
func toOne(text string) string {
	s := strings.TrimSpace(text)
	for _, end := range []string{":1", ": 1", "to 1", "a 1", ":1.0"} {
		if rest, ok := strings.CutSuffix(s, end); ok {
			return strings.TrimSpace(rest)
		}
	}
	return text
}

// stated reads a list of conditions: "throttle, warm, plugs, strokes", each with
// =no or not- where it was otherwise.
func (p *parser) stated(text string, at place) *Error {
	var words []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '+' || r == '|' }) {
		if x, ok := conditionOf(plain(part)); ok && !strings.ContainsAny(part, "=:") { // throttle not open
			x.at = at
			if err := p.add(x); err != nil {
				return err
			}
			continue
		}
		words = append(words, strings.Fields(part)...)
	}
	for _, w := range words {
		word, answer, found := strings.Cut(w, "=")
		if !found {
			word, answer, found = strings.Cut(w, ":")
		}
		s := plain(word)
		if rest, ok := strings.CutPrefix(s, "no "); ok && !found {
			s, answer, found = rest, No, true
		}
		if rest, ok := strings.CutPrefix(s, "not "); ok && !found {
			s, answer, found = rest, No, true
		}
		if !found {
			answer = Yes
		}
		name := ""
		switch s {
		case "throttle", "acelerador", "mariposa", "wot", "throttle open":
			name = "throttle"
		case "warm", "temp", "temperature", "hot", "caliente":
			name = "warm"
		case "cold", "frio":
			name, answer = "warm", No
		case "plugs", "plugs out", "bujias":
			name = "plugs"
		case "strokes", "equal", "golpes":
			name = "equal"
		case "repeat", "altitude":
			continue // said by readings and by a height of their own
		default:
			return trouble(at, ErrValue, w)
		}
		if err := p.add(raw{f: named(name, true), text: answer, at: at}); err != nil {
			return err
		}
	}
	return nil
}

// add keeps one thing said; what was said already is refused, unless it can be said
// often.
func (p *parser) add(r raw) *Error {
	key := r.f.name + "/" + strconv.Itoa(r.cyl)
	if r.f.name == "dry" {
		key += "/" + r.text
	}
	if r.f.name == "repeat" || r.f.name == "history" {
		p.raws = append(p.raws, r)
		return nil
	}
	if old, ok := p.given[key]; ok {
		err := trouble(r.at, ErrTwice, strings.ReplaceAll(r.f.name, "_", " "))
		err.Other = old.line
		return err
	}
	p.given[key] = r.at
	p.raws = append(p.raws, r)
	return nil
}
