package cli

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"crankbay/diagnose/intake"
	"crankbay/diagnose/opinion"
	"crankbay/diagnose/reason"
	"crankbay/web/strings/words"
)

// advice says an opinion with the sentences of the page.
type advice struct {
	words.Words
	unit string // of pressures
}

func newAdvice(lang string) (*advice, error) {
	table, err := words.For(lang)
	return &advice{table, intake.PSI}, err
}

// pressure writes a pressure in the unit of the readings, with the decimals a dial can
// give.
func (w *advice) pressure(pa float64) string {
	return trimmed(pa/intake.Pascal(w.unit), digitsOf(w.unit)) + " " + w.unit
}

func digitsOf(unit string) int {
	switch unit {
	case intake.Bar, intake.Kgf:
		return 2
	case intake.MPa:
		return 3
	case intake.KPa:
		return 0
	}
	return 1
}

// trimmed writes a number with at most so many decimals and no trailing zeros.
func trimmed(v float64, digits int) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if digits > 0 {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func percentOf(p float64) string {
	switch {
	case p > 0.99 && p < 1:
		return ">99"
	case p > 0 && p < 0.01:
		return "<1"
	}
	return fmt.Sprintf("%.0f", p*100)
}

// place names cylinders, or the whole engine.
func (w *advice) place(cylinders []int) string {
	if len(cylinders) == 0 {
		return w.Say("cylinders.all")
	}
	var all []string
	for _, c := range cylinders {
		all = append(all, strconv.Itoa(c))
	}
	return w.Say("cylinders.some", "n", strconv.Itoa(len(all)), "list", w.and(all))
}

// and makes a list: a, b and c.
func (w *advice) and(items []string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return w.Say("list.and", "first", strings.Join(items[:len(items)-1], ", "), "last", items[len(items)-1])
}

// what names a group at a place.
func (w *advice) what(group string, cylinders []int) string {
	if len(cylinders) == 0 {
		return w.Say("family." + group)
	}
	return w.Say("opinion.at", "what", w.Say("family."+group), "place", w.place(cylinders))
}

// trouble says what is wrong with readings, in one sentence.
func (w *advice) trouble(name string, err error) string {
	var e *intake.Error
	if !errors.As(err, &e) {
		return err.Error()
	}
	bound := func(v float64) string { return strings.TrimSpace(trimmed(v, 1) + " " + e.Unit) }
	high := bound(e.High)
	if e.Key == intake.ErrUnitNeeded {
		high = trimmed(e.High, 2)
	}
	what := w.Say("opinion.trouble."+e.Key, "text", e.Text, "low", bound(e.Low), "high", high)
	switch {
	case e.Name != "":
		return w.Say("opinion.trouble.field", "name", e.Name, "what", what)
	case e.Line > 0:
		what = w.Say("opinion.trouble.line", "line", strconv.Itoa(e.Line), "column", strconv.Itoa(e.Column), "what", what)
	}
	if name != "" {
		return name + ": " + what
	}
	return what
}

// note says what was guessed or decided.
func (w *advice) note(n intake.Note) string {
	key := "opinion.note." + n.Key
	if n.Key == intake.NoteUnitGuessed && n.Unit == intake.Bar {
		key += "_bar"
	}
	return w.Say(key, "text", n.Text, "unit", n.Unit, "line", strconv.Itoa(n.Line), "value", trimmed(n.Value, 3))
}

// says names a reading that speaks for something or against it, and how much. The other
// readings are all of them where no cylinder is blamed.
func (w *advice) says(s reason.Speaks, blamed bool) string {
	key := "opinion.reading." + s.Reading
	if s.Reading == reason.ReadOthers && !blamed {
		key = "opinion.reading." + reason.ReadDry
	}
	if s.Cylinder == 0 && w.Has(key+".all") {
		key += ".all"
	}
	text := w.Say(key, "value", w.value(s), "place", w.place([]int{s.Cylinder}))
	return fmt.Sprintf("%s (%s)", text, w.Say("opinion.says."+opinion.Strength(s)))
}

func (w *advice) value(s reason.Speaks) string {
	switch s.Reading {
	case reason.ReadLeakage, reason.ReadHump:
		return trimmed(s.Value, 0) + " %"
	case reason.ReadSpeed:
		return trimmed(s.Value, 0) + " rpm"
	case reason.ReadVolts:
		return trimmed(s.Value, 1) + " V"
	case reason.ReadRatio:
		return trimmed(s.Value, 1)
	}
	return w.pressure(s.Value)
}

// wrapped writes text in lines of at most 80 columns, the first after first, the others
// after as many blanks.
func wrapped(b *strings.Builder, first, text string) {
	const width = 80
	const joint = "\x00" // holds a number and its unit together
	text = strings.ReplaceAll(text, " %", joint+"%")
	indent := utf8.RuneCountInString(first)
	at := indent
	b.WriteString(first)
	for i, word := range strings.Fields(text) {
		word = strings.ReplaceAll(word, joint, " ")
		n := utf8.RuneCountInString(word)
		if i > 0 && at+1+n > width {
			b.WriteString("\n" + strings.Repeat(" ", indent))
			at = indent
		} else if i > 0 {
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += n
	}
	b.WriteByte('\n')
}
