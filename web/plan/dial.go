package plan

import (
	"math"
	"strconv"
)

// pascalPerPSI is one pound-force per square inch [Pa].
const pascalPerPSI = 6894.757293168

// A Scale is the face of a gauge: plain marks from 0 to Range over three
// quarters of a turn, in the unit printed on it.
type Scale struct {
	Range      float64 // last mark
	Graduation float64 // from mark to mark
	Number     float64 // from numeral to numeral
	Middle     float64 // step of the longer marks between, 0 as usual
	Unit       string
	Reversed   bool // the last number is where the needle rests
}

// sweep is how far the needle turns from 0 to the last mark.
const sweep = 1.5 * math.Pi

// NewScale lays out a face for a range and a graduation in psi. Values that
// cannot be printed are replaced by 300 and 5.
func NewScale(rangePSI, graduationPSI float64) Scale {
	s := Scale{Range: within(rangePSI, 10, 2000, 300), Unit: "psi"}
	s.Graduation = within(graduationPSI, s.Range/200, s.Range/4, s.Range/60)
	for _, k := range []float64{2, 4, 5, 10, 20, 25, 50, 100} {
		s.Number = k * s.Graduation
		if n := s.Range / s.Number; n <= 8.01 && whole(n) && whole(s.Number) {
			break
		}
	}
	return s
}

func whole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-9 }

// Angle returns where the needle points for a value in the scale's unit:
// clockwise from straight up, −135° at zero (at the last number, if the scale is
// reversed: then value is what is left of it). Stop pins hold it just outside the
// scale.
func (s Scale) Angle(value float64) float64 {
	return sweep * (clamp(value/s.Range, -0.012, 1.03) - 0.5)
}

// A Mark is one line of a scale.
type Mark struct {
	Value   float64
	Angle   float64
	Rank    int    // 0 graduation, 1 between, 2 with a numeral
	Numeral string // for rank 2
}

// Marks returns all marks in rising order.
func (s Scale) Marks() []Mark {
	n := int(math.Floor(s.Range/s.Graduation + 1e-9))
	per := int(math.Max(1, math.Round(s.Number/s.Graduation)))
	marks := make([]Mark, 0, n+1)
	for i := 0; i <= n; i++ {
		v := float64(i) * s.Graduation
		m := Mark{Value: v, Angle: s.Angle(v)}
		if s.Reversed {
			m.Value = s.Range - v
		}
		switch {
		case i%per == 0:
			m.Rank, m.Numeral = 2, strconv.FormatFloat(m.Value, 'f', -1, 64)
		case s.Middle > 0 && whole(v/s.Middle), s.Middle == 0 && i%between(per) == 0:
			m.Rank = 1
		}
		marks = append(marks, m)
	}
	return marks
}

// between returns which of the graduations between two numerals get the middle
// length.
func between(per int) int {
	switch per {
	case 4, 10:
		return 2
	case 20, 25:
		return 5
	case 50, 100:
		return 10
	}
	return per
}

// polar returns the point at a distance from c in the direction of a dial angle.
func polar(c Point, r, angle float64) Point {
	s, k := math.Sincos(angle)
	return Point{c.X + r*s, c.Y - r*k}
}

// numeralsFrom is the radius below which a dial has marks alone: its numerals would
// be a blot [px].
const numeralsFrom = 40

// drawDial draws case, face, marks, numerals and unit.
func drawDial(l *List, c Point, r float64, s Scale) {
	l.disc(c.X, c.Y, r, Style{Fill: Tint2, Line: Ink, Width: 2})
	l.disc(c.X, c.Y, 0.93*r, Style{Fill: Sheet, Line: Ink, Width: 1})
	k := r / 150 // look of the marks as on a dial of 150
	fine := clamp(k, 0.55, 3) / clamp(l.Weight, 0.3, 10)
	for _, m := range s.Marks() {
		inner, width := 0.855, 0.8
		switch m.Rank {
		case 1:
			inner, width = 0.82, 1.3
		case 2:
			inner, width = 0.76, 2.4
		}
		if m.Rank == 0 && markGap(s, r) < 2.2 {
			continue // too close to tell apart at this size
		}
		a, b := polar(c, inner*r, m.Angle), polar(c, 0.9*r, m.Angle)
		l.line(a.X, a.Y, b.X, b.Y, Style{Line: Ink, Width: math.Max(width*fine, 0.7)})
		if m.Rank == 2 && r >= numeralsFrom {
			size := clamp(0.12*r, 8, 90)
			sin, cos := math.Sincos(m.Angle)
			reach := (math.Abs(sin)*textWidth(m.Numeral, size) + math.Abs(cos)*size) / 2
			at := polar(c, 0.715*r-reach, m.Angle)
			l.text(m.Numeral, at.X, at.Y, size, math.Max(0.115*size, 1.2)/clamp(l.Weight, 0.3, 10), Ink)
		}
	}
	if r < numeralsFrom {
		return
	}
	size := clamp(0.105*r, 7, 80)
	l.text(s.Unit, c.X, c.Y+0.5*r, size, math.Max(0.1*size, 1)/clamp(l.Weight, 0.3, 10), Ink2)
}

// drawPlace draws the place of a gauge that nobody has taken yet: a face without
// numerals, because they are those of the one that will be taken, and no needle.
func drawPlace(l *List, c Point, r float64) {
	l.disc(c.X, c.Y, r, Style{Line: Line, Width: 1.3})
	l.disc(c.X, c.Y, 0.93*r, Style{Line: Line, Width: 0.8})
	s := NewScale(300, 5)
	for _, m := range s.Marks() {
		inner, width := 0.82, 1.3
		switch m.Rank {
		case 0:
			continue
		case 2:
			inner, width = 0.76, 2.4
		}
		a, b := polar(c, inner*r, m.Angle), polar(c, 0.9*r, m.Angle)
		l.line(a.X, a.Y, b.X, b.Y, Style{Line: Line, Width: width})
	}
	l.disc(c.X, c.Y, 0.072*r, Style{Line: Line, Width: 1.3})
}

// markGap is how far apart neighbouring marks lie on the rim [px].
func markGap(s Scale, r float64) float64 { return 0.88 * r * sweep * s.Graduation / s.Range }

// drawNeedle draws the tapered needle with its counterweight.
func drawNeedle(l *List, c Point, r, angle float64) {
	l.place(c.X, c.Y, r, angle)
	l.move(-0.052, 0.2).curve(-0.06, 0.27, 0.06, 0.27, 0.052, 0.2).to(0.026, 0).to(0.0075, -0.84).to(-0.0075, -0.84).to(-0.026, 0).shut(Style{Fill: Go})
	l.disc(0, 0, 0.072, Style{Fill: Ink})
	l.disc(0, 0, 0.02, Style{Fill: Sheet})
	l.plain()
}

// drawStem draws the gauge's neck with the release beside it.
func (f *frame) drawStem(l *List) {
	x, y, w := f.dial.X, f.dial.Y+f.radius-1, clamp(0.085*f.radius, 5, 16)
	at := f.releaseAt()
	l.box(x-w, y, 2*w, 0.42*f.stem, 1, steelStyle)
	l.box(x-0.7*w, y+0.4*f.stem, 1.4*w, 0.36*f.stem, 1, darkStyle)
	l.box(x-w, y+0.74*f.stem, 2*w, 0.26*f.stem, 1, Style{Fill: Ink})
	l.box(x+0.7*w, at.Y-0.4*w, at.X-x-0.7*w, 0.8*w, 0, steelStyle)
	l.box(at.X-0.5*w, at.Y-0.8*w, 0.5*w, 1.6*w, 1, darkStyle)
}

// drawRelease draws the release's button, in or out.
func (f *frame) drawRelease(l *List, pressed bool) {
	at, w := f.releaseAt(), clamp(0.085*f.radius, 5, 16)
	long := 1.1 * w
	if pressed {
		long = 0.45 * w
	}
	l.box(at.X, at.Y-0.35*w, long, 0.7*w, 0, steelStyle)
	l.box(at.X+long, at.Y-0.75*w, 0.6*w, 1.5*w, 2, Style{Fill: Go, Line: Ink, Width: 1.2})
}

// releaseAt is where the release's button comes out.
func (f *frame) releaseAt() Point {
	w := clamp(0.085*f.radius, 5, 16)
	return Point{f.dial.X + 2.2*w, f.dial.Y + f.radius + 0.56*f.stem}
}

// hoseEnd is where the hose leaves the gauge.
func (f *frame) hoseEnd() Point { return Point{f.dial.X, f.dial.Y + f.radius + f.stem - 1} }
