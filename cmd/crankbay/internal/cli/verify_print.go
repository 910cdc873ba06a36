package cli

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"crankbay/diagnose/report"
	"crankbay/scenarios/collect"
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
		return writeCSV(out, rows)
	case o.reports:
		return writeReports(out, rows)
	}
	return o.writeTable(out, rows)
}

func writeReports(w io.Writer, rows []handed) error {
	first := true
	for _, h := range rows {
		if !h.Holds || h.Error != "" && h.Grade == nil {
			continue
		}
		if !first {
			fmt.Fprintln(w)
		}
		first = false
		if err := writeReport(w, h); err != nil {
			return err
		}
	}
	return nil
}

func writeReport(w io.Writer, h handed) error {
	who := h.Who
	if who == "" {
		who = "no name given"
	}
	fmt.Fprintf(w, "%s: replay agrees at %d marks\n", h.File, h.Marks)
	fmt.Fprintf(w, "%s, %s, mode %s: %d actions, %.0f bench minutes\n", h.Scenario, oneLine(who), h.Mode, h.Actions, h.Minutes)
	if !h.HandedIn {
		fmt.Fprintln(w, "Not handed in yet; graded as it stands.")
	}
	if !h.OK {
		fmt.Fprintln(w, oneLine(strings.TrimPrefix(h.Error, h.File+": ")))
	}
	if h.Grader != 0 {
		fmt.Fprintf(w, "Graded by version %d of the grader then, by the present one now.\n", h.Grader)
	}
	fmt.Fprintf(w, "\n%s", report.Text(*h.Grade))
	if h.Debrief == nil {
		return nil
	}
	return writeDebrief(w, h.Debrief)
}

// writeTable prints a class: one line each, then what it comes to.
func (o *verifying) writeTable(w io.Writer, rows []handed) error {
	t := table{head: []string{"student", "result", "points", "passed", "file", "remark"}}
	plain := make([]collect.Row, len(rows))
	for i, h := range rows {
		plain[i] = h.Row
		points, passed := "", ""
		if h.Holds {
			points, passed = fmt.Sprintf("%.0f %%", h.Percent), "no"
			if h.Pass {
				passed = "yes"
			}
		}
		t.add(oneLine(nameOf(h.Row)), plainWords(h.Status), points, passed, h.File, oneLine(remark(h.Row)))
	}
	if err := t.write(w); err != nil {
		return err
	}
	p := o.collector.Picture(plain)
	fmt.Fprintf(w, "\n%d hand-ins, %d hold, %d passed, %.0f %% of the points on average (simulated)\n", p.HandIns, p.Graded, p.Passed, p.Mean)
	if len(p.Missing) > 0 {
		fmt.Fprintf(w, "Nothing of their own yet: %s\n", oneLine(strings.Join(p.Missing, ", ")))
	}
	if len(p.Missteps) == 0 {
		return nil
	}
	fmt.Fprintln(w, "\nWhat went wrong, most frequent first")
	for _, m := range p.Missteps {
		fmt.Fprintf(w, "  %3d  %s\n", m.N, plainWords(m.Key))
	}
	return nil
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
	if r.Again > 0 {
		all = append(all, fmt.Sprintf("hand-in %d", r.Again))
	}
	if r.SameAs != "" {
		all = append(all, "same log as "+r.SameAs)
	}
	return strings.Join(all, ", ")
}

// csvHead are the columns of --csv. New ones are added at the end.
var csvHead = []string{
	"student", "who", "status", "percent", "points", "out_of", "passed", "handed_in", "prepare", "measure", "record", "choose",
	"conclude", "hints", "minutes", "mode", "scenario", "owner", "tick", "hand_in", "same_as", "missteps", "file", "text",
}

// writeCSV prints a table that any spreadsheet or gradebook reads: UTF-8, commas,
// decimal points.
func writeCSV(w io.Writer, rows []handed) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvHead); err != nil {
		return err
	}
	for _, h := range rows {
		if err := out.Write(csvRow(h)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func csvRow(h handed) []string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	cells := []string{h.Student, h.Who, h.Status, "", "", "", "", strconv.FormatBool(h.HandedIn), "", "", "", "", "", "", "",
		h.Mode, h.Scenario, h.Owner, "", "", h.SameAs, strings.Join(h.Missteps, " "), h.File, h.Text}
	if g := h.Grade; g != nil {
		cells[3], cells[4], cells[5] = strconv.FormatFloat(h.Percent, 'f', 1, 64), number(round(g.Points)), number(round(g.OutOf))
		cells[6], cells[13], cells[14] = strconv.FormatBool(h.Pass), strconv.Itoa(g.Hints), strconv.FormatFloat(h.Minutes, 'f', 0, 64)
		for _, r := range g.Rows {
			for i, name := range csvHead {
				if name == r.Name {
					cells[i] = number(round(r.Points))
				}
			}
		}
	}
	if h.Tick != 0 {
		cells[18] = strconv.FormatInt(h.Tick, 10)
	}
	if h.Again != 0 {
		cells[19] = strconv.Itoa(h.Again)
	}
	for i := range cells {
		cells[i] = inert(cells[i])
	}
	return cells
}

func round(v float64) float64 { return math.Round(v*100) / 100 }

// inert keeps a spreadsheet from taking a name for a formula.
func inert(cell string) string {
	cell = oneLine(cell)
	if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		if _, err := strconv.ParseFloat(cell, 64); err != nil {
			return "'" + cell
		}
	}
	return cell
}
