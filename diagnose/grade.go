package diagnose

import (
	"math"

	"crankbay/sim/record"
)

// Grade judges one attempt. The same input gives the same result, bit for bit,
// on every machine; it never panics, whatever the input holds.
func Grade(in Input) Result {
	c := open(in)
	r := Result{
		PassMark: PassMark, Gates: c.gates(), Mode: in.Mode, Hints: max(0, in.Hints),
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
	}
	r.Points = rounded(r.Points)
	r.Pass = r.Points >= rounded(PassMark*r.OutOf)
	for _, g := range r.Gates {
		r.Pass = r.Pass && g.Passed
	}
	return r
}

// open gathers everything the rules look at.
func open(in Input) *court {
	in.Card.Limits = in.Card.Limits.readable()
	c := &court{in: in, n: bounded(in.Cylinders), t: timelineOf(in.Record)}
	for _, r := range in.Record.Runs {
		c.runs = append(c.runs, readable(r))
	}
	for _, e := range in.Sheet.Entries {
		if finite(e.Number) && has(Fields(), e.Field) {
			c.entry = append(c.entry, e)
		}
	}
	until := latest(in.Record)
	c.all = Gather(in.Card, in.Cylinders, in.Banks, in.Record, until)
	if len(in.Sheet.Findings) > 0 {
		until = in.Sheet.ConcludedTick
	}
	c.known = Gather(in.Card, in.Cylinders, in.Banks, in.Record, until)
	c.j = Judge(c.known, in.Card.Limits, c.oil())
	c.dry = Judge(withoutOil(c.known), in.Card.Limits, c.oil())
	c.claim = c.claimsOf()
	return c
}

// latest returns the last moment of a record.
func latest(rec record.Record) int64 {
	t := rec.Tick
	for _, r := range rec.Runs {
		t = max(t, r.EndTick)
	}
	return t
}

// withoutOil returns the evidence as if no cylinder had been tested wet.
func withoutOil(e Evidence) Evidence {
	seen := append([]Seen(nil), e.Seen...)
	for i := range seen {
		seen[i].WetValid, seen[i].WetGain, seen[i].WetRun = false, 0, 0
	}
	e.Seen = seen
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

// row lets every rule of a row that applies have its say and scales their shares
// to the row's points.
func (c *court) row(table []rule, name string, outOf float64) Row {
	row := Row{Name: name, OutOf: outOf, Lines: []Line{}}
	var verdicts []verdict
	var shares []float64
	total := 0.0
	for _, r := range table {
		if r.row != name {
			continue
		}
		v := r.judge(c)
		if v.na {
			continue
		}
		verdicts, shares = append(verdicts, v), append(shares, r.share)
		total += r.share
		row.Lines = append(row.Lines, Line{Rule: r.name})
	}
	for i, v := range verdicts {
		l := &row.Lines[i]
		part := max(0, min(clean(v.part), 1))
		l.OutOf = rounded(outOf * shares[i] / total)
		points := float64(outOf * shares[i] / total * part)
		l.Points = rounded(points)
		l.Passed = part == 1 || v.kept
		l.Tick, l.Minutes, l.Cylinder = v.at.tick, clean(v.at.minutes), v.cyl
		l.Facts = append([]Fact{}, v.facts...)
		row.Points += points
	}
	// Summed before rounding, so that full marks are full marks.
	row.Points = rounded(min(row.Points, outOf))
	return row
}

// rounded cuts points to hundredths: nobody is graded on a last bit.
func rounded(v float64) float64 {
	if v < 0 {
		return 0
	}
	return math.Floor(float64(v*100)+0.5) / 100
}
