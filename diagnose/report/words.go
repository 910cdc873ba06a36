package report

import (
	"fmt"
	"strconv"
	"strings"

	"crankbay/diagnose"
	"crankbay/sim/unit"
)

// Words are the texts of one language: those of the page.
type Words interface {
	// Say returns a text with its parameters filled in: name, value, name, value.
	Say(key string, params ...any) string
	// Has reports whether a key has a text.
	Has(key string) bool
}

// A Printer says grades in the words of one language.
type Printer struct{ w Words }

// NewPrinter returns a printer.
func NewPrinter(w Words) *Printer { return &Printer{w} }

// Place says 'cylinder 3', 'cylinders 2 and 3' or 'the whole engine'.
func (p *Printer) Place(cylinders []int) string { return p.place("cylinders.some", cylinders) }

// There says the same as it stands behind 'on' or 'read', which some languages want an
// article for.
func (p *Printer) There(cylinders []int) string { return p.place("cylinders.the", cylinders) }

func (p *Printer) place(key string, cylinders []int) string {
	var list []string
	for _, n := range cylinders {
		if n > 0 {
			list = append(list, strconv.Itoa(n))
		}
	}
	if len(list) == 0 {
		return p.w.Say("cylinders.all")
	}
	return p.w.Say(key, "n", len(list), "list", p.And(list))
}

// roots says under which root the word of a fact is found; other facts carry numbers.
func root(name string) string {
	switch name {
	case "claimed", "first", "answer", "points_to":
		return "family"
	case "named", "good_test", "test", "better":
		return "next"
	case "missing", "spoiled", "cited":
		return "evidence"
	case "field", "absent":
		return "short"
	case "wanted", "used":
		return "switch"
	case "standing", "pattern", "caution", "why", "match", "left":
		return name
	case "sure":
		return "sure"
	case "fault":
		return "method"
	case "item":
		return "card"
	case "where":
		return "air"
	}
	return "word"
}

// value is one fact as text: a word by its key, any other number with its unit.
func (p *Printer) value(f diagnose.Fact) string {
	switch {
	case f.Key == "not_said", f.Name == "written" && f.Value == 0 && f.Key == "":
		return p.w.Say("not_said")
	case f.Key != "":
		r := root(f.Name)
		for _, key := range []string{"noun." + f.Key, r + "." + f.Key, "hazard." + f.Key} {
			if !p.w.Has(key) || key == "noun."+f.Key && r != "next" && r != "family" {
				continue
			}
			s := p.w.Say(key, "cylinder", tenth(f.Value))
			if r == "card" { // some hold a comma
				return p.w.Say("quote", "text", s)
			}
			if r == "family" || r == "next" || r == "switch" { // titles elsewhere
				return lower(s)
			}
			return s
		}
		return f.Key
	}
	switch f.Unit {
	case "Pa":
		return psi(f.Value/unit.PascalPerPSI) + " psi"
	case "%":
		return percent(f.Value)
	case "°":
		return tenth(f.Value) + "°"
	case "ml":
		return tenth(f.Value) + " ml"
	case "rpm":
		return fmt.Sprintf("%.0f rpm", f.Value)
	case "":
		return tenth(f.Value)
	}
	return tenth(f.Value) + " " + f.Unit
}

func tenth(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

// psi prints a reading to a tenth, without a needless zero.
func psi(v float64) string { return tenth(v) }

func percent(v float64) string { return fmt.Sprintf("%.0f %%", v) }

func points(v float64) string {
	s := strings.TrimSuffix(strings.TrimSuffix(fmt.Sprintf("%.2f", v), "0"), ".0")
	return strings.Replace(s, "-", "−", 1)
}

// Duration says bench minutes, as '1 h 25 min' from an hour on.
func (p *Printer) Duration(minutes float64) string {
	whole := int(min(max(minutes, 0), 1e6) + 0.5)
	if whole < 60 {
		return p.w.Say("time.minutes", "m", whole)
	}
	return p.w.Say("time.hours", "h", whole/60, "m", whole%60)
}
