//go:build !js

package cli

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
