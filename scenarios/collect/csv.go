package collect

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// csvHead are the columns of the table. New ones are added at the end.
var csvHead = []string{
	"student", "who", "status", "percent", "points", "out_of", "passed", "handed_in", "prepare", "measure", "record", "choose",
	"conclude", "hints", "minutes", "mode", "scenario", "owner", "tick", "hand_in", "same_as", "missteps", "file", "text",
	"override_percent", "comment", "extra_time_percent", "tags",
}

// WriteCSV writes a table that any spreadsheet or gradebook reads: UTF-8, commas,
// decimal points, one line for each row.
func WriteCSV(w io.Writer, rows []Row) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvHead); err != nil {
		return err
	}
	for _, r := range rows {
		if err := out.Write(r.cells()); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func decimals(v float64, n int) string { return strconv.FormatFloat(v, 'f', n, 64) }

// short rounds to hundredths and leaves zeros out.
func short(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }

func (r Row) cells() []string {
	cell := make([]string, len(csvHead))
	put := func(name, value string) {
		for i, h := range csvHead {
			if h == name {
				cell[i] = Inert(value)
			}
		}
	}
	for _, c := range [][2]string{
		{"student", r.Student}, {"who", r.Who}, {"status", r.Status}, {"handed_in", strconv.FormatBool(r.HandedIn)}, {"mode", r.Mode},
		{"scenario", r.Scenario}, {"owner", r.Owner}, {"same_as", r.SameAs}, {"missteps", strings.Join(r.Missteps, " ")},
		{"file", r.Source}, {"text", r.Text},
	} {
		put(c[0], c[1])
	}
	put("tags", strings.Join(r.Tags, "; "))
	if r.Extra != 0 {
		put("extra_time_percent", strconv.Itoa(r.Extra))
	}
	if r.Tick != 0 {
		put("tick", strconv.FormatInt(r.Tick, 10))
	}
	if r.Again != 0 {
		put("hand_in", strconv.Itoa(r.Again))
	}
	if g := r.Grade; g != nil {
		put("percent", decimals(r.Percent, 1))
		put("points", short(g.Points))
		put("out_of", short(g.OutOf))
		put("passed", strconv.FormatBool(r.Pass))
		put("hints", strconv.Itoa(g.Hints))
		put("minutes", decimals(r.Minutes, 0))
		for _, row := range g.Rows {
			put(row.Name, short(row.Points))
		}
	}
	if o := r.Override; o != nil {
		if put("comment", o.Comment); o.Percent != nil {
			put("override_percent", short(*o.Percent))
		}
	}
	return cell
}

// Inert keeps a spreadsheet from taking a name for a formula, and a cell on one line. A
// number stays one. A semicolon begins a new cell where spreadsheets separate by it, so
// what follows one is looked at too. Signs as wide as a character of Chinese are taken for
// the plain ones by some.
func Inert(cell string) string {
	cell = strings.Join(strings.FieldsFunc(cell, func(r rune) bool { return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' }), " ")
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	var b strings.Builder
	begins := true
	for _, r := range cell {
		if begins && strings.ContainsRune("=+-@＝＋－＠﹢﹣﹦﹫", r) {
			b.WriteByte('\'')
		}
		if r == ';' || r == '|' {
			begins = true
		} else if !unicode.IsSpace(r) && !unicode.Is(unicode.Cf, r) && r != '"' {
			begins = false
		}
		b.WriteRune(r)
	}
	return b.String()
}
