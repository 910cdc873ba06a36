// Package trace samples a test by the book, tick by tick.
//
// A test with the compression gauge is a log of actions, so its samples are taken
// while the log is played again on a fresh bench, and the digest at the end proves
// that it was the same test. The other kinds are watched while they are done.
package trace

import (
	"fmt"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A Sample is the engine after one tick. Hose and needle mean something in a run
// with the gauge on.
type Sample struct {
	Tick     int64           // since the run began
	Crank    float64         // crank angle after the first cylinder's compression TDC [rad], 0 … 4π
	Angle    float64         // crank angle after the tested cylinder's compression TDC [rad], -2π … 2π
	Speed    float64         // of the crank [rad/s]
	Current  float64         // of the starter [A]
	Voltage  float64         // at the battery posts [V]
	Plenum   unit.Pressure   // in the intake manifold, absolute
	Hose     unit.Gauge      // gas in the gauge's hose
	Needle   unit.Gauge      // where the needle stands, unrounded
	Pressure []unit.Pressure // in every cylinder, absolute
}

// Seconds since the run began.
func (s Sample) Seconds() float64 { return float64(s.Tick) / record.TicksPerSecond }

// A Run is one cranking, or the test of one cylinder, with its samples, one per
// tick. Of the record, tests without a log fill in ID and Cylinder alone.
type Run struct {
	record.Run
	Gauged  bool // the compression gauge was on the cylinder
	Samples []Sample
}

// A Trace is every run of a test.
type Trace struct {
	Kind      string // of test, as package book names them
	Cylinders int
	Ambient   unit.Pressure
	Runs      []Run
}

// Of plays the test again and samples it.
func Of(s *scenarios.Scenario, r book.Result) (Trace, error) {
	if len(r.Log) == 0 {
		return Trace{}, fmt.Errorf("trace: a %s test of %s has no log to play", r.Kind, s.ID)
	}
	setup := s.Setup()
	rec := recorder{trace: Trace{Kind: r.Kind, Cylinders: setup.Engine.Cylinders, Ambient: unit.Pressure(setup.Engine.Ambient)}, runs: r.Record.Runs}
	for _, run := range rec.runs {
		rec.trace.Runs = append(rec.trace.Runs, Run{Run: run, Gauged: run.Cylinder > 0})
	}
	b, err := bench.New(setup)
	if err != nil {
		return Trace{}, fmt.Errorf("trace: %w", err)
	}
	b.Tap(func() { rec.sample(b) })
	for i, a := range r.Log {
		if err := b.AdvanceTo(a.Tick); err != nil {
			return Trace{}, fmt.Errorf("trace: action %d: %w", i, err)
		}
		if err := b.Do(a); err != nil {
			return Trace{}, fmt.Errorf("trace: action %d, %s: %w", i, a.Kind, err)
		}
	}
	if err := b.AdvanceTo(r.Record.Tick); err != nil {
		return Trace{}, fmt.Errorf("trace: %w", err)
	}
	if b.Digest() != r.Digest {
		return Trace{}, fmt.Errorf("trace: the test of %s can't be played again: other digest at the end", s.ID)
	}
	return rec.trace, nil
}

// recorder puts each tick into the run it belongs to.
type recorder struct {
	trace Trace
	runs  []record.Run
	now   int // run that the present tick belongs to, or the next
}

func (r *recorder) sample(b *bench.Bench) {
	tick := b.Tick()
	for r.now < len(r.runs) && tick > r.runs[r.now].EndTick {
		r.now++
	}
	if r.now == len(r.runs) || tick <= r.runs[r.now].StartTick {
		return
	}
	run := &r.trace.Runs[r.now]
	run.Samples = append(run.Samples, look(b.Engine(), b.Needle().Indicated(), run.Cylinder, tick-run.StartTick))
}

func look(e *sim.Engine, needle unit.Gauge, tested int, tick int64) Sample {
	p := e.Params()
	s := Sample{
		Tick: tick, Crank: e.Angle(), Speed: e.Speed(), Current: e.Current(), Voltage: e.Voltage(), Needle: needle,
		Plenum: unit.Pressure(e.PlenumPressure()), Hose: unit.Gauge(e.HosePressure() - p.Ambient),
		Pressure: make([]unit.Pressure, p.Cylinders),
	}
	if tested > 0 {
		s.Angle = e.CylinderAngle(tested)
	}
	for i := range s.Pressure {
		s.Pressure[i] = unit.Pressure(e.Pressure(i + 1))
	}
	return s
}
