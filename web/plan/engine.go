package plan

import "math"

// body is the engine's outside on the surface, derived from the frame. Heights
// are px, from the top down: coils, cam cover, head, block down to the crank's
// axis, pan.
type body struct {
	spec    *EngineSpec
	pitch   float64 // from bore to bore
	front   float64 // room before the first bank
	banks   []bank
	stacked bool // two banks above each other instead of beside each other
	left    float64
	right   float64 // end of the block, where the flywheel begins
	end     float64 // of the room for the engine
	crank   float64 // y of the crank's axis
	bottom  float64 // of the pan
	coil    float64
	cover   float64
	head    float64
	block   float64
	pan     float64
	wheel   float64 // radius of the flywheel

	dry      bool // injectors unplugged
	bare     bool // coolant neck without its cap
	selected int  // cylinder shown in section, 0 none
}

// A bank is a row of cylinders.
type bank struct {
	number    int
	cylinders []int
	x         float64 // left end
	top       float64 // y of the cam cover's top
	w         float64
}

// Heights of a real engine of this kind in pitches.
const (
	coilHeight  = 0.34
	coverHeight = 0.60
	headHeight  = 0.92
	blockHeight = 1.80
	panHeight   = 1.00
	allHeight   = coilHeight + coverHeight + headHeight + blockHeight + panHeight
)

func newBody(s *Spec, f frame) *body {
	e := &s.EngineSpec
	b := &body{spec: e, dry: s.Fuel == "disabled", end: f.engine.Right()}
	rows, n := len(e.Banks), longestBank(s)
	b.pitch = f.engine.W / rowPitches(n, rows)
	if b.pitch < touch+0.5 && rows > 1 {
		b.stacked = true
		b.pitch = (f.engine.W - stackedFront) / (float64(n) + rearEnd + stagger)
	}
	// A little squat is fine; out of proportion is not.
	b.pitch = math.Min(b.pitch, math.Max(touch+1, f.engine.H/(0.86*allHeight)))
	b.front = frontEnd * b.pitch
	if b.stacked {
		b.front = math.Max(stackedFront, b.front)
	}
	b.heights(f.engine.H)
	b.placeBanks(f, rows)
	return b
}

func (b *body) heights(room float64) {
	if b.stacked {
		row := clamp(room*0.39, touch+4, 2.2*b.pitch)
		b.coil, b.cover, b.head = 0.22*row, 0.33*row, 0.45*row
		b.block, b.pan = (room-2*row)*0.45, (room-2*row)*0.55
		b.wheel = math.Min(1.2*b.pitch, b.pan+0.3*row)
		return
	}
	k := clamp(room/(allHeight*b.pitch), 0.5, 1.18) * b.pitch
	b.coil, b.cover, b.head = coilHeight*k, coverHeight*k, headHeight*k
	b.block, b.pan = blockHeight*k, panHeight*k
	b.wheel = math.Min(1.25*b.pitch, 1.12*b.pan)
}

func (b *body) placeBanks(f frame, rows int) {
	p := b.pitch
	n := longestOf(b.spec.Banks)
	across := rowPitches(n, rows) * p
	if b.stacked {
		across = b.front + (float64(n)+rearEnd+stagger)*p
	}
	b.left = f.engine.X + 0.4*math.Max(0, f.engine.W-across)
	row := b.coil + b.cover + b.head
	high := row + b.block + b.pan
	if b.stacked {
		high += row
	}
	top := f.engine.Y + 0.6*math.Max(0, f.engine.H-high) + b.coil
	x := b.left + b.front
	for i, cylinders := range b.spec.Banks {
		one := bank{number: i + 1, cylinders: cylinders, x: x, top: top, w: float64(len(cylinders)) * p}
		if b.stacked {
			top += row
			x += stagger * p
		} else {
			x += one.w + valley*p
		}
		b.banks = append(b.banks, one)
	}
	last := b.banks[len(b.banks)-1]
	b.right = last.x + last.w
	b.crank = last.top + b.cover + b.head + b.block
	b.bottom = b.crank + b.pan
}

func longestOf(banks [][]int) int {
	n := 1
	for _, b := range banks {
		n = max(n, len(b))
	}
	return n
}

// coverLeft is the front edge of the timing cover.
func (b *body) coverLeft() float64 {
	if b.stacked {
		return b.banks[0].x - 0.46*b.pitch
	}
	return b.banks[0].x - 0.36*b.pitch
}

// deck is where block and head of a bank meet.
func (b *body) deck(k *bank) float64 { return k.top + b.cover + b.head }

// onFace reports whether the plugs sit in the side of the head, as with one cam
// in the block, instead of in wells between two cams.
func (b *body) onFace() bool { return b.spec.Cams == "block" || b.spec.Layout == "flat" }

// intakeSide reports whether the intake is on the side that is seen; the banks of
// a V are seen from outside, where the exhaust is.
func (b *body) intakeSide() bool { return len(b.banks) == 1 }

// well returns the mouth of a cylinder's plug hole and its bank, nil for a
// cylinder that the engine does not have.
func (b *body) well(cylinder int) (Point, *bank) {
	for i := range b.banks {
		k := &b.banks[i]
		for j, c := range k.cylinders {
			if c != cylinder {
				continue
			}
			at := Point{k.x + (float64(j)+0.5)*b.pitch, k.top + 0.5*b.band()}
			if b.onFace() {
				at.Y = k.top + b.cover + 0.30*b.head
			}
			return at, k
		}
	}
	return Point{}, nil
}

// band is the height of the cam cover's top as seen from slightly above.
func (b *body) band() float64 { return 0.3 * b.cover }

// draw puts everything that stands still into l, from the back to the front.
func (b *body) draw(l *List) {
	b.drawExhaustPipe(l)
	b.drawWheels(l)
	b.drawPan(l)
	for i := range b.banks {
		k := &b.banks[i]
		if !b.stacked || i == len(b.banks)-1 {
			b.drawBlock(l, k)
		}
	}
	b.drawFrontCover(l)
	b.drawBetween(l)
	for i := range b.banks {
		k := &b.banks[i]
		b.drawHead(l, k)
		b.drawCover(l, k)
	}
	if b.intakeSide() {
		b.drawIntake(l, &b.banks[0])
	} else {
		b.drawValley(l)
	}
	b.drawStarter(l)
	b.drawNeck(l)
}
