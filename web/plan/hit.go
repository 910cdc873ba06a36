package plan

import "math"

// A Box is a place that can be touched, at least 44 px each way. Target is one of
// plug, cylinder, hose, gauge, release, throttle, switch, battery, charger,
// meter, oil, wrench, tray; Cylinder is 0 where none is meant.
type Box struct {
	Target   string `json:"target"`
	Cylinder int    `json:"cylinder"`
	Rect
}

// At returns the box at a point and whether there is one.
func (p *Plan) At(x, y float64) (Box, bool) {
	for _, b := range p.Boxes {
		if b.Contains(Point{x, y}) {
			return b, true
		}
	}
	return Box{}, false
}

func (p *Plan) boxes() []Box {
	f := &p.frame
	var out []Box
	add := func(target string, cylinder int, r Rect) {
		if r = p.grown(r); p.free(out, r) {
			out = append(out, Box{target, cylinder, r})
		}
	}
	d := f.radius
	p.plugBoxes(add)
	add("gauge", 0, Rect{f.dial.X - d, f.dial.Y - d, 2 * d, 2 * d}) // nowhere without a dial
	if p.spec.Gauge != "" && !f.noDial && !p.tested() {
		at := f.releaseAt()
		y := math.Max(at.Y-touch/2, f.dial.Y+d)
		add("release", 0, Rect{math.Max(f.dial.X+2, at.X-touch/2+6), y, touch, touch})
	}
	at, long, wide, _ := p.body.throttle()
	r := math.Max(long, wide)
	add("throttle", 0, Rect{at.X - r, at.Y - r, 2 * r, 2 * r})
	add("battery", 0, p.top.battery)
	add("meter", 0, p.top.meter)
	add("charger", 0, p.top.charger)
	add("switch", 0, p.top.remote)
	add("oil", 0, p.top.oil)
	p.trayBoxes(add)
	if p.key.fitted.wrench {
		add("wrench", 0, p.body.wrenchBox())
	}
	if p.spec.Gauge != "" || p.tested() {
		add("hose", 0, p.hoseBox(out))
	}
	return p.cylinderBoxes(out)
}

// plugBox is the mouth of a plug hole with the coil over it.
func (p *Plan) plugBox(cylinder int) Rect {
	b := p.body
	at, k := b.well(cylinder)
	top := k.top - b.coil
	high := math.Max(touch, at.Y+0.5*b.band()-top)
	if b.stacked {
		high = math.Max(touch, b.coil+b.cover)
	}
	if b.onFace() {
		top, high = at.Y-touch/2, touch
	}
	return Rect{at.X - b.pitch/2, top, b.pitch, high}
}

func (p *Plan) plugBoxes(add func(string, int, Rect)) {
	for i := range p.spec.Cylinders {
		add("plug", i+1, p.plugBox(i+1))
	}
}

// cylinderBoxes adds, where the section is shown, a box below every plug that
// chooses the cylinder cut; all of them or, on a small surface, none.
func (p *Plan) cylinderBoxes(out []Box) []Box {
	if !p.key.section || p.body.stacked {
		return out
	}
	all := out
	for i := range p.spec.Cylinders {
		r := p.plugBox(i + 1)
		r = p.grown(Rect{r.X, r.Bottom(), r.W, touch})
		if !p.free(all, r) {
			return out
		}
		all = append(all, Box{"cylinder", i + 1, r})
	}
	return all
}

// hoseBox is where the hose can be taken: the first free place along its way.
func (p *Plan) hoseBox(taken []Box) Rect {
	way := p.hose(p.key.gauged)
	const shift = touch/2 - 6
	for _, d := range []Point{{}, {-shift, 0}, {shift, 0}, {0, -shift}, {0, shift}, {-shift, -shift}, {shift, -shift}, {-shift, shift}, {shift, shift}} {
		for i := 0; i+3 < len(way); i += 3 {
			for u := 0.0; u <= 1; u += 0.05 {
				c := bezier(way[i], way[i+1], way[i+2], way[i+3], u).Add(d)
				if r := p.grown(Rect{c.X - touch/2, c.Y - touch/2, touch, touch}); p.free(taken, r) {
					return r
				}
			}
		}
	}
	return Rect{}
}

func (p *Plan) trayBoxes(add func(string, int, Rect)) {
	slots := p.slots()
	for _, s := range slots {
		if s.W < touch-0.5 || s.H < touch-0.5 {
			add("tray", 0, p.frame.tray)
			return
		}
	}
	for _, s := range slots {
		add("tray", s.cylinder, s.Rect)
	}
}

// grown widens a box to the least touch size and keeps it on the surface.
func (p *Plan) grown(r Rect) Rect {
	if r.W <= 0 || r.H <= 0 {
		return Rect{}
	}
	if r.W < touch && r.W != p.pitch() {
		r.X, r.W = r.X-(touch-r.W)/2, touch
	}
	if r.H < touch {
		r.Y, r.H = r.Y-(touch-r.H)/2, touch
	}
	r.X = clamp(r.X, 0, math.Max(0, p.Width-r.W))
	r.Y = clamp(r.Y, 0, math.Max(0, p.Height-r.H))
	return r
}

// pitch is how wide a plug's box may be: with six in a row on a phone a little
// less than the touch size, because neighbours must not overlap.
func (p *Plan) pitch() float64 {
	return p.body.pitch
}

// free reports whether r is a box and overlaps none that is there already.
func (p *Plan) free(boxes []Box, r Rect) bool {
	if r.W <= 0 {
		return false
	}
	for _, b := range boxes {
		if b.Overlaps(r) {
			return false
		}
	}
	return true
}
