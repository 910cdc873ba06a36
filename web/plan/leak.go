package plan

import (
	"math"

	"crankbay/web/wire"
)

// Phase says how far along their ways the arrows of the leaks are, each in steps
// from arrow to arrow. It is a matter of the picture alone.
type Phase struct{ Rings, Intake, Exhaust, Gasket float64 }

// Advance moves the arrows on by some ticks of bench time at the flows of a
// snapshot.
func (f *Phase) Advance(v wire.View, ticks float64) {
	for _, p := range []struct {
		phase *float64
		slot  int
	}{{&f.Rings, wire.SlotLeakRings}, {&f.Intake, wire.SlotLeakIntake}, {&f.Exhaust, wire.SlotLeakExhaust}, {&f.Gasket, wire.SlotLeakGasket}} {
		flow := finite(v.Get(p.slot))
		step := math.Copysign(LeakSpeed(flow), flow) * clamp(ticks, 0, wire.TicksPerSecond) / wire.TicksPerSecond
		*p.phase = math.Mod(*p.phase+step, 1)
	}
}

// leastFlow is the least flow that is drawn [kg/s]: a third of what a sound ring
// pack lets by at the end of a compression stroke.
const leastFlow = 5e-4

// LeakArrows is how many arrows stand for a flow [kg/s]: none below leastFlow,
// then two, so that they show a way, and one more for every doubling, six at most.
func LeakArrows(flow float64) int {
	flow = math.Abs(flow)
	if !(flow >= leastFlow) {
		return 0
	}
	return int(clamp(2+math.Log2(flow/leastFlow), 2, 6))
}

// LeakSpeed is how many steps per second the arrows make at a flow [kg/s].
func LeakSpeed(flow float64) float64 {
	return clamp(1.5*math.Sqrt(math.Abs(flow)/leastFlow), 0, 12)
}

// drawLeaks draws the arrows on the ways that the gas takes.
func (c *section) drawLeaks(l *List, v wire.View, crown float64, phase Phase) {
	for i, side := range []float64{-1, 1} {
		flow := finite(v.Get(wire.SlotLeakIntake + i))
		q := c.port(side)
		way := [4]Point{{q[0].X - 0.1*side*c.bore, q[0].Y + 0.06*c.bore}, {q[1].X, q[1].Y}, q[2], q[3]}
		at := phase.Intake
		if i == 1 {
			at = phase.Exhaust
		}
		c.arrows(l, way, flow, at)
	}
	rings := finite(v.Get(wire.SlotLeakRings))
	for _, side := range []float64{-1, 1} {
		x := side * (c.bore/2 - 0.045*c.bore)
		y := crown + 0.28*c.bore
		c.arrows(l, [4]Point{{x, y}, {x, y + 0.2*c.bore}, {x, y + 0.5*c.bore}, {x, math.Min(y+0.9*c.bore, c.foot)}}, rings, phase.Rings)
	}
	gasket := finite(v.Get(wire.SlotLeakGasket))
	b := c.bore
	c.arrows(l, [4]Point{{0.42 * b, 0}, {0.6 * b, 0}, {0.8 * b, 0}, {1.05 * b, 0}}, gasket, phase.Gasket)
}

// arrows draws the arrowheads of one leak along a curve; a negative flow runs
// backwards.
func (c *section) arrows(l *List, q [4]Point, flow, phase float64) {
	n := LeakArrows(flow)
	size := clamp(0.07*c.bore, 4.6/c.scale, 0.12*c.bore)
	for i := range n {
		t := (float64(i) + phase - math.Floor(phase)) / float64(n)
		a, b := bezier(q[0], q[1], q[2], q[3], t), bezier(q[0], q[1], q[2], q[3], math.Min(1, t+0.02))
		if t > 0.98 {
			a, b = bezier(q[0], q[1], q[2], q[3], 0.96), bezier(q[0], q[1], q[2], q[3], 0.98)
		}
		turn := math.Atan2(b.Y-a.Y, b.X-a.X)
		if flow < 0 {
			turn += math.Pi
		}
		s, k := math.Sincos(turn)
		tip := Point{a.X + size*k, a.Y + size*s}
		for _, style := range []Style{{Line: Sheet, Width: 4.6}, {Line: Ink, Width: 2}} {
			l.move(tip.X-size*(k*1.1-s*0.8), tip.Y-size*(s*1.1+k*0.8)).to(tip.X, tip.Y).to(tip.X-size*(k*1.1+s*0.8), tip.Y-size*(s*1.1-k*0.8)).open(style)
		}
	}
}
