package sound_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim"
	"crankbay/web/sound"
)

// crank runs an engine with its plugs in and returns the ticks as they are heard,
// and which cylinder was at its compression TDC in which tick.
func crank(t testing.TB, change func(*sim.Params), ticks int) (row []sound.Tick, tdc map[int][]int) {
	p := sim.Reference()
	if change != nil {
		change(&p)
	}
	e, err := sim.New(p)
	require.NoError(t, err)
	e.SetThrottle(1)
	tdc = map[int][]int{}
	for i := range ticks {
		before := make([]float64, p.Cylinders)
		for c := range before {
			before[c] = e.CylinderAngle(c + 1)
		}
		e.Step(sim.Inputs{Starter: true})
		torque := 0.0
		for c := range before {
			torque += e.GasTorque(c + 1)
			if before[c] < 0 && before[c] > -1 && e.CylinderAngle(c+1) >= 0 {
				tdc[c+1] = append(tdc[c+1], i)
			}
		}
		row = append(row, sound.Tick{Starter: true, Speed: e.Speed(), Current: e.Current(), Torque: torque})
	}
	return row, tdc
}

// thumps returns for each cylinder the mean loudness in the quarter turn about
// its TDC, of the thump alone.
func thumps(t testing.TB, change func(*sim.Params)) []float64 {
	const ticks, settle = 4800, 1200
	row, tdc := crank(t, change, ticks)
	for i := range row {
		row[i].Starter, row[i].Current, row[i].Speed = false, 0, 0
	}
	var v sound.Voice
	out := make([]float32, ticks*sound.PerTick)
	require.Equal(t, len(out), v.Fill(out, row))
	var means []float64
	for c := 1; c <= len(tdc); c++ {
		sum, n := 0.0, 0
		for _, at := range tdc[c] {
			if at > settle && at+60 < ticks {
				sum += loud(out[(at-20)*sound.PerTick : (at+60)*sound.PerTick])
				n++
			}
		}
		require.NotZero(t, n, "cylinder %d never fired", c)
		means = append(means, sum/float64(n))
	}
	return means
}

// A weak cylinder is heard: its thump is softer than each of the others, which
// stay alike.
func TestWeakCylinderThumpsSoftly(t *testing.T) {
	sound := thumps(t, nil)
	for c, x := range sound {
		assert.InEpsilon(t, sound[0], x, 0.12, "sound engine, cylinder %d", c+1)
	}
	for _, weak := range []int{2, 3} {
		leak := thumps(t, func(p *sim.Params) { p.Cylinder[weak-1].ExhaustSeatArea = 12e-6 })
		for c, x := range leak {
			if c != weak-1 {
				assert.Less(t, leak[weak-1], 0.8*x, "cylinder %d leaks, %d does not: %v", weak, c+1, leak)
			}
		}
	}
}

// The whole mix stays inside its range without being clipped, and the thumps
// come as often as cylinders reach TDC.
func TestCrankingSoundsAlive(t *testing.T) {
	row, _ := crank(t, nil, 3600)
	var v sound.Voice
	out := make([]float32, len(row)*sound.PerTick)
	v.Fill(out, row)
	clipped := 0
	for _, s := range out {
		if s == 1 || s == -1 {
			clipped++
		}
	}
	assert.Less(t, float64(clipped)/float64(len(out)), 0.001)
	assert.Greater(t, loud(out[1200*sound.PerTick:]), 0.05)
}

// After the crank has come to rest nothing creeps on.
func TestSilentAgainAfterCranking(t *testing.T) {
	row, _ := crank(t, nil, 1200)
	var v sound.Voice
	out := make([]float32, len(row)*sound.PerTick)
	v.Fill(out, row)
	rest := sound.Tick{Torque: row[len(row)-1].Torque}
	play(&v, rest, 2400)
	assert.Zero(t, loud(play(&v, rest, 600)))
}

func TestTorqueThatIsNoNumber(t *testing.T) {
	var v sound.Voice
	for _, s := range play(&v, sound.Tick{Torque: math.NaN()}, 10) {
		assert.Zero(t, s)
	}
	for _, s := range play(&v, sound.Tick{Torque: math.Inf(1)}, 600) {
		assert.False(t, math.IsNaN(float64(s)))
	}
}

func BenchmarkSecondOfSound(b *testing.B) {
	row, _ := crank(b, nil, 1200)
	out := make([]float32, len(row)*sound.PerTick)
	var v sound.Voice
	b.ReportAllocs()
	for b.Loop() {
		v.Fill(out, row)
	}
}
