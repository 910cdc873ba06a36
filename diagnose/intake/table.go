package intake

import (
	"strconv"
	"strings"
)

// A table is a header and how many rows stood under it.
type table struct {
	sep     rune // ' ' for any blanks
	columns []column
	rows    int
	numbers bool // one of the columns names the cylinder
}

// A column is what stands in one place of every row.
type column struct {
	f      *field // nil: the header leaves it empty
	unit   string
	stroke int  // from 1: a column of that stroke
	bare   bool // called by its unit alone
	col    int

	// What was met in it.
	seen    int
	digits  int  // of them single digits
	big     bool // one of them reads 5 or more
	first   place
	example string
}

// takes reports whether a line can be a row of the table.
func (t *table) takes(line string) bool {
	if t.sep != ' ' {
		return strings.ContainsRune(line, t.sep) || len(t.columns) == 1
	}
	first := strings.TrimLeft(line, " \t#")
	return startsWithDigit(first) || strings.HasPrefix(first, "-") || t.columns[0].f != nil && t.columns[0].f.kind == kindCylinder && cylinderAhead(first)
}

// cylinderAhead reports whether a row begins with a word for a cylinder.
func cylinderAhead(s string) bool {
	all := strings.Fields(plain(s))
	f := named(strings.Trim(all0(all), "0123456789"), false)
	return f != nil && f.kind == kindCylinder
}

func all0(all []string) string {
	if len(all) == 0 {
		return ""
	}
	return all[0]
}

// row takes one row of the table.
func (p *parser) row(line string, n int) *Error {
	t := p.table
	cells, err := split(line, t.sep, n)
	if err != nil {
		return err
	}
	if t.sep == '|' {
		cells = inner(cells)
	}
	for len(cells) > len(t.columns) && cells[len(cells)-1].text == "" {
		cells = cells[:len(cells)-1] // a separator at the end
	}
	at := place{line: n, col: 1}
	switch {
	case len(cells) > len(t.columns) && t.sep == ',':
		return trouble(place{line: n, col: cells[len(t.columns)].col}, ErrCellsComma, line)
	case len(cells) > len(t.columns):
		return trouble(place{line: n, col: cells[len(t.columns)].col}, ErrCells, line)
	case len(cells) < len(t.columns) && t.sep == ' ':
		return trouble(at, ErrCellsBlank, line)
	}
	if allBlank(cells) {
		return nil
	}
	t.rows++
	cyl, unit := t.rows, ""
	for i, c := range cells {
		switch f := t.columns[i].f; {
		case f == nil:
		case f.kind == kindCylinder:
			if cyl, err = cylinderOf(c.text, place{line: n, col: c.col}); err != nil {
				return err
			}
		case f.kind == kindUnit:
			unit = squeezed(c.text)
		}
	}
	if cyl > MaxCylinders {
		return trouble(at, ErrTooMany, strconv.Itoa(cyl))
	}
	p.highest = max(p.highest, cyl) // a row without a reading is a cylinder without one
	if !t.numbers {
		p.tell(Note{Key: NoteInOrder})
	}
	for i, c := range cells {
		t.columns[i].meet(c, n)
		here := t.columns[i]
		if here.f != nil && here.f.kind == ofPressure && here.unit == "" {
			here.unit = unit
		}
		if err := p.cell(here, cyl, c, n); err != nil {
			return err
		}
	}
	return nil
}

func allBlank(cells []cell) bool {
	for _, c := range cells {
		if !blank(c.text) {
			return false
		}
	}
	return true
}

// cylinderOf reads the number of a cylinder: "3", "#3", "cyl 3", "3.".
func cylinderOf(text string, at place) (int, *Error) {
	s := plain(text)
	if i := strings.IndexAny(s, "0123456789"); i > 0 {
		if f := named(strings.TrimSpace(strings.TrimSuffix(s[:i], ".")), false); f == nil && strings.TrimSpace(s[:i]) != "#" {
			if f = named(strings.TrimSpace(strings.ReplaceAll(s[:i], ".", " ")), false); f == nil || f.kind != kindCylinder {
				return 0, trouble(at, ErrCylinder, text)
			}
		}
		s = s[i:]
	}
	n, err := strconv.Atoi(strings.TrimRight(s, ".: "))
	if err != nil || n < 1 || n > MaxCylinders {
		return 0, trouble(at, ErrCylinder, text)
	}
	return n, nil
}

// cell takes one cell of a row.
func (p *parser) cell(c column, cyl int, content cell, n int) *Error {
	at := place{line: n, col: content.col}
	switch {
	case c.f != nil && (c.f.kind == kindCylinder || c.f.kind == kindUnit):
		return nil
	case c.f != nil && c.f.kind == kindWords && strings.TrimSpace(content.text) != "":
		return p.add(raw{f: c.f, cyl: cyl, text: content.text, at: at})
	case blank(content.text):
		return nil
	case c.f == nil || c.f.kind == kindRemark:
		p.tell(Note{Key: NoteNotUsed, Line: n, Text: content.text})
		return nil
	case c.f.kind == kindBank || c.f.kind == kindBore || c.f.kind == kindDead:
		return p.add(raw{f: c.f, cyl: cyl, text: content.text, at: at})
	}
	v, err := valueOf(content.text, at)
	if err != nil {
		return err
	}
	if v.unit == "" {
		v.unit = c.unit
	}
	return p.values(c, cyl, v, at)
}

// values takes the numbers of one cell: further ones are repeats of a dry reading.
func (p *parser) values(c column, cyl int, v value, at place) *Error {
	p.tellOf(v, at)
	for i, n := range v.numbers {
		f, stroke := c.f, c.stroke
		if i > 0 {
			if c.f.name != "dry" && c.f.name != "repeat" || stroke > 0 {
				return trouble(at, ErrTwoReadings, v.text)
			}
			f = named("repeat", false)
			p.tell(Note{Key: NoteRepeats, Line: at.line, Text: v.text})
		}
		r := raw{f: f, cyl: cyl, n: n, unit: v.unit, at: at}
		if stroke > 0 {
			r.text = strconv.Itoa(stroke)
		}
		if err := p.add(r); err != nil {
			return err
		}
	}
	return nil
}

// meet keeps what a column holds.
func (c *column) meet(content cell, n int) {
	if blank(content.text) {
		return
	}
	if c.seen == 0 {
		c.first, c.example = place{line: n, col: content.col}, content.text
	}
	c.seen++
	v, ok := numberOf(content.text)
	c.big = c.big || ok && v.v >= 5
	if ok && len(content.text) == 1 {
		c.digits++
	}
}
