//go:build js

// Package benchview draws a snapshot of the bench. It is the only package that
// imports Ebitengine, and it owns no state that a replay would need: it gets
// snapshots, draws the newest, and hands back what was touched.
//
// What stands still is drawn once into an image; over it go, in every picture,
// the few hundred triangles of what moves. Pictures are made on demand only.
package benchview

import (
	"errors"
	"math"
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"crankbay/web/plan"
	"crankbay/web/wire"
)

// A Hit says what was touched. Phase is "down" or "up" for what is held.
type Hit struct {
	Target   string `json:"target"`
	Cylinder int    `json:"cylinder"`
	Phase    string `json:"phase,omitempty"`
}

// View is the drawing. Its methods belong to the one thread of the browser.
type View struct {
	spec    *plan.Spec
	palette plan.Palette
	plan    *plan.Plan
	snap    []float64
	phase   plan.Phase
	hits    []Hit
	held    *plan.Box // under a pressed pointer
	point   struct {
		target   string
		cylinder int
	}

	width, height float64 // of the surface [CSS px]
	ratio         float64 // device pixels per CSS pixel
	frames        int

	still    *ebiten.Image
	white    *ebiten.Image
	mesh     plan.Mesh
	vertices []ebiten.Vertex
	over     []ebiten.Vertex // of what lies over the moving parts, kept
	indices  []uint32        // of over
	stale    bool            // still must be drawn again
}

// New returns an empty view; it draws nothing before a spec and a snapshot came.
func New() *View {
	v := &View{white: ebiten.NewImage(3, 3), ratio: 1}
	pixels := make([]byte, 3*3*4)
	for i := range pixels {
		pixels[i] = 255
	}
	v.white.WritePixels(pixels)
	return v
}

// Run hands the frame's canvas to the drawing and returns only when it ends.
func (v *View) Run() error {
	ebiten.SetVsyncEnabled(true)
	ebiten.SetFPSMode(ebiten.FPSModeVsyncOffMinimum)
	ebiten.SetTPS(ebiten.SyncWithFPS)
	ebiten.SetScreenClearedEveryFrame(false)
	return ebiten.RunGame(v)
}

// SetPlan takes a spec as JSON; the drawing it describes shows with the next
// picture. An error leaves the drawing as it was.
func (v *View) SetPlan(data []byte) error {
	s, err := plan.ParseSpec(data)
	if err != nil {
		return err
	}
	v.spec, v.plan = &s, nil
	v.palette = plan.Theme(s.Theme, s.Colours)
	ebiten.ScheduleFrame()
	return nil
}

// errSnapshot is what SetSnapshot reports of an array that is none.
var errSnapshot = errors.New("benchview: not a snapshot of this version")

// SetSnapshot copies a snapshot and asks for a picture if it says anything new:
// an engine at rest costs nothing, however often the page sends it.
func (v *View) SetSnapshot(snap []float64) error {
	w := wire.View(snap)
	if !w.Valid() {
		return errSnapshot
	}
	if same(v.snap, snap) {
		return nil
	}
	if len(v.snap) > 0 {
		v.phase.Advance(w, w.Get(wire.SlotTick)-wire.View(v.snap).Get(wire.SlotTick))
	}
	v.snap = append(v.snap[:0], snap...)
	ebiten.ScheduleFrame()
	return nil
}

// same compares bit by bit, so that an instrument that shows nothing (NaN) is
// like itself.
func same(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}

// Point frames one thing, for the keyboard; an empty target frames none.
func (v *View) Point(target string, cylinder int) {
	v.point.target, v.point.cylinder = target, cylinder
	if v.plan != nil {
		v.plan.Point(target, cylinder)
	}
	ebiten.ScheduleFrame()
}

// Frames returns how many pictures were drawn so far.
func (v *View) Frames() int { return v.frames }

// Boxes returns what can be touched, in CSS pixels; empty before the first picture.
func (v *View) Boxes() []plan.Box {
	if v.plan == nil {
		return nil
	}
	return v.plan.Boxes
}

// Update does nothing: time belongs to the page and the core.
func (v *View) Update() error { return nil }

// Layout is not used; LayoutF is.
func (v *View) Layout(int, int) (int, int) { panic("benchview: Layout called beside LayoutF") }

// LayoutF draws in device pixels.
func (v *View) LayoutF(width, height float64) (float64, float64) {
	ratio := ebiten.Monitor().DeviceScaleFactor()
	if width != v.width || height != v.height || ratio != v.ratio {
		v.width, v.height, v.ratio = width, height, ratio
		v.plan = nil
	}
	return math.Ceil(width * ratio), math.Ceil(height * ratio)
}
