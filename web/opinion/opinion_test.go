package opinion_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/answer"
	"crankbay/web/opinion"
)

type reply struct {
	OK *struct {
		Opinion *struct {
			Tells  bool
			Groups []struct{ Group string }
		}
		Trouble *struct {
			Key, Name, Text string
			Line, Column    int
			Low, High       float64
		}
	}
	Error *struct {
		Key    string
		Params map[string]any
	}
}

func ask(t *testing.T, request string) reply {
	t.Helper()
	out := opinion.Work([]byte(request), nil)
	var r reply
	require.NoError(t, json.Unmarshal(out, &r), "%.300s", out)
	require.True(t, (r.OK == nil) != (r.Error == nil), "%.300s", out)
	return r
}

func useLibrary(t testing.TB) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "cmd", "crankbay", "internal", "library", "library.bin"))
	require.NoError(t, err)
	require.NoError(t, opinion.UseLibrary(data))
}

// Before the library has come, and with one that is none, it is said.
func TestWithoutLibrary(t *testing.T) {
	r := ask(t, `{"do":"opinion","text":"150 151 65 149"}`)
	require.NotNil(t, r.Error)
	assert.Equal(t, opinion.ErrLibrary, r.Error.Key)
	assert.Error(t, opinion.UseLibrary([]byte("nothing")))
}

func TestAnswers(t *testing.T) {
	useLibrary(t)
	r := ask(t, `{"do":"opinion","text":"150 151 65 149","said":[{"name":"unit","value":"psi","as":"Unit"}]}`)
	require.NotNil(t, r.OK)
	require.NotNil(t, r.OK.Opinion)
	assert.Equal(t, "valve_leak", r.OK.Opinion.Groups[0].Group)

	r = ask(t, `{"do":"opinion","text":"150 151\n65 x"}`)
	require.NotNil(t, r.OK.Trouble, "what can't be read is no error of the request")
	assert.Equal(t, "word", r.OK.Trouble.Key)
	assert.Equal(t, []int{2, 4}, []int{r.OK.Trouble.Line, r.OK.Trouble.Column})

	r = ask(t, `{"do":"opinion","text":"150 151","said":[{"name":"ratio","value":"95","as":"Compression ratio"}]}`)
	require.NotNil(t, r.OK.Trouble)
	assert.Equal(t, "Compression ratio", r.OK.Trouble.Name)
	assert.Equal(t, []float64{4, 18}, []float64{r.OK.Trouble.Low, r.OK.Trouble.High})
}

func FuzzWork(f *testing.F) {
	useLibrary(f)
	f.Add(`{"do":"opinion","text":"150 151 65 149"}`)
	f.Add(`{"do":"opinion","text":"1;150","said":[{"name":"layout","value":"v"}]}`)
	f.Add(`{"do":"opinion","text":5}`)
	f.Add(`{"do":"opinion","priors":{}}`)
	f.Add(`{}`)
	f.Fuzz(func(t *testing.T, request string) {
		r := ask(t, request)
		if r.Error != nil {
			assert.NotEqual(t, answer.ErrPanic, r.Error.Key, "%v", r.Error.Params)
		}
	})
}
