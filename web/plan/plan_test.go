package plan_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/plan"
	"crankbay/web/wire"
)

var engines = map[string]string{
	"inline three": `"layout":"inline","cylinders":3,"cams":"twin","cam_drive":"chain"`,
	"inline four":  `"layout":"inline","cylinders":4,"cams":"twin","cam_drive":"belt"`,
	"single":       `"layout":"inline","cylinders":1,"cams":"single","cam_drive":"chain"`,
	"inline five":  `"layout":"inline","cylinders":5,"cams":"twin","cam_drive":"belt"`,
	"inline six":   `"layout":"inline","cylinders":6,"cams":"twin","cam_drive":"chain"`,
	"V6":           `"layout":"v","cylinders":6,"banks":[[1,3,5],[2,4,6]],"cams":"twin","cam_drive":"chain"`,
	"V8":           `"layout":"v","cylinders":8,"banks":[[1,3,5,7],[2,4,6,8]],"cams":"block","cam_drive":"pushrod"`,
	"flat four":    `"layout":"flat","cylinders":4,"banks":[[1,3],[2,4]],"cams":"twin","cam_drive":"belt"`,
}

var sizes = [][2]float64{{820, 560}, {390, 300}, {390, 360}, {700, 480}, {1400, 900}, {1800, 1000}, {818, 408}, {742, 350}, {1458, 640}, {364, 313}, {742, 352}, {366, 307}, {390, 328}, {818, 304}}

func spec(t testing.TB, engine, more string) plan.Spec {
	s, err := plan.ParseSpec([]byte(`{` + engine + `,"gauge":"a","range_psi":300,"graduation_psi":5,"switch":"remote","ignition":"disabled"` + more + `}`))
	require.NoError(t, err)
	return s
}

// snapshot with all plugs out and the gauge on one cylinder, 0 for none.
func snapshot(n, gauged int, section bool) wire.Snapshot {
	s := wire.Snapshot{CrankAngle: 2.5, Speed: 26, Starter: true, Throttle: 1, Needle: 130 * 6894.757, Gauged: gauged, FullScale: 2.07e6, Section: section, Volts: 10.4, RPM: 251, Current: math.NaN()}
	for i := range n {
		c := wire.Cylinder{Travel: 0.3, Plug: wire.PlugOut, Pressure: math.NaN(), Bank: 1}
		if section {
			c.Pressure = 4e5
		}
		if i+1 == gauged {
			c.Plug = wire.PlugGauge
		}
		s.Cylinders = append(s.Cylinders, c)
	}
	if section {
		s.Selected = 1
	}
	return s
}

func encode(s wire.Snapshot) wire.View {
	v := make(wire.View, wire.Size(len(s.Cylinders)))
	s.Encode(v)
	return v
}

// everywhere calls f for every engine, size and kind of view.
func everywhere(t *testing.T, f func(t *testing.T, s plan.Spec, w, h float64, section bool)) {
	for name, engine := range engines {
		for _, size := range sizes {
			for _, section := range []bool{false, true} {
				for _, dial := range []bool{true, false} {
					if !dial && size[0] > 860 {
						continue // the page shows the dial itself on narrow windows only
					}
					t.Run(fmt.Sprintf("%s %gx%g section %v dial %v", name, size[0], size[1], section, dial), func(t *testing.T) {
						s := spec(t, engine, "")
						s.NoDial = !dial
						f(t, s, size[0], size[1], section)
					})
				}
			}
		}
	}
}

func TestEveryThingCanBeTouched(t *testing.T) {
	everywhere(t, func(t *testing.T, s plan.Spec, w, h float64, section bool) {
		p := plan.New(s, w, h)
		p.Update(encode(snapshot(s.Cylinders, 1, section)), plan.Phase{})
		seen := map[string]int{}
		for i, b := range p.Boxes {
			seen[b.Target]++
			if b.Target == "plug" {
				seen[fmt.Sprint("plug ", b.Cylinder)]++
			}
			least := 44 - 1e-9
			if b.Target == "plug" && w < 800 && s.Layout == "inline" && (s.Cylinders == 6 || s.Cylinders == 5 && !s.NoDial) {
				least = 35 // so many in a row beside a dial do not fit any wider; where the page is that narrow it shows the dial itself
			}
			assert.True(t, b.W >= least && b.H >= 44-1e-9, "%s %d is %g × %g", b.Target, b.Cylinder, b.W, b.H)
			assert.True(t, b.X >= 0 && b.Y >= 0 && b.Right() <= w+1e-9 && b.Bottom() <= h+1e-9, "%s %d lies outside: %v", b.Target, b.Cylinder, b.Rect)
			for _, o := range p.Boxes[:i] {
				assert.False(t, b.Overlaps(o.Rect), "%s %d and %s %d overlap", b.Target, b.Cylinder, o.Target, o.Cylinder)
			}
			got, ok := p.At(b.Center().X, b.Center().Y)
			assert.True(t, ok)
			assert.Equal(t, b, got)
		}
		for _, target := range []string{"gauge", "release", "hose", "throttle", "battery", "charger", "switch", "oil"} {
			want := 1
			if s.NoDial && (target == "gauge" || target == "release") {
				want = 0
			}
			if s.NoDial && target == "hose" {
				want = seen[target] // touching its plug hole does the same
			}
			assert.Equal(t, want, seen[target], target)
		}
		for c := 1; c <= s.Cylinders; c++ {
			assert.Equal(t, 1, seen[fmt.Sprint("plug ", c)], "plug %d", c)
		}
		assert.Equal(t, s.Cylinders, seen["plug"])
		assert.NotZero(t, seen["tray"])
	})
}

// The hose goes where it goes: it ends in the plug hole that it is screwed into.
func TestHoseEndsInItsPlugHole(t *testing.T) {
	everywhere(t, func(t *testing.T, s plan.Spec, w, h float64, section bool) {
		for c := 1; c <= s.Cylinders; c++ {
			p := plan.New(s, w, h)
			p.Update(encode(snapshot(s.Cylinders, c, section)), plan.Phase{})
			hose := hosePath(t, p)
			end := hose[len(hose)-1]
			for _, b := range p.Boxes {
				if b.Target == "plug" && b.Cylinder == c {
					assert.InDelta(t, b.Center().X, end.X, 1, "cylinder %d", c)
					assert.True(t, end.Y > b.Y-0.4*b.W && end.Y < b.Bottom(), "cylinder %d: y %g not at %v", c, end.Y, b.Rect)
				}
			}
		}
	})
}

// hosePath returns the points of the widest round ink line over all.
func hosePath(t *testing.T, p *plan.Plan) []plan.Point {
	var best plan.Shape
	for _, s := range p.Over.Shapes {
		if s.Line == plan.Ink && s.Round && !s.Closed && s.Width > best.Width {
			best = s
		}
	}
	require.NotZero(t, best.Width, "no hose")
	return p.Over.Points(best)
}

// No hose or cable runs over a numeral, whatever it is plugged into.
func TestNothingRunsOverALabel(t *testing.T) {
	everywhere(t, func(t *testing.T, s plan.Spec, w, h float64, section bool) {
		s.Charger = true
		for c := 0; c <= s.Cylinders; c++ {
			p := plan.New(s, w, h)
			p.Update(encode(snapshot(s.Cylinders, c, section)), plan.Phase{})
			for _, l := range []*plan.List{&p.Still, &p.Moving, &p.Over} {
				for _, shape := range l.Shapes {
					if !shape.Round || shape.Closed || shape.Width < 1.7*p.Still.Weight || isGlyph(p, l.Points(shape)) {
						continue // not a hose or cable
					}
					for _, label := range p.Still.Labels {
						for _, pt := range l.Points(shape) {
							if label.Inset(-shape.Width / 2).Contains(pt) {
								t.Fatalf("hose on %d: line of width %.1f runs over the label at %v", c, shape.Width, label)
							}
						}
					}
				}
			}
		}
	})
}

// isGlyph reports whether a line is a stroke of a numeral.
func isGlyph(p *plan.Plan, line []plan.Point) bool {
	for _, l := range []*plan.List{&p.Still, &p.Moving, &p.Over} {
		for _, label := range l.Labels {
			if r := label.Inset(-0.35 * label.H); r.Contains(line[0]) && r.Contains(line[len(line)/2]) && r.Contains(line[len(line)-1]) {
				return true
			}
		}
	}
	return false
}

func TestNothingIsDrawnOutside(t *testing.T) {
	everywhere(t, func(t *testing.T, s plan.Spec, w, h float64, section bool) {
		p := plan.New(s, w, h)
		p.Update(encode(snapshot(s.Cylinders, s.Cylinders, section)), plan.Phase{Exhaust: 0.5})
		for _, l := range []*plan.List{&p.Still, &p.Moving, &p.Over} {
			for _, shape := range l.Shapes {
				for _, pt := range l.Points(shape) {
					require.False(t, math.IsNaN(pt.X+pt.Y))
					if pt.X < 0 || pt.Y < 0 || pt.X > w || pt.Y > h {
						t.Fatalf("%v of %+v lies outside %g × %g", pt, shape, w, h)
					}
				}
			}
		}
	})
}

func TestGasAndInsideOnlyWhereTheyMayBeSeen(t *testing.T) {
	s := spec(t, engines["inline four"], "")
	gas := func(snap wire.Snapshot) bool {
		p := plan.New(s, 820, 560)
		p.Update(encode(snap), plan.Phase{})
		for _, shape := range p.Moving.Shapes {
			if shape.Fill == plan.Gas {
				return true
			}
		}
		return false
	}
	assert.True(t, gas(snapshot(4, 1, true)))
	assert.False(t, gas(snapshot(4, 1, false)), "section not allowed")
	hidden := snapshot(4, 1, true)
	hidden.Cylinders[0].Pressure = math.NaN()
	assert.False(t, gas(hidden), "pressure not known")
	sneaky := snapshot(4, 1, false)
	sneaky.Selected = 1
	assert.False(t, gas(sneaky), "selecting does not open the section")
}

// The still part is laid out anew only when an action changed it, and what
// moves costs next to no memory.
func TestStillStaysStill(t *testing.T) {
	s := spec(t, engines["V8"], "")
	snap := snapshot(8, 3, true)
	p := plan.New(s, 820, 560)
	assert.True(t, p.Update(encode(snap), plan.Phase{}))
	v := encode(snap)
	assert.False(t, p.Update(v, plan.Phase{}))
	v[wire.SlotCrankAngle], v[wire.SlotNeedle] = 1, 5e5
	assert.False(t, p.Update(v, plan.Phase{}))
	v[wire.At(5, wire.SlotPlug)] = wire.PlugIn
	assert.True(t, p.Update(v, plan.Phase{}), "a plug went in")
	assert.LessOrEqual(t, testing.AllocsPerRun(20, func() { p.Update(v, plan.Phase{}) }), 12.0)
}

// A snapshot of nonsense draws something, somewhere, without a panic.
func FuzzUpdate(f *testing.F) {
	f.Add(1.0, 0.5, 1e5, 2.0)
	f.Add(math.NaN(), math.Inf(1), -1e300, 1e300)
	f.Fuzz(func(t *testing.T, a, b, c, d float64) {
		s := spec(t, engines["inline four"], "")
		p := plan.New(s, 390, 300)
		v := encode(snapshot(4, 2, true))
		for _, slot := range []int{wire.SlotCrankAngle, wire.SlotSelected, wire.SlotLeakRings, wire.At(1, wire.SlotPlug), wire.At(1, wire.SlotAngle)} {
			v[slot] = a
		}
		v[wire.SlotThrottle], v[wire.SlotVolts], v[wire.SlotNeedle] = b, c, d
		v[wire.At(1, wire.SlotTravel)], v[wire.At(1, wire.SlotOil)], v[wire.At(1, wire.SlotIntakeLift)] = b, c, d
		var ph plan.Phase
		ph.Advance(v, c)
		p.Update(v, ph)
		for _, shape := range p.Moving.Shapes {
			for _, pt := range p.Moving.Points(shape) {
				if math.IsNaN(pt.X + pt.Y) {
					t.Fatal("a point is no number")
				}
			}
		}
	})
}

// A coil that came off with its plug stays off until the leads are put back.
func TestCoilsComeBackWithTheLeads(t *testing.T) {
	shapes := func(more string) int {
		s := spec(t, engines["inline four"], more)
		snap := snapshot(4, 0, false)
		snap.Cylinders[1].Plug = wire.PlugIn
		p := plan.New(s, 820, 560)
		p.Update(encode(snap), plan.Phase{})
		return len(p.Still.Shapes)
	}
	on := shapes(`,"leads":true,"plugs":[{"cylinder":2,"order":"ordered"}]`)
	off := shapes(`,"leads":false,"plugs":[{"cylinder":2,"order":"ordered"}]`)
	never := shapes(`,"leads":false,"plugs":[{"cylinder":2,"order":""}]`)
	assert.Equal(t, on, never, "a plug that was never out keeps its coil")
	assert.Less(t, off, on)
}

func TestMarkFramesOneThing(t *testing.T) {
	s := spec(t, engines["inline four"], "")
	p := plan.New(s, 820, 560)
	v := encode(snapshot(4, 2, false))
	p.Update(v, plan.Phase{})
	plain := len(p.Moving.Shapes)
	p.Point("plug", 3)
	p.Update(v, plan.Phase{})
	assert.Len(t, p.Moving.Shapes, plain+1)
	p.Point("moon", 0)
	p.Update(v, plan.Phase{})
	assert.Len(t, p.Moving.Shapes, plain)
}
