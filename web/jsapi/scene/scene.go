//go:build js

// Package scene is the drawing's side of the bridge to the browser: it puts
// crankbayScene on the frame's window and translates, nothing more.
//
//	setPlan(json)          "" or one sentence about what is wrong with it
//	setSnapshot(array)     a Float64Array of any realm, layout web/wire; true when taken
//	pointer(type, x, y)    down, move, up, cancel in CSS pixels; the target under it
//	takeHits()             JSON of what was touched since the last call
//	boxes()                JSON of all hit boxes
//	point(target, cyl)     frames a thing for the keyboard
//	frames()               pictures drawn so far
package scene

import (
	"encoding/json"
	"syscall/js"
	"unsafe"

	"crankbay/web/benchview"
	"crankbay/web/plan"
	"crankbay/web/wire"
)

// bridge holds the buffers that snapshots travel in.
type bridge struct {
	view   *benchview.View
	slots  []float64
	bytes  []byte // the same memory
	floats js.Value
	raw    js.Value // the same buffer as bytes
}

// Install puts crankbayScene on the window and tells the parent that it is there.
func Install(view *benchview.View) {
	n := wire.Size(wire.MaxCylinders)
	b := &bridge{view: view, slots: make([]float64, n)}
	b.bytes = unsafe.Slice((*byte)(unsafe.Pointer(&b.slots[0])), 8*n)
	b.floats = js.Global().Get("Float64Array").New(n)
	b.raw = js.Global().Get("Uint8Array").New(b.floats.Get("buffer"))
	api := js.Global().Get("Object").New()
	for name, call := range map[string]func([]js.Value) any{
		"setPlan": b.setPlan, "setSnapshot": b.setSnapshot, "pointer": b.pointer, "takeHits": b.takeHits,
		"boxes": b.boxes, "point": b.point, "frames": b.frames,
	} {
		api.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any { return call(args) }))
	}
	js.Global().Set("crankbayScene", api)
	tell("scene-ready")
}

// tell posts a word to the page around the frame.
func tell(word string) {
	message := js.Global().Get("Object").New()
	message.Set("crankbay", word)
	js.Global().Get("parent").Call("postMessage", message, "*")
}

func (b *bridge) setPlan(args []js.Value) any {
	if err := b.view.SetPlan([]byte(text(args, 0))); err != nil {
		return err.Error()
	}
	return ""
}

// setSnapshot copies by TypedArray.set, which takes arrays of another realm.
func (b *bridge) setSnapshot(args []js.Value) any {
	if len(args) == 0 || args[0].Type() != js.TypeObject {
		return false
	}
	n := args[0].Get("length")
	if n.Type() != js.TypeNumber || n.Int() > len(b.slots) {
		return false
	}
	b.floats.Call("set", args[0])
	js.CopyBytesToGo(b.bytes, b.raw)
	return b.view.SetSnapshot(b.slots[:n.Int()]) == nil
}

func (b *bridge) pointer(args []js.Value) any {
	target := b.view.Pointer(text(args, 0), number(args, 1), number(args, 2))
	if b.view.Touched() {
		tell("scene-hit")
	}
	return target
}

func (b *bridge) takeHits([]js.Value) any {
	h := b.view.TakeHits()
	if h == nil {
		return "[]"
	}
	return encode(h)
}

func (b *bridge) boxes([]js.Value) any {
	boxes := b.view.Boxes()
	if boxes == nil {
		boxes = []plan.Box{}
	}
	return encode(boxes)
}

func (b *bridge) point(args []js.Value) any {
	b.view.Point(text(args, 0), int(number(args, 1)))
	return nil
}

func (b *bridge) frames([]js.Value) any { return b.view.Frames() }

func encode(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err) // plain structs of strings and finite numbers
	}
	return string(data)
}

func text(args []js.Value, i int) string {
	if i >= len(args) || args[i].Type() != js.TypeString {
		return ""
	}
	return args[i].String()
}

func number(args []js.Value, i int) float64 {
	if i >= len(args) || args[i].Type() != js.TypeNumber {
		return 0
	}
	return args[i].Float()
}
