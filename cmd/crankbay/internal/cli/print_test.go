//go:build !js

package cli

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/book"
	"crankbay/scenarios/collect"
)

// What students chose, names of files too, moves nothing on the instructor's terminal.
func TestNothingOfAHandInSteersTheTerminal(t *testing.T) {
	k, err := collect.New(nil, nil, nil)
	require.NoError(t, err)
	const bad = "a\x1b[2J\nb\u009b31m"
	row := collect.Row{Source: bad, Status: collect.StatusUnreadable, Who: bad, Text: bad}
	var out strings.Builder
	require.NoError(t, (&verifying{collector: k}).writeTable(&out, []handed{{File: bad, Row: row}}))
	assert.NotContains(t, out.String(), "\x1b")
	assert.NotContains(t, out.String(), "\u009b")
	assert.NotContains(t, out.String(), "\nb")
	assert.Contains(t, out.String(), "a?[2J b?31m")
}

// A needle that is back where it was has no first stroke to be a share of.
func TestNoShareOfNothing(t *testing.T) {
	r := tested{Result: book.Result{Scenario: "x", Kind: "dry", Throttle: "open", Plugs: "out", Readings: []book.Reading{
		{Cylinder: 1, FirstPSI: 68.7, FinalPSI: 4e-5, Strokes: 6}, {Cylinder: 2, FirstPSI: 60, FinalPSI: 120, Strokes: 6},
	}}}
	var b strings.Builder
	require.NoError(t, r.text(&b))
	assert.NotContains(t, b.String(), "000 %")
	assert.Contains(t, b.String(), "50 %")
	assert.Regexp(t, `0\.0\s+-\s+6`, b.String())
}
