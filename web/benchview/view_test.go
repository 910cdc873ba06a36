//go:build js

package benchview_test

import (
	"errors"
	"fmt"
	"image/color"
	"math"
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/benchview"
	"crankbay/web/plan"
	"crankbay/web/wire"
)

// Pixels can be read only while a game runs, so the tests run inside one.
type host struct {
	m    *testing.M
	code int
}

var errDone = errors.New("done")

func (h *host) Update() error {
	h.code = h.m.Run()
	return errDone
}
func (h *host) Draw(*ebiten.Image)         {}
func (h *host) Layout(int, int) (int, int) { return 320, 240 }

func TestMain(m *testing.M) {
	h := &host{m: m}
	if err := ebiten.RunGame(h); err != nil && !errors.Is(err, errDone) {
		fmt.Println(err)
		h.code = 1
	}
	os.Exit(h.code)
}

const width, height = 820, 560

func shown(t *testing.T, theme string) (*benchview.View, *ebiten.Image, wire.View) {
	v := benchview.New()
	require.NoError(t, v.SetPlan([]byte(`{"layout":"inline","cylinders":4,"gauge":"a","range_psi":300,"graduation_psi":5,"switch":"remote","theme":"`+theme+`"}`)))
	v.LayoutF(width, height)
	snap := wire.Snapshot{Needle: 0, Cylinders: make([]wire.Cylinder, 4)}
	snap.Cylinders[1].Plug = wire.PlugGauge
	slots := make(wire.View, wire.Size(4))
	snap.Encode(slots)
	return v, ebiten.NewImage(width, height), slots
}

// box returns where a thing lies.
func box(t *testing.T, v *benchview.View, target string, cylinder int) plan.Box {
	for _, b := range v.Boxes() {
		if b.Target == target && b.Cylinder == cylinder {
			return b
		}
	}
	require.Fail(t, "no box", "%s %d", target, cylinder)
	return plan.Box{}
}

func near(c color.Color, want plan.RGB) bool {
	r, g, b, _ := c.RGBA()
	d := func(x uint32, y uint8) float64 { return math.Abs(float64(x>>8) - float64(y)) }
	return d(r, want.R) < 12 && d(g, want.G) < 12 && d(b, want.B) < 12
}

func TestNeedlePointsWhereTheSnapshotSays(t *testing.T) {
	for theme, colours := range map[string]plan.Palette{"light": plan.Light, "dark": plan.Dark} {
		v, img, snap := shown(t, theme)
		scale := plan.NewScale(300, 5)
		psi := []float64{75, 175, 250}
		for _, p := range psi {
			snap[wire.SlotNeedle] = p * 6894.757
			require.NoError(t, v.SetSnapshot(snap))
			v.Draw(img)
			dial := box(t, v, "gauge", 0)
			for _, q := range psi {
				s, c := math.Sincos(scale.Angle(q))
				at := dial.Center()
				x, y := at.X+0.3*dial.W/2*s, at.Y-0.3*dial.W/2*c
				got := img.At(int(x), int(y))
				assert.Equal(t, p == q, near(got, colours[plan.Go]), "%s: needle at %g, colour at %g is %v", theme, p, q, got)
			}
		}
		assert.True(t, near(img.At(3, 3), colours[plan.Sheet]), theme)
	}
}

func TestPlugOutShowsItsHole(t *testing.T) {
	v, img, snap := shown(t, "light")
	at := func(plug float64) color.Color {
		snap[wire.At(3, wire.SlotPlug)] = plug
		require.NoError(t, v.SetSnapshot(snap))
		v.Draw(img)
		b := box(t, v, "plug", 3)
		return img.At(int(b.Center().X-0.1*b.W), int(b.Y+0.3*b.H)) // body of the coil
	}
	assert.False(t, near(at(wire.PlugIn), plan.Light[plan.Sheet]), "coil in its place")
	assert.True(t, near(at(wire.PlugOut), plan.Light[plan.Sheet]), "coil gone")
}

func TestTouchActsWhereItWentDown(t *testing.T) {
	v, img, snap := shown(t, "light")
	assert.Empty(t, v.Pointer("down", 10, 10), "nothing drawn yet")
	require.NoError(t, v.SetSnapshot(snap))
	v.Draw(img)
	plug, remote := box(t, v, "plug", 4).Center(), box(t, v, "switch", 0).Center()
	assert.Equal(t, "plug", v.Pointer("down", plug.X, plug.Y))
	assert.Empty(t, v.TakeHits(), "a thing acts when it is let go")
	v.Pointer("up", plug.X+3, plug.Y)
	assert.Equal(t, []benchview.Hit{{Target: "plug", Cylinder: 4}}, v.TakeHits())
	assert.Empty(t, v.TakeHits(), "taken once")

	v.Pointer("down", plug.X, plug.Y)
	v.Pointer("up", remote.X, remote.Y)
	assert.Empty(t, v.TakeHits(), "slid off")

	v.Pointer("down", remote.X, remote.Y)
	assert.Equal(t, []benchview.Hit{{Target: "switch", Phase: "down"}}, v.TakeHits())
	v.Pointer("cancel", -1, -1)
	assert.Equal(t, []benchview.Hit{{Target: "switch", Phase: "up"}}, v.TakeHits(), "a held switch never sticks")
	v.Pointer("up", remote.X, remote.Y)
	assert.Empty(t, v.TakeHits())
}

func TestNonsenseLeavesThePictureAlone(t *testing.T) {
	v, img, snap := shown(t, "light")
	require.NoError(t, v.SetSnapshot(snap))
	v.Draw(img)
	assert.Error(t, v.SetSnapshot([]float64{1, 2, 3}))
	assert.Error(t, v.SetPlan([]byte(`{"cylinders":-1}`)))
	before := v.Frames()
	v.Draw(img)
	assert.Equal(t, before+1, v.Frames())
	assert.NotEmpty(t, v.Boxes())
}

// A snapshot of another engine than the plan's must not take the frame down.
func TestOtherEnginesSnapshot(t *testing.T) {
	v, img, _ := shown(t, "light")
	snap := wire.Snapshot{Cylinders: make([]wire.Cylinder, 8), Section: true, Selected: 8, Gauged: 8}
	slots := make(wire.View, wire.Size(8))
	snap.Encode(slots)
	require.NoError(t, v.SetSnapshot(slots))
	assert.NotPanics(t, func() { v.Draw(img) })
	snap.Cylinders = snap.Cylinders[:1]
	n := snap.Encode(slots)
	require.NoError(t, v.SetSnapshot(slots[:n]))
	assert.NotPanics(t, func() { v.Draw(img) })
}
