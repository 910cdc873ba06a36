//go:build js

package seal_test

import (
	"syscall/js"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/jsapi/seal"
)

func call(t *testing.T, name string, args ...any) js.Value {
	t.Helper()
	out := js.Global().Get("crankbaySeal").Call(name, args...)
	require.Equal(t, js.TypeObject, out.Type())
	return out
}

func TestSealAndOpenInTheBrowser(t *testing.T) {
	seal.Install()
	k := call(t, "newKey").Get("ok")
	private, public := k.Get("private").String(), k.Get("public").String()
	assert.Equal(t, public, call(t, "publicOf", private).Get("ok").String())
	closed := call(t, "seal", public, "CB1.ñ").Get("ok").String()
	assert.Equal(t, "CB1.ñ", call(t, "open", private, closed).Get("ok").String())
	other := call(t, "newKey").Get("ok").Get("private").String()
	assert.Equal(t, seal.ErrSeal, call(t, "open", other, closed).Get("error").Get("key").String())
}

func TestSealCallsNeverThrow(t *testing.T) {
	seal.Install()
	for _, name := range []string{"publicOf", "seal", "open"} {
		for _, arg := range []any{nil, js.Undefined(), 5, "", "{", true} {
			assert.Equal(t, seal.ErrKey, call(t, name, arg, arg).Get("error").Get("key").String(), name)
		}
	}
}
