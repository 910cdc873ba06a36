package intake

import (
	"math"
	"slices"
	"strings"
)

// settle finds the unit, turns everything into SI, refuses what no engine gives and
// puts the rest in its place.
func (p *parser) settle() (Readings, *Error) {
	r := Readings{}
	if err := p.unit(&r); err != nil {
		return r, err
	}
	if err := p.doubtful(); err != nil {
		return r, err
	}
	count, err := p.count()
	if err != nil {
		return r, err
	}
	for i := 1; i <= count; i++ {
		r.Cylinders = append(r.Cylinders, Cylinder{Number: i})
	}
	for _, x := range p.raws {
		if err := p.place(&r, x); err != nil {
			return r, err
		}
	}
	if err := p.finish(&r); err != nil {
		return r, err
	}
	r.Notes = p.notes
	if i := slices.IndexFunc(r.Notes, func(n Note) bool { return n.Key == NoteInOrder }); i >= 0 {
		r.Notes[i].Value = float64(count)
	}
	return r, nil
}

// count returns how many cylinders the engine has: what was said, or the highest
// number that was named.
func (p *parser) count() (int, *Error) {
	highest, said, readings := p.highest, 0, false
	var at place
	for _, x := range p.raws {
		highest = max(highest, x.cyl)
		readings = readings || x.f.each && x.f.kind != kindBank && x.f.kind != kindRemark
		switch x.f.kind {
		case kindCount:
			if x.f.name == "cylinders" {
				if !x.n.whole || x.n.v < 1 || x.n.v > MaxCylinders {
					return 0, outside(x, 1, MaxCylinders, "")
				}
				said, at = int(x.n.v), x.at
			}
		case kindBanks:
			highest = max(highest, len(numbersIn(x.text)))
		}
	}
	switch {
	case !readings:
		return 0, &Error{Key: ErrNothing}
	case said > 0 && said < highest:
		e := trouble(at, ErrTooMany, "")
		e.Low, e.High = float64(highest), float64(said)
		return 0, e
	}
	return max(highest, said, 1), nil
}

// place puts one thing where it belongs.
func (p *parser) place(r *Readings, x raw) *Error {
	switch x.f.kind {
	case kindUnit, kindBanks, kindOrder, kindCylinder:
		return nil // settled, or settled when all is known
	case kindWords, kindBank, kindBore, kindDead, kindAnswer, kindLayout, kindHistory:
		return p.placeWords(r, x)
	}
	if x.f.name == "cylinders" {
		return nil
	}
	v, err := p.inSI(r, x)
	if err != nil {
		return err
	}
	if x.cyl == 0 {
		if x.f.engine != nil {
			*x.f.engine(&r.Engine) = &v
			return nil
		}
		return p.forAll(r, x, v)
	}
	c := &r.Cylinders[x.cyl-1]
	switch {
	case x.f.name == "repeat":
		c.Repeats = append(c.Repeats, v)
	case x.f.name == "dry" && x.text != "":
		return c.stroke(x, v)
	default:
		*x.f.cell(c) = &v
	}
	return nil
}

// forAll gives every cylinder what was said for all: the count of strokes, which says
// too that they got as many each.
func (p *parser) forAll(r *Readings, x raw, v float64) *Error {
	for i := range r.Cylinders {
		if at := x.f.cell(&r.Cylinders[i]); *at == nil {
			*at = &v
		}
	}
	if r.Engine.Equal == Unknown {
		r.Engine.Equal = Yes
	}
	return nil
}

// stroke keeps the reading after one stroke.
func (c *Cylinder) stroke(x raw, v float64) *Error {
	n := strokeOf("stroke " + x.text)
	for len(c.Strokes) < n {
		c.Strokes = append(c.Strokes, math.NaN())
	}
	c.Strokes[n-1] = v
	return nil
}

// inSI returns the value in the unit of its field and refuses what can't be.
func (p *parser) inSI(r *Readings, x raw) (float64, *Error) {
	m, err := p.measureOf(r, x)
	if err != nil {
		return 0, err
	}
	v := x.n.v
	if x.n.alt > 0 && (m.name == KPa || x.f.kind == ofSpeed || x.f.kind == ofHeight && x.n.v < 9) {
		v = x.n.alt
		p.tell(Note{Key: NoteThousands, Line: x.at.line, Text: x.n.text})
	}
	if x.f.kind == kindCount && !x.n.whole {
		return 0, trouble(x.at, ErrNumber, x.n.text)
	}
	si := float64(v*m.scale) + m.shift
	if !(si >= x.f.low && si <= x.f.high) {
		return 0, outside(x, (x.f.low-m.shift)/m.scale, (x.f.high-m.shift)/m.scale, m.name)
	}
	return si, nil
}

// outside is the error of a value beyond what there can be.
func outside(x raw, low, high float64, unit string) *Error {
	e := trouble(x.at, ErrRange, x.n.text)
	e.Low, e.High, e.Unit = low, high, unit
	return e
}

// measureOf returns what a value is measured in.
func (p *parser) measureOf(r *Readings, x raw) (measure, *Error) {
	kind := x.f.kind
	if x.unit == "" {
		switch {
		case kind == ofPressure:
			return measure{r.Unit, ofPressure, Pascal(r.Unit), 0, false}, nil
		case kind == ofSuction:
			return measure{}, trouble(x.at, ErrUnitUnknown, x.n.text)
		}
		return measure{"", kind, 1, 0, false}, nil
	}
	m, ok := unitOf(x.unit)
	if !ok || m.of != kind && !(kind == ofSuction && m.of == ofPressure) {
		return m, trouble(x.at, ErrUnitUnknown, x.unit)
	}
	p.meant(m, x.unit)
	return m, nil
}

// finish fills in what follows from the rest and checks it.
func (p *parser) finish(r *Readings) *Error {
	for i := range r.Cylinders {
		c := &r.Cylinders[i]
		c.fromStrokes()
		if c.First != nil && c.Dry != nil && *c.First > *c.Dry*1.02 {
			return p.firstAbove(c.Number)
		}
		if c.WetFirst != nil && c.Wet != nil && *c.WetFirst > *c.Wet*1.02 {
			return p.firstAbove(c.Number)
		}
	}
	for _, x := range p.raws {
		var err *Error
		switch x.f.kind {
		case kindBanks:
			err = r.banks(x)
		case kindOrder:
			err = r.firing(x)
		}
		if err != nil {
			return err
		}
	}
	return p.bankMap(r)
}

// fromStrokes takes first and last reading from the strokes where nobody wrote them.
func (c *Cylinder) fromStrokes() {
	known := c.Strokes[:0]
	for i, v := range c.Strokes {
		v := v
		if math.IsNaN(v) {
			continue
		}
		if i == 0 && c.First == nil {
			c.First = &v
		}
		known = append(known, v)
	}
	c.Strokes = known
	if len(known) > 0 && c.Dry == nil {
		last := known[len(known)-1]
		c.Dry = &last
	}
}

func (p *parser) firstAbove(cyl int) *Error {
	for _, x := range p.raws {
		if x.cyl == cyl && (x.f.name == "first" || x.f.name == "wet_first" || x.f.name == "dry" && x.text != "") {
			return trouble(x.at, ErrFirstAbove, x.n.text)
		}
	}
	return trouble(place{}, ErrFirstAbove, "")
}

func numbersIn(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
}
