package sound_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/sound"
)

func play(v *sound.Voice, t sound.Tick, ticks int) []float32 {
	row := make([]sound.Tick, ticks)
	for i := range row {
		row[i] = t
	}
	out := make([]float32, ticks*sound.PerTick)
	v.Fill(out, row)
	return out
}

func loud(x []float32) float64 {
	sum := 0.0
	for _, s := range x {
		sum += float64(s) * float64(s)
	}
	return math.Sqrt(sum / float64(len(x)))
}

// crossings per second over two, of a sound without noise.
func pitch(x []float32) float64 {
	n := 0
	for i := 1; i < len(x); i++ {
		if x[i-1] < 0 && x[i] >= 0 {
			n++
		}
	}
	return float64(n) / float64(len(x)) * sound.Rate
}

func TestNothingMovesNothingIsHeard(t *testing.T) {
	var v sound.Voice
	assert.Zero(t, loud(play(&v, sound.Tick{}, 1200)))
}

// The gear mesh is heard at teeth × turns per second: 132 at 250 rpm is 550 Hz.
func TestWhineFollowsTheCrank(t *testing.T) {
	for _, rpm := range []float64{120, 250, 330} {
		var v sound.Voice
		tick := sound.Tick{Starter: true, Speed: rpm * 2 * math.Pi / 60, Current: 150}
		play(&v, tick, 1200) // settle
		assert.InEpsilon(t, rpm/60*132, pitch(play(&v, tick, 1200)), 0.01, "%g rpm", rpm)
	}
}

func TestLouderWithCurrentAndBreath(t *testing.T) {
	settled := func(tick sound.Tick) float64 {
		var v sound.Voice
		play(&v, tick, 1200)
		return loud(play(&v, tick, 600))
	}
	assert.Greater(t, settled(sound.Tick{Starter: true, Speed: 26, Current: 300}), 1.2*settled(sound.Tick{Starter: true, Speed: 26, Current: 100}))
	assert.Greater(t, settled(sound.Tick{Breath: 0.02}), 1.2*settled(sound.Tick{Breath: 0.005}))
	assert.InDelta(t, settled(sound.Tick{Breath: 0.02}), settled(sound.Tick{Breath: -0.02}), 1e-9, "in or out")
}

func TestSamplesStayInRangeAndRepeat(t *testing.T) {
	row := []sound.Tick{
		{Starter: true, Speed: 40, Current: 1e9, Breath: 1e9}, {Starter: true, Speed: math.NaN(), Current: math.NaN(), Breath: math.NaN()},
		{Starter: false, Speed: -3, Breath: -1}, {Starter: true, Speed: 25, Current: 150, Breath: 0.01},
	}
	run := func() []float32 {
		var v sound.Voice
		out := make([]float32, len(row)*sound.PerTick)
		require.Equal(t, len(out), v.Fill(out, row))
		return out
	}
	a := run()
	assert.Equal(t, a, run())
	for i, s := range a {
		require.True(t, s >= -1 && s <= 1, "sample %d = %v", i, s)
	}
	var v sound.Voice
	assert.Equal(t, sound.PerTick, v.Fill(make([]float32, sound.PerTick+5), row), "whole ticks only")
}
