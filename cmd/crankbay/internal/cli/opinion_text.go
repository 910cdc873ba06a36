package cli

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/opinion"
)

// opinion writes the whole answer: what it comes to first, what it rests on after.
func (w *advice) opinion(out io.Writer, o opinion.Opinion) error {
	if o.Readings.Unit != "" {
		w.unit = o.Readings.Unit
	}
	var b strings.Builder
	w.causes(&b, o)
	w.method(&b, o)
	w.next(&b, o)
	w.cautions(&b, o)
	w.limits(&b, o)
	w.understood(&b, o)
	wrapped(&b, "", w.Say("opinion.foot"))
	_, err := io.WriteString(out, b.String())
	return err
}

func heading(b *strings.Builder, text string) { b.WriteString(text + "\n") }

func (w *advice) causes(b *strings.Builder, o opinion.Opinion) {
	heading(b, w.Say("opinion.result"))
	if !o.Tells {
		wrapped(b, "  ", w.Say("opinion.notell")+" "+w.Say("opinion.notell.why"))
	}
	if o.Kept {
		wrapped(b, "  ", w.Say("opinion.kept"))
	}
	for i, c := range o.Causes {
		sure := w.Say("opinion.sure", "words", w.Say("opinion.words."+c.Words), "percent", percentOf(c.Probability))
		wrapped(b, fmt.Sprintf("  %d. ", i+1), w.what(c.Group, c.Cylinders)+": "+sure)
		w.cause(b, c)
	}
	if o.Rest >= 0.01 {
		wrapped(b, "  ", w.Say("opinion.rest", "percent", percentOf(o.Rest)))
	}
	if len(o.Alike) > 1 {
		var all []string
		for _, g := range o.Alike {
			all = append(all, w.Say("quote", "text", w.Say("family."+g)))
		}
		wrapped(b, "  ", w.Say("opinion.apart", "list", w.and(all)))
	}
	b.WriteByte('\n')
}

func (w *advice) cause(b *strings.Builder, c opinion.Cause) {
	const indent = "     "
	if len(c.Families) > 1 || len(c.Families) == 1 && c.Families[0].Family != c.Group {
		var shares []string
		for _, f := range c.Families {
			shares = append(shares, w.Say("opinion.share", "family", w.Say("opinion.family."+f.Family), "percent", percentOf(f.Probability)))
		}
		wrapped(b, indent, strings.Join(shares, "; "))
	}
	for _, side := range []struct {
		key  string
		list []string
	}{{"opinion.for", w.sayings(c, true)}, {"opinion.against", w.sayings(c, false)}} {
		if len(side.list) > 0 {
			wrapped(b, indent, w.Say(side.key)+": "+strings.Join(side.list, "; "))
		}
	}
	if c.Over != "" {
		wrapped(b, indent, w.Say("opinion.over", "family", w.Say("opinion.family."+c.Over), "percent", percentOf(c.OverShare)))
	}
}

func (w *advice) sayings(c opinion.Cause, forIt bool) []string {
	list := c.Against
	if forIt {
		list = c.For
	}
	var out []string
	for _, s := range list {
		out = append(out, w.says(s, len(c.Cylinders) > 0))
	}
	return out
}

func (w *advice) method(b *strings.Builder, o opinion.Opinion) {
	if len(o.Method) == 0 {
		return
	}
	heading(b, w.Say("opinion.method"))
	var unsaid []string
	for _, c := range o.Method {
		if c.State == opinion.StateUnknown {
			unsaid = append(unsaid, w.Say("opinion.unsaid."+c.Key))
			continue
		}
		wrapped(b, "  - ", w.Say("opinion.check."+c.Key, "place", w.place(c.Cylinders)))
	}
	if len(unsaid) > 0 {
		wrapped(b, "  - ", w.Say("opinion.method.unsaid", "list", w.and(unsaid)))
	}
	b.WriteByte('\n')
}

func (w *advice) next(b *strings.Builder, o opinion.Opinion) {
	heading(b, w.Say("opinion.next"))
	if len(o.Next) == 0 {
		wrapped(b, "  ", w.Say("opinion.next.none"))
	}
	a, z := "", ""
	if len(o.Between) == 2 {
		a, z = w.what(o.Between[0].Group, o.Between[0].Cylinders), w.what(o.Between[1].Group, o.Between[1].Cylinders)
	}
	if len(o.Next) > 0 && a != "" {
		wrapped(b, "  ", w.Say("opinion.next.between", "a", a, "b", z))
	}
	for i, n := range o.Next {
		name := w.Say("next." + n.Test)
		if len(n.Cylinders) > 0 {
			name = w.Say("opinion.at", "what", name, "place", w.place(n.Cylinders))
		}
		line := name + ": " +
			w.Say("opinion.next.line", "minutes", trimmed(n.Minutes, 0), "percent", percentOf(n.Settles))
		if a != "" {
			line += " " + w.Say("opinion.next."+n.Separates())
		}
		wrapped(b, fmt.Sprintf("  %d. ", i+1), line)
	}
	if len(o.Next) > 0 {
		wrapped(b, "  ", w.Say("opinion.next.bench"))
	}
	if o.Idle != "" && a != "" {
		wrapped(b, "  ", w.Say("opinion.next.idle", "test", w.Say("next."+o.Idle)))
	}
	b.WriteByte('\n')
}

func (w *advice) cautions(b *strings.Builder, o opinion.Opinion) {
	heading(b, w.Say("opinion.cautions"))
	for _, c := range o.Cautions {
		wrapped(b, "  ! ", w.Say("opinion.care."+c))
	}
	b.WriteByte('\n')
}

func (w *advice) limits(b *strings.Builder, o opinion.Opinion) {
	heading(b, w.Say("opinion.limits"))
	var known []diagnose.RuleVerdict
	tw := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\n", w.Say("opinion.limits.rule"), w.Say("opinion.limits.found"), w.Say("opinion.limits.asked"), w.Say("opinion.limits.says"))
	for _, v := range o.Limits {
		found, asked, says := "–", "–", w.Say("opinion.limits.none")
		if v.Known {
			known = append(known, v)
			found, asked = w.compared(v)
			says = w.Say("limit.outside")
			if v.Passed {
				says = w.Say("limit.within")
			}
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\n", w.rule(v.Rule), found, asked, says)
	}
	tw.Flush()
	if len(known) > 0 && known[0].Lowest != known[0].Highest {
		v := known[0]
		wrapped(b, "  ", w.Say("opinion.limits.pair", "low", strconv.Itoa(v.Lowest), "lowp", w.pressure(float64(v.Low)), "high", strconv.Itoa(v.Highest), "highp", w.pressure(float64(v.High))))
	}
	if o.Air < 0.995 || o.Air > 1.005 {
		wrapped(b, "  ", w.Say("opinion.air", "percent", fmt.Sprintf("%.0f", o.Air*100)))
	}
	wrapped(b, "  ", w.Say("opinion.limits.hint"))
	b.WriteByte('\n')
}

// rule names a limit rule to somebody who has no page of ours.
func (w *advice) rule(name string) string {
	if key := "opinion.rule." + name; w.Has(key) {
		return w.Say(key)
	}
	return w.Say("limit." + name)
}

// compared says what a rule compares with what.
func (w *advice) compared(v diagnose.RuleVerdict) (found, asked string) {
	switch v.Rule {
	case diagnose.RuleDifference, diagnose.RuleMinimum:
		return w.pressure(v.Value), w.pressure(v.Limit)
	}
	found, asked = fmt.Sprintf("%.0f %%", v.Value*100), fmt.Sprintf("%.0f %%", v.Limit*100)
	if v.Floor > 0 {
		found, asked = found+", "+w.pressure(float64(v.Low)), asked+", "+w.pressure(float64(v.Floor))
	}
	return found, asked
}

// understood shows the readings as they were taken, and what was guessed.
func (w *advice) understood(b *strings.Builder, o opinion.Opinion) {
	heading(b, w.Say("opinion.understood"))
	if o.Readings.Unit != "" {
		wrapped(b, "  ", w.Say("opinion.in_unit", "unit", o.Readings.Unit))
	}
	columns := shownColumns(w, o.Readings)
	tw := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(tw, "\t"+w.Say("opinion.column.cylinder")+"\t")
	for _, c := range columns {
		fmt.Fprint(tw, w.Say("opinion.column."+c.key)+"\t")
	}
	fmt.Fprintln(tw)
	for _, x := range o.Readings.Cylinders {
		fmt.Fprintf(tw, "\t%d\t", x.Number)
		for _, c := range columns {
			fmt.Fprint(tw, c.text(w, x)+"\t")
		}
		fmt.Fprintln(tw)
	}
	tw.Flush()
	for _, n := range o.Readings.Notes {
		wrapped(b, "  - ", w.note(n))
	}
	if given := w.given(o.Readings.Engine); len(given) > 0 {
		wrapped(b, "  - ", w.Say("opinion.given", "list", w.and(given)))
	}
	b.WriteByte('\n')
}

// An understoodColumn is a column of readings with what it shows.
type understoodColumn struct {
	key  string
	text func(*advice, intake.Cylinder) string
}

// shownColumns lists the columns that hold something.
func shownColumns(w *advice, r intake.Readings) []understoodColumn {
	pressure := func(of func(intake.Cylinder) *float64) func(*advice, intake.Cylinder) string {
		return func(w *advice, c intake.Cylinder) string {
			if v := of(c); v != nil {
				return trimmed(*v/intake.Pascal(w.unit), digitsOf(w.unit))
			}
			return "–"
		}
	}
	plain := func(digits int, of func(intake.Cylinder) *float64) func(*advice, intake.Cylinder) string {
		return func(_ *advice, c intake.Cylinder) string {
			if v := of(c); v != nil {
				return trimmed(*v, digits)
			}
			return "–"
		}
	}
	all := []understoodColumn{
		{"dry", pressure(func(c intake.Cylinder) *float64 { return c.Dry })},
		{"first", pressure(func(c intake.Cylinder) *float64 { return c.First })},
		{"repeat", repeats},
		{"wet", pressure(func(c intake.Cylinder) *float64 { return c.Wet })},
		{"wet_first", pressure(func(c intake.Cylinder) *float64 { return c.WetFirst })},
		{"second", pressure(func(c intake.Cylinder) *float64 { return c.Second })},
		{"refit", pressure(func(c intake.Cylinder) *float64 { return c.Refit })},
		{"leakage_percent", plain(0, func(c intake.Cylinder) *float64 { return c.Leakage })},
		{"heard", heardWords},
		{"hump", plain(0, func(c intake.Cylinder) *float64 { return c.Hump })},
		{"idle", pressure(func(c intake.Cylinder) *float64 { return c.Idle })},
		{"snap", pressure(func(c intake.Cylinder) *float64 { return c.Snap })},
		{"lash_intake", plain(2, func(c intake.Cylinder) *float64 { return c.LashIn })},
		{"lash_exhaust", plain(2, func(c intake.Cylinder) *float64 { return c.LashEx })},
		{"strokes", plain(0, func(c intake.Cylinder) *float64 { return c.Count })},
		{"rpm", plain(0, func(c intake.Cylinder) *float64 { return c.SpeedRPM })},
		{"volts", plain(1, func(c intake.Cylinder) *float64 { return c.BatteryV })},
		{"bore", func(_ *advice, c intake.Cylinder) string { return dashed(c.Bore) }},
		{"dead", func(_ *advice, c intake.Cylinder) string { return dashed(c.Dead) }},
		{"bank", func(_ *advice, c intake.Cylinder) string {
			return dashed(strings.TrimPrefix(strconv.Itoa(c.Bank), "0"))
		}},
	}
	var out []understoodColumn
	for _, s := range all {
		for _, c := range r.Cylinders {
			if s.text(w, c) != "–" {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

func dashed(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

func repeats(w *advice, c intake.Cylinder) string {
	var all []string
	for _, v := range c.Repeats {
		all = append(all, trimmed(v/intake.Pascal(w.unit), digitsOf(w.unit)))
	}
	return dashed(strings.Join(all, " "))
}

func heardWords(w *advice, c intake.Cylinder) string {
	var all []string
	for _, p := range c.Heard {
		all = append(all, w.Say("air."+p))
	}
	return dashed(strings.Join(all, ", "))
}

// given lists what was said about the whole engine, so that a slip is seen.
func (w *advice) given(e intake.Engine) []string {
	var out []string
	add := func(key, value string) {
		if value != "" {
			out = append(out, w.Say("opinion.given.one", "what", strings.Trim(w.Say(key), "¿?"), "value", value))
		}
	}
	number := func(v *float64, digits int, unit string) string {
		if v == nil {
			return ""
		}
		return trimmed(*v, digits) + unit
	}
	pressure := func(v *float64) string {
		if v == nil {
			return ""
		}
		return w.pressure(*v)
	}
	if e.Layout != "" {
		add("opinion.layout", w.Say("opinion.layout."+e.Layout))
	}
	add("opinion.ratio", number(e.Ratio, 2, ""))
	add("opinion.altitude", number(e.AltitudeM, 0, " m"))
	add("opinion.minimum", pressure(e.Minimum))
	add("opinion.standard", pressure(e.Standard))
	add("opinion.difference", pressure(e.Difference))
	add("opinion.rpm", number(e.SpeedRPM, 0, ""))
	add("opinion.volts", number(e.BatteryV, 1, ""))
	for _, a := range []struct{ key, answer string }{{"throttle", e.Throttle}, {"plugs", e.Plugs}, {"equal", e.Equal}, {"warm", e.Warm}, {"two-stroke", e.TwoStroke}} {
		if a.answer != "" {
			add("opinion.asked."+a.key, w.Say("opinion."+a.answer))
		}
	}
	for _, h := range e.History {
		out = append(out, w.Say("opinion.history."+h))
	}
	return out
}
