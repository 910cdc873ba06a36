//go:build js

// Package core hands the simulation to the page: it installs the object
// globalThis.crankbay. It is thin on purpose; what the calls mean is in
// web/session, which runs and is tested without a browser.
//
// Texts go in and out as JSON strings, numbers of every frame as typed arrays.
// No call waits for anything, and none throws: what goes wrong comes back as
// {"error":{"key","params"}}.
package core

import (
	"syscall/js"
	"unsafe"

	"crankbay/web/session"
	"crankbay/web/wire"
)

// api is what the calls need between two of them.
type api struct {
	core    *session.Core
	object  js.Value
	slots   [wire.Head + wire.Stride*wire.MaxCylinders]float64
	array   js.Value // the caller's Float64Array of the last snapshot
	bytes   js.Value // the same memory as bytes
	samples []float32
}

// Install puts the calls in place. They work as long as the program runs.
func Install(c *session.Core) {
	a := &api{core: c, object: js.Global().Get("Object").New()}
	a.text("carry", 1, func(in []string) string { return c.Carry(in[0]) })
	a.text("catalogue", 0, func([]string) string { return c.Catalogue() })
	a.text("open", 1, func(in []string) string { return c.Open(in[0]) })
	a.text("resume", 2, func(in []string) string { return c.Resume(in[0], in[1]) })
	a.text("act", 1, func(in []string) string { return c.Act(in[0]) })
	a.text("stroke", 0, func([]string) string { return c.Stroke() })
	a.text("view", 0, func([]string) string { return c.View() })
	a.text("strip", 0, func([]string) string { return c.Strip() })
	a.text("words", 1, func(in []string) string { return c.Words(in[0]) })
	a.text("needle", 0, func([]string) string { return c.Needle() })
	a.text("save", 0, func([]string) string { return c.Save() })
	a.text("handIn", 0, func([]string) string { return c.HandIn() })
	a.set("advance", a.advance)
	a.set("snapshot", a.snapshot)
	a.set("select", a.selectCylinder)
	a.set("sound", a.sound)
	a.object.Set("broken", false)
	js.Global().Set("crankbay", a.object)
}

// set installs one call. A panic inside, or inside the session below, becomes
// a value and raises the flag `broken`: the page then starts a fresh core and
// resumes the saved attempt.
func (a *api) set(name string, call func(args []js.Value) any) {
	a.object.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) (out any) {
		defer func() {
			if r := recover(); r != nil {
				out = session.PanicText(r)
			}
			if a.core.Broken() {
				a.object.Set("broken", true)
			}
		}()
		return call(args)
	}))
}

// text installs a call of n strings (a missing one is empty) that answers with
// a string.
func (a *api) text(name string, n int, call func([]string) string) {
	a.set(name, func(args []js.Value) any {
		in := make([]string, n)
		for i := range in {
			if i < len(args) && args[i].Type() == js.TypeString {
				in[i] = args[i].String()
			}
		}
		return a.core.Guard(func() string { return call(in) })
	})
}

// count reads a whole number in 0..most from the first argument.
func count(args []js.Value, most int) int {
	if len(args) == 0 || args[0].Type() != js.TypeNumber {
		return 0
	}
	f := args[0].Float()
	if !(f > 0) {
		return 0
	}
	return int(min(f, float64(most)))
}

func (a *api) advance(args []js.Value) any {
	ran := 0
	if trouble := a.core.Guard(func() string { ran = a.core.Advance(count(args, session.MaxAdvance)); return "" }); trouble != "" {
		return trouble
	}
	return ran
}

func (a *api) selectCylinder(args []js.Value) any {
	a.core.Select(count(args, wire.MaxCylinders))
	return nil
}

// snapshot fills the caller's Float64Array and returns the slots written, 0
// when nothing is open or the array is too short.
func (a *api) snapshot(args []js.Value) any {
	if len(args) == 0 || args[0].Type() != js.TypeObject {
		return 0
	}
	n := a.core.Snapshot(a.slots[:])
	if n == 0 || args[0].Length() < n {
		return 0
	}
	if !args[0].Equal(a.array) {
		a.array, a.bytes = args[0], bytesOf(args[0])
	}
	js.CopyBytesToJS(a.bytes, unsafe.Slice((*byte)(unsafe.Pointer(&a.slots[0])), 8*n))
	return n
}

// bytesOf views the memory of a typed array as bytes.
func bytesOf(array js.Value) js.Value {
	return js.Global().Get("Uint8Array").New(array.Get("buffer"), array.Get("byteOffset"), array.Get("byteLength"))
}

// sound returns as many samples as there are, at most as many as asked for.
func (a *api) sound(args []js.Value) any {
	n := count(args, session.MaxSamples)
	if len(a.samples) < n {
		a.samples = make([]float32, n)
	}
	n = a.core.Sound(a.samples[:n])
	out := js.Global().Get("Float32Array").New(n)
	if n > 0 {
		js.CopyBytesToJS(bytesOf(out), unsafe.Slice((*byte)(unsafe.Pointer(&a.samples[0])), 4*n))
	}
	return out
}
