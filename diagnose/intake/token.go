package intake

import (
	"strings"
	"unicode"
)

// Kinds of token of a line without a table.
const (
	tokNumber = iota + 1 // digits, points, commas
	tokWord
	tokSep   // parts readings: , ; | / and a tab in a line of tabs
	tokColon // : = and the bracket of "1)"
	tokDash
	tokHash
	tokAbout // ~ and its kin, + after a number
)

type token struct {
	kind int
	text string
	col  int
}

// tokens parts a line. What it doesn't know is an error.
func tokens(line string, n int) ([]token, *Error) {
	tabs := !strings.ContainsAny(line, ",;|")
	runes := []rune(line)
	var out []token
	last := func() int {
		if len(out) == 0 {
			return 0
		}
		return out[len(out)-1].kind
	}
	for i := 0; i < len(runes); {
		r, start := runes[i], i
		kind := markOf(r, tabs)
		switch {
		case digit(r) || (r == '.' || r == ',' && last() == tokNumber) && i+1 < len(runes) && digit(runes[i+1]):
			for i < len(runes) && (digit(runes[i]) || runes[i] == '.' || runes[i] == ',') {
				i++
			}
			text := strings.TrimRight(string(runes[start:i]), ".,")
			i = start + len(text)
			kind = tokNumber
		case r == ')' && last() == tokNumber:
			kind, i = tokColon, i+1
		case kind != 0:
			i++
		case unicode.IsSpace(r) || strings.ContainsRune(`()[]"'.!`, r):
			i++
			continue
		case letter(r):
			i = wordEnd(runes, i)
			kind = tokWord
		default:
			return nil, trouble(place{line: n, col: i + 1}, ErrWord, string(runes[i:min(len(runes), i+20)]))
		}
		out = append(out, token{kind, string(runes[start:i]), start + 1})
	}
	return out, nil
}

func digit(r rune) bool { return r >= '0' && r <= '9' }

func letter(r rune) bool { return unicode.IsLetter(r) || r == '%' || r == '°' || r == 'º' }

func markOf(r rune, tabs bool) int {
	switch r {
	case '\t':
		if tabs {
			return tokSep
		}
	case ',', ';', '|', '/', '&':
		return tokSep
	case ':', '=':
		return tokColon
	case '-', '–', '—', '→':
		return tokDash
	case '#':
		return tokHash
	case '~', '≈', '>', '<', '≥', '≤', '+':
		return tokAbout
	}
	return 0
}

// longestUnit is how many characters a unit is written with at most.
const longestUnit = 20

// wordEnd finds the end of a word that begins at i. A word takes along what units
// are written with, as far as that makes a unit; else it is letters alone.
func wordEnd(runes []rune, i int) int {
	if i+2 < len(runes) && strings.EqualFold(string(runes[i:i+3]), "n/a") {
		return i + 3
	}
	end := i
	for end < len(runes) && (letter(runes[end]) || digit(runes[end]) || strings.ContainsRune("/^²³.", runes[end])) {
		end++
	}
	for cut := min(end, i+longestUnit); cut > i; cut-- {
		if _, ok := unitOf(squeezed(string(runes[i:cut]))); ok && (cut == len(runes) || !letter(runes[cut])) {
			return cut
		}
	}
	for end = i; end < len(runes) && (letter(runes[end]) || runes[end] == '_'); {
		end++
	}
	return max(end, i+1)
}

// runsOf lists the numbers of a line as they decide about its commas.
func runsOf(all []token) []run {
	var out []run
	for i, t := range all {
		if t.kind == tokNumber {
			out = append(out, run{t.text, i+1 < len(all) && all[i+1].kind == tokColon})
		}
	}
	return out
}

// parted returns the tokens with each number parted at commas that part readings.
func parted(all []token) []token {
	var out []token
	for _, t := range all {
		if t.kind != tokNumber {
			out = append(out, t)
			continue
		}
		col := t.col
		for i, piece := range strings.Split(t.text, ",") {
			if i > 0 {
				out = append(out, token{tokSep, ",", col})
				col++
			}
			if piece != "" {
				out = append(out, token{tokNumber, piece, col})
			}
			col += len(piece)
		}
	}
	return out
}
