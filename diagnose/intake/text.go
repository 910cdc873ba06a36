package intake

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// lines parts a text into lines, without what hides at their ends. Text that isn't
// UTF-8 is taken for Latin-1, which is what older spreadsheets write.
func lines(data string) (out []string, latin bool, err error) {
	data = strings.TrimPrefix(data, "\ufeff")
	if len(data) > MaxBytes {
		return nil, false, &Error{Key: ErrTooLong, High: MaxBytes}
	}
	if strings.Contains(data, "\x00") {
		return nil, false, &Error{Key: ErrNotText}
	}
	if !utf8.ValidString(data) {
		latin = true
		wide := make([]rune, 0, len(data))
		for i := 0; i < len(data); i++ {
			wide = append(wide, rune(data[i]))
		}
		data = string(wide)
	}
	data = strings.ReplaceAll(strings.ReplaceAll(data, "\r\n", "\n"), "\r", "\n")
	out = strings.Split(data, "\n")
	filled := 0
	for i, line := range out {
		if strings.TrimSpace(line) != "" {
			filled++
		}
		if len(line) > longestLine || filled > mostLines {
			return nil, false, &Error{Key: ErrTooLong, Line: i + 1, Column: 1, High: longestLine}
		}
	}
	return out, latin, nil
}

// No job sheet has longer lines [bytes] or more of them with something in them; what
// has isn't one, and isn't read to the end.
const (
	longestLine = 4000
	mostLines   = 400
)

// plain makes a name comparable: lower case, without accents, with blanks for
// brackets, hyphens, underlines and colons at its end.
func plain(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '(' || r == ')' || r == '[' || r == ']' || r == '_' || r == '-' || r == '–' || r == '\u00a0' || r == ':' || r == '=':
			r = ' '
		case r == '²':
			r = '2'
		case r == '³':
			r = '3'
		case r == '^':
			continue
		default:
			r = bare(unicode.ToLower(r))
		}
		b.WriteRune(r)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// bare takes the accent off a letter that Spanish writes.
func bare(r rune) rune {
	const with, without = "áéíóúüñà", "aeiouuna"
	if i := strings.IndexRune(with, r); i >= 0 {
		return rune(without[utf8.RuneCountInString(with[:i])])
	}
	return r
}

// blank reports whether a cell says that there is nothing.
func blank(text string) bool {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "", "-", "–", "—", "--", "---", ".", "?", "n/a", "na", "nd", "s/d", "null", "none", "nil", "*":
		return true
	}
	return false
}

// A cell is a piece of a line with the column it begins in.
type cell struct {
	text string
	col  int
}

// split parts a line at a separator; ' ' stands for any blanks. A cell may stand in
// quotation marks, with two of them for one inside.
func split(line string, sep rune, n int) ([]cell, *Error) {
	if sep == ' ' {
		return fields2(line), nil
	}
	var out []cell
	var b strings.Builder
	col, start, quoted := 0, 1, false
	runes := []rune(line)
	for i := 0; i < len(runes); i++ {
		r := runes[i]
		col++
		switch {
		case quoted && r == '"' && i+1 < len(runes) && runes[i+1] == '"':
			b.WriteRune('"')
			i++
			col++
		case quoted && r == '"':
			quoted = false
		case quoted:
			b.WriteRune(r)
		case r == '"' && strings.TrimSpace(b.String()) == "":
			quoted = true
		case r == sep:
			out = append(out, cell{strings.TrimSpace(b.String()), start})
			b.Reset()
			start = col + 1
		default:
			b.WriteRune(r)
		}
	}
	if quoted {
		return nil, trouble(place{line: n, col: start}, ErrQuote, line)
	}
	return append(out, cell{strings.TrimSpace(b.String()), start}), nil
}

// fields2 parts a line at blanks.
func fields2(line string) []cell {
	var out []cell
	col, start := 0, 0
	var b strings.Builder
	for _, r := range line + " " {
		col++
		switch {
		case !unicode.IsSpace(r):
			if b.Len() == 0 {
				start = col
			}
			b.WriteRune(r)
		case b.Len() > 0:
			out = append(out, cell{b.String(), start})
			b.Reset()
		}
	}
	return out
}
