package scenarios_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

func withWork(t *testing.T, work string) string {
	t.Helper()
	whole := file(t, "sound-inline-four")
	require.Contains(t, whole, `"faults": []`)
	return strings.Replace(whole, `"faults": []`, `"faults": [], "work": `+work, 1)
}

func TestWork(t *testing.T) {
	s, err := scenarios.Decode([]byte(withWork(t, `{"modes": ["grade", "alone"], "tests": ["wet", "lash"], "hide": ["section"], "minutes": 90,
		"weights": {"prepare": 10, "measure": 40, "record": 0, "choose": 20, "conclude": 30}}`)))
	require.NoError(t, err)
	w := s.Work
	assert.True(t, w.Allows("grade") && !w.Allows("reasons"))
	assert.True(t, w.May("wet") && w.May("lash") && !w.May("leakage"))
	assert.True(t, w.Hides("section") && !w.Hides("hints"))
	assert.Equal(t, []float64{90, 10, 40, 0, 20, 30}, []float64{w.Minutes, w.Weights.Prepare, w.Weights.Measure, w.Weights.Record, w.Weights.Choose, w.Weights.Conclude})
	data, err := s.Encode()
	require.NoError(t, err)
	back, err := scenarios.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, s, back)
	assert.NotEqual(t, scenarios.Find("sound-inline-four").Digest(), s.Digest(), "what a job allows is part of what it asks")

	free, err := scenarios.Decode([]byte(withWork(t, `{"tests": []}`)))
	require.NoError(t, err)
	assert.False(t, free.Work.May("wet"), "an empty list allows none")
	data, err = free.Encode()
	require.NoError(t, err)
	assert.Contains(t, string(data), `"tests": []`)
	for _, none := range []*scenarios.Work{nil, {}} {
		assert.True(t, none.Allows("reasons") && none.May("leakage") && !none.Hides("hints"))
	}
}

func TestWorkRefusedAlike(t *testing.T) {
	s := schema(t)
	for work, want := range map[string]string{
		`{"modes": []}`:                 "work.modes: 0 items, want 1 to 3",
		`{"modes": ["easy"]}`:           `work.modes[0]: "easy", want one of reasons, alone, grade`,
		`{"modes": ["grade", "grade"]}`: `work.modes[1]: "grade" stands there twice`,
		`{"tests": ["x-ray"]}`:          `work.tests[0]: "x-ray", want one of wet`,
		`{"hide": ["needle"]}`:          `work.hide[0]: "needle", want one of section, hints`,
		`{"minutes": 0}`:                "work.minutes: 0, want a number from 1 to 1440",
		`{"weights": {"prepare": 1}}`:   "work.weights.measure: missing",
		`{"time": 5}`:                   "work.time: unknown field",
		`{"weights": {"prepare": 1001, "measure": 1, "record": 1, "choose": 1, "conclude": 1}}`: "work.weights.prepare: 1001, want a number from 0 to 1000",
	} {
		data := withWork(t, work)
		_, err := scenarios.Decode([]byte(data))
		assert.ErrorContains(t, err, want)
		assert.False(t, accepts(t, s, data), "the schema takes %s", work)
	}
	_, err := scenarios.Decode([]byte(withWork(t, `{"weights": {"prepare": 0, "measure": 0, "record": 0, "choose": 0, "conclude": 0}}`)))
	assert.EqualError(t, err, "work.weights: no points at all, want more than 0 in some row")
}
