package class

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// ReadRoster reads the students out of what an instructor has: names pasted one a
// line, or a table from a spreadsheet or a school's system, with commas, semicolons
// or tabs, with or without a line of headings, in UTF-8, UTF-16 or Windows-1252.
// The error is one sentence that names the line.
func ReadRoster(data []byte) ([]Student, error) {
	if len(data) > MaxBytes {
		return nil, fmt.Errorf("class: roster: %d bytes, at most %d are read", len(data), MaxBytes)
	}
	text := asText(data)
	rows, lines, err := table(text)
	if err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, errors.New("class: roster: empty: there is no name in it")
	}
	h, headed := headings(rows[0])
	if !headed {
		h = guess(rows)
	} else if rows, lines = rows[1:], lines[1:]; len(rows) == 0 {
		return nil, errors.New("class: roster: headings and no names below")
	}
	if len(rows) > MaxStudents {
		return nil, fmt.Errorf("class: roster: %d students, at most %d", len(rows), MaxStudents)
	}
	seen := map[string]int{}
	var all []Student
	for i, row := range rows {
		s, err := h.student(row)
		switch n := utf8.RuneCountInString(s.Label()); {
		case err != nil:
			return nil, fmt.Errorf("class: roster: line %d: %w", lines[i], err)
		case Fold(s.Name) == "":
			return nil, fmt.Errorf("class: roster: line %d: no name", lines[i])
		case n > MaxName:
			return nil, fmt.Errorf("class: roster: line %d: %d characters, at most %d", lines[i], n, MaxName)
		}
		key := Fold(s.Label())
		if at, twice := seen[key]; twice {
			return nil, fmt.Errorf("class: roster: line %d: %q stands in line %d too; add a column id to tell them apart", lines[i], s.Label(), at)
		}
		seen[key] = lines[i]
		all = append(all, s)
	}
	return all, nil
}

// columns says where in a row a name stands; -1 nowhere.
type columns struct {
	name, given, family, id int
	extra                   int  // time, in percent
	all                     bool // the whole row is the name
}

func (c columns) student(row []string) (Student, error) {
	at := func(i int) string {
		if i < 0 || i >= len(row) {
			return ""
		}
		return row[i]
	}
	s := Student{Name: at(c.name), ID: at(c.id)}
	if c.all {
		s.Name = strings.Join(row, ", ")
	}
	if s.Name == "" {
		s.Name = strings.TrimSpace(at(c.given) + " " + at(c.family))
	}
	if x := strings.TrimSpace(strings.TrimSuffix(at(c.extra), "%")); x != "" {
		n, err := strconv.Atoi(x)
		if err != nil || n < 0 || n > MaxExtra {
			return s, fmt.Errorf("extra time %q, want percent from 0 to %d, such as 50", at(c.extra), MaxExtra)
		}
		s.Extra = n
	}
	return s, nil
}

var nowhere = columns{name: -1, given: -1, family: -1, id: -1, extra: -1}

// titles are the headings that are understood, folded; English and Spanish.
var titles = struct{ name, given, family, id, extra []string }{
	name:   strings.Split("name,student,full name,student name,nombre completo,alumno,alumna,estudiante,nombre y apellido,nombre y apellidos,apellidos y nombre,learner", ","),
	given:  strings.Split("first name,first,given name,given,nombre,nombres,forename", ","),
	family: strings.Split("last name,last,family name,surname,apellido,apellidos,apellido paterno", ","),
	id:     strings.Split("id,student id,sis id,number,student number,no,num,matricula,numero de control,clave,codigo,login,username,sis login id,expediente", ","),
	extra:  strings.Split("extra time,extra time percent,extra,tiempo extra,tiempo adicional", ","),
}

// headings tells whether a row is one, and what its columns hold.
func headings(row []string) (c columns, ok bool) {
	c = nowhere
	for i, cell := range row {
		cell = Fold(cell)
		for _, t := range []struct {
			words []string
			at    *int
		}{{titles.name, &c.name}, {titles.given, &c.given}, {titles.family, &c.family}, {titles.id, &c.id}, {titles.extra, &c.extra}} {
			if *t.at < 0 && slices.Contains(t.words, cell) {
				*t.at = i
				break
			}
		}
	}
	if c.name < 0 && c.family < 0 && c.given >= 0 {
		c.name, c.given = c.given, -1 // nombre alone is the whole name
	}
	return c, c.name >= 0 || c.given >= 0 && c.family >= 0
}

// guess looks at rows without headings: a column of digits is an id; two columns of
// words are family name and given name, and stay together as they stand.
func guess(rows [][]string) columns {
	c := nowhere
	width := 0
	for _, row := range rows {
		width = max(width, len(row))
	}
	for i := range width {
		digits, words := 0, 0
		for _, row := range rows {
			switch {
			case i >= len(row) || row[i] == "":
			case strings.ContainsFunc(row[i], unicode.IsDigit):
				digits++
			default:
				words++
			}
		}
		switch {
		case digits > words && c.id < 0:
			c.id = i
		case words >= digits && words > 0 && c.name < 0:
			c.name = i
		}
	}
	if c.name < 0 {
		c.name, c.id = 0, -1 // numbers for names: a school may do so
	}
	c.all = c.id < 0 && width > 1
	return c
}

// table splits a text into rows of trimmed cells and says in which line each began.
// Empty rows are passed over.
func table(text string) (rows [][]string, lines []int, err error) {
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator(text)
	r.FieldsPerRecord = -1
	r.LazyQuotes = true
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, lines, nil
		}
		if err != nil {
			return nil, nil, fmt.Errorf("class: roster: %w", err)
		}
		line, _ := r.FieldPos(0)
		filled := false
		for i := range row {
			row[i] = tidy(row[i])
			filled = filled || Fold(row[i]) != "" // rules and dots are no names
		}
		for len(row) > 1 && row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		if filled {
			rows, lines = append(rows, row), append(lines, line)
		}
	}
}

// separator is the sign that stands in most lines outside quotes: tab, semicolon or
// comma, in this order when they are equal.
func separator(text string) rune {
	best, most := ',', 0
	for _, sign := range "\t;," {
		n, quoted, found := 0, false, false
		for _, r := range text {
			switch {
			case r == '"':
				quoted = !quoted
			case r == '\n':
				quoted, found = false, false
			case r == sign && !quoted && !found:
				n++
				found = true
			}
		}
		if n > most {
			best, most = sign, n
		}
	}
	return best
}

// tidy makes one blank of every run of blanks and drops what can't be printed.
func tidy(cell string) string {
	cell = strings.Map(func(r rune) rune {
		if Turns(r) {
			return -1
		}
		return r
	}, cell)
	return strings.Join(strings.FieldsFunc(cell, func(r rune) bool {
		return unicode.IsSpace(r) || unicode.IsControl(r) || r == '\ufeff' || r == '\u200b' || r == utf8.RuneError
	}), " ")
}

// Turns tells whether a sign turns the direction of what is written after it: in a name it
// could make a line read as another one.
func Turns(r rune) bool {
	return r == '\u200e' || r == '\u200f' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// asText reads the encodings that spreadsheets write.
func asText(data []byte) string {
	switch {
	case len(data) >= 2 && data[0] == 0xff && data[1] == 0xfe, len(data) >= 2 && data[0] == 0xfe && data[1] == 0xff:
		var units []uint16
		for i := 2; i+1 < len(data); i += 2 {
			lo, hi := uint16(data[i]), uint16(data[i+1])
			if data[0] == 0xfe {
				lo, hi = hi, lo
			}
			units = append(units, hi<<8|lo)
		}
		data = []byte(string(utf16.Decode(units)))
	case !utf8.Valid(data):
		var b strings.Builder
		for _, c := range data {
			b.WriteRune(windows(c))
		}
		data = []byte(b.String())
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n") // a Replacer weighs 9 kB on the wire
}

// windows reads one byte of Windows-1252, which is Latin-1 but for these.
func windows(b byte) rune {
	const odd = "€?‚ƒ„…†‡ˆ‰Š‹Œ?Ž??‘’“”•–—˜™š›œ?žŸ"
	if b < 0x80 || b > 0x9f {
		return rune(b)
	}
	return []rune(odd)[b-0x80]
}
