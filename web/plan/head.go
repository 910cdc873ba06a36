package plan

import (
	"math"
	"strconv"
)

// drawHead draws the head of one bank with the ports on the side that is seen.
func (b *body) drawHead(l *List, k *bank) {
	p := b.pitch
	top, deck := k.top+b.cover, b.deck(k)
	x0, x1 := k.x-0.08*p, k.x+k.w+0.08*p
	l.box(x0, top, x1-x0, deck-top, 2, darkStyle)
	l.box(x0+1, top+1, x1-x0-2, 0.16*b.head, 0, Style{Fill: Tint})
	l.box(x0, deck-0.03*p, x1-x0, 0.06*p, 0, Style{Fill: Steel, Line: Ink, Width: 0.9}) // gasket
	for i := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		if !b.intakeSide() {
			b.drawExhaustPort(l, cx, top)
		}
		if i > 0 {
			l.line(cx-0.5*p, top+0.24*b.head, cx-0.5*p, deck-0.1*b.head, Style{Line: Ink2, Width: 0.9})
		}
	}
	if !b.intakeSide() {
		b.drawManifold(l, k)
	}
}

// drawExhaustPort draws one flange of the exhaust manifold.
func (b *body) drawExhaustPort(l *List, cx, top float64) {
	p := b.pitch
	y := top + 0.66*b.head
	l.box(cx-0.27*p, y-0.15*b.head, 0.54*p, 0.3*b.head, 3, steelStyle)
	for _, s := range []float64{-1, 1} {
		l.disc(cx+s*0.21*p, y, 0.035*p, Style{Fill: Ink2})
	}
}

// drawManifold draws the exhaust log below the ports and its outlet.
func (b *body) drawManifold(l *List, k *bank) {
	p := b.pitch
	if b.stacked {
		return
	}
	deck := b.deck(k)
	y, r := deck+0.1*b.block, 0.1*b.block
	for i := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		l.move(cx-0.13*p, deck-0.36*b.head).to(cx+0.13*p, deck-0.36*b.head)
		l.curve(cx+0.13*p, deck-0.1*b.head, cx+0.2*p, y-r, cx+0.28*p, y-0.5*r)
		l.to(cx-0.04*p, y+0.4*r).curve(cx-0.13*p, y-0.5*r, cx-0.13*p, deck-0.2*b.head, cx-0.13*p, deck-0.36*b.head).shut(steelStyle)
	}
	x0, x1 := k.x+0.3*p, k.x+k.w-0.02*p
	foot := b.crank - 0.1*b.block
	l.move(x0+r, y-r).to(x1-r, y-r).curve(x1+0.05*p, y-r, x1+0.1*p, y, x1+0.1*p, y+1.2*r)
	l.to(x1+0.1*p, foot).to(x1-0.18*p, foot).to(x1-0.18*p, y+1.6*r).curve(x1-0.18*p, y+r, x1-0.22*p, y+r, x1-0.3*p, y+r)
	l.to(x0+r, y+r).curve(x0-0.3*r, y+r, x0-0.3*r, y-r, x0+r, y-r).shut(steelStyle)
	l.box(x0+r, y+0.25*r, x1-x0-0.4*p-r, 0.45*r, 0, Style{Fill: Ink2, Alpha: 0.22})
	l.box(x1-0.24*p, foot-0.06*p, 0.4*p, 0.1*p, 1, steelStyle)
}

// drawCover draws a cam cover, seen from slightly above, with its numerals.
func (b *body) drawCover(l *List, k *bank) {
	p, band := b.pitch, b.band()
	x0, x1 := k.x-0.02*p, k.x+k.w+0.02*p
	foot := k.top + b.cover
	if b.onFace() {
		x0, x1 = k.x+0.06*p, k.x+k.w-0.06*p
	}
	lean := 0.08 * p
	l.move(x0+lean, k.top).to(x1-lean, k.top).to(x1, k.top+band).to(x0, k.top+band).shut(Style{Fill: Sheet, Line: Ink, Width: 1.3})
	l.move(x0, k.top+band).to(x1, k.top+band).to(x1, foot-3).curve(x1, foot, x1, foot, x1-3, foot).to(x0+3, foot).curve(x0, foot, x0, foot, x0, foot-3).shut(castStyle)
	l.box(x1-0.1*p, k.top+band+1, 0.1*p-1, foot-k.top-band-3, 0, shade)
	l.box(x0-0.05*p, foot-0.07*p, x1-x0+0.1*p, 0.09*p, 1, castStyle) // flange
	for i, c := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		size := math.Min(0.3*p, 0.5*(b.cover-band))
		y := k.top + band + 0.47*(b.cover-band)
		aside := 0.0
		if b.onFace() || b.stacked { // beside the way of the hose
			aside = 0.28 * p
		}
		cx -= aside
		l.text(strconv.Itoa(c), cx, y, size, 1.1+0.09*size, Ink)
		if c == b.selected {
			l.disc(cx, y, 0.95*size, Style{Line: Ink, Width: 2.6})
		}
		cx += aside
		if i > 0 {
			l.disc(cx-0.5*p, foot-0.03*p, 0.03*p, Style{Fill: Ink2})
		}
	}
	if k.number == 1 {
		b.drawFiller(l, k)
	}
}

// drawFiller draws the oil filler cap between the first two wells.
func (b *body) drawFiller(l *List, k *bank) {
	if len(k.cylinders) < 2 {
		return
	}
	p, x := b.pitch, k.x+b.pitch
	y := k.top + 0.32*b.band()
	l.oval(x, y, 0.15*p, 0.05*p, darkStyle)
	l.move(x-0.15*p, y).to(x-0.15*p, y-0.1*p).to(x+0.15*p, y-0.1*p).to(x+0.15*p, y).curve(x+0.1*p, y+0.06*p, x-0.1*p, y+0.06*p, x-0.15*p, y).shut(darkStyle)
	l.oval(x, y-0.1*p, 0.15*p, 0.045*p, Style{Fill: Tint, Line: Ink, Width: 1.2})
	l.line(x-0.06*p, y-0.1*p, x+0.06*p, y-0.1*p, Style{Line: Ink, Width: 2})
}
