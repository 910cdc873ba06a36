package coach_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
)

// asked follows the advice for a scenario and returns the first time each kind of step
// was advised, by its place among all.
func asked(t *testing.T, id string) map[string]int {
	t.Helper()
	a, err := attempt.New(scenarios.Find(id), attempt.Header{Mode: attempt.ModeReasons})
	require.NoError(t, err)
	p := &apprentice{t: t, a: a, own: true}
	p.follow()
	out := map[string]int{}
	for _, key := range p.keys {
		if i := slices.Index(p.keys, key); i >= 0 {
			out[key] = i
		}
	}
	return out
}

// A further test is advised where readings ask for one, and only there: none where all is
// within limits (no wet test needed, stop compression tests) or where slow cranking says
// why; leakage where one stands out; the other gauge before the engine where all are off.
func TestFurtherTestsWhereReadingsAsk(t *testing.T) {
	tests := []string{"tester_on", "oil", "second_gauge", "lash", "timing_marks", "borescope", "clamp", "vacuum_gauge", "refit", "cooling_pressure", "power_balance"}
	for _, id := range []string{"sound-inline-four", "sound-v8", "sound-high-mountain", "weak-battery-inline-four", "throttle-closed-inline-four"} {
		seen := asked(t, id)
		for _, test := range tests {
			assert.NotContains(t, seen, test, id)
		}
	}
	for _, id := range []string{"burnt-exhaust-v6", "worn-rings-inline-four", "gasket-inline-four", "bank-late-flat-four"} {
		assert.Contains(t, asked(t, id), "tester_on", id)
	}
	assert.Contains(t, asked(t, "carbon-inline-four"), "borescope")
	seen := asked(t, "gauge-reads-low-v6")
	assert.Contains(t, seen, "second_gauge")
	assert.NotContains(t, seen, "tester_on", "the other gauge has told")
	for _, id := range []string{"timing-late-inline-four", "no-start-v6", "all-rings-worn-inline-four"} {
		seen := asked(t, id)
		require.Contains(t, seen, "tester_on", id)
		assert.Less(t, seen["second_gauge"], seen["tester_on"], "%s: the method before the engine", id)
	}
}
