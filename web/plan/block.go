package plan

import "math"

// Styles that recur: outlines of parts, light and dark sides, small things.
var (
	castStyle  = Style{Fill: Tint, Line: Ink, Width: 1.5}
	darkStyle  = Style{Fill: Tint2, Line: Ink, Width: 1.5}
	steelStyle = Style{Fill: Steel, Line: Ink, Width: 1.5}
	sheetStyle = Style{Fill: Sheet, Line: Ink, Width: 1.3}
	shade      = Style{Fill: Tint2}
	ribStyle   = Style{Line: Line, Width: 1.6}
	fineStyle  = Style{Line: Ink2, Width: 0.9}
	holeStyle  = Style{Fill: Hole}
)

// drawPan draws crankcase skirt and oil pan under all banks.
func (b *body) drawPan(l *List) {
	p, first := b.pitch, b.banks[0]
	if b.stacked {
		first = b.banks[1]
	}
	x0, x1 := first.x-0.05*p, b.right+0.04*p
	rail := b.crank + 0.12*b.pan
	slope := 0.35 * b.pan
	l.move(x0, rail).to(x1, rail).to(x1-0.1*p, b.bottom-0.15*b.pan)
	l.curve(x1-0.1*p, b.bottom, x1-0.12*p, b.bottom, x1-0.3*p, b.bottom)
	middle := x0 + 0.52*(x1-x0)
	l.to(middle, b.bottom).to(middle-slope, b.bottom-0.42*b.pan).to(x0+0.25*p, b.bottom-0.42*b.pan)
	l.curve(x0+0.1*p, b.bottom-0.42*b.pan, x0+0.08*p, b.bottom-0.45*b.pan, x0+0.06*p, b.bottom-0.6*b.pan)
	l.shut(darkStyle)
	// drain plug, and bolts along the rail
	l.box(x1-0.75*p, b.bottom-2, 0.16*p, math.Min(6, 0.1*p), 1, steelStyle)
	l.box(x0, rail-0.07*p, x1-x0, 0.1*p, 1, castStyle)
	for x := x0 + 0.2*p; x < x1-0.1*p; x += 0.5 * p {
		l.disc(x, rail-0.02*p, 0.025*p, Style{Fill: Ink2})
	}
}

// drawBlock draws the casting of one bank: water jacket, ribs, core plugs.
func (b *body) drawBlock(l *List, k *bank) {
	p, deck := b.pitch, b.deck(k)
	low := b.crank + 0.05*b.pan
	x0, x1 := k.x-0.03*p, k.x+k.w+0.03*p
	l.move(x0, deck).to(x1, deck).to(x1, low).to(x0, low).shut(castStyle)
	jacket := deck + 0.56*b.block
	l.move(x1-0.12*p, deck+1).to(x1-1, deck+1).to(x1-1, low-1).to(x1-0.12*p, low-1).shut(shade)
	l.line(x0, jacket, x1, jacket, Style{Line: Ink, Width: 1})
	for i := range k.cylinders {
		cx := k.x + (float64(i)+0.5)*p
		// the jacket bulges round every bore
		l.move(cx-0.42*p, deck+0.06*b.block).curve(cx-0.47*p, deck+0.2*b.block, cx-0.47*p, jacket-0.1*b.block, cx-0.42*p, jacket-0.03*b.block).open(ribStyle)
		l.move(cx+0.42*p, deck+0.06*b.block).curve(cx+0.47*p, deck+0.2*b.block, cx+0.47*p, jacket-0.1*b.block, cx+0.42*p, jacket-0.03*b.block).open(ribStyle)
		if !b.intakeSide() {
			r := math.Min(0.17*p, 0.12*b.block)
			l.disc(cx, deck+0.3*b.block, r, Style{Fill: Steel, Line: Ink, Width: 1})
			l.disc(cx, deck+0.3*b.block, 0.72*r, Style{Line: Ink2, Width: 0.8})
		}
	}
	for i := 0; i <= len(k.cylinders); i++ { // ribs down to the main bearings
		x := k.x + float64(i)*p
		l.line(x, jacket, x, low, Style{Line: Ink2, Width: 1})
		if i < len(k.cylinders) {
			l.line(x+0.08*p, jacket+3, x+0.42*p, low-3, ribStyle)
			l.line(x+0.92*p, jacket+3, x+0.58*p, low-3, ribStyle)
		}
	}
}

// drawFrontCover draws the cover over belt or chain with its seams.
func (b *body) drawFrontCover(l *List) {
	p := b.pitch
	k := &b.banks[0]
	top, foot := k.top+0.12*b.cover, b.crank+0.45*b.pan
	if b.stacked {
		top = b.banks[0].top + b.cover
	}
	x0, x1 := b.coverLeft(), k.x-0.03*p
	if b.stacked {
		x1 = b.banks[1].x - 0.03*p
	}
	if b.onFace() && !b.stacked {
		top = b.deck(k) - 0.15*b.head // no cams up there to drive
	}
	l.box(x0, top, x1-x0, foot-top, 0.12*p, castStyle)
	l.box(x0+0.06*p, top+0.1*p, (x1-x0)*0.34, foot-top-0.2*p, 0.06*p, Style{Fill: Sheet, Alpha: 0.55})
	for _, y := range []float64{top + 0.08*p, b.crank - 0.5*b.block, foot - 0.1*p} {
		l.disc(x1-0.07*p, y, 0.03*p, Style{Fill: Ink2})
	}
	if b.spec.CamDrive != "chain" && !b.onFace() && !b.stacked { // a belt cover is split
		y := b.deck(k)
		l.line(x0, y, x1, y, Style{Line: Ink, Width: 1})
	}
}

// neckMouth is the opening of the coolant neck.
func (b *body) neckMouth() Point {
	k := &b.banks[0]
	return Point{k.x - 0.38*b.pitch, k.top + b.cover + 0.36*b.head - 0.3*b.pitch}
}

// drawNeck draws the coolant neck at the front of the head and the dipstick.
func (b *body) drawNeck(l *List) {
	p, k := b.pitch, &b.banks[0]
	y := k.top + b.cover + 0.36*b.head
	x := k.x
	if b.stacked {
		return
	}
	s := Style{Fill: Steel, Line: Ink, Width: 1.3}
	l.box(x-0.1*p, y-0.16*p, 0.13*p, 0.32*p, 2, s)
	l.move(x-0.1*p, y-0.11*p).curve(x-0.22*p, y-0.11*p, x-0.26*p, y-0.14*p, x-0.27*p, y-0.3*p)
	l.to(x-0.49*p, y-0.3*p).curve(x-0.48*p, y+0.02*p, x-0.36*p, y+0.11*p, x-0.1*p, y+0.11*p).shut(s)
	if b.bare {
		l.oval(x-0.38*p, y-0.3*p, 0.11*p, 0.035*p, holeStyle)
	} else {
		l.box(x-0.53*p, y-0.4*p, 0.3*p, 0.12*p, 2, Style{Fill: Ink})
	}
	if b.intakeSide() { // dipstick, behind the runners
		d := k.x + k.w - 0.12*p
		l.move(d, b.crank).to(d, b.deck(k)+0.2*b.block).to(d+0.05*p, b.deck(k)-0.15*b.head).open(Style{Line: Ink2, Width: 2})
		l.disc(d+0.055*p, b.deck(k)-0.2*b.head, 0.06*p, Style{Line: Ink, Width: 1.8})
	}
}

// drawExhaustPipe draws the pipe that leaves behind the engine, to the rear.
func (b *body) drawExhaustPipe(l *List) {
	p := b.pitch
	y, r := b.bottom-0.16*b.pan, math.Min(0.13*p, 0.2*b.pan)
	x0, x1 := b.right-0.6*p, b.right+rearEnd*p+0.3*p
	if b.stacked {
		x1 = b.right + rearEnd*p
	}
	x1 = math.Min(x1, b.end)
	l.move(x0, y-r).to(x1, y-r).to(x1, y+r).to(x0, y+r).shut(steelStyle)
	l.oval(x1, y, 0.4*r, r, Style{Fill: Hole, Line: Ink, Width: 1.3})
	l.box(x0, y+0.35*r, x1-x0-0.4*r, 0.5*r, 0, Style{Fill: Ink2, Alpha: 0.25})
}
