package plan_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/web/plan"
	"crankbay/web/wire"
)

// fittedSnapshot has every tool of the confirming tests in its place, the tester on
// one cylinder.
func fittedSnapshot(n, tester int, section bool) wire.Snapshot {
	s := snapshot(n, 0, section)
	s.Starter, s.Current = false, 143
	s.Cylinders[tester-1].Plug = wire.PlugTester
	s.Tests = wire.Tests{Tester: tester, Supply: 6e5, Held: 4.5e5, Vacuum: 2e4, Clamp: true, Wrench: true, Neck: true, Bubbles: 1e-4}
	return s
}

// Whatever is fitted lies on the surface, its boxes overlap nothing, and it is drawn.
func TestFittedToolsHaveTheirPlace(t *testing.T) {
	everywhere(t, func(t *testing.T, s plan.Spec, w, h float64, section bool) {
		p := plan.New(s, w, h)
		p.Update(encode(snapshot(s.Cylinders, 0, section)), plan.Phase{})
		still, moving := len(p.Still.Shapes), len(p.Moving.Shapes)
		assert.True(t, p.Update(encode(fittedSnapshot(s.Cylinders, 1, section)), plan.Phase{}), "fitting something changes the still picture")
		assert.Greater(t, len(p.Still.Shapes), still)
		assert.Greater(t, len(p.Moving.Shapes), moving)
		for i, b := range p.Boxes {
			assert.NotEqual(t, "release", b.Target, "the tester has none")
			assert.True(t, b.X >= 0 && b.Y >= 0 && b.Right() <= w+1e-9 && b.Bottom() <= h+1e-9, "%s lies outside: %v", b.Target, b.Rect)
			for _, o := range p.Boxes[:i] {
				assert.False(t, b.Overlaps(o.Rect), "%s and %s overlap", b.Target, o.Target)
			}
		}
		assert.False(t, p.Update(encode(fittedSnapshot(s.Cylinders, 1, section)), plan.Phase{}), "nothing new")
	})
}

// The tester's needle rests at a loss of all and stands at none when everything is
// held.
func TestTheTestersNeedle(t *testing.T) {
	p := plan.New(spec(t, engines["inline four"], ""), 820, 560)
	shape := func(supply, held float64) []plan.Shape {
		s := fittedSnapshot(4, 2, false)
		s.Tests.Supply, s.Tests.Held = supply, held
		p.Update(encode(s), plan.Phase{})
		return append([]plan.Shape(nil), p.Moving.Shapes...)
	}
	off, all, none := shape(0, 0), shape(6e5, 6e5), shape(6e5, 0)
	assert.Len(t, all, len(off))
	assert.Len(t, none, len(off))
	s := plan.Scale{Range: 100, Graduation: 2, Number: 20, Middle: 10, Reversed: true}
	marks := s.Marks()
	assert.Equal(t, "100", marks[0].Numeral)
	assert.Equal(t, "0", marks[len(marks)-1].Numeral)
	assert.Equal(t, 1, marks[5].Rank, "a longer mark at every ten")
	assert.Zero(t, marks[4].Rank)
	assert.InDelta(t, s.Angle(0), marks[0].Angle, 1e-12)
}

// A moving picture with everything fitted stays as cheap as the rest of it: a few
// hundred shapes at most.
func TestFittedToolsAreCheap(t *testing.T) {
	p := plan.New(spec(t, engines["V8"], ""), 820, 560)
	p.Update(encode(snapshot(8, 0, false)), plan.Phase{})
	bare := len(p.Moving.Shapes)
	p.Update(encode(fittedSnapshot(8, 1, false)), plan.Phase{})
	assert.Less(t, len(p.Moving.Shapes)-bare, 40)
}
