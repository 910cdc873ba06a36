//go:build js

package scene_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"syscall/js"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/benchview"
	"crankbay/web/jsapi/scene"
	"crankbay/web/wire"
)

// The drawing needs a running game for its images; the tests run inside one.
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

const engine = `{"layout":"inline","cylinders":4,"gauge":"a","range_psi":300,"graduation_psi":5,"switch":"remote"}`

// foreign returns a Float64Array of another realm, as the page around the frame
// would hand it over.
func foreign(t *testing.T, values []float64) js.Value {
	document := js.Global().Get("document")
	frame := document.Call("createElement", "iframe")
	document.Get("body").Call("append", frame)
	t.Cleanup(func() { frame.Call("remove") })
	list := js.Global().Get("Array").New()
	for _, v := range values {
		list.Call("push", v)
	}
	return frame.Get("contentWindow").Get("Float64Array").Call("from", list)
}

func snapshot() []float64 {
	s := wire.Snapshot{Needle: 5e5, Cylinders: make([]wire.Cylinder, 4)}
	slots := make([]float64, wire.Size(4))
	s.Encode(slots)
	return slots
}

func TestBridge(t *testing.T) {
	view := benchview.New()
	scene.Install(view)
	api := js.Global().Get("crankbayScene")
	require.Equal(t, js.TypeObject, api.Type())

	assert.Empty(t, api.Call("setPlan", engine).String())
	assert.Contains(t, api.Call("setPlan", `{"cylinders":77}`).String(), "cylinders = 77")
	assert.Contains(t, api.Call("setPlan", "").String(), "plan:")
	assert.Contains(t, api.Call("setPlan").String(), "plan:")

	assert.True(t, api.Call("setSnapshot", foreign(t, snapshot())).Bool(), "an array of another realm")
	assert.False(t, api.Call("setSnapshot", foreign(t, []float64{1, 2})).Bool(), "too short")
	assert.False(t, api.Call("setSnapshot", foreign(t, make([]float64, 5000))).Bool(), "too long")
	assert.False(t, api.Call("setSnapshot", "text").Bool())
	assert.False(t, api.Call("setSnapshot").Bool())

	assert.Equal(t, "[]", api.Call("boxes").String(), "nothing drawn yet")
	view.LayoutF(820, 560)
	view.Draw(ebiten.NewImage(820, 560))
	var boxes []struct {
		Target     string
		Cylinder   int
		X, Y, W, H float64
	}
	require.NoError(t, json.Unmarshal([]byte(api.Call("boxes").String()), &boxes))
	require.NotEmpty(t, boxes)
	assert.Equal(t, 1, api.Call("frames").Int())

	for _, b := range boxes {
		if b.Target != "plug" || b.Cylinder != 3 {
			continue
		}
		x, y := b.X+b.W/2, b.Y+b.H/2
		assert.Equal(t, "plug", api.Call("pointer", "down", x, y).String())
		api.Call("pointer", "up", x, y)
		assert.JSONEq(t, `[{"target":"plug","cylinder":3}]`, api.Call("takeHits").String())
		assert.Equal(t, "[]", api.Call("takeHits").String())
	}
	assert.NotPanics(t, func() { api.Call("point", "plug", 2); api.Call("point"); api.Call("pointer") })
}
