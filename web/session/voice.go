package session

import (
	"math"

	"crankbay/sim"
	"crankbay/web/sound"
)

// keepTicks is how much cranking is kept for its sound: a page asks right after
// it has advanced.
const keepTicks = MaxSamples / sound.PerTick

// voice keeps the last ticks of cranking and turns them into samples.
type voice struct {
	sound sound.Voice
	ticks []sound.Tick
}

// hear notes one tick.
func (v *voice) hear(e *sim.Engine, cylinders int, starter bool) {
	if len(v.ticks) == keepTicks { // nobody listens: forget the older half at once
		v.ticks = v.ticks[:copy(v.ticks, v.ticks[keepTicks/2:])]
	}
	v.ticks = append(v.ticks, sound.Tick{Starter: starter, Speed: e.Speed(), Current: e.Current(), Breath: breath(e, cylinders), Torque: torque(e, cylinders)})
}

// breath is the flow through all open plug holes [kg/s].
func breath(e *sim.Engine, cylinders int) float64 {
	sum := 0.0
	for cyl := 1; cyl <= cylinders; cyl++ {
		if e.Plug(cyl) == sim.PlugOut {
			sum += math.Abs(e.PlugFlow(cyl))
		}
	}
	return sum
}

// torque is what the gas of all cylinders does to the crank [N·m].
func torque(e *sim.Engine, cylinders int) float64 {
	sum := 0.0
	for cyl := 1; cyl <= cylinders; cyl++ {
		sum += e.GasTorque(cyl)
	}
	return sum
}

// Sound fills out with the samples of the latest cranking that no call has
// asked for yet, at sound.Rate, and returns how many there are.
func (c *Core) Sound(out []float32) int {
	v := &c.voice
	n := v.sound.Fill(out, v.ticks)
	used := n / sound.PerTick
	v.ticks = v.ticks[:copy(v.ticks, v.ticks[used:])]
	return n
}
