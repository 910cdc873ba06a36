//go:build js

package desk_test

import (
	"errors"
	"syscall/js"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	work "crankbay/web/desk"
	"crankbay/web/jsapi/desk"
)

// asked puts one question the way the page does and waits for the answer.
func asked(t *testing.T, text any, more ...any) js.Value {
	t.Helper()
	desk.Install("crankbayDesk", work.Work, nil)
	answers := make(chan string, 1)
	done := js.FuncOf(func(_ js.Value, args []js.Value) any {
		answers <- args[0].String()
		return nil
	})
	defer done.Release()
	js.Global().Get("crankbayDesk").Call("ask", append([]any{text, done}, more...)...)
	select {
	case a := <-answers:
		return js.Global().Get("JSON").Call("parse", a)
	case <-time.After(10 * time.Second):
		require.Fail(t, "no answer")
		return js.Undefined()
	}
}

func TestAsksAreAnsweredAndNeverThrow(t *testing.T) {
	for _, text := range []any{nil, js.Undefined(), 5, "", "{", true, `{"do":"nothing"}`} {
		assert.NotEmpty(t, asked(t, text).Get("error").Get("key").String())
		assert.NotEmpty(t, asked(t, text, "no function").Get("error").Get("key").String())
	}
}

// A library is bytes in an array of bytes; anything else is said, not thrown.
func TestLibraryIsHandedOver(t *testing.T) {
	var got []byte
	desk.Install("crankbayTest", work.Work, func(data []byte) error {
		got = data
		if len(data) == 1 {
			return errors.New("too short")
		}
		return nil
	})
	o := js.Global().Get("crankbayTest")
	bytes := js.Global().Get("Uint8Array").New(3)
	bytes.SetIndex(2, 7)
	assert.Empty(t, o.Call("library", bytes).String())
	assert.Equal(t, []byte{0, 0, 7}, got)
	assert.Equal(t, "too short", o.Call("library", js.Global().Get("Uint8Array").New(1)).String())
	for _, wrong := range []any{nil, 5, "text", js.Global().Get("Float64Array").New(2)} {
		assert.NotEmpty(t, o.Call("library", wrong).String())
	}
}
