//go:build !js

package plots

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// grid is a faint line at every number of the vertical axis.
type grid struct{}

// Plot draws it.
func (grid) Plot(c draw.Canvas, p *plot.Plot) {
	_, y := p.Transforms(&c)
	for _, t := range p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max) {
		if at := y(t.Value); at > c.Min.Y+0.5 {
			c.StrokeLine2(draw.LineStyle{Color: Faint, Width: 0.8}, c.Min.X, at, c.Max.X, at)
		}
	}
}

// curve draws one line.
type curve struct{ Line }

// Plot draws it, cut off at the edges and without points that can't be seen.
func (l curve) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	points := make([]vg.Point, len(l.X))
	for i := range points {
		points[i] = vg.Point{X: x(l.X[i]), Y: y(l.Y[i])}
	}
	pen := draw.LineStyle{Color: l.Tone, Width: 1.5}
	switch l.Tone {
	case Red:
		pen.Width = 2.4
	case Quiet:
		pen.Width = 1.2
	}
	if l.Dashed {
		pen.Dashes = []vg.Length{6, 4}
	}
	if !l.Bare {
		for _, part := range c.ClipLinesXY(thin(points)) {
			c.StrokeLines(pen, part)
		}
	}
	if l.Dots || l.Bare {
		for _, at := range points {
			if c.Contains(at) {
				c.DrawGlyph(draw.GlyphStyle{Color: l.Tone, Radius: 3.2, Shape: draw.CircleGlyph{}}, at)
			}
		}
	}
}

// marks are words above points.
type marks []Mark

// Plot writes them, in the middle over their point.
func (ms marks) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for _, m := range ms {
		s := style(m.Tone, textSize)
		c.FillText(s, vg.Point{X: x(m.X) - s.Width(m.Text)/2, Y: y(m.Y) + 4}, m.Text)
	}
}

// seen is the least distance that shows [pt].
const seen = 0.12

// thin leaves out points that lie closer than can be seen to the line between
// those that stay (Douglas and Peucker's way).
func thin(points []vg.Point) []vg.Point {
	if len(points) < 3 {
		return points
	}
	keep := make([]bool, len(points))
	keep[0], keep[len(points)-1] = true, true
	for parts := [][2]int{{0, len(points) - 1}}; len(parts) > 0; {
		part := parts[len(parts)-1]
		parts = parts[:len(parts)-1]
		far, at := vg.Length(seen), 0
		for i := part[0] + 1; i < part[1]; i++ {
			if d := distance(points[i], points[part[0]], points[part[1]]); d > far {
				far, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			parts = append(parts, [2]int{part[0], at}, [2]int{at, part[1]})
		}
	}
	var out []vg.Point
	for i, k := range keep {
		if k {
			out = append(out, points[i])
		}
	}
	return out
}

// distance is that of p from the stretch between a and b.
func distance(p, a, b vg.Point) vg.Length {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	px, py := float64(p.X-a.X), float64(p.Y-a.Y)
	along := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		along = min(max((px*dx+py*dy)/length, 0), 1)
	}
	return vg.Length(math.Hypot(px-along*dx, py-along*dy))
}
