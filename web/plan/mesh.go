package plan

import "math"

// A Vertex is one corner of a triangle on the surface [device px] with a colour
// that is not multiplied by its alpha, each part in [0, 1].
type Vertex struct{ X, Y, R, G, B, A float32 }

// A Mesh is a display list as triangles. Edges are soft by one device pixel, so
// no multisampling is needed. Reset keeps the memory.
type Mesh struct {
	Vertices []Vertex
	Indices  []uint32
	outline  []Point
	ring     []int
	normals  []Point
}

// Reset empties the mesh.
func (m *Mesh) Reset() { m.Vertices, m.Indices = m.Vertices[:0], m.Indices[:0] }

// Add appends a list, scale device pixels per CSS pixel.
func (m *Mesh) Add(l *List, colours *Palette, scale float64) {
	for _, s := range l.Shapes {
		m.trace(l, s, scale)
		if len(m.outline) < 2 {
			continue
		}
		if s.Fill != None {
			m.fill(inkOf(colours[s.Fill], s.Alpha))
		}
		if s.Line != None && s.Width > 0 {
			m.stroke(s.Closed, s.Round, s.Width*scale, inkOf(colours[s.Line], 1))
		}
	}
}

// ink is a colour in parts of one.
type ink struct{ r, g, b, alpha float32 }

func inkOf(c RGB, alpha float64) ink {
	return ink{float32(c.R) / 255, float32(c.G) / 255, float32(c.B) / 255, float32(alpha)}
}

// trace puts the outline of s into m.outline, in device pixels, without points
// that fall onto each other.
func (m *Mesh) trace(l *List, s Shape, scale float64) {
	m.outline = m.outline[:0]
	if s.Radius > 0 {
		n := arcSteps(s.Radius*scale, 2*math.Pi)
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			m.outline = append(m.outline, Point{(s.Center.X + s.Radius*cos) * scale, (s.Center.Y + s.Radius*sin) * scale})
		}
		return
	}
	const same = 0.02 // device px
	for _, p := range l.Points(s) {
		q := Point{p.X * scale, p.Y * scale}
		if n := len(m.outline); n == 0 || dist(m.outline[n-1], q) > same {
			m.outline = append(m.outline, q)
		}
	}
	if n := len(m.outline); s.Closed && n > 2 && dist(m.outline[0], m.outline[n-1]) <= same {
		m.outline = m.outline[:n-1]
	}
}

func (m *Mesh) vertex(x, y float64, c ink, share float32) uint32 {
	m.Vertices = append(m.Vertices, Vertex{float32(x), float32(y), c.r, c.g, c.b, c.alpha * share})
	return uint32(len(m.Vertices) - 1)
}

func (m *Mesh) triangle(a, b, c uint32) { m.Indices = append(m.Indices, a, b, c) }

func (m *Mesh) quad(a, b, c, d uint32) { m.Indices = append(m.Indices, a, b, c, a, c, d) }

// fill covers the outline and adds a fringe that fades out over one pixel,
// half of it inside the true edge.
func (m *Mesh) fill(c ink) {
	n := len(m.outline)
	if n < 3 {
		return
	}
	m.orient()
	m.miters()
	first := uint32(len(m.Vertices))
	for i, p := range m.outline {
		d := m.normals[i]
		m.vertex(p.X-0.5*d.X, p.Y-0.5*d.Y, c, 1)
		m.vertex(p.X+0.5*d.X, p.Y+0.5*d.Y, c, 0)
	}
	m.ears(first)
	for i := range uint32(n) {
		j := (i + 1) % uint32(n)
		m.quad(first+2*i, first+2*i+1, first+2*j+1, first+2*j)
	}
}

// orient turns the outline so that its area is positive (clockwise on screen).
func (m *Mesh) orient() {
	if area(m.outline) >= 0 {
		return
	}
	for i, j := 0, len(m.outline)-1; i < j; i, j = i+1, j-1 {
		m.outline[i], m.outline[j] = m.outline[j], m.outline[i]
	}
}

func area(ps []Point) float64 {
	sum := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// miters puts into m.normals, for a closed outline of positive area, how far a
// corner moves outwards when every edge moves out by one pixel.
func (m *Mesh) miters() {
	m.normals = m.normals[:0]
	n := len(m.outline)
	for i, p := range m.outline {
		a := normal(m.outline[(i+n-1)%n], p)
		b := normal(p, m.outline[(i+1)%n])
		m.normals = append(m.normals, miter(a, b))
	}
}

// normal is the unit vector square to the way from p to q, on its left as seen
// on the screen, which is outside for an outline of positive area.
func normal(p, q Point) Point {
	d := dist(p, q)
	if d == 0 {
		return Point{}
	}
	return Point{(q.Y - p.Y) / d, (p.X - q.X) / d}
}

// miter joins two unit normals; the corner's reach is held to three.
func miter(a, b Point) Point {
	x, y := a.X+b.X, a.Y+b.Y
	d := (x*x + y*y) / 2
	if d < 1e-9 {
		return a
	}
	k := 1 / d
	if reach := k * math.Hypot(x, y); reach > 3 {
		k *= 3 / reach
	}
	return Point{x * k, y * k}
}

// ears cuts the outline, whose vertices are first, first+2, ..., into triangles.
func (m *Mesh) ears(first uint32) {
	m.ring = m.ring[:0]
	for i := range m.outline {
		m.ring = append(m.ring, i)
	}
	idle := 0
	for i := 0; len(m.ring) > 3 && idle <= len(m.ring); {
		n := len(m.ring)
		i %= n
		a, b, c := m.ring[(i+n-1)%n], m.ring[i], m.ring[(i+1)%n]
		if !m.ear(a, b, c) {
			i, idle = i+1, idle+1
			continue
		}
		m.triangle(first+2*uint32(a), first+2*uint32(b), first+2*uint32(c))
		m.ring = append(m.ring[:i], m.ring[i+1:]...)
		idle = 0
	}
	// What is left is a triangle, or a sliver that crosses itself: a fan does.
	for i := 1; i+1 < len(m.ring); i++ {
		m.triangle(first+2*uint32(m.ring[0]), first+2*uint32(m.ring[i]), first+2*uint32(m.ring[i+1]))
	}
}

// ear reports whether the corner a, b, c bulges out and holds no other corner.
func (m *Mesh) ear(a, b, c int) bool {
	p, q, r := m.outline[a], m.outline[b], m.outline[c]
	if cross(p, q, r) <= 0 {
		return false
	}
	for _, k := range m.ring {
		if k == a || k == b || k == c {
			continue
		}
		if s := m.outline[k]; cross(p, q, s) >= 0 && cross(q, r, s) >= 0 && cross(r, p, s) >= 0 {
			return false
		}
	}
	return true
}

func cross(a, b, c Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
