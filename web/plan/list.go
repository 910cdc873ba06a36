package plan

import "math"

// A Point is a place on the surface [px].
type Point struct{ X, Y float64 }

// Add returns p moved by d.
func (p Point) Add(d Point) Point { return Point{p.X + d.X, p.Y + d.Y} }

// Towards returns the point a share t of the way from p to q.
func (p Point) Towards(q Point, t float64) Point {
	return Point{p.X + (q.X-p.X)*t, p.Y + (q.Y-p.Y)*t}
}

// A Rect is an upright box: left, top, width, height [px].
type Rect struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	W float64 `json:"w"`
	H float64 `json:"h"`
}

// Center returns the middle of r.
func (r Rect) Center() Point { return Point{r.X + r.W/2, r.Y + r.H/2} }

// Right returns the far edge across.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom returns the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Contains reports whether p lies in r, edges included.
func (r Rect) Contains(p Point) bool {
	return p.X >= r.X && p.X <= r.Right() && p.Y >= r.Y && p.Y <= r.Bottom()
}

// Overlaps reports whether r and q share more than an edge.
func (r Rect) Overlaps(q Rect) bool {
	const slack = 1e-6
	return r.X+slack < q.Right() && q.X+slack < r.Right() && r.Y+slack < q.Bottom() && q.Y+slack < r.Bottom()
}

// Inset returns r with d taken off every side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// A Style says how a shape is inked. A Tone of None leaves that part out.
type Style struct {
	Fill  Tone
	Alpha float64 // of the fill, (0, 1]; 0 means 1
	Line  Tone
	Width float64 // as on a plate 960 across
	Round bool    // round ends instead of cut ones
	Exact bool    // Width is in px and does not scale
}

// A Shape is one path or disc of a List, its points already on the surface.
type Shape struct {
	Style
	Closed bool
	Center Point   // of a disc
	Radius float64 // of a disc [px]; 0 for a path
	from   int
	to     int
}

// A List is a display list. Later shapes cover earlier ones. Reset keeps its
// memory, so a list that is filled every frame does not allocate.
type List struct {
	Shapes []Shape
	points []Point
	turned []Point   // scratch of hatch
	cuts   []float64 // likewise
	begin  int       // first point of the path being drawn
	at     matrix
	Weight float64 // px per unit of line weight
	Labels []Rect  // where numerals stand, for whoever must keep clear of them
}

// matrix maps local coordinates to the surface: scale and turn, then shift.
type matrix struct{ a, b, c, d, x, y float64 }

func (m matrix) apply(p Point) Point {
	return Point{m.a*p.X + m.c*p.Y + m.x, m.b*p.X + m.d*p.Y + m.y}
}

// Reset empties the list and returns to surface coordinates.
func (l *List) Reset() {
	l.Shapes, l.points, l.Labels, l.begin = l.Shapes[:0], l.points[:0], l.Labels[:0], 0
	l.plain()
}

// Points returns the outline of a path; it is empty for a disc.
func (l *List) Points(s Shape) []Point { return l.points[s.from:s.to] }

// plain makes local coordinates equal to the surface's.
func (l *List) plain() { l.at = matrix{a: 1, d: 1} }

// place makes (x, y) the local origin, turned by turn and scaled by scale.
func (l *List) place(x, y, scale, turn float64) {
	s, c := math.Sincos(turn)
	l.at = matrix{scale * c, scale * s, -scale * s, scale * c, x, y}
}

func (l *List) scale() float64 {
	if l.at == (matrix{}) {
		l.plain()
	}
	return math.Hypot(l.at.a, l.at.b)
}

// move starts a path.
func (l *List) move(x, y float64) *List {
	l.points = l.points[:l.begin]
	return l.to(x, y)
}

// to draws a straight line to (x, y).
func (l *List) to(x, y float64) *List {
	l.scale()
	l.points = append(l.points, l.at.apply(Point{x, y}))
	return l
}

// curve draws a cubic Bézier curve to (x, y).
func (l *List) curve(x1, y1, x2, y2, x, y float64) *List {
	if len(l.points) == l.begin {
		panic("plan: curve before move")
	}
	a, b := l.points[len(l.points)-1], l.at.apply(Point{x1, y1})
	c, d := l.at.apply(Point{x2, y2}), l.at.apply(Point{x, y})
	for i, n := 1, steps(a, b, c, d); i <= n; i++ {
		l.points = append(l.points, bezier(a, b, c, d, float64(i)/float64(n)))
	}
	return l
}

// arc draws round (x, y) from one angle to another; it joins by a straight line.
func (l *List) arc(x, y, r, from, to float64) *List {
	n := arcSteps(r*l.scale(), to-from)
	for i := 0; i <= n; i++ {
		s, c := math.Sincos(from + (to-from)*float64(i)/float64(n))
		l.to(x+r*c, y+r*s)
	}
	return l
}

// shut ends the path as a closed outline.
func (l *List) shut(s Style) { l.finish(s, true) }

// open ends the path as a line with two ends.
func (l *List) open(s Style) { l.finish(s, false) }

func (l *List) finish(s Style, closed bool) {
	if len(l.points)-l.begin >= 2 {
		l.Shapes = append(l.Shapes, Shape{Style: l.inked(s), Closed: closed, from: l.begin, to: len(l.points)})
	}
	l.begin = len(l.points)
}

func (l *List) inked(s Style) Style {
	if s.Alpha == 0 {
		s.Alpha = 1
	}
	if !s.Exact && l.Weight > 0 {
		s.Width *= l.Weight
	}
	s.Exact = true
	return s
}

// disc draws a circle.
func (l *List) disc(x, y, r float64, s Style) {
	k := l.scale()
	l.Shapes = append(l.Shapes, Shape{Style: l.inked(s), Closed: true, Center: l.at.apply(Point{x, y}), Radius: r * k, from: l.begin, to: l.begin})
}

// oval draws an ellipse with upright axes.
func (l *List) oval(x, y, rx, ry float64, s Style) {
	n := arcSteps(math.Max(rx, ry)*l.scale(), 2*math.Pi)
	l.points = l.points[:l.begin]
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		l.to(x+rx*cos, y+ry*sin)
	}
	l.shut(s)
}

// box draws an upright rectangle with corners of radius r.
func (l *List) box(x, y, w, h, r float64, s Style) {
	r = math.Min(r, math.Min(w, h)/2)
	if r <= 0 {
		l.move(x, y).to(x+w, y).to(x+w, y+h).to(x, y+h).shut(s)
		return
	}
	const q = math.Pi / 2
	l.move(x+r, y).arc(x+w-r, y+r, r, -q, 0).arc(x+w-r, y+h-r, r, 0, q)
	l.arc(x+r, y+h-r, r, q, 2*q).arc(x+r, y+r, r, 2*q, 3*q).shut(s)
}

// line draws one straight stroke.
func (l *List) line(x1, y1, x2, y2 float64, s Style) { l.move(x1, y1).to(x2, y2).open(s) }
