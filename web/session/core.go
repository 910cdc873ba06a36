// Package session is the simulation as a page uses it: one open attempt, calls
// that take and give JSON texts, and a snapshot for every frame. It knows no
// browser; web/jsapi/core is the thin layer that hands it to one.
//
// Facts leave this package, sentences do not: every answer is keys and numbers.
// In mode "grade" nothing leaves that a student at a real engine could not see:
// no pressure inside a cylinder, no valve lift, no count of strokes, no limits
// before the right page was looked up, no fault before the sheet is handed in.
package session

import (
	"encoding/json"
	"fmt"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/web/wire"
)

// Ways of working in the Bay.
const (
	ModeReasons = "reasons" // the next sensible action is offered
	ModeAlone   = "alone"   // section view and hints on request, counted
	ModeGrade   = "grade"   // neither
)

// Most that one call does, so that no call keeps a page waiting.
const (
	MaxAdvance = 1200 * 5  // ticks
	MaxSamples = 24000 * 2 // samples of sound
	maxText    = 4 << 20   // bytes of any text that comes in
)

// Keys of errors. The texts are the page's; params carry what they name.
const (
	ErrPanic       = "core_panic"       // text
	ErrNothingOpen = "nothing_open"     //
	ErrRequest     = "bad_request"      // text
	ErrScenario    = "bad_scenario"     // text
	ErrUnknown     = "unknown_scenario" // id
	ErrAttempt     = "bad_attempt"      // text
	ErrHandedIn    = "handed_in"        //
)

// A Core holds at most one open attempt. The zero value is not usable; call
// New. Its calls are not safe for use by several goroutines.
type Core struct {
	s        *attempt.Session
	scenario *scenarios.Scenario
	mode     string
	who      string
	selected int // cylinder of the section view
	told     int // events of the record that news has reported
	broken   bool
	handed   []book.Reading // what came with the engine
	state    bench.State    // as of the last action or rest
	snap     wire.Snapshot
	voice    voice
	teeth    int     // of a cam wheel
	vacuum   float64 // where the needle of the vacuum gauge points, below ambient [Pa]
}

// New returns a core with nothing open.
func New() *Core { return &Core{} }

// Broken reports whether a call panicked: the state can no longer be trusted.
func (c *Core) Broken() bool { return c.broken }

// Guard runs a call that answers with a text. A panic becomes an error text and
// marks the core as broken.
func (c *Core) Guard(call func() string) (out string) {
	defer func() {
		if r := recover(); r != nil {
			c.broken = true
			out = PanicText(r)
		}
	}()
	return call()
}

// PanicText is the error text of a recovered panic.
func PanicText(r any) string { return fail(ErrPanic, "text", fmt.Sprint(r)) }

// An errorText is how every error leaves: a key and what its sentence names.
type errorText struct {
	Error struct {
		Key    string         `json:"key"`
		Params map[string]any `json:"params"`
	} `json:"error"`
}

// fail makes an error text of a key and pairs of names and values.
func fail(key string, pairs ...any) string {
	var e errorText
	e.Error.Key = key
	e.Error.Params = map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		e.Error.Params[pairs[i].(string)] = pairs[i+1]
	}
	return encode(e)
}

// encode writes JSON. Everything passed to it is made of plain finite values,
// so a failure is a bug here.
func encode(v any) string {
	data, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("session: %T: %v", v, err))
	}
	return string(data)
}

// decode reads one JSON text strictly into v.
func decode(text string, v any) error {
	if len(text) > maxText {
		return fmt.Errorf("longer than %d bytes", maxText)
	}
	return unmarshalStrict([]byte(text), v)
}
