package trace

import (
	"math"

	"crankbay/scenarios/book"
	"crankbay/sim"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Watch returns what samples a test of the given kind into t while the book does
// it. Of tests that take one cylinder after the other, only what belongs to a
// cylinder is kept.
func (t *Trace) Watch(kind string) book.Watch {
	t.Kind = kind
	perCylinder := kind == book.LeakageKind || kind == book.RunningKind
	return func(s book.Sample) {
		if perCylinder && s.Cylinder == 0 {
			return // the engine is being brought to its idle
		}
		if t.Cylinders == 0 {
			p := s.Engine.Params()
			t.Cylinders, t.Ambient = p.Cylinders, unit.Pressure(p.Ambient)
		}
		tick := int64(math.Round(s.Seconds * record.TicksPerSecond))
		run := t.runOf(s, tick)
		run.Gauged = s.Cylinder > 0 && s.Engine.Plug(s.Cylinder) == sim.PlugGauge
		run.Samples = append(run.Samples, look(s.Engine, s.Needle, s.Cylinder, tick))
	}
}

// runOf returns the run a sample belongs to: the last one, unless its time began
// anew.
func (t *Trace) runOf(s book.Sample, tick int64) *Run {
	if n := len(t.Runs); n > 0 {
		last := &t.Runs[n-1]
		if last.Cylinder == s.Cylinder && len(last.Samples) > 0 && tick > last.Samples[len(last.Samples)-1].Tick {
			return last
		}
	}
	t.Runs = append(t.Runs, Run{Run: record.Run{ID: len(t.Runs) + 1, Cylinder: s.Cylinder}})
	return &t.Runs[len(t.Runs)-1]
}
