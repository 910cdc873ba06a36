package debrief

import (
	"math"

	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// TraceTicks is how far apart the places of a needle's trace lie: 1/60 s, as far
// apart as the frames in which it was seen.
const TraceTicks = record.TicksPerSecond / 60

// A watcher keeps where the needle stood and how high the gauged cylinder got.
type watcher struct {
	cylinders int
	ambient   float64
	blocks    []block
	now       block
}

// A block is TraceTicks ticks, or what there was of them before everything came to
// rest.
type block struct {
	tick   int64   // its last
	needle float64 // at its end [Pa gauge]
	peak   float64 // in the gauged cylinder [Pa gauge]
}

// see looks at one tick.
func (w *watcher) see(b *bench.Bench) {
	e := b.Engine()
	if w.cylinders == 0 {
		p := e.Params()
		w.cylinders, w.ambient = p.Cylinders, p.Ambient
	}
	w.now.tick, w.now.needle = b.Tick(), float64(b.Needle().Indicated())
	for cyl := 1; cyl <= w.cylinders; cyl++ {
		if e.Plug(cyl) == sim.PlugGauge {
			w.now.peak = max(w.now.peak, e.Pressure(cyl)-w.ambient)
		}
	}
	if b.Tick()%TraceTicks == 0 {
		w.blocks = append(w.blocks, w.now)
		w.now = block{}
	}
}

// of returns the trace of one run, to 0.1 kPa, and its highest pressure.
func (w *watcher) of(r record.Run) (trace []float64, peak float64) {
	trace = []float64{}
	for _, b := range append(w.blocks, w.now) {
		if b.tick > r.StartTick && b.tick <= r.EndTick {
			trace = append(trace, math.Floor(b.needle/100+0.5)*100)
			peak = max(peak, b.peak)
		}
	}
	return trace, peak
}
