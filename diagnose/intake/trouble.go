package intake

import (
	"fmt"
	"strings"
)

// Keys of errors. The sentences are the page's; see Error for what comes along.
const (
	ErrTooLong      = "too_long"      // more than MaxBytes
	ErrNotText      = "not_text"      // no text at all
	ErrNothing      = "nothing"       // no reading in it
	ErrWord         = "word"          // Text isn't understood
	ErrNumber       = "number"        // Text should be a number
	ErrRange        = "range"         // Text is outside what an engine gives: Low to High in Unit
	ErrTwice        = "twice"         // Text was given already, in line Other
	ErrCells        = "cells"         // a row has more cells than the header
	ErrCellsComma   = "cells_comma"   // likewise, perhaps for decimal commas
	ErrCellsBlank   = "cells_blank"   // a row parted by blanks has fewer cells than the header
	ErrQuote        = "quote"         // a quotation mark isn't closed
	ErrColumn       = "column"        // a column's name, Text, isn't known
	ErrComma        = "comma"         // Text can be read with a decimal comma and as two readings
	ErrDash         = "dash"          // Text can be a range or two readings
	ErrPair         = "pair"          // Text can be a cylinder with its reading or two readings
	ErrTwoReadings  = "two_readings"  // a second number, Text, beside one cylinder
	ErrTwoLists     = "two_lists"     // lines of numbers without names
	ErrTooMany      = "too_many"      // more cylinders than MaxCylinders
	ErrCylinder     = "cylinder"      // Text should be the number of a cylinder
	ErrCylinderBare = "cylinder_bare" // a cylinder, Text, is named and nothing is said of it
	ErrUnitUnknown  = "unit_unknown"  // Text isn't a unit of what it stands beside
	ErrUnitNeeded   = "unit_needed"   // readings up to Low fit more than one unit, or none
	ErrFirstAbove   = "first_above"   // Text, the first stroke, reads above the last
	ErrName         = "name"          // a name, Text, before a colon isn't known
	ErrValue        = "value"         // Text isn't one of the values of a name
	ErrHeard        = "heard"         // Text isn't a place where air is heard
	ErrHistory      = "history"       // Text isn't a known note
	ErrFiringOrder  = "firing_order"  // Text doesn't name each cylinder once
	ErrBanks        = "banks"         // Text doesn't put each cylinder into a bank
)

// Errors lists every key of an error.
func Errors() []string {
	return []string{
		ErrTooLong, ErrNotText, ErrNothing, ErrWord, ErrNumber, ErrRange, ErrTwice, ErrCells, ErrCellsComma, ErrCellsBlank, ErrQuote,
		ErrColumn, ErrComma, ErrDash, ErrPair, ErrTwoReadings, ErrTwoLists, ErrTooMany, ErrCylinder, ErrCylinderBare, ErrUnitUnknown,
		ErrUnitNeeded, ErrFirstAbove, ErrName, ErrValue, ErrHeard, ErrHistory, ErrFiringOrder, ErrBanks,
	}
}

// An Error is what can't be read, and where: a line and a column of the text, both
// from 1, or the name of what was said beside it.
type Error struct {
	Key    string
	Line   int    // 0: not in the text
	Column int    // in characters
	Name   string // of a Said; empty: in the text
	Text   string // what it is about, as written, cut short
	Unit   string
	Low    float64
	High   float64
	Other  int // another line it is about
}

// Error names place, key and detail.
func (e *Error) Error() string {
	var b strings.Builder
	switch {
	case e.Name != "":
		fmt.Fprintf(&b, "%s: ", e.Name)
	case e.Line > 0:
		fmt.Fprintf(&b, "line %d, column %d: ", e.Line, e.Column)
	}
	b.WriteString(strings.ReplaceAll(e.Key, "_", " "))
	if e.Text != "" {
		fmt.Fprintf(&b, ": %q", e.Text)
	}
	return b.String()
}

// A place is where something stands.
type place struct {
	line, col int
	name      string
}

// trouble makes an error of a place, a key and the text it is about.
func trouble(at place, key, text string) *Error {
	return &Error{Key: key, Line: at.line, Column: at.col, Name: at.name, Text: short(text)}
}

// short cuts a text for a sentence and makes what can't be seen visible.
func short(text string) string {
	const most = 40
	out, n := make([]rune, 0, most), 0
	for _, r := range strings.TrimSpace(text) {
		if n++; n > most {
			return string(out) + "…"
		}
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 {
			r = '·'
		}
		out = append(out, r)
	}
	return string(out)
}
