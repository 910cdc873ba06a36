package plan

import "math"

// section is the selected cylinder cut across the crank, seen from the front,
// drawn in mm: origin where bore axis and deck meet, y down. Intake is on the
// left, exhaust on the right.
type section struct {
	at     Rect
	scale  float64 // px per mm
	x, y   float64 // origin on the surface
	bore   float64 // mm, this and the next four
	throw  float64
	rod    float64
	deck   float64 // crank axis below the deck
	foot   float64 // where the picture is cut off
	full   bool    // down to the crank
	tilt   float64 // of the valves from the bore's axis [rad]
	roof   float64 // height of the chamber [mm]
	single bool    // one cam in the block: rockers instead of cams
}

// Shape of a head that fits any engine of this size, in bores.
const (
	crownHeight = 0.40 // piston crown above the pin
	headAbove   = 1.36 // top of the cams above the deck
	sideways    = 1.12 // half width of the picture
)

func newSection(s *Spec, at Rect) *section {
	e := &s.EngineSpec
	c := &section{at: at, bore: e.BoreMM, throw: e.StrokeMM / 2, rod: e.RodMM, tilt: 0.33, roof: 0.15 * e.BoreMM}
	if e.Cams == "block" {
		c.tilt, c.roof, c.single = 0.0, 0.09*e.BoreMM, true
	}
	c.deck = c.throw + c.rod + crownHeight*c.bore
	whole := c.deck + c.throw + 0.34*c.bore
	c.foot = whole
	room := (at.H - 8) / at.W
	// A flat picture leaves the crank out rather than shrink the valves.
	if high := headAbove*c.bore + whole; high/(2*sideways*c.bore) > 1.25*room {
		c.foot = math.Max(2*c.throw+0.78*c.bore, math.Min(whole, 1.25*room*2*sideways*c.bore-headAbove*c.bore))
	}
	c.full = c.foot >= whole
	if !c.full {
		c.foot = math.Min(c.foot, c.deck-0.3*c.bore)
	}
	high := headAbove*c.bore + c.foot
	c.scale = math.Min(at.W/(2*sideways*c.bore), (at.H-8)/high)
	c.x, c.y = at.X+at.W/2, at.Y+4+headAbove*c.bore*c.scale
	return c
}

func (c *section) enter(l *List) { l.place(c.x, c.y, c.scale, 0) }

// valve returns the middle of a valve's seat and the direction of its stem, up.
// side is −1 for intake, +1 for exhaust.
func (c *section) valve(side float64) (seat, up Point) {
	s, k := math.Sincos(c.tilt)
	seat = Point{side * 0.245 * c.bore, -0.5 * c.roof}
	if c.single {
		seat.Y = -c.roof
	}
	return seat, Point{side * s, -k}
}

func (c *section) valveRadius() float64 { return 0.19 * c.bore }

// drawStill draws what is cut and does not move: block, head, ports, plug.
func (c *section) drawStill(l *List, cylinder, plug int) {
	c.enter(l)
	c.drawWalls(l)
	c.drawCasting(l)
	for _, side := range []float64{-1, 1} {
		c.drawPort(l, side)
	}
	c.drawChamber(l)
	c.drawWell(l, plug)
	l.plain()
	r := clamp(0.055*c.at.W, 8, 15)
	at := Point{math.Max(c.at.X+r+1, c.x-1.02*c.bore*c.scale-r), c.at.Y + r + 2}
	l.disc(at.X, at.Y, r, sheetStyle)
	l.text(itoa(cylinder), at.X, at.Y, 0.95*r, 1.6, Ink)
}

// outline of one cut wall of the block, right side; mirrored for the left.
func (c *section) wall(side float64) (inner, outer []Point) {
	b := c.bore / 2
	skirt := math.Min(2*c.throw+0.62*c.bore, c.foot)
	m := func(x, y float64) Point { return Point{side * x, y} }
	inner = []Point{m(b, 0), m(b+0.075*c.bore, 0), m(b+0.075*c.bore, 0.72*skirt), m(b+0.2*c.bore, 0.8*skirt), m(b+0.2*c.bore, 0.9*skirt), m(b+0.06*c.bore, skirt), m(b, skirt)}
	outer = []Point{m(b+0.2*c.bore, 0), m(b+0.28*c.bore, 0), m(b+0.28*c.bore, 0.86*skirt)}
	if c.full {
		wide := math.Max(c.throw+0.42*c.bore, b+0.34*c.bore)
		outer = append(outer, m(wide+0.06*c.bore, c.deck-0.3*c.bore), m(wide+0.06*c.bore, c.foot), m(wide, c.foot), m(wide, c.deck-0.24*c.bore))
	}
	outer = append(outer, m(b+0.2*c.bore, 0.9*skirt))
	return inner, outer
}

func (c *section) drawWalls(l *List) {
	for _, side := range []float64{-1, 1} {
		inner, outer := c.wall(side)
		for _, o := range [][]Point{inner, outer} {
			c.cut(l, o, Tint)
		}
	}
}

// cut fills an outline and rules it as cut metal.
func (c *section) cut(l *List, o []Point, tone Tone) {
	trace(l, o).shut(Style{Fill: tone})
	l.hatch(o, math.Max(5/c.scale, 0.045*c.bore), -math.Pi/4, Style{Line: Ink2, Width: 0.7})
	trace(l, o).shut(Style{Line: Ink, Width: 1.4})
}

func trace(l *List, o []Point) *List {
	l.move(o[0].X, o[0].Y)
	for _, p := range o[1:] {
		l.to(p.X, p.Y)
	}
	return l
}

// drawCasting draws the head as one cut casting.
func (c *section) drawCasting(l *List) {
	w, b := 0.86*c.bore, c.bore
	top := -0.78 * b
	o := []Point{{-w, -0.02 * b}, {-w, -0.66 * b}, {-w + 0.12*b, top}, {-0.24 * b, top}, {-0.2 * b, -0.7 * b}, {0.2 * b, -0.7 * b}, {0.24 * b, top}, {w - 0.12*b, top}, {w, -0.66 * b}, {w, -0.02 * b}}
	c.cut(l, o, Tint2)
	l.line(-w, 0, w, 0, Style{Line: Ink, Width: 2.6}) // gasket
}

// port returns the middle line of a port: from the seat up the stem and out.
func (c *section) port(side float64) [4]Point {
	seat, up := c.valve(side)
	b := c.bore
	return [4]Point{seat, {seat.X + 0.3*b*up.X, seat.Y + 0.3*b*up.Y}, {side * 0.52 * b, -0.47 * b}, {side * 1.0 * b, -0.5 * b}}
}

func (c *section) drawPort(l *List, side float64) {
	q := c.port(side)
	wide := 2 * 0.86 * c.valveRadius() * c.scale
	for _, s := range []Style{{Line: Ink, Width: wide + 3*l.Weight, Exact: true}, {Line: Sheet, Width: wide, Exact: true}} {
		l.move(q[0].X, q[0].Y).curve(q[1].X, q[1].Y, q[2].X, q[2].Y, q[3].X, q[3].Y).open(s)
	}
	// the cut end of the runner
	l.line(q[3].X, q[3].Y-wide/2/c.scale, q[3].X, q[3].Y+wide/2/c.scale, Style{Line: Sheet, Width: 2})
}

// roofline is the chamber's upper edge from left to right.
func (c *section) roofline() []Point {
	b := c.bore / 2
	if c.single {
		return []Point{{-b, 0}, {-b + 0.05*c.bore, -c.roof}, {b - 0.05*c.bore, -c.roof}, {b, 0}}
	}
	return []Point{{-b, 0}, {-0.04 * c.bore, -c.roof}, {0.04 * c.bore, -c.roof}, {b, 0}}
}

func (c *section) drawChamber(l *List) {
	o := c.roofline()
	trace(l, o).shut(Style{Fill: Sheet})
	trace(l, o).open(Style{Line: Ink, Width: 1.4})
	// the ports open into the chamber
	for _, side := range []float64{-1, 1} {
		seat, up := c.valve(side)
		r := 0.84 * c.valveRadius()
		l.line(seat.X-r*up.Y*-1, seat.Y-r*up.X, seat.X+r*up.Y*-1, seat.Y+r*up.X, Style{Line: Sheet, Width: 2.4})
	}
}

// drawWell draws the plug's channel with plug, adapter or nothing in it.
func (c *section) drawWell(l *List, plug int) {
	b := c.bore
	w, top := 0.085*b, -1.0*b
	if c.single {
		top = -0.72 * b
	}
	l.box(-w, top, 2*w, -c.roof-top+0.5, 0, Style{Fill: Sheet, Line: Ink, Width: 1.2})
	l.line(-0.75*w, -c.roof, 0.75*w, -c.roof, Style{Line: Sheet, Width: 2.4})
	long := 0.62 * b
	switch plug {
	case plugIn:
		l.place(c.x, c.y+(-c.roof-0.33*long)*c.scale, long*c.scale/100, 0)
		drawPlug(l)
	case plugGauge, plugTester:
		l.box(-0.75*w, -c.roof-0.22*b, 1.5*w, 0.22*b, 0, darkStyle)
		l.box(-0.98*w, -c.roof-0.36*b, 1.96*w, 0.14*b, 0, steelStyle)
		l.move(0, -c.roof-0.36*b).to(0, top-0.12*b).open(Style{Line: Ink, Width: 6})
		l.move(-0.05*b, top-0.09*b).to(0.05*b, top-0.15*b).open(Style{Line: Sheet, Width: 2})
	}
	c.enter(l)
}
