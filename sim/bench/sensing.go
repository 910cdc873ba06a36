package bench

import (
	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
)

const (
	// sensedLeast is how long the switch has to be held before current and vacuum
	// say anything: 3 s. The inrush is over after 1 s, and the manifold is pumped
	// down after 2 s (from the traces of the model).
	sensedLeast   = 3 * record.TicksPerSecond
	clampInrush   = record.TicksPerSecond
	vacuumPumping = 2 * record.TicksPerSecond
	// traceMost is how much of a press a clamp meter with a memory keeps: 20 s.
	traceMost = 20 * record.TicksPerSecond
	// ampStep and vacuumStep are what is read off a clamp's display [A] and off half
	// a division of a vacuum gauge [Pa] (judgement).
	ampStep    = 1.0
	vacuumStep = 500.0
)

// sensing follows one press of the switch by clamp and vacuum gauge.
type sensing struct {
	clamped, piped bool    // on since the press began
	watched        bool    // the coolant neck
	bubbles        float64 // sum of what blows into the coolant [kg/s]
	ticks          int
	angle          [sim.MaxCylinders]float64 // of each cylinder a tick ago [rad]
	peak           float64                   // [A]
	vacuum         float64                   // sum after pumping down [Pa]
	low, high      float64                   // [Pa]
	folded         uint64                    // of the trace
}

// A trace is the starter current of the last press with the clamp on.
type trace struct {
	amps []float64
	tops []instrument.Top
}

func (s *sensing) digest(h hash) hash {
	h = h.int(s.ticks).float(s.peak, s.vacuum, s.low, s.high, s.bubbles).float(s.angle[:]...)
	return h.word(s.folded).bool(s.clamped, s.piped, s.watched)
}

// doClamp lays the clamp meter round the starter cable or takes it off.
func (b *Bench) doClamp(a record.Action) error { return b.change(&b.tests.clamp, a) }

// doVacuumGauge pipes the vacuum gauge to the manifold or takes it off.
func (b *Bench) doVacuumGauge(a record.Action) error { return b.change(&b.tests.vacuumGauge, a) }

// Amps returns what the clamp meter shows when it is on [A].
func (b *Bench) Amps() float64 { return to(ampStep, b.engine.Current()) }

// Vacuum returns what the vacuum gauge shows when it is on, below ambient [Pa].
func (b *Bench) Vacuum() float64 { return to(vacuumStep, b.below()) }

// Below returns the pressure in the manifold below ambient, unrounded [Pa].
func (b *Bench) Below() float64 { return b.below() }

// Trace returns the starter current of the last press of the switch with the clamp
// on, tick by tick [A], and when which piston stood at the top of its compression.
// It shares memory with the bench.
func (b *Bench) Trace() ([]float64, []instrument.Top) { return b.trace.amps, b.trace.tops }

// below returns the pressure in the manifold below ambient [Pa].
func (b *Bench) below() float64 { return b.setup.Engine.Ambient - b.engine.PlenumPressure() }

// beginSensing starts a press.
func (b *Bench) beginSensing() {
	t := &b.tests
	t.sense = sensing{clamped: t.clamp, piped: t.vacuumGauge, watched: t.neck}
	if t.clamp {
		b.trace = trace{}
	}
	if t.clamp || t.vacuumGauge {
		b.keepAngles()
	}
}

func (b *Bench) keepAngles() {
	for i := range b.cyl {
		b.tests.sense.angle[i] = b.engine.CylinderAngle(i + 1)
	}
}

// sensed follows a press by a tick.
func (b *Bench) sensed() {
	s := &b.tests.sense
	if !b.run.active || !s.clamped && !s.piped && !s.watched || s.ticks >= traceMost {
		return
	}
	s.ticks++
	if s.watched {
		b.bubbling(s)
	}
	if s.piped && s.ticks > vacuumPumping {
		v := b.below()
		if s.ticks == vacuumPumping+1 {
			s.low, s.high = v, v
		}
		s.vacuum += v
		s.low, s.high = min(s.low, v), max(s.high, v)
	}
	if !s.clamped {
		return
	}
	amps := b.engine.Current()
	b.trace.amps = append(b.trace.amps, amps)
	s.folded = hash(s.folded).float(amps).sum()
	s.peak = max(s.peak, amps)
	for i := range b.cyl {
		before, now := s.angle[i], b.engine.CylinderAngle(i+1)
		if before < 0 && before > -1 && now >= 0 {
			b.trace.tops = append(b.trace.tops, instrument.Top{Tick: s.ticks - 1, Cylinder: i + 1})
			s.folded = hash(s.folded).int(s.ticks, i).sum()
		}
	}
	b.keepAngles()
}

// noteSensed records what clamp and vacuum gauge showed of a run that ends.
func (b *Bench) noteSensed(run int) {
	s := &b.tests.sense
	if s.ticks >= sensedLeast {
		if s.clamped {
			b.noteCurrent(run)
		}
		if s.piped {
			b.rec.Vacuums = append(b.rec.Vacuums, record.Vacuum{
				Run: run, MeanPa: to(vacuumStep, s.vacuum/float64(s.ticks-vacuumPumping)), SwingPa: to(vacuumStep, s.high-s.low),
			})
		}
	}
	if s.watched && s.ticks >= bubbleTime {
		b.noteBubbles(s)
	}
	b.tests.sense = sensing{}
}

// noteCurrent records what the trace says. A cylinder that is open makes no hump, so
// that nothing is compared unless all plugs are in.
func (b *Bench) noteCurrent(run int) {
	s := &b.tests.sense
	sum := 0.0
	for _, a := range b.trace.amps[clampInrush:] {
		sum += a
	}
	c := record.Current{
		Run: run, Seconds: float64(s.ticks) / record.TicksPerSecond, PeakA: to(ampStep, s.peak),
		MeanA: to(ampStep, sum/float64(s.ticks-clampInrush)),
	}
	if out, _ := b.openHoles(); out == 0 {
		found := instrument.Compare(b.trace.amps, b.trace.tops, instrument.Firings(b.setup.Engine), clampInrush)
		if !found.Stalled {
			c.MeanHumpA, c.Compare, c.Tower = to(ampStep, found.MeanA), found.How, found.Tower
			for _, h := range found.Humps {
				c.Humps = append(c.Humps, record.Hump{
					Cylinder: h.Cylinder, HeightA: to(ampStep, h.HeightA), Percent: to(1, h.Percent), Low: h.Low, Group: h.Group,
				})
			}
		}
	}
	b.rec.Currents = append(b.rec.Currents, c)
}
