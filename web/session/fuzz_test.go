package session_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/attempt"
	"crankbay/web/session"
)

// Whatever text a call gets, it answers with JSON and does not panic, and the
// attempt that is open can be saved and taken up again.
func FuzzCalls(f *testing.F) {
	for _, seed := range []string{
		``, `null`, `[]`, `{"kind":"glasses","choice":"on"}`, `{"kind":"starter","choice":"on"}`,
		`{"kind":"oil","cylinder":-1,"number":1e308}`, `{"kind":"plug-out","cylinder":99}`, `{"kind":"wait","number":-5}`,
		`{"kind":"remark","text":"\ud800\u0000"}`, `{"kind":"write","choice":"dry_last","cylinder":2,"number":1.2e6}`,
		`{"scenario":"sound-v8","mode":"alone"}`, `{"scenario":"sound-v8","mode":"grade","who":"\u0007"}`,
		`{"scenario_file":{"format":1},"mode":"grade"}`, `{"format":1,"actions":[]}`, `{"kind":"hand-in"}`,
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c := session.New()
		require.True(t, json.Valid([]byte(c.Open(`{"scenario":"`+faulty+`","mode":"alone"}`))))
		assert.True(t, json.Valid([]byte(c.Act(text))), "act")
		c.Advance(60)
		assert.True(t, json.Valid([]byte(c.Open(text))), "open")
		assert.True(t, json.Valid([]byte(c.Resume(text, ""))), "resume")
		assert.True(t, json.Valid([]byte(c.Resume(text, text))), "resume with a scenario")
		saved := c.Save()
		_, err := attempt.Decode([]byte(saved))
		require.NoError(t, err, saved)
		assert.NotContains(t, value(t, session.New().Resume(saved, "")), "error")
		assert.False(t, c.Broken())
	})
}
