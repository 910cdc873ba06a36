package plan

import "math"

// touch is the least side of anything that can be touched [px].
const touch = 44

// frame says where everything lies on a surface of w × h px.
type frame struct {
	w, h    float64
	margin  float64
	compact bool
	engine  Rect  // engine with its ends, hose room above it left out
	dial    Point // hub of the gauge
	radius  float64
	stem    float64 // length of the gauge's neck with the release
	section Rect    // zero when no section is shown
	tools   Rect    // battery, meter, charger, switch, oil can
	tray    Rect
	noDial  bool
}

// arrange divides the surface: engine and tools in the left column, gauge and
// section (or tray) in the right one.
func arrange(s *Spec, section bool, w, h float64) frame {
	f := frame{w: w, h: h, margin: 14, compact: w < 600 || h < 400}
	if f.compact {
		f.margin = 6
	}
	if s.NoDial {
		f.dialless(s, section)
		return f
	}
	if w >= 640 && w >= 1.6*h {
		f.broad(section)
		return f
	}
	right := f.rightColumn(s, section)
	left := Rect{f.margin, f.margin, w - right - f.margin, h - 2*f.margin}
	strip, shelf := clamp(0.245*h, 62, 170), 0.0
	if f.compact {
		strip = clamp(0.2*h, 50, 84)
		if section {
			shelf = clamp(0.17*h, touch, 80)
		}
	}
	f.tools = Rect{left.X, left.Bottom() - strip - shelf, left.W, strip}
	switch {
	case section && f.compact:
		f.tray = Rect{left.X, left.Bottom() - shelf + 4, left.W, shelf - 4}
	case section:
		t := math.Min(0.36*left.W, 4.2*touch)
		f.tray = Rect{left.Right() - t, f.tools.Y, t, strip}
		f.tools.W -= t + f.margin
	default:
		f.tray, f.section = f.section, Rect{}
		if low := f.tray.Bottom() - 1.1*strip; low > f.tray.Y && !f.compact {
			f.tray.Y, f.tray.H = low, f.tray.Bottom()-low
		}
	}
	over, under := 0.1*h, 0.052*h // hose above the engine, cables below it
	f.engine = Rect{left.X, over, left.W, f.tools.Y - under - over}
	return f
}

// rightColumn places gauge and section and returns the column's width.
func (f *frame) rightColumn(s *Spec, section bool) float64 {
	width := clamp(0.315*f.w, 190, 0.55*f.h)
	if f.compact {
		width = clamp(f.w-compactWidth(s)-2*f.margin, 108, 0.44*f.w)
	}
	f.stem = clamp(0.075*f.h, 24, 60)
	share := 0.54
	switch {
	case f.compact && section:
		share = 0.6
	case section:
		share = 0.49 // a dial somewhat smaller, so that valves and rings are large
	default:
		share = 0.66
	}
	f.radius = math.Min((width-f.margin)/2, (share*f.h-f.stem-f.margin)/2)
	f.dial = Point{f.w - f.margin/2 - width/2, f.margin + f.radius}
	// The hose bends below the neck, and the release beside it needs its box.
	top := f.dial.Y + f.radius + math.Max(1.5*f.stem, touch+2)
	f.section = Rect{f.w - width, top, width - f.margin, f.h - f.margin - top}
	return width
}

// broad divides a wide and low surface: engine and tools, section, dial with the
// tray below it, from left to right.
func (f *frame) broad(section bool) {
	f.compact, f.margin = false, clamp(0.035*f.h, 8, 16)
	m := f.margin
	f.stem = clamp(0.075*f.h, 24, 60)
	shelf := clamp(0.17*f.h, touch, 120)
	f.radius = math.Min(0.165*f.w, (f.h-3*m-shelf-math.Max(1.35*f.stem, touch+2-m))/2) // the release needs its box above the tray
	f.dial = Point{f.w - m - f.radius, m + f.radius}
	right := f.w - 2*m - 2*f.radius
	f.tray = Rect{right + m, f.h - m - shelf, 2 * f.radius, shelf}
	if section {
		wide := clamp(0.45*f.h, 130, 0.24*f.w)
		top := 0.1 * f.h
		lane := clamp(0.06*f.h, 18, 40) // for the hose
		f.section = Rect{right + m - wide - lane, top, wide, f.h - m - top}
		right = f.section.X
	}
	strip := clamp(0.25*f.h, 62, 170)
	over, under := 0.1*f.h, 0.055*f.h
	f.tools = Rect{m, f.h - m - strip, right - 2*m, strip}
	f.engine = Rect{m, over, right - 2*m, f.tools.Y - under - over}
}

// dialless divides a surface whose dial is shown elsewhere: engine, tools and
// tray on the left, the section down the whole right side.
func (f *frame) dialless(s *Spec, section bool) {
	f.noDial = true
	m, left := f.margin, f.w-2*f.margin
	if section {
		wide := math.Min(clamp(0.45*f.h, 90, 0.34*f.w), math.Max(76, left-compactWidth(s)-m))
		f.section = Rect{f.w - m - wide, m, wide, f.h - 2*m}
		left -= wide + m
	}
	strip, shelf := clamp(0.2*f.h, 50, 150), clamp(0.16*f.h, touch, 80)
	f.tools = Rect{m, f.h - m - strip - shelf - 4, left, strip}
	f.tray = Rect{m, f.h - m - shelf, left, shelf}
	if left > 560 { // room for tools and tray side by side
		strip = clamp(0.26*f.h, 62, 170)
		f.tools = Rect{m, f.h - m - strip, 0.62 * left, strip}
		f.tray = Rect{m + 0.65*left, f.h - m - strip, 0.35 * left, strip}
	}
	over, under := 0.1*f.h, 0.05*f.h
	f.engine = Rect{m, over, left, f.tools.Y - under - over}
}

// Room that the engine's two ends and the valley of a V take, in pitches.
const (
	frontEnd = 0.60
	rearEnd  = 0.42
	valley   = 1.15
	stagger  = 0.12 // of two banks drawn above each other
)

// stackedFront is the room in front of banks drawn above each other [px].
const stackedFront = touch + 2

// rowPitches is the width of an engine with rows of n cylinders, in pitches.
func rowPitches(n, rows int) float64 {
	return frontEnd + rearEnd + float64(n*rows) + valley*float64(rows-1)
}

// compactWidth is what the engine needs on a small surface for every plug to be
// touched: banks above each other, and room for the throttle at the front.
func compactWidth(s *Spec) float64 {
	n := longestBank(s)
	if len(s.Banks) == 1 {
		return rowPitches(n, 1) * (touch + 2)
	}
	return stackedFront + (float64(n)+rearEnd+stagger)*(touch+0.5)
}

func longestBank(s *Spec) int {
	n := 1
	for _, b := range s.Banks {
		n = max(n, len(b))
	}
	return n
}
