package book

import (
	"math"

	"crankbay/scenarios"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A Sample is one tick of a test that package book drives itself.
type Sample struct {
	Cylinder int     // under test; 0 all of them
	Seconds  float64 // since the test of this cylinder began
	Engine   *sim.Engine
	Needle   unit.Gauge // of the gauge, where one is on
}

// Watch is called after each tick; it looks and changes nothing.
type Watch func(Sample)

// A rig is an engine that the card has prepared and that is driven tick by tick
// from then on.
type rig struct {
	s      *scenarios.Scenario
	b      *bench.Bench
	e      *sim.Engine
	needle instrument.Needle
	watch  Watch
	air    unit.Pressure // around it
	cyl    int           // for watch
	ticks  int           // since begin
}

// newRig prepares the engine by its card, with the throttle and the plugs as said.
func newRig(s *scenarios.Scenario, open, out bool, watch Watch) (*rig, error) {
	b, err := bench.New(s.Setup())
	if err != nil {
		return nil, err
	}
	h := &hands{b: b, s: s, open: open, out: out}
	h.prepare()
	if h.err != nil {
		return nil, h.err
	}
	return &rig{
		s: s, b: b, e: b.Engine(), needle: instrument.NewNeedle(b.Needle().Spec()), watch: watch, air: unit.Pressure(b.Setup().Engine.Ambient),
	}, nil
}

// begin starts the test of a cylinder, 0 for all.
func (r *rig) begin(cyl int) {
	r.cyl, r.ticks = cyl, 0
	r.needle = instrument.NewNeedle(r.needle.Spec())
}

// step is one tick of engine and needle.
func (r *rig) step(in sim.Inputs) {
	r.e.Step(in)
	r.needle.Step(r.hose())
	r.ticks++
	if r.watch != nil {
		r.watch(Sample{r.cyl, r.seconds(), r.e, r.needle.Indicated()})
	}
}

func (r *rig) seconds() float64 { return float64(r.ticks) / record.TicksPerSecond }

// hose returns the gauge's gas over ambient.
func (r *rig) hose() unit.Gauge {
	return unit.Pressure(r.e.HosePressure()).Gauge(r.air)
}

// reading returns what the gauge says: its gas, or what a person reads off it.
func (r *rig) reading(asRead bool) unit.Gauge {
	if asRead {
		return r.needle.Read()
	}
	return r.hose()
}

// rest opens the starter switch and lets the crank come to rest, 20 s at most.
func (r *rig) rest() {
	for i := 0; i < 20*record.TicksPerSecond && !r.e.AtRest(); i++ {
		r.step(sim.Inputs{})
	}
}

// crank holds the starter switch for a time [s] and calls seen after each tick.
func (r *rig) crank(seconds float64, seen func()) {
	for i := 0; i < ticksOf(seconds); i++ {
		r.step(sim.Inputs{Starter: true})
		if seen != nil {
			seen()
		}
	}
}

// ticksOf returns the nearest number of ticks to a short time [s].
func ticksOf(seconds float64) int { return int(float64(min(seconds, 600)*record.TicksPerSecond) + 0.5) }

func (r *rig) coolantC() float64 { return unit.Kelvin(r.e.Coolant()).Celsius() }

// to rounds v to a multiple of step, as a person reads a dial or a display.
func to(step, v float64) float64 { return math.Floor(v/step+0.5) * step }

// turned returns how far a crank angle [rad] has come, across the end of a cycle.
func turned(from, to float64) float64 {
	d := to - from
	if d < -fourPi/2 {
		d += fourPi
	} else if d > fourPi/2 {
		d -= fourPi
	}
	return d
}

const fourPi = 4 * math.Pi
