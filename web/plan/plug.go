package plan

import "math"

// drawMouth draws the mouth of a plug hole and, when the plug is in, its coil or
// lead as it sits. state is one of wire's Plug values.
func (b *body) drawMouth(l *List, cylinder, state int, how coil) {
	at, k := b.well(cylinder)
	if k == nil {
		return
	}
	if b.onFace() {
		b.drawFaceMouth(l, at, k, state, how != coilOn)
		return
	}
	p := b.pitch
	l.oval(at.X, at.Y, 0.17*p, 0.34*b.band(), Style{Fill: Steel, Line: Ink, Width: 1.3})
	l.oval(at.X, at.Y, 0.11*p, 0.22*b.band(), holeStyle)
	switch {
	case state != plugIn:
	case how == coilOff: // the plug's head shows in its well
		l.box(at.X-0.045*p, at.Y-0.24*b.band(), 0.09*p, 0.36*b.band(), 1, Style{Fill: Sheet, Line: Ink, Width: 1.1})
		l.box(at.X-0.028*p, at.Y-0.4*b.band(), 0.056*p, 0.18*b.band(), 1, Style{Fill: Steel, Line: Ink, Width: 1})
	default:
		b.drawCoil(l, at, how == coilUnplugged)
	}
}

// drawCoil draws a coil standing in its well with its connector on or off.
func (b *body) drawCoil(l *List, at Point, unplugged bool) {
	p, h := b.pitch, 0.86*b.coil
	y := at.Y + 0.1*b.band()
	w := 0.34 * p
	l.box(at.X-0.1*p, y-0.3*h, 0.2*p, 0.3*h+0.04*p, 2, Style{Fill: Ink})
	l.box(at.X-w/2, y-h, w, 0.74*h, 3, castStyle)
	l.box(at.X+w*0.2, y-h+1, w*0.3-1, 0.74*h-2, 1, shade)
	l.disc(at.X-0.32*w, y-0.62*h, 0.035*p, Style{Fill: Ink2})
	x := at.X + w/2
	if unplugged {
		x += 0.09 * p
		l.box(at.X+w/2, y-0.78*h, 0.035*p, 0.3*h, 0, Style{Fill: Sheet, Line: Ink, Width: 1})
	}
	l.box(x, y-0.82*h, 0.12*p, 0.4*h, 1, Style{Fill: Ink2, Line: Ink, Width: 1})
	l.move(x+0.12*p, y-0.62*h).curve(x+0.2*p, y-0.62*h, x+0.2*p, y, x+0.26*p, y+0.2*b.band()).open(Style{Line: Ink, Width: 1.6})
}

// drawFaceMouth draws a plug in the side of the head and its lead.
func (b *body) drawFaceMouth(l *List, at Point, k *bank, state int, unplugged bool) {
	p := b.pitch
	r := math.Min(0.15*p, 0.2*b.head)
	l.disc(at.X, at.Y, r, steelStyle)
	coil := Point{at.X, k.top + 0.3*b.band()}
	l.box(coil.X-0.2*p, coil.Y-0.62*b.coil, 0.4*p, 0.62*b.coil+0.1*b.band(), 2, castStyle)
	l.box(coil.X+0.08*p, coil.Y-0.62*b.coil+1, 0.12*p-1, 0.62*b.coil, 1, shade)
	l.box(coil.X-0.07*p, coil.Y+0.1*b.band(), 0.14*p, 0.3*b.band(), 1, Style{Fill: Ink})
	lead := Style{Line: Ink, Width: 3, Round: true}
	from := Point{coil.X, coil.Y + 0.4*b.band()}
	if state == plugIn && !unplugged {
		l.disc(at.X, at.Y, 0.8*r, Style{Fill: Ink})
		l.disc(at.X, at.Y, 0.35*r, Style{Fill: Ink2})
		l.move(from.X, from.Y).curve(from.X+0.34*p, from.Y+0.2*b.cover, at.X+0.3*p, at.Y-0.4*b.cover, at.X+0.1*r, at.Y).open(lead)
		return
	}
	// the lead hangs beside its plug
	end := Point{at.X + 0.3*p, at.Y - 0.1*b.head}
	l.move(from.X, from.Y).curve(from.X+0.2*p, from.Y+0.2*b.cover, end.X+0.04*p, end.Y-0.5*b.cover, end.X, end.Y).open(lead)
	l.box(end.X-0.06*p, end.Y, 0.12*p, 0.24*b.head, 2, Style{Fill: Ink2, Line: Ink, Width: 1})
	if state == plugIn {
		l.disc(at.X, at.Y, 0.62*r, sheetStyle)
		l.disc(at.X, at.Y, 0.25*r, holeStyle)
		return
	}
	l.disc(at.X, at.Y, 0.68*r, holeStyle)
}

// drawPlug draws a spark plug 100 units long, electrode down, centre at the
// local origin of a list that was placed there.
func drawPlug(l *List) {
	fine := Style{Line: Ink, Width: 1.1, Fill: Sheet}
	l.box(-5, -50, 10, 9, 1, Style{Fill: Steel, Line: Ink, Width: 1.1})
	l.move(-7, -41).to(7, -41).to(9, -12).to(-9, -12).shut(fine)
	for _, y := range []float64{-35, -29, -23} {
		l.line(-7.6, y, 7.6, y, Style{Line: Ink2, Width: 0.8})
	}
	l.box(-15, -12, 30, 16, 1, Style{Fill: Steel, Line: Ink, Width: 1.2})
	l.line(-5, -12, -5, 4, fineStyle)
	l.line(6, -12, 6, 4, fineStyle)
	l.box(-11, 4, 22, 4, 0, Style{Fill: Tint2, Line: Ink, Width: 1})
	l.box(-8.5, 8, 17, 30, 0, Style{Fill: Tint2, Line: Ink, Width: 1.1})
	for y := 12.0; y < 38; y += 4 {
		l.line(-8.5, y+1.5, 8.5, y-1, Style{Line: Ink2, Width: 0.8})
	}
	l.box(-2, 38, 4, 5, 0, Style{Fill: Sheet, Line: Ink, Width: 0.9})
	l.move(-7, 38).to(-7, 48).to(3, 48).open(Style{Line: Ink, Width: 1.8})
}

// Values of wire.SlotPlug, as small names.
const (
	plugIn     = 0
	plugOut    = 1
	plugGauge  = 2
	plugTester = 3
)
