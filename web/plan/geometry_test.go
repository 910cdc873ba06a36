package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/wire"
)

// The rod keeps its length when the piston stands where the slider-crank law
// puts it: travel from the closed form, pin positions from the drawing.
func TestRodKeepsItsLength(t *testing.T) {
	s := Spec{EngineSpec: EngineSpec{Layout: "inline", Cylinders: 4, BoreMM: 86, StrokeMM: 90, RodMM: 145}}
	require.NoError(t, s.complete())
	c := newSection(&s, Rect{0, 0, 240, 400})
	r, l := 45.0, 145.0
	for deg := -360.0; deg < 360; deg += 7 {
		a := deg * math.Pi / 180
		travel := (r + l - r*math.Cos(a) - math.Sqrt(l*l-r*r*math.Sin(a)*math.Sin(a))) / (2 * r)
		small, big := c.pins(a, travel*2*r)
		assert.InDelta(t, l, dist(small, big), 1e-9, "%g°", deg)
	}
}

func TestCamPointsItsNoseWhereTheLiftIs(t *testing.T) {
	for _, side := range []float64{-1, 1} {
		assert.InDelta(t, 0, camAngle(side, 1, side*4.3), 1e-9, "full lift: nose on the follower")
		assert.Greater(t, math.Abs(camAngle(side, 0.5, side*4)), 0.3)
		assert.Greater(t, math.Abs(camAngle(side, 0, 0)), math.Pi/3, "shut at compression TDC")
	}
	before, after := camAngle(1, 0.5, 4), camAngle(1, 0.5, 4.8)
	assert.InDelta(t, before, -after, 1e-9, "opening and closing lie on either side")
}

func TestThrottleTurnsFromAcrossToAlong(t *testing.T) {
	s := Spec{EngineSpec: EngineSpec{Layout: "inline", Cylinders: 4}}
	require.NoError(t, s.complete())
	b := newBody(&s, arrange(&s, false, 820, 560))
	slope := func(open float64) float64 {
		var l List
		b.plate(&l, open)
		p := l.Points(l.Shapes[0])
		return math.Abs(math.Atan2(p[1].Y-p[0].Y, p[1].X-p[0].X))
	}
	last := slope(0)
	assert.Greater(t, min(last, math.Pi-last), 1.3, "shut: across the tube")
	for _, open := range []float64{0.25, 0.5, 0.75, 1} {
		now := slope(open)
		assert.Less(t, min(now, math.Pi-now), min(last, math.Pi-last), "open %g", open)
		last = now
	}
	assert.InDelta(t, 0, min(last, math.Pi-last), 0.01, "wide open: along the tube")
}

// The piston moves by its stroke, the valve by its lift, both at the scale of
// the picture.
func TestSectionMovesToScale(t *testing.T) {
	s := Spec{EngineSpec: EngineSpec{Layout: "inline", Cylinders: 1, BoreMM: 80, StrokeMM: 84, RodMM: 140, Cams: "block"}}
	require.NoError(t, s.complete())
	c := newSection(&s, Rect{0, 0, 240, 300})
	top := func(travel, lift float64) (piston, valve float64) {
		v := make(wire.View, wire.Size(1))
		v[wire.At(1, wire.SlotTravel)] = travel
		v[wire.At(1, wire.SlotExhaustLift)] = lift
		v[wire.At(1, wire.SlotPressure)] = math.NaN()
		var l List
		c.drawMoving(&l, v, 1, Phase{})
		piston, valve = math.Inf(1), math.Inf(-1)
		for _, sh := range l.Shapes {
			if sh.Fill != Steel || sh.Radius > 0 {
				continue
			}
			for _, p := range l.Points(sh) {
				if math.Abs(math.Abs(p.X-c.x)-c.scale*(40-0.008*80)) < 1e-6 { // piston's edge
					piston = math.Min(piston, p.Y)
				}
				if math.Abs(p.X-(c.x+c.scale*(0.245*80+c.valveRadius()))) < 1e-6 { // valve's rim
					valve = math.Max(valve, p.Y)
				}
			}
		}
		return piston, valve
	}
	p0, v0 := top(0, 0)
	p1, v1 := top(1, 0.009)
	require.False(t, math.IsInf(p0+v0, 0), "piston and valve found")
	assert.InDelta(t, 84*c.scale, p1-p0, 1e-6)
	assert.InDelta(t, 9*c.scale, v1-v0, 1e-6)
}

func TestHatchStaysInside(t *testing.T) {
	// an L: the missing quarter must stay empty
	o := []Point{{0, 0}, {100, 0}, {100, 40}, {40, 40}, {40, 100}, {0, 100}}
	var l List
	l.hatch(o, 7, math.Pi/4, Style{Line: Ink, Width: 1})
	require.NotEmpty(t, l.Shapes)
	for _, s := range l.Shapes {
		ps := l.Points(s)
		for _, u := range []float64{0.01, 0.3, 0.5, 0.7, 0.99} {
			p := ps[0].Towards(ps[1], u)
			assert.True(t, p.X >= -1e-6 && p.Y >= -1e-6 && p.X <= 100+1e-6 && p.Y <= 100+1e-6 && !(p.X > 40+1e-6 && p.Y > 40+1e-6), "%v", p)
		}
	}
}

func TestEveryDigitHasAGlyph(t *testing.T) {
	for _, r := range "0123456789.-+ psikPabarVrpmA/" {
		_, ok := glyphs[r]
		assert.True(t, ok, "%q", r)
	}
	var l List
	assert.Panics(t, func() { l.text("ü", 0, 0, 10, 1, Ink) })
}
