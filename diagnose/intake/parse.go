package intake

import (
	"strings"
	"unicode"
)

// A raw is one thing said, before units are settled.
type raw struct {
	f    *field
	cyl  int // 0: the whole engine
	n    number
	unit string // as written, or that of its column; empty: none
	text string // of values that are words
	at   place
}

// parser gathers what a text says, line by line.
type parser struct {
	highest    int // cylinder that a row of a table is about
	raws       []raw
	notes      []Note
	table      *table           // that rows belong to; nil: none
	commaTable *table           // the last one parted by commas
	block      []listed         // lines of bare numbers that wait for what comes after them
	head       heading          // a name that stood alone on a line, for the numbers under it
	order      []int            // cylinders of the lists that follow, when a line named them
	given      map[string]place // what was given for each field and cylinder, to find what stands twice
}

// A heading is a field with a unit.
type heading struct {
	f    *field
	unit string
}

// Parse reads a text and what was said beside it. Errors are of type *Error; no
// text and no value make it panic.
func Parse(text string, said ...Said) (Readings, error) {
	p := &parser{given: map[string]place{}}
	if err := p.text(text); err != nil {
		return Readings{}, err
	}
	for _, s := range said {
		if strings.TrimSpace(s.Value) == "" {
			continue
		}
		if err := p.said(s); err != nil {
			return Readings{}, err
		}
	}
	r, err := p.settle()
	if err != nil {
		return Readings{}, err
	}
	return r, nil
}

func (p *parser) text(text string) error {
	all, latin, err := lines(text)
	if err != nil {
		return err
	}
	if latin {
		p.tell(Note{Key: NoteCharacters})
	}
	for i, line := range all {
		if err := p.line(strings.TrimRightFunc(line, unicode.IsSpace), i+1); err != nil {
			return err
		}
	}
	if err := p.flush(); err != nil {
		return err
	}
	return nil
}

// said takes one flag or field of a form.
func (p *parser) said(s Said) *Error {
	at := place{name: s.As}
	if at.name == "" {
		at.name = s.Name
	}
	f := named(plain(s.Name), true)
	if f == nil {
		return trouble(at, ErrName, s.Name)
	}
	return p.value(f, s.Value, at)
}

// line takes one line, whatever it is.
func (p *parser) line(line string, n int) *Error {
	trimmed := strings.TrimSpace(line)
	switch {
	case trimmed == "" || remark(trimmed) || strings.HasPrefix(strings.ToLower(trimmed), "sep="):
		return nil
	case strings.Trim(trimmed, "-|+:= \t") == "": // the rule under a table's head
		return nil
	}
	if t, err := headerOf(line, n); t != nil || err != nil {
		if err != nil {
			return err
		}
		if err := p.flush(); err != nil {
			return err
		}
		p.table = t
		if t.sep == ',' {
			p.commaTable = t
		}
		for _, c := range t.columns {
			if c.f != nil && c.bare {
				p.tell(Note{Key: NoteAsDry, Line: n, Text: c.unit})
			}
		}
		return nil
	}
	if done, err := p.pair(line, n); done || err != nil {
		return err
	}
	if done, err := p.conditions(trimmed, n); done || err != nil {
		return err
	}
	if p.table != nil && p.table.takes(line) {
		return p.row(line, n)
	}
	p.table = nil
	return p.free(line, n)
}

// remark reports whether a line is one: # and no number.
func remark(s string) bool {
	if strings.HasPrefix(s, "//") {
		return true
	}
	rest, ok := strings.CutPrefix(s, "#")
	return ok && strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsSpace(r) && r != '#' }) >= 0 &&
		!startsWithDigit(strings.TrimSpace(rest)) || ok && strings.Trim(rest, "# \t") == ""
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// pair takes a line that gives a name of the whole engine its value: `ratio: 9.5`.
// It reports whether it was one.
func (p *parser) pair(line string, n int) (bool, *Error) {
	indent := len([]rune(line)) - len([]rune(strings.TrimLeftFunc(line, unicode.IsSpace)))
	at := strings.IndexAny(line, ":=,;\t")
	if at < 0 {
		return false, nil
	}
	name := strings.Trim(line[:at], "\" ")
	f := named(plain(name), true)
	value := strings.Trim(line[at+1:], ":=;,\t\" ")
	colon := line[at] == ':' || line[at] == '='
	switch {
	case f == nil && colon && words(name) && named(plain(name), false) == nil && !understood(name):
		return true, trouble(place{line: n, col: indent + 1}, ErrName, name)
	case f == nil || (f.each && f.kind != kindRemark || f.name == "cylinders") && manyNumbers(value):
		return false, nil
	}
	if err := p.flush(); err != nil {
		return true, err
	}
	return true, p.value(f, value, place{line: n, col: len([]rune(line[:at])) + 2})
}

// words reports whether a text is nothing but letters and blanks.
func words(s string) bool {
	return s != "" && strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != ' ' && r != '_' && r != '-' }) < 0
}

// understood reports whether a name of several words is one of a cylinder with
// something a list can hold, like "dry psi".
func understood(name string) bool {
	all := strings.Fields(plain(name))
	for i := 0; i < len(all); {
		n, _, _ := meaning(all[i:])
		if n == 0 {
			return false
		}
		i += n
	}
	return true
}

func manyNumbers(s string) bool {
	n, in := 0, false
	for _, r := range s {
		digit := r >= '0' && r <= '9' || r == '.'
		if digit && !in {
			n++
		}
		in = digit
	}
	return n > 1
}

// tell keeps a note; the same is not told twice.
func (p *parser) tell(n Note) {
	n.Text = short(n.Text)
	for _, old := range p.notes {
		if old.Key == n.Key && old.Text == n.Text && old.Unit == n.Unit && old.Value == n.Value {
			return
		}
	}
	const most = 40
	if len(p.notes) < most {
		p.notes = append(p.notes, n)
	}
}
