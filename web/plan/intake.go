package plan

import "math"

// throttle returns the middle of the throttle body, its half length and half
// width, and whether it stands upright.
func (b *body) throttle() (at Point, long, wide float64, upright bool) {
	p := b.pitch
	if b.intakeSide() {
		y := b.deck(&b.banks[0]) + 0.3*b.block
		return Point{b.left + 0.34*p, y}, 0.26 * p, math.Min(0.2*b.block, 0.24*p), false
	}
	if b.stacked {
		k := b.banks[1]
		return Point{b.left + 0.3*p, k.top - b.coil - 0.02*p}, 0.24 * p, 0.21 * p, false
	}
	x := b.banks[0].x + b.banks[0].w + 0.5*valley*p
	return Point{x, b.banks[0].top - 0.12*p}, 0.3 * p, 0.27 * p, true
}

// drawIntake draws runners, plenum, rail and injectors in front of the head.
func (b *body) drawIntake(l *List, k *bank) {
	p, deck := b.pitch, b.deck(k)
	y, r := deck+0.3*b.block, 0.19*b.block
	port := k.top + b.cover + 0.56*b.head
	for i := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		w := 0.19 * p
		l.move(cx-w, port).to(cx+w, port).curve(cx+w, deck, cx+1.1*w, y-1.2*r, cx+1.2*w, y).to(cx-1.2*w, y).curve(cx-1.1*w, y-1.2*r, cx-w, deck, cx-w, port).shut(castStyle)
		l.move(cx+0.35*w, port+2).to(cx+w-1, port+2).curve(cx+w-1, deck, cx+1.1*w-1, y-1.2*r, cx+1.2*w-1, y).to(cx+0.5*w, y).curve(cx+0.4*w, y-r, cx+0.35*w, deck, cx+0.35*w, port+2).shut(shade)
		l.box(cx-0.3*p, port-0.1*b.head, 0.6*p, 0.14*b.head, 2, steelStyle)
		for _, s := range []float64{-1, 1} {
			l.disc(cx+s*0.245*p, port-0.03*b.head, 0.03*p, Style{Fill: Ink2})
		}
	}
	x0, x1 := k.x-0.05*p, k.x+k.w-0.12*p
	l.move(x0, y-0.85*r).to(x1-r, y-r).curve(x1+0.4*r, y-r, x1+0.4*r, y+r, x1-r, y+r).to(x0, y+0.85*r).shut(castStyle)
	l.move(x0+1, y+0.3*r).to(x1-0.2*r, y+0.34*r).to(x1-0.9*r, y+0.92*r).to(x0+1, y+0.78*r).shut(shade)
	b.drawRail(l, k)
	b.drawThrottleBody(l)
}

// drawRail draws the fuel rail and an injector over every port.
func (b *body) drawRail(l *List, k *bank) {
	p := b.pitch
	y := k.top + b.cover + 0.2*b.head
	port := k.top + b.cover + 0.46*b.head
	for i := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		l.box(cx-0.05*p, y, 0.1*p, port-y, 1, Style{Fill: Sheet, Line: Ink, Width: 1.2})
		if !b.dry { // its plug
			l.box(cx-0.075*p, y+0.3*(port-y), 0.15*p, 0.32*(port-y), 1, Style{Fill: Ink2, Line: Ink, Width: 1})
		}
	}
	x0, x1 := k.x+0.12*p, k.x+k.w-0.1*p
	h := 0.13 * b.head
	l.box(x0, y-h/2, x1-x0, h, h/2, steelStyle)
	l.line(x0+h, y-0.18*h, x1-h, y-0.18*h, Style{Line: Sheet, Width: 1})
	// the line that feeds it goes up and back
	l.move(x1-h/2, y).curve(x1+0.2*p, y, x1+0.24*p, y-0.1*p, x1+0.24*p, y-0.34*p).open(Style{Line: Ink, Width: 2.4})
}

// drawThrottleBody draws the cut tube in which the plate turns.
func (b *body) drawThrottleBody(l *List) {
	at, long, wide, upright := b.throttle()
	turn := 0.0
	if upright {
		turn = math.Pi / 2
	}
	l.place(at.X, at.Y, 1, turn)
	lip := 0.16 * wide
	l.box(-long, -wide-lip, 2*long, 2*wide+2*lip, 2, steelStyle)
	l.box(-long+0.5, -wide, 2*long-1, 2*wide, 0, Style{Fill: Sheet})
	l.line(-long, -wide, long, -wide, Style{Line: Ink, Width: 1.2})
	l.line(-long, wide, long, wide, Style{Line: Ink, Width: 1.2})
	l.box(-long-0.12*long, -wide-2*lip, 0.2*long, 2*wide+4*lip, 1, steelStyle)
	l.plain()
}

// drawBetween draws what joins two banks behind heads and manifolds.
func (b *body) drawBetween(l *List) {
	if len(b.banks) < 2 {
		return
	}
	p, k, q := b.pitch, &b.banks[0], &b.banks[1]
	if b.stacked {
		l.box(k.x+0.1*p, b.deck(k)-2, k.w, q.top-b.deck(k)+4, 0, Style{Fill: Tint2, Line: Ink, Width: 1.3})
		at, long, wide, _ := b.throttle()
		l.box(at.X+long, at.Y-0.7*wide, k.x+0.14*p-at.X-long, 1.4*wide, 0, castStyle)
		return
	}
	x0, x1 := k.x+k.w+0.03*p, q.x-0.03*p
	y0, y1 := k.top+b.cover+0.5*b.head, b.crank+0.14*b.pan
	l.box(x0, y0, x1-x0, y1-y0, 0, darkStyle)
	for i := range 4 { // ribs of the cover over the valley
		y := b.deck(k) + (0.2+0.17*float64(i))*b.block
		l.move(x0+0.14*p, y).to((x0+x1)/2, y+0.1*p).to(x1-0.14*p, y).open(ribStyle)
	}
}

// drawValley draws plenum and runners between the banks of a V.
func (b *body) drawValley(l *List) {
	p := b.pitch
	at, long, wide, _ := b.throttle()
	if b.stacked {
		b.drawThrottleBody(l)
		return
	}
	k := b.banks[0]
	x0, x1 := k.x+k.w+0.08*p, b.banks[1].x-0.08*p
	top := at.Y + long
	low := k.top + b.cover + 0.55*b.head
	mid := (x0 + x1) / 2
	l.move(x0+0.02*p, low).curve(x0+0.02*p, top+0.2*p, x0+0.1*p, top, mid-wide, top)
	l.to(mid+wide, top).curve(x1-0.1*p, top, x1-0.02*p, top+0.2*p, x1-0.02*p, low)
	l.to(x1-0.02*p, low+0.3*b.head).to(x0+0.02*p, low+0.3*b.head).shut(castStyle)
	for _, t := range []float64{0.28, 0.5, 0.72} {
		x := x0 + t*(x1-x0)
		l.move(x, top+0.16*p).to(x, low+0.24*b.head).open(ribStyle)
	}
	b.drawThrottleBody(l)
}
