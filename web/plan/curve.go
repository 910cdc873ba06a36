package plan

import "math"

// steps returns into how many straight pieces a Bézier curve is cut: enough that
// no corner shows at this size.
func steps(a, b, c, d Point) int {
	length := dist(a, b) + dist(b, c) + dist(c, d)
	return int(math.Max(4, math.Min(64, 1.2*math.Sqrt(length)+2)))
}

// arcSteps is the same for an arc of radius r px through an angle.
func arcSteps(r, angle float64) int {
	return int(math.Max(2, math.Min(160, math.Abs(angle)*(1.3*math.Sqrt(math.Max(r, 0))+0.9))))
}

func bezier(a, b, c, d Point, t float64) Point {
	u := 1 - t
	p, q, r, s := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{p*a.X + q*b.X + r*c.X + s*d.X, p*a.Y + q*b.Y + r*c.Y + s*d.Y}
}

// dist uses Sqrt, not Hypot: no length here overflows, and it is drawn per point.
func dist(a, b Point) float64 {
	x, y := a.X-b.X, a.Y-b.Y
	return math.Sqrt(x*x + y*y)
}

// hatch rules the inside of an outline, given in local coordinates, with
// parallel lines: cut metal, as on any section drawing. It counts crossings, so
// the outline may be concave.
func (l *List) hatch(outline []Point, gap, angle float64, s Style) {
	sin, cos := math.Sincos(angle)
	l.turned = l.turned[:0]
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		q := Point{p.X*cos + p.Y*sin, p.Y*cos - p.X*sin}
		l.turned = append(l.turned, q)
		low, high = math.Min(low, q.Y), math.Max(high, q.Y)
	}
	if !(gap > 0) || high-low > 4000*gap {
		return
	}
	for y := (math.Floor(low/gap) + 0.5) * gap; y < high; y += gap {
		l.cuts = crossings(l.cuts[:0], l.turned, y)
		cuts := l.cuts
		for i := 0; i+1 < len(cuts); i += 2 {
			l.line(cuts[i]*cos-y*sin, cuts[i]*sin+y*cos, cuts[i+1]*cos-y*sin, cuts[i+1]*sin+y*cos, s)
		}
	}
}

// crossings appends to xs where the level y crosses the outline, in rising order.
func crossings(xs []float64, outline []Point, y float64) []float64 {
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if (p.Y <= y) == (q.Y <= y) {
			continue
		}
		x := p.X + (q.X-p.X)*(y-p.Y)/(q.Y-p.Y)
		at := len(xs)
		for at > 0 && xs[at-1] > x {
			at--
		}
		xs = append(xs, 0)
		copy(xs[at+1:], xs[at:])
		xs[at] = x
	}
	return xs
}

func clamp(x, low, high float64) float64 {
	if !(x > low) { // NaN included
		return low
	}
	return math.Min(x, high)
}
