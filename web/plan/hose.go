package plan

import "math"

// halo is the strip of sheet colour left free where one line passes over others.
func halo(s Style) Style {
	s.Line, s.Width = Sheet, s.Width+4
	return s
}

// hose returns the way of the hose as cubic curves: from the gauge, up between
// engine and dial, over the engine, down into a well. Without a well it hangs.
func (p *Plan) hose(cylinder int) []Point {
	f, b := &p.frame, p.body
	start := f.hoseEnd()
	gap := f.dial.X - f.radius // left edge of the dial
	well, k := b.well(cylinder)
	if f.noDial {
		return f.hoseFromAbove(well, k != nil, b.pitch)
	}
	if k == nil {
		end, peg := f.hangEnd(), f.peg()
		side := (gap + peg.X + peg.W) / 2
		return []Point{start, {start.X, start.Y + 0.62*f.stem}, {side, start.Y + 0.6*f.stem}, {side, start.Y - 0.5*f.radius},
			{side, peg.Y + 0.4*f.radius}, {peg.Right(), peg.Y + 0.3*f.radius}, {peg.Right(), peg.Y + peg.W/2},
			{peg.Right(), peg.Y - peg.W/6}, {peg.X, peg.Y - peg.W/6}, {peg.X, peg.Y + peg.W/2},
			{peg.X, peg.Y + 0.3*f.radius}, {end.X, end.Y - 0.3*f.radius}, end}
	}
	side := math.Min(gap-0.04*f.radius, math.Max(b.right+0.25*b.pitch, gap-0.35*f.radius))
	if f.section.Right() > 0 && f.section.Y < f.dial.Y { // a section stands between engine and dial
		side = gap - 0.04*f.radius
	}
	low := Point{side, start.Y - 0.5*f.radius}
	high := math.Max(5, math.Min(k.top-b.coil-0.25*b.pitch, f.engine.Y*0.35))
	reach := math.Max(0.3*b.pitch, math.Min(0.42*(side-well.X), 2.2*b.pitch))
	top := Point{math.Max(well.X+0.15*b.pitch, side-reach), high}
	drop := well.Y - high
	return []Point{start, {start.X, start.Y + 0.62*f.stem}, {side + 0.02*f.radius, start.Y + 0.5*f.stem}, low,
		{side - 0.05*f.radius, low.Y - 0.7*(low.Y-high)}, {side - 0.2*reach, high}, top,
		{well.X + 0.1*b.pitch, high}, {well.X, high + 0.1*drop}, {well.X, well.Y}}
}

// hoseFromAbove is the way of a hose whose gauge is shown above the surface.
func (f *frame) hoseFromAbove(well Point, fitted bool, pitch float64) []Point {
	if !fitted {
		x := f.engine.Right() - 0.3*pitch
		return []Point{{x, 0}, {x, 0.03 * f.h}, {x + 2, 0.06 * f.h}, {x + 2, 0.1 * f.h}}
	}
	x := well.X + 0.9*pitch
	return []Point{{x, 0}, {x, 0.35 * well.Y}, {well.X, 0.1 * well.Y}, {well.X, well.Y}}
}

// hangEnd is where the adapter of an unused hose hangs.
func (f *frame) hangEnd() Point {
	k := f.peg()
	return Point{k.X - 2, k.Y + math.Max(0.6*f.radius, touch)}
}

// peg is where an unused hose hangs between engine and dial: the box of its bend.
func (f *frame) peg() Rect {
	w := clamp(0.16*f.radius, 10, 30)
	return Rect{f.dial.X - f.radius - 1.75*w, f.margin + 0.2*f.radius, w, w}
}

// drawHose draws the hose along its way, and the fitting at its end.
func (p *Plan) drawHose(l *List, cylinder int) {
	way := p.hose(cylinder)
	end := way[len(way)-1]
	k := clamp(0.01*p.body.pitch, 0.3, 1.4)
	if way[len(way)-1].Y -= 3 * k; p.key.gauged > 0 { // it ends in the top of its fitting
		way[len(way)-1].Y -= 30 * k
	}
	s := Style{Line: Ink, Width: 6, Round: true}
	for _, style := range []Style{halo(s), s, {Line: Ink2, Width: 1.4}} {
		l.move(way[0].X, way[0].Y)
		for i := 1; i+2 < len(way); i += 3 {
			l.curve(way[i].X, way[i].Y, way[i+1].X, way[i+1].Y, way[i+2].X, way[i+2].Y)
		}
		l.open(style)
	}
	if _, bank := p.body.well(cylinder); bank == nil {
		if p.frame.noDial {
			p.drawAdapter(l, end, k, true)
			return
		}
		peg := p.frame.peg()
		l.disc(peg.X+peg.W/2, peg.Y+0.62*peg.W, 0.3*peg.W, steelStyle)
		p.drawAdapter(l, end, k, true)
		return
	}
	p.drawAdapter(l, end, k, false)
}

// drawAdapter draws the hose's fitting with its thread (in sight or screwed in).
func (p *Plan) drawAdapter(l *List, at Point, k float64, thread bool) {
	y := at.Y
	if !thread {
		y -= 30 * k
	}
	l.box(at.X-9*k, y-4*k, 18*k, 18*k, 1, steelStyle)
	l.line(at.X-3*k, y-4*k, at.X-3*k, y+14*k, fineStyle)
	l.line(at.X+4*k, y-4*k, at.X+4*k, y+14*k, fineStyle)
	l.box(at.X-6*k, y+14*k, 12*k, 16*k, 0, darkStyle)
	if !thread {
		return
	}
	for i := range 3 {
		ty := y + (18+4*float64(i))*k
		l.line(at.X-6*k, ty+1, at.X+6*k, ty-1, fineStyle)
	}
}
