//go:build js

package core_test

import (
	"syscall/js"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/jsapi/core"
	"crankbay/web/session"
	"crankbay/web/wire"
)

// installed returns globalThis.crankbay of a fresh core, called from JavaScript
// the way the page does.
func installed(t *testing.T) js.Value {
	t.Helper()
	core.Install(session.New())
	api := js.Global().Get("crankbay")
	require.Equal(t, js.TypeObject, api.Type())
	return api
}

func parsed(t *testing.T, v js.Value) js.Value {
	t.Helper()
	require.Equal(t, js.TypeString, v.Type())
	return js.Global().Get("JSON").Call("parse", v)
}

func opened(t *testing.T, mode string) js.Value {
	t.Helper()
	api := installed(t)
	v := parsed(t, api.Call("open", `{"scenario":"sound-inline-four","mode":"`+mode+`","who":""}`))
	require.Equal(t, mode, v.Get("mode").String())
	return api
}

func act(t *testing.T, api js.Value, text string) {
	t.Helper()
	require.True(t, parsed(t, api.Call("act", text)).Get("ok").Bool(), text)
}

func TestCallsAnswerWithJSONAndNeverThrow(t *testing.T) {
	api := installed(t)
	for _, name := range []string{"open", "resume", "act", "stroke", "view", "needle", "save", "handIn"} {
		for _, arg := range []any{nil, js.Undefined(), 5, "", "{", true} {
			out := parsed(t, api.Call(name, arg))
			assert.NotEmpty(t, out.Get("error").Get("key").String(), name)
		}
		assert.NotEmpty(t, parsed(t, api.Call(name)).Get("error").Get("key").String(), "%s without arguments", name)
	}
	assert.GreaterOrEqual(t, parsed(t, api.Call("catalogue")).Length(), 12)
	assert.False(t, api.Get("broken").Bool())
}

func TestAdvanceTakesAnyNumber(t *testing.T) {
	api := opened(t, "grade")
	for _, n := range []any{0, -5, js.Global().Get("NaN"), js.Global().Get("Infinity"), "ten", nil, 10.7} {
		assert.Equal(t, 0, api.Call("advance", n).Int(), "at rest nothing passes")
	}
	act(t, api, `{"kind":"starter","choice":"on"}`)
	assert.Equal(t, 10, api.Call("advance", 10.7).Int())
	assert.Equal(t, session.MaxAdvance, api.Call("advance", js.Global().Get("Infinity")).Int(), "bounded")
}

// The caller's array is filled in place, whatever part of a buffer it is.
func TestSnapshotFillsTheCallersArray(t *testing.T) {
	api := opened(t, "reasons")
	floats := js.Global().Get("Float64Array")
	whole := floats.New(wire.Size(4))
	require.Equal(t, wire.Size(4), api.Call("snapshot", whole).Int())
	assert.EqualValues(t, wire.Version, whole.Index(wire.SlotVersion).Float())
	assert.EqualValues(t, 4, whole.Index(wire.SlotCylinders).Float())
	assert.Greater(t, whole.Index(wire.At(1, wire.SlotPressure)).Float(), 5e4)

	buffer := js.Global().Get("ArrayBuffer").New(8 * 200)
	part := floats.New(buffer, 80, 150)
	require.Equal(t, wire.Size(4), api.Call("snapshot", part).Int())
	assert.Zero(t, floats.New(buffer).Index(9).Float(), "nothing before its part is touched")
	assert.EqualValues(t, 4, floats.New(buffer).Index(10+wire.SlotCylinders).Float())

	assert.Zero(t, api.Call("snapshot", floats.New(10)).Int(), "too short")
	assert.Zero(t, api.Call("snapshot").Int())
}

func TestSoundHasAsManySamplesAsTicks(t *testing.T) {
	api := opened(t, "grade")
	act(t, api, `{"kind":"starter","choice":"on"}`)
	require.Equal(t, 120, api.Call("advance", 120).Int())
	s := api.Call("sound", 120*20)
	require.Equal(t, 120*20, s.Get("length").Int())
	loud := 0.0
	for i := range 120 * 20 {
		loud = max(loud, s.Index(i).Float())
	}
	assert.Greater(t, loud, 0.01)
	assert.Zero(t, api.Call("sound", 2400).Get("length").Int(), "heard once")
}

func TestSavedAttemptIsTakenUpByAFreshCore(t *testing.T) {
	api := opened(t, "alone")
	act(t, api, `{"kind":"glasses","choice":"on"}`)
	saved := api.Call("save").String()
	again := installed(t)
	v := parsed(t, again.Call("resume", saved))
	assert.True(t, v.Get("state").Get("glasses").Bool())
	assert.Equal(t, saved, again.Call("save").String())
}
