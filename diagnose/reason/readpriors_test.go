package reason_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose/reason"
)

func TestReadPriors(t *testing.T) {
	data, err := json.Marshal(reason.DefaultPriors())
	require.NoError(t, err)
	p, err := reason.ReadPriors(data)
	require.NoError(t, err)
	assert.Equal(t, reason.DefaultPriors(), p)
	for text, says := range map[string]string{
		`{"list":[{"family":"gremlins","one":1}]}`:                         `list[0].family = "gremlins"`,
		`{"list":[{"family":"sound","one":-1}]}`:                           `list[0] has -1`,
		`{"list":[{"family":"sound","one":1},{"family":"sound","one":2}]}`: `list[1].family = "sound" stands there twice`,
		`{"list":[{"family":"sound","one":1,"often":2}]}`:                  `unknown field "often"`,
		`{"list":[]} {}`: `something stands after`,
		``:               `EOF`,
	} {
		_, err := reason.ReadPriors([]byte(text))
		assert.ErrorContains(t, err, says, text)
	}
}

func FuzzReadPriors(f *testing.F) {
	f.Add([]byte(`{"list":[{"family":"sound","one":1,"several":0}]}`))
	f.Add([]byte(`{"list":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := reason.ReadPriors(data)
		if err != nil {
			return
		}
		again, err := json.Marshal(p)
		require.NoError(t, err)
		_, err = reason.ReadPriors(again)
		require.NoError(t, err)
	})
}
