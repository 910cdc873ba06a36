package session_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/web/session"
)

// A core that is handed the files of the catalogue one a line has the catalogue that
// other programs carry inside; a bad line is an error with its number and changes
// nothing.
func TestCoreIsHandedItsScenarios(t *testing.T) {
	names, err := filepath.Glob("../../scenarios/data/*-*.json")
	require.NoError(t, err)
	var bundle bytes.Buffer
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		require.NoError(t, json.Compact(&bundle, data))
		bundle.WriteByte('\n')
	}
	inside := scenarios.Catalogue()
	c := session.New()
	assert.Contains(t, c.Carry("{}\n"), "scenario 1: ")
	assert.Contains(t, c.Carry(bundle.String()[:bundle.Len()/2]), "scenario ")
	assert.Equal(t, inside, scenarios.Catalogue())
	assert.Equal(t, strconv.Itoa(len(names)), c.Carry(bundle.String()))
	assert.Equal(t, inside, scenarios.Catalogue())
	assert.Contains(t, c.Open(`{"scenario":"sound-inline-four","mode":"alone","who":"x"}`), `"id":"sound-inline-four"`)
}
