//go:build js

package desk_test

import (
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
