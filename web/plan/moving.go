package plan

import (
	"math"

	"crankbay/web/wire"
)

// drawMoving draws gas, piston, rod, crank, valves and cams where the snapshot
// has them, and the leaks as arrows.
func (c *section) drawMoving(l *List, v wire.View, cylinder int, phase Phase) {
	c.enter(l)
	angle := finite(v.Cyl(cylinder, wire.SlotAngle))
	crown := clamp(v.Cyl(cylinder, wire.SlotTravel), 0, 1)*2*c.throw + 0.012*c.bore
	c.drawGas(l, v.Cyl(cylinder, wire.SlotPressure), crown)
	c.drawOilFilm(l, v.Cyl(cylinder, wire.SlotOil), crown)
	if c.full {
		c.drawCrank(l, angle)
	}
	c.drawRod(l, angle, crown)
	c.drawPiston(l, crown)
	for i, side := range []float64{-1, 1} {
		lift := clamp(v.Cyl(cylinder, wire.SlotIntakeLift+i)*1000, 0, 0.25*c.bore)
		c.drawValve(l, side, lift, angle)
	}
	c.drawLeaks(l, v, crown, phase)
	l.plain()
}

// drawGas tints the space over the piston, deeper the higher the pressure. NaN
// means that nobody may see it.
func (c *section) drawGas(l *List, pressure, crown float64) {
	if math.IsNaN(pressure) {
		return
	}
	o := c.roofline()
	l.move(-c.bore/2, crown)
	for _, p := range o {
		l.to(p.X, p.Y)
	}
	l.to(c.bore/2, crown)
	l.shut(Style{Fill: Gas, Alpha: GasAlpha(pressure)})
}

// GasAlpha is how deep the tint of gas at an absolute pressure [Pa] is: 0.25 at
// one bar, full at twelve, by its logarithm.
func GasAlpha(pressure float64) float64 {
	if !(pressure > 0) {
		return 0.1
	}
	return clamp(0.25+0.75*math.Log(pressure/1e5)/math.Log(12), 0.1, 1)
}

// drawOilFilm draws oil lying on the piston at its true depth.
func (c *section) drawOilFilm(l *List, ml, crown float64) {
	if !(ml > 0.05) {
		return
	}
	depth := ml * 1000 / (math.Pi * c.bore * c.bore / 4)
	depth = math.Max(depth, 1.5/c.scale)
	l.box(-c.bore/2, crown-depth, c.bore, depth, 0, Style{Fill: Ink2, Alpha: 0.75})
}

func (c *section) drawPiston(l *List, crown float64) {
	b, r := c.bore, c.bore/2-0.008*c.bore
	skirt, boss := crown+0.66*b, crown+crownHeight*b
	o := []Point{{-r, crown}, {r, crown}, {r, skirt}, {0.72 * r, skirt}, {0.62 * r, boss + 0.14*b}, {0.2 * b, boss - 0.06*b}, {0.12 * b, boss - 0.15*b}, {-0.12 * b, boss - 0.15*b}, {-0.2 * b, boss - 0.06*b}, {-0.62 * r, boss + 0.14*b}, {-0.72 * r, skirt}, {-r, skirt}}
	trace(l, o).shut(Style{Fill: Steel})
	l.hatch(o, math.Max(4/c.scale, 0.04*b), math.Pi/4, Style{Line: Ink2, Width: 0.7})
	trace(l, o).shut(Style{Line: Ink, Width: 1.5})
	for i, y := range []float64{0.075, 0.145, 0.225} {
		h := []float64{0.022, 0.022, 0.036}[i] * b
		for _, side := range []float64{-1, 1} {
			x := side * (c.bore/2 - 0.05*b)
			l.box(math.Min(x, side*c.bore/2), crown+y*b, 0.05*b, h, 0, Style{Fill: Ink})
		}
	}
	l.disc(0, boss, 0.115*b, steelStyle)
	l.disc(0, boss, 0.06*b, sheetStyle)
}

// pin returns where piston pin and crank pin are.
func (c *section) pins(angle, crown float64) (small, big Point) {
	s, k := math.Sincos(angle)
	return Point{0, crown + crownHeight*c.bore}, Point{c.throw * s, c.deck - c.throw*k}
}

func (c *section) drawRod(l *List, angle, crown float64) {
	small, big := c.pins(angle, crown)
	if !c.full { // cut off below
		big = small.Towards(big, clamp((c.foot-0.1*c.bore-small.Y)/(big.Y-small.Y), 0, 1))
	}
	d := dist(small, big)
	if d == 0 {
		return
	}
	n := Point{-(big.Y - small.Y) / d, (big.X - small.X) / d}
	w0, w1 := 0.075*c.bore, 0.13*c.bore
	a, z := small.Towards(big, 0.06), small.Towards(big, 0.94)
	l.move(a.X+n.X*w0, a.Y+n.Y*w0).to(z.X+n.X*w1, z.Y+n.Y*w1).to(z.X-n.X*w1, z.Y-n.Y*w1).to(a.X-n.X*w0, a.Y-n.Y*w0).shut(steelStyle)
	a, z = small.Towards(big, 0.2), small.Towards(big, 0.76)
	l.line(a.X, a.Y, z.X, z.Y, Style{Line: Ink2, Width: 2.2, Round: true})
	if c.full {
		l.disc(big.X, big.Y, 0.27*c.bore, steelStyle)
		l.disc(big.X, big.Y, 0.2*c.bore, sheetStyle)
	}
}

func (c *section) drawCrank(l *List, angle float64) {
	b := c.bore
	l.place(c.x, c.y+c.deck*c.scale, c.scale, angle)
	// web with its counterweight opposite the pin
	l.move(-0.2*b, -c.throw-0.1*b).curve(-0.1*b, -c.throw-0.26*b, 0.1*b, -c.throw-0.26*b, 0.2*b, -c.throw-0.1*b)
	l.to(0.3*b, 0.02*b)
	l.arc(0, 0, math.Min(c.throw+0.2*b, 0.72*b), 0.12, math.Pi-0.12)
	l.to(-0.3*b, 0.02*b).shut(darkStyle)
	l.disc(0, 0, 0.3*b, steelStyle)
	l.disc(0, 0, 0.03*b, Style{Fill: Ink})
	c.enter(l)
}

// drawValve draws one valve at its lift [mm] with spring and cam or rocker.
func (c *section) drawValve(l *List, side, lift, angle float64) {
	seat, up := c.valve(side)
	b, r := c.bore, c.valveRadius()
	x, y := seat.X-up.X*lift, seat.Y-up.Y*lift
	l.place(c.x+c.scale*x, c.y+c.scale*y, c.scale, side*c.tilt)
	tip := -0.8 * b
	l.move(-0.028*b, tip).to(0.028*b, tip).to(0.028*b, -0.2*b).curve(0.03*b, -0.08*b, 0.6*r, -0.045*b, 0.94*r, -0.03*b)
	l.to(r, 0.012*b).to(-r, 0.012*b).to(-0.94*r, -0.03*b).curve(-0.6*r, -0.045*b, -0.03*b, -0.08*b, -0.028*b, -0.2*b).shut(steelStyle)
	l.place(c.x+c.scale*seat.X, c.y+c.scale*seat.Y, c.scale, side*c.tilt)
	c.drawSpring(l, -0.52*b, tip+0.1*b+lift)
	l.box(-0.14*b, tip+lift, 0.28*b, 0.1*b, 0.02*b, darkStyle)
	if c.single {
		c.drawRocker(l, side, tip+lift, tip)
		return
	}
	l.box(-0.155*b, tip+lift-0.05*b, 0.31*b, 0.18*b, 0.03*b, castStyle)
	base := 0.17 * b
	c.drawCam(l, Point{0, tip - 0.05*b - base}, base, camAngle(side, lift/(0.12*b), angle))
	c.enter(l)
}

func (c *section) drawSpring(l *List, low, high float64) {
	const turns = 6
	w := 0.1 * c.bore
	l.move(-w, low)
	for i := 1; i <= turns; i++ {
		y := low + (high-low)*float64(i)/turns
		l.to(w, y-(high-low)*0.5/turns).to(-w, y)
	}
	l.open(Style{Line: Ink, Width: 1.2})
}

// camAngle turns a cam so that its nose stands as far from the follower as the
// lift says; share is lift over full lift. On the base circle it follows the
// crank at half speed about the usual middle of the event.
func camAngle(side, share, angle float64) float64 {
	middle := 250 * math.Pi / 180 * side // exhaust opens after the power stroke, intake before compression
	turn := math.Mod((angle-middle)/2, math.Pi)
	for turn > math.Pi {
		turn -= 2 * math.Pi
	}
	if share > 0.001 {
		half := 62 * math.Pi / 180 * math.Sqrt(clamp(1-share, 0, 1))
		return math.Copysign(half, turn)
	}
	return turn
}

// drawCam draws a cam whose nose, at angle 0, points down the valve's stem.
func (c *section) drawCam(l *List, at Point, base, turn float64) {
	nose := base + 0.12*c.bore
	sin, cos := math.Sincos(turn)
	p := func(x, y float64) Point { return Point{at.X + x*cos - y*sin, at.Y + x*sin + y*cos} }
	o := make([]Point, 0, 40)
	for i := range 28 {
		s, k := math.Sincos(math.Pi*0.02 - math.Pi*1.04*float64(i)/27)
		o = append(o, p(base*k, base*s))
	}
	r := 0.4 * base
	for i := range 10 {
		s, k := math.Sincos(math.Pi*0.86 - math.Pi*0.72*float64(i)/9)
		o = append(o, p(r*k, nose-r+r*s))
	}
	trace(l, o).shut(steelStyle)
	l.disc(at.X, at.Y, 0.36*base, sheetStyle)
}

// drawRocker draws the arm that a push rod moves.
func (c *section) drawRocker(l *List, side, tip, rest float64) {
	b := c.bore
	x := side * 0.24 * b
	l.move(-0.06*b*side, tip-0.02*b).to(x, rest-0.16*b).to(2*x, 2*rest-tip-0.04*b).open(Style{Line: Ink, Width: 5.4, Round: true})
	l.move(-0.06*b*side, tip-0.02*b).to(x, rest-0.16*b).to(2*x, 2*rest-tip-0.04*b).open(Style{Line: Steel, Width: 3, Round: true})
	l.disc(x, rest-0.16*b, 0.055*b, sheetStyle)
	l.line(2*x, 2*rest-tip-0.02*b, 2*x, -0.5*b, Style{Line: Ink, Width: 2})
	c.enter(l)
}
