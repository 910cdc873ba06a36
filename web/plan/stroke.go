package plan

import "math"

// sharp is the cosine of the turn beyond which two pieces of a line are drawn
// apart instead of being mitred.
const sharp = -0.2

// stroke draws m.outline as a line of a width in device pixels: four vertices
// across, full ink in the middle, fading to nothing half a pixel beyond each edge.
func (m *Mesh) stroke(closed, round bool, width float64, c ink) {
	full := width/2 - 0.5
	if full < 0 { // thinner than a pixel: paler instead
		c.alpha *= float32(math.Max(width, 0.3))
		full = 0
	}
	s := strip{mesh: m, full: full, soft: full + 1, ink: c}
	if full == 0 {
		s.soft = 1
	}
	n := len(m.outline)
	if !closed {
		s.run(m.outline, round)
		return
	}
	if start := m.corner(); start >= 0 {
		// Sharp corner somewhere: begin and end there.
		loop := make([]Point, 0, n+1)
		for i := range n + 1 {
			loop = append(loop, m.outline[(start+i)%n])
		}
		s.run(loop, true)
		return
	}
	s.loop(m.outline)
}

// corner returns the index of a sharp corner of the closed outline, or -1.
func (m *Mesh) corner() int {
	n := len(m.outline)
	for i, p := range m.outline {
		if turns(m.outline[(i+n-1)%n], p, m.outline[(i+1)%n]) {
			return i
		}
	}
	return -1
}

func turns(a, b, c Point) bool {
	p, q := normal(a, b), normal(b, c)
	return p.X*q.X+p.Y*q.Y < sharp
}

// A strip is a line being drawn.
type strip struct {
	mesh *Mesh
	full float64 // half width with full ink
	soft float64 // half width where the ink has faded
	ink  ink
	last uint32 // first of the four vertices across at the last point
}

// across puts four vertices at p along d, a mitred normal.
func (s *strip) across(p, d Point, share float32) uint32 {
	first := s.mesh.vertex(p.X+d.X*s.soft, p.Y+d.Y*s.soft, s.ink, 0)
	s.mesh.vertex(p.X+d.X*s.full, p.Y+d.Y*s.full, s.ink, share)
	s.mesh.vertex(p.X-d.X*s.full, p.Y-d.Y*s.full, s.ink, share)
	s.mesh.vertex(p.X-d.X*s.soft, p.Y-d.Y*s.soft, s.ink, 0)
	return first
}

func (s *strip) join(next uint32) {
	for k := range uint32(3) {
		s.mesh.quad(s.last+k, s.last+k+1, next+k+1, next+k)
	}
	s.last = next
}

func (s *strip) loop(ps []Point) {
	n := len(ps)
	first := uint32(0)
	for i, p := range ps {
		d := miter(normal(ps[(i+n-1)%n], p), normal(p, ps[(i+1)%n]))
		at := s.across(p, d, 1)
		if i == 0 {
			first, s.last = at, at
			continue
		}
		s.join(at)
	}
	s.join(first)
}

// run draws an open line; it lifts the pen at sharp corners.
func (s *strip) run(ps []Point, round bool) {
	n := len(ps)
	if n < 2 {
		return
	}
	s.start(ps[0], normal(ps[0], ps[1]), round)
	for i := 1; i < n-1; i++ {
		a, b := normal(ps[i-1], ps[i]), normal(ps[i], ps[i+1])
		if turns(ps[i-1], ps[i], ps[i+1]) {
			s.end(ps[i], a, true)
			s.start(ps[i], b, true)
			continue
		}
		s.join(s.across(ps[i], miter(a, b), 1))
	}
	s.end(ps[n-1], normal(ps[n-2], ps[n-1]), round)
}

func (s *strip) start(p, d Point, round bool) {
	if round {
		s.last = s.across(p, d, 1)
		s.cap(p, Point{-d.X, -d.Y})
		return
	}
	back := Point{d.Y, -d.X} // against the way of the line
	s.last = s.across(Point{p.X + 0.5*back.X, p.Y + 0.5*back.Y}, d, 0)
	s.join(s.across(Point{p.X - 0.5*back.X, p.Y - 0.5*back.Y}, d, 1))
}

func (s *strip) end(p, d Point, round bool) {
	if round {
		s.join(s.across(p, d, 1))
		s.cap(p, d)
		return
	}
	back := Point{d.Y, -d.X}
	s.join(s.across(Point{p.X + 0.5*back.X, p.Y + 0.5*back.Y}, d, 1))
	s.join(s.across(Point{p.X - 0.5*back.X, p.Y - 0.5*back.Y}, d, 0))
}

// cap draws the half disc at an end; d is the normal on the left of the way out.
func (s *strip) cap(p, d Point) {
	m := s.mesh
	n := int(math.Max(3, math.Min(16, 2+1.5*math.Sqrt(s.soft))))
	from := math.Atan2(d.Y, d.X)
	center := m.vertex(p.X, p.Y, s.ink, 1)
	var inner, outer uint32
	for i := range n + 1 {
		sin, cos := math.Sincos(from + math.Pi*float64(i)/float64(n))
		a := m.vertex(p.X+s.full*cos, p.Y+s.full*sin, s.ink, 1)
		b := m.vertex(p.X+s.soft*cos, p.Y+s.soft*sin, s.ink, 0)
		if i > 0 {
			m.triangle(center, inner, a)
			m.quad(inner, outer, b, a)
		}
		inner, outer = a, b
	}
}
