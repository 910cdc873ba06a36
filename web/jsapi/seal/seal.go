//go:build js

// Package seal hands package scenarios/seal to the page: it installs the object
// globalThis.crankbaySeal. Every call answers with an object: {"ok": …} or
// {"error": {"key", "params"}}; none throws, none waits.
package seal

import (
	"fmt"
	"syscall/js"

	"crankbay/scenarios/seal"
)

// Keys of errors. The texts are the page's.
const (
	ErrPanic = "seal_panic" // text
	ErrKey   = "bad_key"    // text
	ErrSeal  = "bad_seal"   // text
)

// Install puts the calls in place:
//
//	newKey()             {"private","public"}, made by chance
//	publicOf(private)    the public key
//	seal(public, text)   the sealed hand-in
//	open(private, text)  what was sealed
func Install() {
	o := js.Global().Get("Object").New()
	set(o, "newKey", func([2]string) (any, string, error) {
		k, err := seal.NewKey()
		if err != nil {
			return nil, ErrSeal, err
		}
		return map[string]any{"private": k.Private(), "public": k.Public()}, "", nil
	})
	set(o, "publicOf", func(in [2]string) (any, string, error) {
		k, err := seal.ParseKey(in[0])
		if err != nil {
			return nil, ErrKey, err
		}
		return k.Public(), "", nil
	})
	set(o, "seal", func(in [2]string) (any, string, error) {
		if err := seal.CheckPublic(in[0]); err != nil {
			return nil, ErrKey, err
		}
		closed, err := seal.Seal(in[0], []byte(in[1]))
		return closed, ErrSeal, err
	})
	set(o, "open", func(in [2]string) (any, string, error) {
		k, err := seal.ParseKey(in[0])
		if err != nil {
			return nil, ErrKey, err
		}
		data, err := k.Open(in[1])
		return string(data), ErrSeal, err
	})
	js.Global().Set("crankbaySeal", o)
}

// set installs a call of up to two strings; a missing one is empty. A panic inside
// becomes an error.
func set(o js.Value, name string, call func(in [2]string) (any, string, error)) {
	o.Set(name, js.FuncOf(func(_ js.Value, args []js.Value) (out any) {
		defer func() {
			if r := recover(); r != nil {
				out = trouble(ErrPanic, fmt.Sprint(r))
			}
		}()
		var in [2]string
		for i := range min(len(args), len(in)) {
			if args[i].Type() == js.TypeString {
				in[i] = args[i].String()
			}
		}
		v, key, err := call(in)
		if err != nil {
			return trouble(key, err.Error())
		}
		return map[string]any{"ok": v}
	}))
}

func trouble(key, why string) any {
	return map[string]any{"error": map[string]any{"key": key, "params": map[string]any{"text": why}}}
}
