package plan

import (
	"math"
	"strconv"

	"crankbay/web/wire"
)

// The tools of the confirming tests, where they sit when they are fitted: the
// leakage tester in the gauge's place with its supply dial and air line, the vacuum
// gauge piped to the manifold, the clamp meter round the starter cable, the wrench on
// the crank bolt, the coolant neck without its cap.

// fitted says which of them are there.
type fitted struct {
	tester                      int // cylinder, 0 none
	clamp, vacuum, wrench, neck bool
}

func fittedOf(v wire.View, cylinders int) fitted {
	_, vacuum := v.Shown(wire.SlotVacuum)
	return fitted{
		tester: int(clamp(v.Get(wire.SlotTester), 0, float64(cylinders))),
		clamp:  v.Get(wire.SlotClamp) == 1, vacuum: vacuum && len(v) > wire.SlotVacuum,
		wrench: v.Get(wire.SlotWrench) == 1, neck: v.Get(wire.SlotNeck) == 1,
	}
}

// Faces of the instruments. The tester's needle rests at a loss of all.
var (
	lostScale   = Scale{Range: 100, Graduation: 2, Number: 20, Middle: 10, Unit: "%", Reversed: true}
	supplyScale = Scale{Range: 150, Graduation: 5, Number: 50, Unit: "psi"}
	vacuumScale = Scale{Range: 100, Graduation: 10, Number: 50, Unit: "kPa"}
)

// tested reports whether the leakage tester has taken the gauge's place.
func (p *Plan) tested() bool { return p.key.fitted.tester > 0 }

// supplyDial is where the tester's first dial sits, below the great one.
func (f *frame) supplyDial() (Point, float64) {
	r := 0.29 * f.radius
	return Point{f.dial.X + 0.76*f.radius, f.dial.Y + 1.06*f.radius}, r
}

// drawTester draws the tester's two dials on one neck, and the air line to it.
func (p *Plan) drawTester(l *List) {
	f := &p.frame
	at, r := f.supplyDial()
	x, y, w := f.dial.X, f.dial.Y+f.radius-1, clamp(0.085*f.radius, 5, 16)
	line := Style{Line: Ink, Width: 5, Round: true}
	l.move(at.X, at.Y+r).curve(at.X, at.Y+1.5*r, f.w-0.4*r, at.Y+1.3*r, f.w, at.Y+1.5*r).open(line)
	l.box(x-w, y, 2*w, 0.5*f.stem, 1, steelStyle)
	l.box(x+w, y+0.14*f.stem, math.Max(0, at.X-0.7*r-x-w), 0.9*w, 0, steelStyle)
	l.box(x-0.7*w, y+0.48*f.stem, 1.4*w, 0.52*f.stem, 1, darkStyle)
	drawDial(l, f.dial, f.radius, lostScale)
	drawDial(l, at, r, supplyScale)
}

// vacuumDial is where the vacuum gauge hangs: over the front of the engine.
func (p *Plan) vacuumDial() (Point, float64) {
	b := p.body
	r := clamp(0.34*b.pitch, 17, 44)
	return Point{math.Max(r+2, b.banks[0].x-0.75*b.pitch), math.Max(r+2, b.banks[0].top-b.coil-0.1*b.pitch)}, r
}

// nipple is where the vacuum gauge's hose goes on the manifold.
func (p *Plan) nipple() Point {
	b := p.body
	at, long, wide, _ := b.throttle()
	switch {
	case b.intakeSide():
		return Point{b.banks[0].x + 0.02*b.pitch, at.Y - 0.16*b.block}
	case b.stacked:
		return Point{at.X + 1.2*long, at.Y - 0.6*wide}
	}
	return Point{at.X - 0.8*wide, at.Y + 1.3*long}
}

func (p *Plan) drawVacuumGauge(l *List) {
	at, r := p.vacuumDial()
	to := p.nipple()
	hose := Style{Line: Ink, Width: 3, Round: true}
	for _, s := range []Style{halo(hose), hose} {
		l.move(at.X, at.Y+r).curve(at.X, at.Y+2.2*r, to.X-0.1*p.body.pitch, to.Y-2*r, to.X, to.Y).open(s)
	}
	l.disc(to.X, to.Y, math.Max(2.5, 0.05*p.body.pitch), steelStyle)
	drawDial(l, at, r, vacuumScale)
}

// clampAt is where the clamp sits on the starter cable.
func (p *Plan) clampAt() Point {
	_, plus := posts(p.top.battery)
	_, stud := p.body.starterAt()
	x := plus.X + 0.42*(stud.X-plus.X)
	w, _ := p.clampSize()
	if lug := p.groundLug().X; math.Abs(x-lug) < 0.5*w+8 && lug+0.5*w+8 < stud.X { // beside the end of the ground cable, not over it
		x = lug + 0.5*w + 8
	}
	return Point{x, p.lane()[0]}
}

func (p *Plan) clampSize() (w, h float64) {
	return clamp(0.62*p.body.pitch, 34, 90), clamp(0.66*p.body.pitch, 34, 96)
}

// clampBody is the clamp meter's case, over the cable that its jaws hold.
func (p *Plan) clampBody() Rect {
	at := p.clampAt()
	w, h := p.clampSize()
	return Rect{at.X - w/2, at.Y - 0.3*w - h, w, h}
}

func (p *Plan) clampWindow() Rect {
	k := p.clampBody()
	return Rect{k.X + 0.1*k.W, k.Y + 0.12*k.H, 0.8 * k.W, 0.42 * k.H}
}

func (p *Plan) drawClampMeter(l *List) {
	at, k := p.clampAt(), p.clampBody()
	r := 0.24 * k.W
	jaws := Style{Line: Ink, Width: 5, Round: true}
	l.disc(at.X, at.Y, r, jaws)
	jaws.Line, jaws.Width = Steel, 2.4
	l.disc(at.X, at.Y, r, jaws)
	l.box(k.X, k.Y, k.W, k.H, 4, castStyle)
	w := p.clampWindow()
	l.box(w.X, w.Y, w.W, w.H, 1, sheetStyle)
	l.disc(k.X+k.W/2, k.Y+0.76*k.H, 0.12*math.Min(k.W, k.H), darkStyle)
}

// wrenchReach is how long the wrench on the crank bolt is [px].
func (b *body) wrenchReach() float64 { return 1.5 * b.pulley() }

// wrenchAt is the crank bolt.
func (b *body) wrenchAt() Point { return Point{b.coverLeft() - 0.3*b.pitch, b.crank} }

// drawWrench draws the wrench as it stands with the crank, seen from the side.
func (b *body) drawWrench(l *List, angle float64) {
	at := b.wrenchAt()
	end := at.Y + b.wrenchReach()*math.Cos(angle)
	w := clamp(0.06*b.pitch, 3, 7)
	l.line(at.X-w, at.Y, at.X-w, end, Style{Line: Ink, Width: 7, Round: true})
	l.line(at.X-w, at.Y, at.X-w, end, Style{Line: Steel, Width: 4, Round: true})
	l.box(at.X-2.2*w, at.Y-1.6*w, 3.2*w, 3.2*w, 2, steelStyle)
}

// wrenchBox is where the wrench can be taken off.
func (b *body) wrenchBox() Rect {
	at := b.wrenchAt()
	return Rect{at.X - touch/2, at.Y - touch/2, touch, touch}
}

// drawFitted draws what moves on the fitted tools.
func (p *Plan) drawFitted(l *List, v wire.View) {
	k := &p.key.fitted
	if p.tested() && !p.frame.noDial {
		supply, held := finite(v.Get(wire.SlotSupply)), finite(v.Get(wire.SlotHeld))
		at, r := p.frame.supplyDial()
		drawNeedle(l, at, r, supplyScale.Angle(supply/pascalPerPSI))
		drawNeedle(l, p.frame.dial, p.frame.radius, lostScale.Angle(100*held/math.Max(supply, 1)))
	}
	if k.vacuum {
		at, r := p.vacuumDial()
		drawNeedle(l, at, r, vacuumScale.Angle(finite(v.Get(wire.SlotVacuum))/1000))
	}
	if amps, ok := v.Shown(wire.SlotCurrent); ok && k.clamp {
		w := p.clampWindow()
		p.row(l, strconv.Itoa(int(clamp(amps, -9999, 9999)+0.5))+" A", w, w.Y+w.H/2, 0.62*w.H)
	}
	if k.wrench {
		p.body.drawWrench(l, finite(v.Get(wire.SlotCrankAngle)))
	}
	p.drawBubbles(l, v)
}

// seenBubbles is a flow that shows in the coolant neck [kg/s]; sim/bench says from
// when on bubbles are seen.
const seenBubbles = 2.4e-6

// drawBubbles draws what rises in the open coolant neck.
func (p *Plan) drawBubbles(l *List, v wire.View) {
	if !p.key.fitted.neck || p.body.stacked || !(v.Get(wire.SlotBubbles) > seenBubbles) {
		return
	}
	at := p.body.neckMouth()
	r := 0.035 * p.body.pitch
	for i, d := range []Point{{-2.2, -1.2}, {1.8, -2.2}, {-0.4, -3.6}, {3, -4.4}, {-2.6, -5}} {
		l.disc(at.X+d.X*r, at.Y+d.Y*r, r*(0.8+0.3*float64(i%3)), Style{Fill: Sheet, Line: Ink, Width: 1})
	}
}
