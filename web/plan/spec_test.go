package plan_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/plan"
)

func TestSpecNamesWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ json, want string }{
		{`{"cylinders":4,"banks":[[1,2,3]]}`, "banks hold 3"},
		{`{"cylinders":0}`, "cylinders = 0"},
		{`{"cylinders":99}`, "cylinders = 99"},
		{`{"cylinders":4,"banks":[[1,2],[2,4]]}`, "cylinder 3"},
		{`{"cylinders":3,"banks":[[1],[2],[3]]}`, "3 banks"},
		{`{`, "plan:"},
	} {
		_, err := plan.ParseSpec([]byte(c.json))
		assert.ErrorContains(t, err, c.want, c.json)
	}
	s, err := plan.ParseSpec([]byte(`{"layout":"v","cylinders":6,"charger":"on","voltmeter":true,"tachometer":"off","news":[1]}`))
	require.NoError(t, err)
	assert.Equal(t, [][]int{{1, 3, 5}, {2, 4, 6}}, s.Banks)
	assert.True(t, bool(s.Charger))
	assert.True(t, bool(s.Voltmeter))
	assert.False(t, bool(s.Tachometer))
}

func FuzzParseSpec(f *testing.F) {
	f.Add(`{` + engines["V8"] + `}`)
	f.Add(`{"cylinders":1e3}`)
	f.Fuzz(func(t *testing.T, data string) {
		if len(data) > 2000 {
			return
		}
		s, err := plan.ParseSpec([]byte(data))
		if err != nil {
			assert.True(t, strings.HasPrefix(err.Error(), "plan:"))
			return
		}
		p := plan.New(s, 400, 300)
		p.Update(encode(snapshot(s.Cylinders, 1, true)), plan.Phase{})
	})
}
