// Package report writes a grade as plain text or as JSON. The numbers are those of the
// result, and the sentences those of the page, in the language that is handed over.
package report

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode/utf8"

	"crankbay/diagnose"
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
func Text(r diagnose.Result, w Words) string {
	t := text{p: NewPrinter(w), w: w}
	t.head(r)
	t.gates(r)
	for _, row := range r.Rows {
		t.row(row)
	}
	t.readings(r)
	t.rules(r)
	t.wrap("", "", w.Say("debrief.simulated"))
	return t.b.String()
}

// A text is a report being written.
type text struct {
	b strings.Builder
	p *Printer
	w Words
}

func (t *text) head(r diagnose.Result) {
	verdict := "debrief.nopass"
	if r.Pass {
		verdict = "debrief.pass"
	}
	t.wrap("", "", t.w.Say(verdict)+": "+t.w.Say("debrief.points", "points", points(r.Points), "of", points(r.OutOf))+" "+
		t.w.Say("debrief.needs", "needed", points(r.PassMark*r.OutOf), "row", points(100*r.RowMark)))
	if len(r.Low) > 0 {
		var low []string
		for _, name := range r.Low {
			low = append(low, t.w.Say("row.grade."+name))
		}
		t.wrap("", "", t.w.Say("debrief.low", "rows", strings.Join(low, ", ")))
	}
	mode := strings.Join(strings.Fields(fmt.Sprintf("%.16s", r.Mode)), " ")
	if t.w.Has("mode." + mode) {
		mode = t.w.Say("mode." + mode)
	}
	if mode == "" {
		mode = t.w.Say("not_said")
	}
	t.wrap("", "", t.w.Say("report.mode", "mode", mode, "hints", r.Hints))
	t.b.WriteByte('\n')
}

func (t *text) gates(r diagnose.Result) {
	t.title(t.w.Say("debrief.gates"), "")
	var never []string
	for _, l := range r.Gates {
		switch {
		case l.Never:
			never = append(never, t.w.Say("rule."+l.Rule+".name"))
		case l.Passed:
			t.line("safe", t.p.Sentence(l))
		default:
			t.line("danger", t.p.Sentence(l))
		}
	}
	if len(never) > 0 {
		t.line("never", t.w.Say("gates.never", "list", t.p.And(never)))
	}
	t.b.WriteByte('\n')
}

// row writes what cost points, then what earned them, then what was never begun in one
// line.
func (t *text) row(row diagnose.Row) {
	t.title(t.w.Say("row.grade."+row.Name), t.w.Say("debrief.of", "points", points(row.Points), "of", points(row.OutOf)))
	for _, passed := range []bool{false, true} {
		for _, l := range row.Lines {
			if l.Passed == passed && !l.Never {
				t.line(markOf(l), t.p.Sentence(l)+earned(l))
			}
		}
	}
	var never []string
	lost := 0.0
	for _, l := range row.Lines {
		if l.Never {
			never = append(never, t.w.Say("rule."+l.Rule+".name"))
			lost += l.OutOf
		}
	}
	if len(never) > 0 {
		t.line("never", t.w.Say("line.never", "list", t.p.And(never))+fmt.Sprintf(" [0/%s]", points(lost)))
	}
	t.b.WriteByte('\n')
}

func markOf(l diagnose.Line) string {
	switch {
	case l.Passed:
		return "kept"
	case l.Points > l.OutOf/20:
		return "partly"
	}
	return "missed"
}

// earned says what a line gave, or took off its row.
func earned(l diagnose.Line) string {
	switch {
	case l.OutOf > 0:
		return fmt.Sprintf(" [%s/%s]", points(l.Points), points(l.OutOf))
	case l.Points < 0:
		return fmt.Sprintf(" [%s]", points(l.Points))
	}
	return ""
}

func (t *text) readings(r diagnose.Result) {
	some := false
	for _, s := range r.Readings {
		some = some || s.Valid || s.WetValid
	}
	if !some {
		t.wrap("", "", t.w.Say("report.none"))
		t.b.WriteByte('\n')
		return
	}
	t.title(t.w.Say("report.readings"), "")
	head := " "
	for _, c := range []string{"cylinder", "first", "last", "strokes", "wet", "gain", "tests"} {
		head += column(t.w.Say("report.column." + c))
	}
	fmt.Fprintln(&t.b, head)
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
		row := " "
		for _, c := range []string{fmt.Sprint(s.Cylinder), dryFirst, dryLast, strokes, wetLast, gain, fmt.Sprint(tests)} {
			row += column(c)
		}
		fmt.Fprintln(&t.b, row)
	}
	t.b.WriteByte('\n')
}

// column puts a cell to the right.
func column(s string) string {
	const wide = 11
	return strings.Repeat(" ", max(1, wide-utf8.RuneCountInString(s))) + s
}

func (t *text) rules(r diagnose.Result) {
	if len(r.Rules) == 0 {
		return
	}
	t.title(t.w.Say("debrief.part.limits"), "")
	for _, v := range r.Rules {
		says := "limit.outside"
		switch {
		case !v.Known:
			says = "limits.unknown"
		case v.Passed:
			says = "limit.within"
		}
		counts := ""
		if v.Counts {
			counts = " " + t.w.Say("limit.counts")
		}
		t.wrap("  ", "    ", t.w.Say("limit."+v.Rule)+": "+t.w.Say(says)+counts)
	}
	t.b.WriteByte('\n')
}

// title writes a heading, with something at the right edge.
func (t *text) title(s, right string) {
	if right == "" {
		fmt.Fprintln(&t.b, s)
		return
	}
	gap := max(1, width-utf8.RuneCountInString(s)-utf8.RuneCountInString(right))
	fmt.Fprintln(&t.b, s+strings.Repeat(" ", gap)+right)
}

// line writes a mark and what is said under it.
func (t *text) line(mark, says string) {
	const wide = 13
	word := "  " + t.w.Say("mark."+mark)
	word += strings.Repeat(" ", max(1, wide-utf8.RuneCountInString(word)))
	t.wrap(word, strings.Repeat(" ", wide), says)
}

// wrap writes text in lines of at most width columns, the first one after first,
// the others after next.
func (t *text) wrap(first, next, says string) {
	b := &t.b
	at := utf8.RuneCountInString(first)
	b.WriteString(first)
	fresh := true
	for _, w := range strings.Fields(says) {
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
