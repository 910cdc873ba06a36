package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/diagnose/report"
	"crankbay/scenarios/collect"
	"crankbay/web/strings/words"
)

// print prints everything that was asked for; what does not hold is said on standard
// error besides.
func (o *verifying) print(c *cobra.Command, rows []handed) error {
	out := c.OutOrStdout()
	for _, h := range rows {
		if h.Error != "" {
			fmt.Fprintf(c.ErrOrStderr(), "crankbay: %s\n", oneLine(h.Error))
		}
	}
	switch {
	case o.asJSON:
		return writeJSON(out, rows)
	case o.asCSV:
		return collect.WriteCSV(out, rowsOf(rows))
	case o.reports:
		return o.writeReports(out, rows)
	}
	return o.writeTable(out, rows)
}

func (o *verifying) writeReports(w io.Writer, rows []handed) error {
	first := true
	for _, h := range rows {
		if !h.Holds || h.Error != "" && h.Grade == nil {
			continue
		}
		if !first {
			fmt.Fprintln(w)
		}
		first = false
		if err := writeReport(w, h, o.words); err != nil {
			return err
		}
	}
	return nil
}

func writeReport(w io.Writer, h handed, lang words.Words) error {
	who := oneLine(h.Who)
	if who == "" {
		who = lang.Say("collect.nobody")
	}
	mode := h.Mode
	if lang.Has("mode." + mode) {
		mode = lang.Say("mode." + mode)
	}
	say := func(key string, params ...any) { fmt.Fprintln(w, lang.Say(key, params...)) }
	say("report.replay", "name", oneLine(h.File), "marks", h.Marks)
	say("report.who", "scenario", h.Scenario, "who", who, "mode", mode, "actions", h.Actions, "minutes", fmt.Sprintf("%.0f", h.Minutes))
	if !h.HandedIn {
		say("report.open")
	}
	if !h.OK {
		fmt.Fprintln(w, oneLine(strings.TrimPrefix(h.Error, h.File+": ")))
	}
	if len(h.Tags) > 0 {
		say("report.tags", "list", oneLine(strings.Join(h.Tags, "; ")))
	}
	if h.Extra != 0 {
		say("report.extra", "n", h.Extra)
	}
	if h.Grader != 0 {
		say("report.grader", "version", h.Grader)
	}
	if h.Grade.Library != "" {
		say("report.library", "library", h.Grade.Library)
	}
	fmt.Fprintf(w, "\n%s", report.Text(*h.Grade, lang))
	if h.Debrief == nil {
		return nil
	}
	return writeDebrief(w, h.Debrief, lang)
}

// writeTable prints a class: one line each, then what it comes to.
func (o *verifying) writeTable(w io.Writer, rows []handed) error {
	t := table{head: []string{"student", "result", "points", "passed", "file", "remark"}}
	for _, h := range rows {
		points, passed := "", ""
		if h.Holds {
			points, passed = fmt.Sprintf("%.0f %%", h.Percent), "no"
			if h.Pass {
				passed = "yes"
			}
		}
		t.add(oneLine(nameOf(h.Row)), plainWords(h.Status), points, passed, oneLine(h.File), oneLine(remark(h.Row)))
	}
	if err := t.write(w); err != nil {
		return err
	}
	p := o.collector.Picture(rowsOf(rows))
	if c := o.collector.Class(); c != nil && len(c.Tags) > 0 {
		fmt.Fprintf(w, "\nTasks, as the instructor names them: %s (simulated)\n", oneLine(strings.Join(c.Tags, "; ")))
	}
	fmt.Fprintf(w, "\n%s, %s, %d passed, %.0f %% of the points on average (simulated)\n", some(p.HandIns, "hand-in", "hand-ins"), some(p.Graded, "holds", "hold"), p.Passed, p.Mean)
	if len(p.Missing) > 0 {
		fmt.Fprintf(w, "Nothing of their own yet: %s\n", oneLine(strings.Join(p.Missing, ", ")))
	}
	if len(p.Missteps) == 0 {
		return nil
	}
	said, err := words.For("en")
	if err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat went wrong, most frequent first")
	for _, m := range p.Missteps {
		fmt.Fprintf(w, "  %3d  %s\n", m.N, said.Say("misstep."+m.Key))
	}
	return nil
}

// some counts things.
func some(n int, one, other string) string {
	if n == 1 {
		other = one
	}
	return fmt.Sprintf("%d %s", n, other)
}

func rowsOf(rows []handed) []collect.Row {
	out := make([]collect.Row, len(rows))
	for i := range rows {
		out[i] = rows[i].Row
	}
	return out
}

func nameOf(r collect.Row) string {
	if r.Student != "" {
		return r.Student
	}
	if r.Who != "" {
		return r.Who
	}
	return "?"
}

// whyNot says what bars a pass that the points alone would give.
func whyNot(r collect.Row) (why []string) {
	if r.Grade == nil || r.Pass {
		return nil
	}
	for _, g := range r.Grade.Gates {
		if !g.Passed {
			why = append(why, "unsafe: "+plainWords(strings.TrimPrefix(g.Rule, "gate_")))
		}
	}
	for _, name := range r.Grade.Low {
		why = append(why, "too little in "+plainWords(name))
	}
	return why
}

// remark is what else there is to know of a row.
func remark(r collect.Row) string {
	var all []string
	switch r.Status {
	case collect.StatusDiffers, collect.StatusImpossible:
		all = append(all, fmt.Sprintf("from tick %d", r.Tick))
	case collect.StatusOther, collect.StatusNotOnRoster:
		all = append(all, "engine of "+r.Owner)
	case collect.StatusVersion, collect.StatusChanged:
		all = append(all, fmt.Sprintf("%s %s, here %s", r.What, r.Then, r.Now))
	case collect.StatusWrongMode:
		all = append(all, r.Then+" instead of "+r.Now)
	}
	all = append(all, whyNot(r)...)
	if r.Extra > 0 {
		all = append(all, fmt.Sprintf("extra time %d %%", r.Extra))
	}
	if r.Again > 0 {
		all = append(all, fmt.Sprintf("hand-in %d", r.Again))
	}
	if r.SameAs != "" {
		all = append(all, "same log as "+r.SameAs)
	}
	return strings.Join(all, ", ")
}
