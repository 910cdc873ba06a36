//go:build js

// Package desk hands a program that answers questions to the page: it installs an
// object of the program's name in globalThis. It is thin on purpose; what can be
// asked is in packages that run and are tested without a browser (web/desk,
// web/opinion).
package desk

import (
	"syscall/js"
	"time"

	"crankbay/web/answer"
)

// A Work answers one request, see package answer.
type Work = func(request []byte, tell answer.Progress) []byte

// Install puts the calls in place:
//
//	name.ask(text, done, progress)
//
// text is a request as JSON, done is called once with the answer as JSON, and
// progress(steps, of), which may be missing, now and then before. The call
// returns at once. Whoever asks waits for done before asking again.
//
//	name.library(bytes)
//
// hands over the likelihood library as a Uint8Array and returns an empty text, or
// what is wrong with it. A program that needs none has no such call; take is nil.
func Install(name string, work Work, take func([]byte) error) {
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
		go func() { done.Invoke(string(work([]byte(text), teller(progress)))) }()
		return nil
	}))
	if take != nil {
		object.Set("library", js.FuncOf(func(_ js.Value, args []js.Value) any { return library(args, take) }))
	}
	js.Global().Set(name, object)
}

// library takes the bytes of the likelihood library.
func library(args []js.Value, take func([]byte) error) string {
	if len(args) < 1 || !args[0].InstanceOf(js.Global().Get("Uint8Array")) {
		return "no Uint8Array"
	}
	data := make([]byte, args[0].Length())
	js.CopyBytesToGo(data, args[0])
	if err := take(data); err != nil {
		return err.Error()
	}
	return ""
}

// breath is how long work pauses at each step where it shares a thread with the
// page: long enough for a frame to be drawn and a key to be heard.
const breath = 4 * time.Millisecond

// teller passes progress on. In a page's own thread it also lets the page work; a
// Worker has nobody to wait for.
func teller(progress js.Value) answer.Progress {
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
