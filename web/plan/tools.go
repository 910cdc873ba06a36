package plan

import "math"

// bench holds where the tools lie.
type benchTop struct {
	battery, meter, charger, remote, oil Rect
}

// layTools divides the strip of tools. The battery stands under the front of the
// engine, the switch within reach of the starter.
func (f *frame) layTools() benchTop {
	t := f.tools
	var b benchTop
	gap := clamp(0.02*t.W, 4, 14)
	h := math.Min(t.H, 150)
	y := t.Bottom() - h
	free := t.W - 3*gap
	side := math.Max(touch, math.Min(0.56*h, 0.18*free)) // switch, oil can
	wide := math.Max(touch, math.Min(0.8*h, 0.26*free))  // charger and meter
	w := clamp(1.22*h, touch, math.Max(touch, free-2*side-wide))
	b.battery = Rect{t.X, y, w, h}
	x := b.battery.Right() + gap
	b.charger = Rect{x, y, wide, h}
	if h >= 2*touch+6 {
		b.charger = Rect{x, y, wide, h / 2}
		b.meter = Rect{x, y + h/2, wide, h / 2}
	}
	x += wide + gap
	b.remote = Rect{x, y, side, h}
	x += side + gap
	b.oil = Rect{x, y, math.Min(side, t.Right()-x), h}
	return b
}

// posts returns the tops of the battery's posts, minus first.
func posts(r Rect) (minus, plus Point) {
	k := batteryBox(r)
	return Point{k.X + 0.17*k.W, k.Y - 0.1*k.H}, Point{k.Right() - 0.17*k.W, k.Y - 0.1*k.H}
}

func batteryBox(r Rect) Rect {
	w := math.Min(r.W, 1.5*r.H)
	return Rect{r.X + 0.02*w, r.Y + 0.24*r.H, 0.96 * w, 0.76 * r.H}
}

// drawBattery draws the battery with its two signs.
func drawBattery(l *List, r Rect) {
	k := batteryBox(r)
	minus, plus := posts(r)
	top := 0.16 * k.H
	l.move(k.X+0.03*k.W, k.Y).to(k.Right()-0.03*k.W, k.Y).to(k.Right(), k.Y+top).to(k.X, k.Y+top).shut(Style{Fill: Sheet, Line: Ink, Width: 1.3})
	l.box(k.X, k.Y+top, k.W, k.H-top, 2, castStyle)
	l.box(k.Right()-0.07*k.W, k.Y+top+1, 0.07*k.W-1, k.H-top-2, 0, shade)
	l.line(k.X, k.Y+top+0.1*k.H, k.Right(), k.Y+top+0.1*k.H, Style{Line: Ink2, Width: 1})
	for i := range 5 { // cell walls show through the case
		x := k.X + k.W*float64(i+1)/6
		l.line(x, k.Y+top+0.16*k.H, x, k.Bottom()-0.08*k.H, ribStyle)
	}
	pw := 0.075 * k.W
	for _, p := range []Point{minus, plus} {
		l.box(p.X-pw, p.Y, 2*pw, k.Y+0.6*top-p.Y, 1, steelStyle)
	}
	size := clamp(0.24*k.H, 9, 30)
	for i, sign := range []string{"-", "+"} {
		x := []float64{minus.X, plus.X}[i]
		l.box(x-0.5*size, k.Y+top+0.2*k.H, size, size, 2, Style{Fill: Tint})
		// the minus sits low in its field: lift it to the middle
		l.text(sign, x, k.Y+top+0.2*k.H+0.4*size, size, 2.4, Ink)
	}
}

// chargerBox is the charger's case, under its handle.
func chargerBox(r Rect) Rect {
	w, h := math.Min(r.W, 1.5*r.H), math.Min(r.H, r.W)
	x, y := r.X+(r.W-w)/2, r.Bottom()-h
	return Rect{x + 0.04*w, y + 0.2*h, 0.92 * w, 0.76 * h}
}

// drawCharger draws the charger; its leads are drawn with the cables.
func drawCharger(l *List, r Rect) {
	k := chargerBox(r)
	high := k.Y - 0.26*k.H
	l.move(k.X+0.25*k.W, k.Y).curve(k.X+0.25*k.W, high, k.Right()-0.25*k.W, high, k.Right()-0.25*k.W, k.Y).open(Style{Line: Ink, Width: 2.6})
	l.box(k.X, k.Y, k.W, k.H, 3, darkStyle)
	l.box(k.X+0.1*k.W, k.Y+0.14*k.H, 0.46*k.W, 0.42*k.H, 2, sheetStyle)
	c := Point{k.X + 0.33*k.W, k.Y + 0.52*k.H}
	l.move(c.X-0.16*k.W, c.Y-0.08*k.H).curve(c.X-0.1*k.W, c.Y-0.34*k.H, c.X+0.1*k.W, c.Y-0.34*k.H, c.X+0.16*k.W, c.Y-0.08*k.H).open(fineStyle)
	for i := range 3 {
		yy := k.Y + (0.7+0.09*float64(i))*k.H
		l.line(k.X+0.12*k.W, yy, k.X+0.54*k.W, yy, fineStyle)
	}
	l.disc(k.X+0.77*k.W, k.Y+0.4*k.H, 0.1*math.Min(k.W, k.H), sheetStyle)
	for _, t := range []float64{0.1, 0.22} { // where the leads leave
		l.box(k.X+t*k.W-0.03*k.W, k.Y-0.06*k.H, 0.06*k.W, 0.1*k.H, 1, Style{Fill: Ink})
	}
}

// chargerLeads returns where the charger's two leads leave it.
func chargerLeads(r Rect) (minus, plus Point) {
	k := chargerBox(r)
	return Point{k.X + 0.22*k.W, k.Y - 0.05*k.H}, Point{k.X + 0.1*k.W, k.Y - 0.05*k.H}
}

// drawMeter draws the hand-held meter with an empty window.
func drawMeter(l *List, r Rect) {
	if r.W == 0 {
		return
	}
	k := meterBox(r)
	l.box(k.X, k.Y, k.W, k.H, 5, castStyle)
	w := meterWindow(r)
	l.box(w.X, w.Y, w.W, w.H, 1, sheetStyle)
	y := (w.Bottom() + k.Bottom()) / 2
	l.disc(k.X+0.5*k.W, y, math.Min(0.08*k.W, 0.1*k.H), darkStyle)
	for _, t := range []float64{0.2, 0.8} {
		l.disc(k.X+t*k.W, y+0.02*k.H, 0.04*k.W, holeStyle)
	}
}

func meterBox(r Rect) Rect {
	return Rect{r.X + 0.06*r.W, r.Y + 0.04*r.H, 0.88 * r.W, 0.86 * r.H}
}

func meterWindow(r Rect) Rect {
	k := meterBox(r)
	return Rect{k.X + 0.06*k.W, k.Y + 0.09*k.H, 0.88 * k.W, 0.64 * k.H}
}

// drawOil draws the pump oiler.
func drawOil(l *List, r Rect) {
	k := math.Min(r.H/104, r.W/90)
	x, y := r.X+r.W/2-1*k, r.Bottom()
	l.place(x, y, k, 0)
	l.move(-30, -2).to(30, -2).to(30, -26).curve(30, -36, 14, -42, 9, -54).to(-9, -54).curve(-14, -42, -30, -36, -30, -26).shut(castStyle)
	l.move(18, -3).to(29, -3).to(29, -26).curve(29, -34, 18, -39, 12, -48).curve(15, -38, 18, -30, 18, -24).shut(shade)
	l.line(-30, -26, 30, -26, Style{Line: Ink, Width: 1})
	l.box(-11, -63, 22, 10, 1, darkStyle)
	l.move(3, -62).to(6, -74).curve(12, -88, 24, -94, 43, -99).to(44, -96.5).curve(28, -90, 18, -84, 13, -72).to(10, -62).shut(steelStyle)
	l.move(-9, -60).curve(-26, -62, -38, -54, -42, -38).open(Style{Line: Ink, Width: 3, Round: true})
	l.plain()
}

// drawTray draws the tray: a slot with its number for every plug, and the plugs
// that are out in it, in order or as they were dropped.
func (p *Plan) drawTray(l *List, plugs []int) {
	t := p.frame.tray
	if t.W <= 0 || t.H <= 0 {
		return
	}
	l.box(t.X+1, t.Y+1, t.W-2, t.H-2, 3, Style{Fill: Tint, Line: Ink, Width: 1.3})
	l.box(t.X+4, t.Y+4, t.W-8, t.H-8, 2, Style{Fill: Paper, Line: Line, Width: 1})
	drop := 0
	for _, slot := range p.slots() {
		c := slot.Center()
		num := clamp(0.2*slot.H, 8, 17)
		long := math.Min(math.Min(slot.H-num-13, 2.5*slot.W), 1.5*p.body.pitch)
		c.Y = slot.Y + 4 + long/2
		at := Point{c.X, slot.Bottom() - 4 - num/2}
		if slot.H < 60 && slot.W >= 32 { // low tray: the numeral stands beside its plug
			long = math.Min(slot.H-4, 2.2*slot.W)
			c.Y = slot.Y + slot.H/2
			at = Point{c.X - 0.15*long - num*0.5, c.Y}
			c.X += 0.08*long + 1
		}
		l.text(itoa(slot.cylinder), at.X, at.Y, num, 0.105*num/l.Weight, Ink2)
		l.place(c.X, c.Y, long/100, 0)
		l.box(-11, -46, 22, 94, 9, Style{Fill: Tint, Line: Line, Width: 1})
		if slot.cylinder > len(plugs) || plugs[slot.cylinder-1] == plugIn {
			l.plain()
			continue
		}
		if p.spec.loose(slot.cylinder) {
			// dropped: lying across the slots, nobody knows which is which
			l.place(t.Center().X+(float64(drop%3)-1)*0.22*t.W, t.Center().Y+(float64(drop%2)-0.5)*0.3*t.H, long/100, 1.2+1.9*float64(drop))
			drop++
		}
		drawPlug(l)
		l.plain()
	}
}

// A slot is one plug's place on the tray.
type slot struct {
	Rect
	cylinder int
}

// slots lays the tray out: a row per bank, or all in one row when that is wider.
func (p *Plan) slots() []slot {
	t := p.frame.tray.Inset(4)
	rows := p.spec.Banks
	if len(rows) == 2 && (t.W/float64(p.spec.Cylinders) >= touch || t.H < 2*touch) {
		rows = [][]int{append(append([]int{}, rows[0]...), rows[1]...)}
	}
	if len(rows) == 1 && t.W/float64(len(rows[0])) < 0.8*touch && t.H >= 2.2*touch {
		half := (len(rows[0]) + 1) / 2
		rows = [][]int{rows[0][:half], rows[0][half:]}
	}
	var out []slot
	h := t.H / float64(len(rows))
	for i, row := range rows {
		w := t.W / float64(len(row))
		for j, c := range row {
			out = append(out, slot{Rect{t.X + float64(j)*w, t.Y + float64(i)*h, w, h}, c})
		}
	}
	return out
}
