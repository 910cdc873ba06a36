package plan

import (
	"math"
	"strconv"

	"crankbay/web/wire"
)

// A Plan is the drawing of one engine with its tools on a surface of one size.
// Still and Over hold what only an action changes; Moving is filled for every
// picture from a snapshot.
type Plan struct {
	Width, Height  float64
	Still          List // everything that stands still
	Moving         List // what turns, swings, shows numbers; over Still
	Over           List // the hose, which stands still over what moves
	Boxes          []Box
	spec           Spec
	frame          frame
	body           *body
	top            benchTop
	key            setting
	cut            *section
	scale          Scale
	marked         string // target of the thing that is framed
	markedCylinder int
}

// A setting is what the still part of the picture depends on besides the spec.
type setting struct {
	plugs    [wire.MaxCylinders]int8
	gauged   int
	section  bool
	selected int
	fitted   fitted
}

// New lays a plan out. The surface is held to at least 200 × 160 px.
func New(s Spec, width, height float64) *Plan {
	p := &Plan{Width: math.Max(width, 200), Height: math.Max(height, 160), spec: s}
	p.scale = NewScale(s.RangePSI, s.GraduationPSI)
	p.key.selected = -1 // nothing laid out yet
	return p
}

// Update brings the plan to a snapshot. It reports whether Still and Over have
// changed.
// phase drives the arrows of a leak: flow added up over time [kg].
func (p *Plan) Update(v wire.View, phase Phase) bool {
	k := settingOf(&p.spec, v)
	changed := k != p.key
	if changed {
		p.key = k
		p.layOut()
		p.drawStill()
	}
	p.drawMoving(v, phase)
	return changed
}

func settingOf(s *Spec, v wire.View) setting {
	var k setting
	n := s.Cylinders
	for i := range n {
		k.plugs[i] = int8(clamp(v.Cyl(i+1, wire.SlotPlug), plugIn, plugTester))
		if k.plugs[i] >= plugGauge {
			k.gauged = i + 1
		}
	}
	k.fitted = fittedOf(v, n)
	k.section = v.Get(wire.SlotSection) == 1
	k.selected = int(clamp(v.Get(wire.SlotSelected), 0, float64(n)))
	return k
}

func (p *Plan) layOut() {
	p.frame = arrange(&p.spec, p.key.section, p.Width, p.Height)
	p.cut = nil
	p.body = newBody(&p.spec, p.frame)
	p.body.bare = p.key.fitted.neck
	p.top = p.frame.layTools()
	if p.key.section && p.key.selected > 0 {
		p.cut = newSection(&p.spec, p.frame.section)
		p.body.selected = p.key.selected
	}
	p.Boxes = p.boxes()
}

// weight is px per unit of line weight on a surface of this width.
func (p *Plan) weight() float64 { return clamp(math.Min(p.Width/960, p.Height/640), 0.7, 3) }

func (p *Plan) drawStill() {
	l := &p.Still
	l.Reset()
	l.Weight = p.weight()
	p.drawBench(l)
	p.body.draw(l)
	for _, c := range p.farToNear() {
		p.body.drawMouth(l, c, int(p.key.plugs[c-1]), p.spec.coil(c))
	}
	drawBattery(l, p.top.battery)
	drawCharger(l, p.top.charger)
	drawMeter(l, p.top.meter)
	drawOil(l, p.top.oil)
	p.drawTray(l, p.plugStates())
	p.drawCables(l)
	if p.key.fitted.clamp {
		p.drawClampMeter(l)
	}
	if p.key.fitted.vacuum {
		p.drawVacuumGauge(l)
	}
	if p.cut != nil {
		p.cut.drawStill(l, p.key.selected, int(p.key.plugs[p.key.selected-1]))
	}
	p.drawGauge(l)
	p.Over.Reset()
	p.Over.Weight = p.weight()
	if p.spec.Gauge != "" || p.tested() {
		p.drawHose(&p.Over, p.key.gauged)
	}
}

// drawBench draws the line of the bench top under the tools.
func (p *Plan) drawBench(l *List) {
	f := &p.frame
	y := f.h - f.margin*0.6
	l.line(f.margin, y, f.w-f.margin, y, Style{Line: Line, Width: 1.3})
}

func (p *Plan) drawGauge(l *List) {
	f := &p.frame
	if f.noDial {
		return
	}
	if p.tested() {
		p.drawTester(l)
		return
	}
	if p.spec.Gauge == "" {
		drawPlace(l, f.dial, f.radius)
		return
	}
	f.drawStem(l)
	drawDial(l, f.dial, f.radius, p.scale)
}

func (p *Plan) plugStates() []int {
	out := make([]int, p.spec.Cylinders)
	for i := range out {
		out[i] = int(p.key.plugs[i])
	}
	return out
}

// farToNear lists the cylinders so that near ones cover far ones.
func (p *Plan) farToNear() []int {
	var out []int
	for _, b := range p.spec.Banks {
		out = append(out, b...)
	}
	return out
}

func (p *Plan) drawMoving(v wire.View, phase Phase) {
	l := &p.Moving
	l.Reset()
	l.Weight = p.weight()
	on := v.Get(wire.SlotStarter) == 1
	angle := finite(v.Get(wire.SlotCrankAngle))
	p.body.turning(l, angle)
	p.body.pinion(l, on, angle)
	p.body.plate(l, clamp(v.Get(wire.SlotThrottle), 0, 1))
	p.drawRemote(l, on)
	p.drawShown(l, v)
	if p.cut != nil {
		p.cut.drawMoving(l, v, p.key.selected, phase)
	}
	p.drawFitted(l, v)
	if p.spec.Gauge != "" && !p.frame.noDial && !p.tested() {
		p.frame.drawRelease(l, v.Get(wire.SlotRelease) == 1)
		psi := finite(v.Get(wire.SlotNeedle)) / pascalPerPSI
		drawNeedle(l, p.frame.dial, p.frame.radius, p.scale.Angle(psi))
	}
	p.drawMark(l)
}

// plate draws the throttle plate at its angle: across the tube when shut, along
// it when wide open.
func (b *body) plate(l *List, open float64) {
	at, _, wide, upright := b.throttle()
	turn := (0.06 + 0.94*open) * math.Pi / 2
	if upright {
		turn = math.Pi/2 + turn
	}
	l.place(at.X, at.Y, 1, turn-math.Pi/2)
	reach := 0.97 * wide
	l.line(-reach, 0, reach, 0, Style{Line: Ink, Width: 3.4})
	l.disc(0, 0, 0.16*wide+1, Style{Fill: Steel, Line: Ink, Width: 1.2})
	l.plain()
}

// drawShown writes what the meter shows into its window; off shows nothing.
func (p *Plan) drawShown(l *List, v wire.View) {
	if p.top.meter.W == 0 {
		return
	}
	w := meterWindow(p.top.meter)
	volts, hasVolts := v.Shown(wire.SlotVolts)
	rpm, hasRPM := v.Shown(wire.SlotRPM)
	rows := 0.0
	if hasVolts {
		rows++
	}
	if hasRPM {
		rows++
	}
	h := math.Min(0.62*w.H/math.Max(rows, 1), w.W/5.2)
	y := w.Y + w.H/2 - (rows-1)*0.25*w.H
	if hasVolts {
		p.row(l, strconv.FormatFloat(clamp(volts, -99, 99), 'f', 1, 64)+" V", w, y, h)
		y += 0.5 * w.H
	}
	if hasRPM {
		p.row(l, itoa(int(clamp(rpm, -9999, 9999)+0.5))+" rpm", w, y, h)
	}
}

func (p *Plan) row(l *List, s string, w Rect, y, h float64) {
	if wide := textWidth(s, h); wide > 0.9*w.W {
		h *= 0.9 * w.W / wide
	}
	l.text(s, w.X+w.W/2, y, h, 1.5, Ink)
}

func itoa(n int) string { return strconv.Itoa(n) }

func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}
