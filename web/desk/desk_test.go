package desk_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/record"
	"crankbay/web/desk"
)

const faulty = "burnt-exhaust-inline-four"

type answer struct {
	OK    map[string]any `json:"ok"`
	Error *struct {
		Key    string         `json:"key"`
		Params map[string]any `json:"params"`
	} `json:"error"`
}

func ask(t *testing.T, request any) answer {
	t.Helper()
	text, err := json.Marshal(request)
	require.NoError(t, err)
	return read(t, desk.Answer(text))
}

func read(t *testing.T, text []byte) answer {
	t.Helper()
	var a answer
	require.NoError(t, json.Unmarshal(text, &a), string(text))
	assert.True(t, (a.OK == nil) != (a.Error == nil), "either an answer or an error: %.200s", text)
	return a
}

// attemptText is an attempt of a few acts, handed in or not.
func attemptText(t *testing.T, s *scenarios.Scenario, handIn bool) string {
	t.Helper()
	a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeGrade})
	require.NoError(t, err)
	acts := []record.Action{{Kind: "glasses", Choice: "on"}, {Kind: attempt.KindFinding, Choice: "undecided"}}
	if handIn {
		acts = append(acts, record.Action{Kind: attempt.KindHandIn})
	}
	for _, x := range acts {
		require.NoError(t, a.Do(x))
	}
	data, err := a.Encode()
	require.NoError(t, err)
	return string(data)
}

// The debrief tells the grade that the attempt itself gets, and what was inside.
func TestDebriefOfAnAttempt(t *testing.T) {
	s := scenarios.Find(faulty)
	text := attemptText(t, s, true)
	a := ask(t, map[string]any{"do": "debrief", "attempt": text})
	require.Nil(t, a.Error)
	f, err := attempt.Decode([]byte(text))
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	want, err := json.Marshal(v.Grade)
	require.NoError(t, err)
	got, err := json.Marshal(a.OK["grade"])
	require.NoError(t, err)
	assert.JSONEq(t, string(want), string(got))
	truth := a.OK["truth"].(map[string]any)
	assert.Len(t, truth["readings"], 4)
	assert.NotEmpty(t, truth["faults"])
}

// A scenario that the catalogue doesn't carry comes along as a text.
func TestScenarioThatComesAlong(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "scenarios", "data", faulty+".json"))
	require.NoError(t, err)
	var file map[string]any
	require.NoError(t, json.Unmarshal(data, &file))
	file["id"] = "my-own-engine"
	own, err := json.Marshal(file)
	require.NoError(t, err)
	s, err := scenarios.Decode(own)
	require.NoError(t, err)
	text := attemptText(t, s, true)
	a := ask(t, map[string]any{"do": "debrief", "attempt": text})
	require.NotNil(t, a.Error)
	assert.Equal(t, desk.ErrUnknown, a.Error.Key)
	assert.Equal(t, "my-own-engine", a.Error.Params["id"])
	a = ask(t, map[string]any{"do": "debrief", "attempt": text, "scenario": string(own)})
	assert.Nil(t, a.Error)
}

func TestTroubleLeavesByKey(t *testing.T) {
	s := scenarios.Find(faulty)
	for _, x := range []struct{ name, request, key string }{
		{"nothing", "", desk.ErrRequest},
		{"no object", "[]", desk.ErrRequest},
		{"no command", "{}", desk.ErrCommand},
		{"unknown command", `{"do":"guess"}`, desk.ErrCommand},
		{"unknown member", `{"do":"debrief","speed":9}`, desk.ErrRequest},
		{"no attempt", `{"do":"debrief"}`, desk.ErrAttempt},
		{"bad scenario", encoded(t, map[string]any{"do": "debrief", "attempt": attemptText(t, s, true), "scenario": "{}"}), desk.ErrScenario},
		{"not handed in", encoded(t, map[string]any{"do": "debrief", "attempt": attemptText(t, s, false)}), desk.ErrNotHandedIn},
		{"too long", string(make([]byte, desk.MaxRequest+1)), desk.ErrRequest},
	} {
		t.Run(x.name, func(t *testing.T) {
			a := read(t, desk.Answer([]byte(x.request)))
			require.NotNil(t, a.Error)
			assert.Equal(t, x.key, a.Error.Key)
		})
	}
}

func encoded(t *testing.T, v any) string {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return string(data)
}

// Our own bug is said, not thrown into the page.
func TestPanicIsAnAnswer(t *testing.T) {
	text := encoded(t, map[string]any{"do": "debrief", "attempt": attemptText(t, scenarios.Find(faulty), true)})
	assert.NotContains(t, string(desk.Work([]byte(text), nil)), "panic", "nobody has to listen to the progress")
	a := read(t, desk.Guarded(func() []byte { panic("no such hypothesis") }))
	require.NotNil(t, a.Error)
	assert.Equal(t, desk.ErrPanic, a.Error.Key)
	assert.Equal(t, "no such hypothesis", a.Error.Params["text"])
}

func FuzzAnswer(f *testing.F) {
	for _, name := range desk.Commands() {
		f.Add(`{"do":"` + name + `"}`)
		f.Add(`{"do":"` + name + `","attempt":"{}","scenario":"{}"}`)
		f.Add(`{"do":"` + name + `"} {}`)
	}
	f.Add(`{"do":5}`)
	f.Add(`null`)
	f.Fuzz(func(t *testing.T, request string) {
		out := desk.Answer([]byte(request))
		assert.Equal(t, out, desk.Answer([]byte(request)), "the same request, the same answer")
		a := read(t, out)
		if a.Error != nil {
			assert.NotEqual(t, desk.ErrPanic, a.Error.Key, "%v", a.Error.Params)
		}
	})
}
