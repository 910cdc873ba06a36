package plan

import "math"

// drawWheels draws pulley and flywheel, both seen on edge. Their marks turn; see
// turning.
func (b *body) drawWheels(l *List) {
	p := b.pitch
	r := b.pulley()
	x := b.coverLeft() - 0.22*p
	l.box(x, b.crank-r, 0.2*p, 2*r, 2, steelStyle)
	l.box(x-0.06*p, b.crank-0.16*r, 0.07*p, 0.32*r, 1, darkStyle)
	l.box(x+0.2*p, b.crank-0.3*r, 0.1*p, 0.6*r, 0, darkStyle)
	fx := b.right + 0.06*p
	l.box(fx-0.06*p, b.crank-0.22*b.wheel, 0.08*p, 0.44*b.wheel, 0, darkStyle)
	l.box(fx, b.crank-b.wheel, 0.14*p, 2*b.wheel, 1, steelStyle)
	l.box(fx+0.14*p, b.crank-0.9*b.wheel, 0.14*p, 1.8*b.wheel, 3, darkStyle)
	l.box(fx+0.28*p, b.crank-0.12*b.wheel, 0.07*p, 0.24*b.wheel, 1, steelStyle)
}

func (b *body) pulley() float64 { return math.Min(0.68*b.pitch, 0.72*b.pan) }

// turning draws what shows that the crank turns: the teeth of the ring gear and
// the timing mark on the pulley, both where the angle puts them.
func (b *body) turning(l *List, angle float64) {
	p := b.pitch
	const teeth = 36
	fx := b.right + 0.06*p
	for i := range teeth {
		sin, cos := math.Sincos(angle + 2*math.Pi*float64(i)/teeth)
		if cos <= 0.02 {
			continue
		}
		y := b.crank - b.wheel*sin
		l.line(fx+1, y, fx+0.14*p-1, y, Style{Line: Ink, Width: 0.8 + 0.7*cos})
	}
	for i := range 3 { // clutch bolts
		sin, cos := math.Sincos(angle + 2*math.Pi*float64(i)/3)
		if cos > 0 {
			l.oval(fx+0.21*p, b.crank-0.8*b.wheel*sin, 0.03*p, 0.03*p*cos+0.4, Style{Fill: Ink})
		}
	}
	r := b.pulley()
	x := b.coverLeft() - 0.22*p
	for i := range 3 { // belt grooves stay, the notch comes round
		gx := x + (0.05+0.05*float64(i))*p
		l.line(gx, b.crank-r+2, gx, b.crank+r-2, Style{Line: Ink2, Width: 0.9})
	}
	// At compression TDC of cylinder 1 the notch is at the top, under the pointer.
	sin, cos := math.Sincos(angle + math.Pi/2)
	if cos > -0.05 {
		y := b.crank - (r-1.5)*sin
		l.line(x+1, y, x+0.2*p-1, y, Style{Line: Sheet, Width: 2 + 3*math.Max(cos, 0)})
	}
}

// starterAt returns the starter's axis and its cable stud.
func (b *body) starterAt() (axis, stud Point) {
	p := b.pitch
	y := b.crank + 0.1*b.pan
	if b.stacked {
		y = b.crank
	}
	r := b.starterRadius()
	return Point{b.right - 0.12*p, y}, Point{b.right - 1.05*p, y - 1.75*r}
}

func (b *body) starterRadius() float64 { return math.Min(0.27*b.pitch, 0.36*b.pan) }

// drawStarter draws the starter beside the block, nose towards the ring gear.
func (b *body) drawStarter(l *List) {
	p := b.pitch
	at, stud := b.starterAt()
	r := b.starterRadius()
	// solenoid, riding on top
	l.box(at.X-0.86*p, at.Y-1.95*r, 0.6*p, 0.95*r, 2, steelStyle)
	l.box(at.X-0.86*p+1, at.Y-1.4*r, 0.6*p-2, 0.36*r, 0, Style{Fill: Ink2, Alpha: 0.22})
	l.box(stud.X+0.02*p, stud.Y-0.12*r, 0.07*p, 0.5*r, 0, Style{Fill: Ink})
	// motor
	l.box(at.X-1.1*p, at.Y-r, 0.8*p, 2*r, 4, darkStyle)
	l.box(at.X-1.1*p+1, at.Y+0.25*r, 0.8*p-2, 0.5*r, 0, Style{Fill: Ink2, Alpha: 0.22})
	l.line(at.X-0.98*p, at.Y-r, at.X-0.98*p, at.Y+r, Style{Line: Ink, Width: 1})
	// nose
	l.move(at.X-0.3*p, at.Y-0.95*r).to(at.X-0.12*p, at.Y-0.72*r).to(at.X+0.02*p, at.Y-0.72*r).to(at.X+0.02*p, at.Y+0.72*r)
	l.to(at.X-0.12*p, at.Y+0.72*r).to(at.X-0.3*p, at.Y+0.95*r).shut(castStyle)
	l.box(at.X+0.02*p, at.Y-0.1*r, 0.2*p, 0.2*r, 0, Style{Fill: Steel, Line: Ink, Width: 1})
}

// pinion draws the starter's pinion: back at rest, in the ring gear when on.
func (b *body) pinion(l *List, on bool, angle float64) {
	at, _ := b.starterAt()
	p, r := b.pitch, 0.55*b.starterRadius()
	x := at.X + 0.03*p
	if on {
		x += 0.1 * p
	}
	l.box(x, at.Y-r, 0.13*p, 2*r, 1, steelStyle)
	for i := range 9 {
		sin, cos := math.Sincos(-12*angle + 2*math.Pi*float64(i)/9)
		if cos > 0.1 {
			l.line(x+1, at.Y+r*sin, x+0.13*p-1, at.Y+r*sin, Style{Line: Ink, Width: 1})
		}
	}
}
