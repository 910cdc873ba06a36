package diagnose

import (
	"math"
	"slices"

	"crankbay/sim/record"
)

// Grade judges one attempt. The same input gives the same result, bit for bit,
// on every machine; it never panics, whatever the input holds.
func Grade(in Input) Result {
	c := open(in)
	r := Result{
		PassMark: PassMark, RowMark: RowMark, Low: []string{}, Gates: c.gates(), Mode: in.Mode, Hints: max(0, in.Hints),
		Rules: in.Card.Limits.Verdicts(c.all.Seen), Readings: c.all.Seen,
	}
	if r.Readings == nil {
		r.Readings = []Seen{}
	}
	weights := in.Weights
	if weights.Validate() != nil {
		weights = DefaultWeights()
	}
	table := ruleTable()
	for _, name := range RowNames() {
		row := c.row(table, name, weights.of(name))
		r.Points += row.Points
		r.OutOf += row.OutOf
		r.Rows = append(r.Rows, row)
		if row.Points < rounded(RowMark*row.OutOf) {
			r.Low = append(r.Low, name)
		}
	}
	r.Points = rounded(r.Points)
	r.Pass = r.Points >= rounded(PassMark*r.OutOf) && len(r.Low) == 0
	for _, g := range r.Gates {
		r.Pass = r.Pass && g.Passed
	}
	return r
}

// open gathers everything the rules look at.
func open(in Input) *court {
	page := in.Card.Limits.readable()
	in.Card.Limits = page.AtAltitude(in.Ambient)
	c := &court{in: in, n: bounded(in.Cylinders), t: timelineOf(in.Record), page: page}
	for _, r := range in.Record.Runs {
		c.runs = append(c.runs, readable(r))
	}
	for _, e := range in.Sheet.Entries {
		if finite(e.Number) && slices.Contains(Fields(), e.Field) {
			c.entry = append(c.entry, e)
		}
	}
	until := latest(in.Record)
	c.all = Gather(in.Card, in.Cylinders, in.Banks, in.Record, until)
	switch i := c.t.last(kindFinding, "", 0); {
	case len(in.Sheet.Findings) == 0:
		c.known = c.all
	case i >= 0 && c.t.at(i).tick == in.Sheet.ConcludedTick:
		c.known = c.knownAt(i)
	default: // a log without its sheet
		c.known = Gather(in.Card, in.Cylinders, in.Banks, in.Record, in.Sheet.ConcludedTick)
	}
	c.j = c.judge(c.known)
	c.dry = c.judge(c.known.gaugeOnly())
	c.claim = c.claimsOf()
	return c
}

// knownAt returns what could be known when event i happened.
func (c *court) knownAt(i int) Evidence {
	return gatherTo(c.in.Card, c.in.Cylinders, c.in.Banks, c.in.Record, c.t, c.t.at(i).tick, i)
}

// judge reads the pattern against the limits of the day. Readings that are right for
// the thin air of a high place point to the altitude, and at sea level nothing does.
func (c *court) judge(e Evidence) Judgement {
	j := Judge(e, c.in.Card.Limits, c.oil())
	if !c.in.Card.LashCheck { // nobody is sent to measure what this engine sets by itself
		j.Next = slices.DeleteFunc(j.Next, func(test string) bool { return test == "lash" })
	}
	if c.in.Ambient <= 0 {
		return j
	}
	switch {
	case c.in.Ambient > lowland:
		j.Open = against(j.Open, hint{family: FamilyAltitude})
	case j.Pattern == PatternWithin:
		j.Supported = append(j.Supported, Finding{Family: FamilyAltitude})
	}
	return j
}

// lowland is an air pressure that takes less than 4 % off a reading [Pa]: 97 kPa,
// some 370 m up by the standard atmosphere.
const lowland = 97e3

// latest returns the last moment of a record.
func latest(rec record.Record) int64 {
	t := rec.Tick
	for _, r := range rec.Runs {
		t = max(t, r.EndTick)
	}
	for _, l := range rec.Leaks {
		t = max(t, l.Tick)
	}
	for _, p := range rec.Pumped {
		t = max(t, p.Tick)
	}
	return t
}

// gaugeOnly returns the evidence as if no other test than the dry one had been made.
func (e Evidence) gaugeOnly() Evidence {
	seen := append([]Seen(nil), e.Seen...)
	for i := range seen {
		seen[i].WetValid, seen[i].WetGain, seen[i].WetRun = false, 0, 0
	}
	e.Seen, e.Confirmed = seen, Confirmed{}
	return e
}

func (w Weights) of(row string) float64 {
	switch row {
	case RowPrepare:
		return w.Prepare
	case RowMeasure:
		return w.Measure
	case RowRecord:
		return w.Record
	case RowChoose:
		return w.Choose
	}
	return w.Conclude
}

// A said is one line before it is scaled to its row.
type said struct {
	line        Line
	share, part float64
	lost, most  float64 // what it takes off the whole row
}

// row lets every rule of a row that applies have its say and scales their shares
// to the row's points.
func (c *court) row(table []rule, name string, outOf float64) Row {
	row := Row{Name: name, OutOf: outOf, Lines: []Line{}}
	list := c.says(table, name)
	total := 0.0
	for _, s := range list {
		total += s.share
	}
	for _, s := range list {
		l := s.line
		l.OutOf = rounded(outOf * s.share / total)
		points := float64(outOf * s.share / total * s.part)
		l.Points = rounded(points)
		row.Lines = append(row.Lines, l)
		row.Points += points
	}
	// Summed before rounding, so that full marks are full marks.
	row.Points = rounded(row.cut(list, min(row.Points, outOf)))
	return row
}

// cut takes off what some lines cost the whole row, whatever its other lines earned, and
// returns what is left. Such a line has the loss as its points, below nothing.
func (r *Row) cut(list []said, points float64) float64 {
	for i, s := range list {
		off := min(points, float64(r.OutOf*s.lost))
		if s.most > 0 {
			off = max(off, points-float64(r.OutOf*s.most))
		}
		if off <= 0 {
			continue
		}
		r.Lines[i].Points = -rounded(off)
		points -= off
	}
	return points
}

// says collects the lines of a row: those of the rules that apply, then those of
// another judge.
func (c *court) says(table []rule, name string) []said {
	var out []said
	for _, r := range table {
		if r.row != name {
			continue
		}
		v := r.judge(c)
		if v.na {
			continue
		}
		part := max(0, min(clean(v.part), 1))
		out = append(out, said{Line{
			Rule: r.name, Passed: part == 1 || v.kept, Never: v.never, Tick: v.at.tick, Minutes: clean(v.at.minutes), Cylinder: v.cyl,
			Facts: append([]Fact{}, v.facts...),
		}, r.share, part, max(0, min(clean(v.lost), 1)), max(0, min(clean(v.most), 1))})
	}
	for _, o := range c.in.Opinion {
		if o.Row == name {
			out = append(out, said{Line{
				Rule: o.Rule, Passed: o.Passed, Never: name == RowConclude && len(c.claim) == 0, Tick: o.Tick, Minutes: clean(o.Minutes), Cylinder: o.Cylinder,
				Facts: append([]Fact{}, o.Facts...),
			}, max(0, min(clean(o.Share), mostShare)), max(0, min(clean(o.Part), 1)), 0, 0})
		}
	}
	return out
}

// mostShare is as much as an opinion can weigh in its row.
const mostShare = 20

// rounded cuts points to hundredths: nobody is graded on a last bit.
func rounded(v float64) float64 {
	if v < 0 {
		return 0
	}
	return math.Floor(float64(v*100)+0.5) / 100
}
