//go:build js

// Package desk hands the second program to the page: it installs the object
// globalThis.crankbayDesk. It is thin on purpose; what can be asked is in
// web/desk, which runs and is tested without a browser.
package desk

import (
	"syscall/js"
	"time"

	"crankbay/web/desk"
)

// Install puts the one call in place:
//
//	crankbayDesk.ask(text, done, progress)
//
// text is a request as JSON, done is called once with the answer as JSON, and
// progress(steps, of), which may be missing, now and then before. The call
// returns at once. Whoever asks waits for done before asking again.
func Install() {
	object := js.Global().Get("Object").New()
	object.Set("ask", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) < 2 || args[1].Type() != js.TypeFunction {
			return nil // nobody to answer
		}
		text := ""
		if args[0].Type() == js.TypeString {
			text = args[0].String()
		}
		progress := js.Undefined()
		if len(args) > 2 && args[2].Type() == js.TypeFunction {
			progress = args[2]
		}
		done := args[1]
		go func() { done.Invoke(string(desk.Work([]byte(text), teller(progress)))) }()
		return nil
	}))
	js.Global().Set("crankbayDesk", object)
}

// breath is how long work pauses at each step where it shares a thread with the
// page: long enough for a frame to be drawn and a key to be heard.
const breath = 4 * time.Millisecond

// teller passes progress on. In a page's own thread it also lets the page work; a
// Worker has nobody to wait for.
func teller(progress js.Value) desk.Progress {
	inPage := js.Global().Get("document").Truthy()
	return func(done, of int) {
		if progress.Truthy() {
			progress.Invoke(done, of)
		}
		if inPage {
			time.Sleep(breath)
		}
	}
}
