// Package report writes a grade as plain English text or as JSON. The numbers
// are those of the result; only the sentences are made here.
package report

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"

	"crankbay/diagnose"
	"crankbay/sim/record"
)

// width is the number of columns a text report keeps to.
const width = 80

// JSON returns the result as indented JSON with a newline at the end; the same
// result gives the same bytes.
func JSON(r diagnose.Result) ([]byte, error) {
	out, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return append(out, '\n'), nil
}

// Text returns the whole report, at most 80 columns wide, ending in a newline.
func Text(r diagnose.Result) string {
	var b strings.Builder
	head(&b, r)
	gates(&b, r)
	for _, row := range r.Rows {
		rows(&b, row)
	}
	readings(&b, r)
	rules(&b, r)
	wrap(&b, "", "", "These are results of a simulated engine. They don't replace hands-on work, service "+
		"information, local codes or licensed practice.")
	return b.String()
}

func head(b *strings.Builder, r diagnose.Result) {
	word := "NOT PASSED"
	if r.Pass {
		word = "PASSED"
	}
	fmt.Fprintf(b, "Compression test, simulated: %s\n", word)
	wrap(b, "", "", fmt.Sprintf("%s of %s points. A pass needs every safety gate kept, %s of the points, and %s in every row.",
		points(r.Points), points(r.OutOf), percent(r.PassMark*100), percent(r.RowMark*100)))
	if len(r.Low) > 0 {
		wrap(b, "", "", "Below that: "+strings.Join(r.Low, ", ")+".")
	}
	mode := strings.Join(strings.Fields(fmt.Sprintf("%.16s", r.Mode)), " ")
	if mode == "" {
		mode = "not said"
	}
	fmt.Fprintf(b, "Way of working: %s. Hints used: %d (reported, not scored).\n\n", mode, r.Hints)
}

func gates(b *strings.Builder, r diagnose.Result) {
	b.WriteString("Safety gates\n")
	for _, l := range r.Gates {
		line(b, l, false)
	}
	b.WriteByte('\n')
}

func rows(b *strings.Builder, row diagnose.Row) {
	title := rowTitle(row.Name)
	sum := fmt.Sprintf("%s of %s", points(row.Points), points(row.OutOf))
	fmt.Fprintf(b, "%s%*s\n", title, width-utf8.RuneCountInString(title), sum)
	for _, l := range row.Lines {
		line(b, l, true)
	}
	b.WriteByte('\n')
}

// line writes what one rule has to say: mark, sentence, points, and for a miss
// when it happened.
func line(b *strings.Builder, l diagnose.Line, scored bool) {
	mark := "  ok    "
	if !l.Passed {
		mark = "  MISS  "
		if l.Points > 0 {
			mark = "  part  "
		}
	}
	text := Sentence(l)
	switch {
	case l.Passed:
	case l.Minutes > 0:
		text += fmt.Sprintf(" (At %.0f min.)", l.Minutes)
	case l.Tick > 0:
		text += fmt.Sprintf(" (At %.1f s of cranking.)", float64(l.Tick)/record.TicksPerSecond)
	}
	if scored {
		text += fmt.Sprintf(" [%s/%s]", points(l.Points), points(l.OutOf))
	}
	wrap(b, mark, "        ", text)
}

func readings(b *strings.Builder, r diagnose.Result) {
	some := false
	for _, s := range r.Readings {
		some = some || s.Valid || s.WetValid
	}
	if !some {
		b.WriteString("No reading was taken.\n\n")
		return
	}
	b.WriteString("Readings the grade rests on (psi as shown by the gauge)\n")
	b.WriteString("  cylinder  dry first  dry last  strokes  wet last   gain  tests\n")
	for _, s := range r.Readings {
		dryFirst, dryLast, strokes, wetLast, gain := "-", "-", "-", "-", "-"
		if s.Valid {
			dryFirst, dryLast = psi(s.DryFirst.PSI()), psi(s.DryLast.PSI())
			strokes = fmt.Sprint(s.Strokes)
		}
		if s.WetValid {
			wetLast = psi(s.WetLast.PSI())
		}
		if s.Valid && s.WetValid {
			gain = percent(s.WetGain * 100)
		}
		tests := 0
		if s.Valid {
			tests = 1 + s.Repeats
		}
		fmt.Fprintf(b, "  %8d  %9s  %8s  %7s  %8s  %5s  %5d\n", s.Cylinder, dryFirst, dryLast, strokes, wetLast, gain, tests)
	}
	b.WriteByte('\n')
}

func rules(b *strings.Builder, r diagnose.Result) {
	if len(r.Rules) == 0 {
		return
	}
	b.WriteString("Limit rules side by side\n")
	for _, v := range r.Rules {
		says := "not kept"
		switch {
		case !v.Known:
			says = "cannot say"
		case v.Passed:
			says = "kept"
		}
		counts := ""
		if v.Counts {
			counts = " <- counts for this engine"
		}
		b.WriteString(strings.TrimRight(fmt.Sprintf("  %-36s %-11s%s", ruleTitle(v.Rule), says, counts), " "))
		b.WriteByte('\n')
	}
	b.WriteByte('\n')
}

// psi prints a reading to a tenth, without a needless zero.
func psi(v float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0") }

func points(v float64) string {
	return strings.TrimSuffix(strings.TrimSuffix(fmt.Sprintf("%.2f", v), "0"), ".0")
}

func percent(v float64) string { return fmt.Sprintf("%.0f %%", v) }

// wrap writes text in lines of at most width columns, the first one after first,
// the others after next.
func wrap(b *strings.Builder, first, next, text string) {
	at := utf8.RuneCountInString(first)
	b.WriteString(first)
	fresh := true
	for _, w := range strings.Fields(text) {
		n := utf8.RuneCountInString(w)
		if !fresh && at+1+n > width {
			b.WriteByte('\n')
			b.WriteString(next)
			at, fresh = utf8.RuneCountInString(next), true
		}
		if !fresh {
			b.WriteByte(' ')
			at++
		}
		b.WriteString(w)
		at, fresh = at+n, false
	}
	b.WriteByte('\n')
}
