package intake

import (
	"strconv"
	"strings"
)

// mostColumns bounds a header.
const mostColumns = 40

// headerOf reads a line as the head of a table; nil when it is none. It is one when
// it holds at least two names and no value.
func headerOf(line string, n int) (*table, *Error) {
	for _, sep := range "\t;|," {
		if !strings.ContainsRune(line, sep) {
			continue
		}
		cells, err := split(line, sep, n)
		if err != nil {
			return nil, err
		}
		if sep == '|' {
			cells = inner(cells)
		}
		return headerCells(cells, sep, n)
	}
	return headerWords(line)
}

// inner drops the empty cells before the first bar and after the last.
func inner(cells []cell) []cell {
	if len(cells) > 0 && cells[0].text == "" {
		cells = cells[1:]
	}
	if len(cells) > 0 && cells[len(cells)-1].text == "" {
		cells = cells[:len(cells)-1]
	}
	return cells
}

func headerCells(cells []cell, sep rune, n int) (*table, *Error) {
	t := &table{sep: sep}
	known, unknown := 0, -1
	for i, c := range cells {
		name := plain(c.text)
		col, ok := columnOf(name)
		col.col = c.col
		switch {
		case ok:
			known++
		case name == "":
		case startsWithDigit(name):
			return nil, nil
		case unknown < 0:
			unknown = i
		}
		t.columns = append(t.columns, col)
	}
	switch {
	case known == 0 || known < 2 && unknown < 0 || known < 2 && !strings.ContainsAny(string(sep), "\t;|,"):
		return nil, nil
	case unknown >= 0 && known == 1 && t.columns[0].f == nil:
		return nil, nil
	case unknown >= 0:
		return nil, trouble(place{line: n, col: cells[unknown].col}, ErrColumn, cells[unknown].text)
	case len(cells) > mostColumns:
		return nil, trouble(place{line: n, col: cells[mostColumns].col}, ErrColumn, cells[mostColumns].text)
	}
	return t.ready(n)
}

// headerWords reads a header whose names are parted by blanks alone.
func headerWords(line string) (*table, *Error) {
	t := &table{sep: ' '}
	cells := fields2(line)
	var all []string
	for _, c := range cells {
		all = append(all, plain(c.text))
	}
	for i := 0; i < len(all); {
		n, col, unit := meaning(all[i:])
		switch {
		case n == 0 || len(t.columns) > mostColumns:
			return nil, nil
		case unit != "" && len(t.columns) == 0:
			return nil, nil
		case unit != "":
			t.columns[len(t.columns)-1].unit = unit
		default:
			col.col = cells[i].col
			t.columns = append(t.columns, col)
		}
		i += n
	}
	if len(t.columns) < 2 {
		return nil, nil
	}
	return t.ready(0)
}

// ready checks that no column stands twice.
func (t *table) ready(n int) (*table, *Error) {
	for i, c := range t.columns {
		if c.f == nil {
			continue
		}
		t.numbers = t.numbers || c.f.kind == kindCylinder
		for _, d := range t.columns[:i] {
			if d.f != nil && d.f.name == c.f.name && d.stroke == c.stroke && c.f.name != "repeat" && c.f.kind != kindRemark {
				return nil, trouble(place{line: n, col: c.col}, ErrTwice, strings.ReplaceAll(c.f.name, "_", " "))
			}
		}
	}
	return t, nil
}

// meaning reads the beginning of a row of words as a column's name or a unit and
// tells how many words that takes.
func meaning(all []string) (n int, c column, unit string) {
	for n = min(4, len(all)); n > 0; n-- {
		text := strings.Join(all[:n], " ")
		if n == 1 {
			if m, ok := unitOf(text); ok && text != "#" {
				return 1, column{}, written(m, text)
			}
		}
		if f := named(text, false); f != nil {
			return n, column{f: f}, ""
		}
		if s := strokeOf(text); s > 0 {
			return n, column{f: named("dry", false), stroke: s}, ""
		}
	}
	return 0, column{}, ""
}

// written is how a unit found in a name is kept.
func written(_ measure, text string) string { return text }

// columnOf reads the name of a column, a unit at its end included.
func columnOf(name string) (column, bool) {
	if f := named(name, false); f != nil {
		return column{f: f}, true
	}
	all := strings.Fields(name)
	for i := len(all) - 1; i >= 0; i-- {
		suffix := strings.Join(all[i:], "")
		m, ok := unitOf(suffix)
		if !ok {
			continue
		}
		before := strings.Join(all[:i], " ")
		if f := named(before, false); f != nil {
			return column{f: f, unit: suffix}, true
		}
		if s := strokeOf(before); s > 0 {
			return column{f: named("dry", false), stroke: s, unit: suffix}, true
		}
		if i == 0 && m.of == ofPressure {
			return column{f: named("dry", false), unit: suffix, bare: true}, true
		}
	}
	if s := strokeOf(name); s > 0 {
		return column{f: named("dry", false), stroke: s}, true
	}
	return column{}, false
}

// mostStrokes is how many columns of single strokes there can be.
const mostStrokes = 20

// strokeOf reads the name of a column of one stroke: "stroke 3", "s3", "golpe 3".
func strokeOf(name string) int {
	for _, w := range []string{"stroke", "s", "puff", "golpe", "carrera", "compresion", "compression"} {
		rest, ok := strings.CutPrefix(name, w)
		if !ok {
			continue
		}
		if n, err := strconv.Atoi(strings.TrimSpace(rest)); err == nil && n >= 1 && n <= mostStrokes {
			return n
		}
	}
	return 0
}
