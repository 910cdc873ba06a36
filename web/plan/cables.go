package plan

import "math"

// drawCables draws what hangs on the battery: the thick cables to starter and
// ground, the charger's clamps, the leads of meter and remote switch.
func (p *Plan) drawCables(l *List) {
	b, t := p.body, &p.top
	minus, plus := posts(t.battery)
	_, stud := b.starterAt()
	lane := p.lane()
	thick := Style{Line: Go, Width: 4.5, Round: true}
	ground := Style{Line: Ink, Width: 4.5, Round: true}
	p.wire(l, thick, plus, lane[0], stud.Add(Point{-0.02 * b.pitch, 0.1 * b.pitch}), -1)
	lug := p.groundLug()
	q := 0.35 * (minus.Y - lug.Y)
	for _, s := range []Style{halo(ground), ground} {
		l.move(minus.X, minus.Y).curve(minus.X, minus.Y-q, lug.X-0.02*b.pitch, lug.Y+1.6*q, lug.X, lug.Y).open(s)
	}
	l.disc(lug.X, lug.Y, math.Max(3, 0.06*b.pitch), steelStyle)
	p.drawChargerLeads(l, minus, plus)
	p.drawSwitchLeads(l, plus, lane[1])
	for i, c := range []Point{minus, plus} {
		tone := []Tone{Ink, Go}[i]
		w := clamp(0.045*t.battery.W, 3, 7)
		l.box(c.X-1.4*w, c.Y-0.8*w, 2.8*w, 2*w, 2, Style{Fill: tone, Line: Ink, Width: 1.2})
	}
}

// lane returns the heights at which cables run between engine and tools.
func (p *Plan) lane() [2]float64 {
	y0, y1 := p.body.bottom, p.frame.tools.Y
	if p.top.battery.Y > y1 {
		y1 = p.top.battery.Y
	}
	return [2]float64{y0 + 0.38*(y1-y0), y0 + 0.72*(y1-y0)}
}

func (p *Plan) groundLug() Point {
	b := p.body
	k := b.banks[len(b.banks)-1]
	if !b.stacked {
		k = b.banks[0]
	}
	return Point{k.x + 0.22*b.pitch, b.crank - 0.02*b.block}
}

// wire draws a cable from a post up to the lane, along it, and up to its end.
// bend is the side on which it comes up, in pitches of its end.
func (p *Plan) wire(l *List, s Style, from Point, lane float64, to Point, bend float64) {
	r := math.Min(0.5*p.body.pitch, math.Max(8, 0.9*math.Abs(from.Y-lane)))
	x := to.X + bend*0.12*p.body.pitch
	r = math.Copysign(math.Min(r, 0.5*math.Abs(x-from.X)), x-from.X) // never back along the lane
	rise := math.Min(0.6*p.body.pitch, math.Abs(lane-to.Y))
	for _, style := range []Style{halo(s), s} {
		l.move(from.X, from.Y)
		l.curve(from.X, lane+0.2*(from.Y-lane), from.X+0.3*r, lane, from.X+r, lane)
		l.to(x-r, lane)
		l.curve(x-0.2*r, lane, x-0.05*r, lane-0.3*rise, x, lane-0.6*rise)
		l.curve(x+0.02*r, lane-0.8*rise, to.X, to.Y+0.3*rise, to.X, to.Y)
		l.open(style)
	}
}

func (p *Plan) drawChargerLeads(l *List, minus, plus Point) {
	from, live := chargerLeads(p.top.charger)
	for i, c := range []Point{minus, plus} {
		a, tone := from, Ink
		if i == 1 {
			a, tone = live, Go
		}
		s := Style{Line: tone, Width: 2.2, Round: true}
		if !p.spec.Charger {
			drawClampOnHandle(l, p.top.charger, a, i, s)
			continue
		}
		size := clamp(0.06*p.top.battery.W, 4, 8)
		end := Point{c.X + 0.4*size, c.Y - 1}
		turn := 0.5 + 0.35*float64(i)
		tail := polar(end, 1.9*size, turn)
		up := polar(end, (4.2-0.6*float64(i))*size, turn)
		high := math.Min(a.Y, tail.Y) - size*(3.2-1.4*float64(i))
		for _, style := range []Style{halo(s), s} {
			l.move(a.X, a.Y).curve(a.X, high, up.X+0.35*(a.X-up.X), high, tail.X, tail.Y).open(style)
		}
		drawClamp(l, end, size, turn, tone)
	}
}

// drawClampOnHandle hangs a free clamp onto the charger's handle.
func drawClampOnHandle(l *List, charger Rect, from Point, i int, s Style) {
	k := chargerBox(charger)
	size := 0.07 * k.W
	at := Point{k.X + (0.42+0.2*float64(i))*k.W, k.Y - 0.13*k.H}
	tail := Point{at.X - 0.3*size, at.Y - 1.8*size}
	l.move(from.X, from.Y).curve(from.X, from.Y-3*size, tail.X-2*size, tail.Y-1.5*size, tail.X, tail.Y).open(s)
	drawClamp(l, at, size, -0.16, s.Line)
}

// drawClamp draws a spring clamp whose jaws end at a point.
func drawClamp(l *List, at Point, size, turn float64, tone Tone) {
	l.place(at.X, at.Y, size, turn)
	l.move(-0.5, 0.5).to(-0.7, -0.6).to(-0.35, -1.9).to(0.35, -1.9).to(0.7, -0.6).to(0.5, 0.5).to(0.12, -0.4).to(-0.12, -0.4).shut(Style{Fill: tone, Line: Ink, Width: 1.1})
	l.plain()
}

func (p *Plan) drawSwitchLeads(l *List, plus Point, lane float64) {
	from := p.remoteTop()
	b := p.body
	_, stud := b.starterAt()
	s := Style{Line: Ink, Width: 1.8, Round: true}
	if p.spec.Switch == "key" {
		return
	}
	to := stud.Add(Point{0.5 * b.pitch, 0.25 * b.starterRadius()})
	for _, style := range []Style{halo(s), s} {
		l.move(from.X-3, from.Y).curve(from.X-4, lane+2, from.X-10, lane, from.X-24, lane)
		l.to(plus.X+30, lane).curve(plus.X+12, lane, plus.X+4, lane+4, plus.X+3, plus.Y).open(style)
	}
	p.wire(l, s, from.Add(Point{3, 0}), lane, to, 1)
}

// remoteBox returns the middle of the remote switch and its scale.
func (p *Plan) remoteBox() (Point, float64) {
	r := p.top.remote
	k := math.Min(r.H/214, r.W/114)
	return Point{r.X + r.W/2, r.Bottom() - 106*k}, k
}

// remoteTop is where the leads leave the remote switch.
func (p *Plan) remoteTop() Point {
	c, k := p.remoteBox()
	return Point{c.X, c.Y - 102*k}
}

// drawRemote draws the push button at the end of its leads, or the key in its
// lock; pressed while the starter is on.
func (p *Plan) drawRemote(l *List, on bool) {
	c, k := p.remoteBox()
	if p.spec.Switch == "key" {
		turn := 0.0
		if on {
			turn = 0.9
		}
		l.disc(c.X, c.Y, 54*k, darkStyle)
		l.disc(c.X, c.Y, 40*k, steelStyle)
		for i := range 3 {
			a, b := polar(c, 43*k, 0.9*float64(i-1)), polar(c, 51*k, 0.9*float64(i-1))
			l.line(a.X, a.Y, b.X, b.Y, Style{Line: Ink, Width: 1.6})
		}
		l.place(c.X, c.Y, 0.72*k, turn)
		l.box(-13, -58, 26, 116, 12, Style{Fill: Go, Line: Ink, Width: 1.5})
		l.disc(0, -40, 6, Style{Fill: Sheet, Line: Ink, Width: 1})
		l.plain()
		return
	}
	l.place(c.X, c.Y, k, 0)
	l.move(-12, -104).to(12, -104).to(16, -84).to(-16, -84).shut(Style{Fill: Ink})
	l.move(-38, -84).to(38, -84).curve(54, -84, 56, -70, 56, -56).to(50, 84).curve(49, 100, 40, 104, 28, 104)
	l.to(-28, 104).curve(-40, 104, -49, 100, -50, 84).to(-56, -56).curve(-56, -70, -54, -84, -38, -84).shut(castStyle)
	l.move(34, -80).curve(50, -80, 52, -68, 51, -56).to(46, 84).curve(45, 96, 38, 100, 30, 100).to(26, 100).to(34, -80).shut(shade)
	for i := range 4 {
		y := 42 + 14*float64(i)
		l.line(-32, y, 22, y, ribStyle)
	}
	l.disc(-4, -22, 38, Style{Fill: Sheet, Line: Ink, Width: 1.5})
	size := 31.0
	if on {
		size = 27
	}
	l.disc(-4, -22, size, Style{Fill: Go, Line: Ink, Width: 1.5})
	if on {
		l.disc(-4, -22, 20, Style{Line: Ink, Width: 1})
	}
	l.plain()
}
