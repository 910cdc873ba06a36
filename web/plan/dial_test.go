package plan_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/plan"
)

func TestDialSweeps270Degrees(t *testing.T) {
	s := plan.NewScale(300, 5)
	deg := func(v float64) float64 { return s.Angle(v) * 180 / math.Pi }
	assert.InDelta(t, -135, deg(0), 1e-9)
	assert.InDelta(t, 0, deg(150), 1e-9)
	assert.InDelta(t, 135, deg(300), 1e-9)
	assert.InDelta(t, 0.9, deg(101)-deg(100), 1e-9, "270° over 300 psi")
	assert.InDelta(t, -135, deg(math.NaN()), 4, "no number rests on the pin")
	assert.Less(t, deg(1e9), 150.0, "the stop pin holds")
	assert.Greater(t, deg(-1e9), -150.0)
}

func TestMarksArePlainAndEven(t *testing.T) {
	for _, c := range []struct {
		rng, grad float64
		numerals  int
	}{{300, 5, 7}, {200, 2, 6}, {100, 1, 6}, {600, 10, 7}, {160, 2, 9}, {20, 0.5, 5}} {
		s := plan.NewScale(c.rng, c.grad)
		marks := s.Marks()
		require.Len(t, marks, int(c.rng/c.grad)+1)
		numerals := 0
		for i, m := range marks {
			assert.InDelta(t, float64(i)*c.grad, m.Value, 1e-9)
			assert.Equal(t, m.Rank == 2, m.Numeral != "")
			if m.Rank == 2 {
				numerals++
			}
			if i > 0 {
				assert.InDelta(t, marks[1].Angle-marks[0].Angle, m.Angle-marks[i-1].Angle, 1e-9)
			}
		}
		assert.Equal(t, 2, marks[0].Rank)
		assert.Equal(t, c.numerals, numerals, "%g by %g", c.rng, c.grad)
	}
	assert.Equal(t, 300.0, plan.NewScale(math.NaN(), -1).Range)
}

// On every dial that is drawn the numerals stay apart and inside the marks.
func TestNumeralsDoNotTouch(t *testing.T) {
	for _, size := range [][2]float64{{390, 300}, {820, 560}, {320, 260}, {1458, 640}} {
		p := plan.New(spec(t, engines["inline four"], ""), size[0], size[1])
		p.Update(encode(snapshot(4, 2, false)), plan.Phase{})
		var dial plan.Box
		for _, b := range p.Boxes {
			if b.Target == "gauge" {
				dial = b
			}
		}
		var labels []plan.Rect
		for _, l := range p.Still.Labels {
			if dial.Contains(l.Center()) {
				labels = append(labels, l)
			}
		}
		require.Len(t, labels, 8, "seven numerals and the unit")
		for i, a := range labels {
			for _, b := range labels[:i] {
				assert.False(t, a.Overlaps(b), "%v and %v", a, b)
			}
			for _, corner := range []plan.Point{{X: a.X, Y: a.Y}, {X: a.Right(), Y: a.Y}, {X: a.X, Y: a.Bottom()}, {X: a.Right(), Y: a.Bottom()}} {
				c := dial.Center()
				assert.Less(t, math.Hypot(corner.X-c.X, corner.Y-c.Y), 0.78*dial.W/2)
			}
		}
	}
}

func TestArrowsGrowWithTheFlow(t *testing.T) {
	assert.Zero(t, plan.LeakArrows(0))
	assert.Zero(t, plan.LeakArrows(math.NaN()))
	last := 0
	for f := 1e-5; f < 0.2; f *= 1.5 {
		n := plan.LeakArrows(f)
		assert.GreaterOrEqual(t, n, last)
		assert.Equal(t, n, plan.LeakArrows(-f), "either way")
		assert.LessOrEqual(t, n, 6)
		last = n
	}
	assert.Equal(t, 6, last)
	assert.Greater(t, plan.LeakSpeed(4e-3), plan.LeakSpeed(1e-3))
}

func TestGasTintDeepensWithPressure(t *testing.T) {
	assert.InDelta(t, 0.25, plan.GasAlpha(1e5), 1e-9)
	assert.InDelta(t, 1, plan.GasAlpha(12e5), 1e-9)
	assert.Less(t, plan.GasAlpha(3e5), plan.GasAlpha(6e5))
	assert.Greater(t, plan.GasAlpha(math.NaN()), 0.0)
}

// Text 4.5 to 1, lines that mean something 3 to 1, in both themes (WCAG 2.2).
func TestPaletteContrast(t *testing.T) {
	assert.InDelta(t, 21, plan.Contrast(plan.RGB{}, plan.RGB{R: 255, G: 255, B: 255}), 1e-9)
	for name, p := range map[string]plan.Palette{"light": plan.Light, "dark": plan.Dark} {
		for _, ground := range []plan.Tone{plan.Sheet, plan.Paper, plan.Tint} {
			assert.GreaterOrEqual(t, plan.Contrast(p[plan.Ink], p[ground]), 4.5, "%s ink on %v", name, ground)
			assert.GreaterOrEqual(t, plan.Contrast(p[plan.Ink2], p[ground]), 4.5, "%s ink2 on %v", name, ground)
			assert.GreaterOrEqual(t, plan.Contrast(p[plan.Go], p[ground]), 3.0, "%s go on %v", name, ground)
			assert.GreaterOrEqual(t, plan.Contrast(p[plan.Focus], p[ground]), 3.0, "%s focus on %v", name, ground)
		}
		assert.GreaterOrEqual(t, plan.Contrast(p[plan.Ink], p[plan.Steel]), 3.0, "%s ink on steel", name)
	}
	own := plan.Theme("dark", map[string]string{"ink": "#ffffff", "go": "red"})
	assert.Equal(t, plan.RGB{R: 255, G: 255, B: 255}, own[plan.Ink])
	assert.Equal(t, plan.Dark[plan.Go], own[plan.Go], "not a colour code")
}
