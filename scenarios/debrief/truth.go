package debrief

import (
	"crankbay/diagnose"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A Reading holds one reading against what there was: what the student wrote, what
// the dial showed, what was in the hose, what the cylinder reached, and what the test
// by the card gives without any error of an instrument. Pressures are Pa gauge.
type Reading struct {
	Cylinder     int      `json:"cylinder"`
	Wet          bool     `json:"wet"`
	Run          int      `json:"run"`           // the deciding one by its ID, 0 when it was never taken
	WrittenFirst *float64 `json:"written_first"` // null when nothing was written
	Written      *float64 `json:"written"`
	ShownFirst   float64  `json:"shown_first"` // as a person reads the dial
	Shown        float64  `json:"shown"`
	Needle       float64  `json:"needle"` // where it stood, unrounded
	Hose         float64  `json:"hose"`   // the gas behind it
	Peak         float64  `json:"peak"`   // the highest in the cylinder
	BookFirst    float64  `json:"book_first"`
	Book         float64  `json:"book"`
	Faults       []string `json:"faults"` // what the grader found wrong with how it was taken
}

// readings holds every cylinder against the book, dry and then wet where a wet test
// was done.
func readings(v attempt.Report, right standard, runs []Run) []Reading {
	out := []Reading{}
	sheet, rec := v.Session.Sheet(), v.Session.Record()
	for i, s := range v.Grade.Readings {
		if i >= len(right.dry) {
			break
		}
		r := Reading{Cylinder: s.Cylinder, Faults: s.Faults, WrittenFirst: written(sheet, diagnose.FieldDryFirst, s.Cylinder),
			Written: written(sheet, diagnose.FieldDryLast, s.Cylinder)}
		r.take(gauged(rec, s.DryRun), runs)
		r.hold(right.dry[i])
		out = append(out, r)
	}
	for i, s := range v.Grade.Readings {
		if !s.WetValid || i >= len(right.wet) {
			continue
		}
		r := Reading{Cylinder: s.Cylinder, Wet: true, Faults: s.WetFaults, WrittenFirst: written(sheet, diagnose.FieldWetFirst, s.Cylinder),
			Written: written(sheet, diagnose.FieldWetLast, s.Cylinder)}
		r.take(gauged(rec, s.WetRun), runs)
		r.hold(right.wet[i])
		out = append(out, r)
	}
	return out
}

// gauged returns the nth run with a gauge on a cylinder, from 1; nil when there is
// none.
func gauged(rec record.Record, n int) *record.Run {
	for i := range rec.Runs {
		if rec.Runs[i].Cylinder == 0 {
			continue
		}
		if n--; n == 0 {
			return &rec.Runs[i]
		}
	}
	return nil
}

// take fills in what a run showed.
func (r *Reading) take(run *record.Run, runs []Run) {
	if run == nil || len(run.Strokes) == 0 {
		return
	}
	e := ends(*run)
	r.Run, r.ShownFirst, r.Shown, r.Needle, r.Hose = run.ID, e.first.Shown, e.last.Shown, e.last.Needle, e.last.True
	for _, x := range runs {
		if x.ID == run.ID {
			r.Peak = x.PeakPa
		}
	}
}

// hold fills in what the book says.
func (r *Reading) hold(b book.Reading) {
	r.BookFirst, r.Book = float64(unit.PSI(b.FirstPSI)), float64(unit.PSI(b.FinalPSI))
}

// written returns the number of a field, nil when nothing stands there.
func written(s diagnose.Sheet, field string, cylinder int) *float64 {
	for _, e := range s.Entries {
		if e.Field == field && e.Cylinder == cylinder {
			n := e.Number
			return &n
		}
	}
	return nil
}

// seen makes readings of the book what a limit rule looks at.
func seen(list []book.Reading) []diagnose.Seen {
	var out []diagnose.Seen
	for _, r := range list {
		out = append(out, diagnose.Seen{
			Cylinder: r.Cylinder, Valid: true, DryFirst: unit.PSI(r.FirstPSI), DryLast: unit.PSI(r.FinalPSI), Strokes: r.Strokes,
		})
	}
	return out
}
