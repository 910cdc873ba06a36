package bench

import (
	"math"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

const (
	// readAngle is where a stroke is read, after its compression TDC [rad]: at 250
	// rpm 0.2 s later, when the needle has settled, and well before the next rise.
	readAngle = 7 * math.Pi / 4
	// armAngle: a piston must have been this far before TDC for its passage to
	// count again, so that rocking over TDC is one stroke [rad].
	armAngle = math.Pi / 2
	// bottomSlack is how far past BDC a compression stroke may begin and still be a
	// whole one [rad]: the intake valve is open there.
	bottomSlack = math.Pi / 36
	// inrush is the time of a press that speed and voltage leave out: 0.3 s.
	inrush = record.TicksPerSecond * 3 / 10
	// patience is how long a needle is waited for after the crank has stopped: 3 s.
	patience = 3 * record.TicksPerSecond
)

// running is the run in progress.
type running struct {
	active  bool
	rec     record.Run
	start   float64 // angle of the gauged cylinder at the start [rad]
	armed   bool    // has been well before TDC
	passed  bool    // a TDC was passed and is not read yet
	full    bool    // of that stroke
	vented  bool    // release pressed since the last stroke was read
	count   int     // TDCs passed
	speed   float64 // sum over turning [rad/s]
	turning int     // ticks summed
	floor   float64 // lowest battery voltage, 0 none [V]
}

func (r *running) digest(h hash) hash {
	h = h.bool(r.active, r.armed, r.passed, r.full, r.vented).int(r.count, r.turning, len(r.rec.Strokes))
	return h.float(r.start, r.speed, r.floor)
}

// beginRun starts a run, or goes on with the one whose crank still turns.
func (b *Bench) beginRun() {
	b.press = pressing{}
	b.beginSensing()
	if b.run.active && !b.still() {
		return
	}
	if b.run.active {
		b.endRun()
	}
	out, _ := b.openHoles()
	gauged := b.hands.hose
	b.run = running{active: true, rec: record.Run{
		ID:               len(b.rec.Runs) + 1,
		StartTick:        b.rec.Tick,
		Minutes:          b.Minutes(),
		Cylinder:         gauged,
		ThrottleOpen:     b.hands.open,
		PlugsOut:         out,
		CoolantC:         b.coolantC(),
		GaugeAtZero:      gauged != 0 && float64(b.hosePressure()) < emptyPa,
		FuelDisabled:     b.hands.fuelOff,
		IgnitionDisabled: b.hands.ignitionOff,
		Charger:          b.hands.charger,
	}}
	for i := range b.cyl {
		b.run.rec.OilMLAny += b.cyl[i].oil
	}
	if gauged != 0 {
		b.run.rec.OilML = b.cyl[gauged-1].oil
		b.run.start = b.engine.CylinderAngle(gauged)
		b.run.armed = b.run.start < 0
	}
	b.event(EventCrankStart, "", gauged, float64(b.run.rec.ID))
}

// watch follows a run by a tick.
func (b *Bench) watch() {
	r := &b.run
	r.rec.ThrottleOpen = r.rec.ThrottleOpen && b.hands.open
	if b.hands.starter && b.press.ticks > inrush {
		r.speed += b.engine.Speed()
		r.turning++
		if v := b.engine.Voltage(); r.floor == 0 || v < r.floor {
			r.floor = v
		}
	}
	if r.rec.Cylinder != 0 {
		b.followPiston(b.engine.CylinderAngle(r.rec.Cylinder))
	}
	if b.hands.starter || !b.still() {
		return
	}
	if b.needle.AtRest() || b.release > 0 || b.quiet > patience {
		b.endRun()
	}
}

// followPiston counts compression strokes of the gauged cylinder and reads them.
func (b *Bench) followPiston(angle float64) {
	r := &b.run
	switch {
	case angle < -armAngle:
		if r.passed && angle < -math.Pi {
			b.readStroke()
		}
		r.armed = true
	case angle >= 0 && r.armed:
		if r.passed {
			b.readStroke()
		}
		r.armed, r.passed = false, true
		r.full = r.count > 0 || r.start >= 0 || r.start <= -math.Pi+bottomSlack
		r.count++
	case r.passed && angle >= readAngle:
		b.readStroke()
	}
}

// readStroke records what a person reads now as the stroke that was passed.
func (b *Bench) readStroke() {
	r := &b.run
	r.passed, r.vented = false, b.release > 0
	s := b.reading(r.full)
	r.rec.Strokes = append(r.rec.Strokes, s)
	name := "full"
	if !s.Full {
		name = "part"
	}
	b.event(EventStroke, name, r.rec.Cylinder, s.Shown)
}

func (b *Bench) reading(full bool) record.Stroke {
	return record.Stroke{
		Tick: b.rec.Tick, Full: full,
		Shown:  float64(b.needle.Read()),
		Needle: float64(b.needle.Indicated()),
		True:   float64(b.hosePressure()),
	}
}

// released keeps what the needle showed before the release is pressed: it is the
// last that could be read.
func (r *running) released(b *Bench) {
	if !r.active {
		return
	}
	if r.passed {
		b.readStroke()
	} else {
		r.reread(b)
	}
	r.vented = true
}

// reread makes the last stroke what the needle shows now. Before the release was
// pressed, the last thing to read is where the needle stands.
func (r *running) reread(b *Bench) {
	if n := len(r.rec.Strokes); n > 0 && !r.vented {
		last := &r.rec.Strokes[n-1]
		full, tick := last.Full, last.Tick
		*last = b.reading(full)
		last.Tick = tick
	}
}

// endRun closes the run: crank and needle have come to rest.
func (b *Bench) endRun() {
	r := &b.run
	if r.passed {
		b.readStroke()
	} else {
		r.reread(b)
	}
	r.active = false
	r.rec.EndTick = b.rec.Tick
	r.rec.BatteryMinV = r.floor
	if r.turning > 0 {
		r.rec.SpeedRPM = unit.RPM(r.speed / float64(r.turning))
	}
	if n := len(r.rec.Strokes); n > 0 && !r.rec.Strokes[0].Full {
		b.caution("part_stroke", r.rec.Cylinder)
	}
	b.rec.Runs = append(b.rec.Runs, r.rec)
	b.meters.keep(b, r.rec)
	b.noteSensed(r.rec.ID)
	if !b.hands.fuelOff || !b.hands.ignitionOff || !b.hands.leads {
		b.hands.codes = true
	}
	b.event(EventCrankStop, "", r.rec.Cylinder, float64(r.rec.ID))
}

// StrokeStep lets time pass until the gauged cylinder has finished one more
// compression stroke and the needle can be read, and returns the ticks. Without
// a gauge it is the next cylinder to come up. It stops when everything is at
// rest, and after eight seconds whatever happens.
func (b *Bench) StrokeStep() int {
	from := b.rec.Tick
	strokes, runs := len(b.run.rec.Strokes), len(b.rec.Runs)
	watched := 0
	if b.hands.hose == 0 || b.tests.pump.on {
		watched = b.coming()
	}
	risen := false
	for range strokeMost {
		before := b.rec.Tick
		b.Advance(1)
		if b.rec.Tick == before || len(b.rec.Runs) != runs {
			break
		}
		if watched == 0 {
			if len(b.run.rec.Strokes) != strokes {
				break
			}
			continue
		}
		angle := b.engine.CylinderAngle(watched)
		risen = risen || angle >= 0 && angle < armAngle
		if risen && angle >= armAngle {
			break
		}
	}
	return int(b.rec.Tick - from)
}

// strokeMost bounds StrokeStep: 8 s.
const strokeMost = 8 * record.TicksPerSecond

// coming returns the cylinder that is next to finish a compression stroke.
func (b *Bench) coming() int {
	next, nearest := 1, -3*oneTurn
	for i := range b.cyl {
		angle := b.engine.CylinderAngle(i + 1)
		if angle >= 0 {
			angle -= 2 * oneTurn
		}
		if angle > nearest {
			next, nearest = i+1, angle
		}
	}
	return next
}
