//go:build !js

package cli

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios"
)

// Each kind of fault says what it changes, and nothing else does.
func TestEveryFaultSaysWhatItChanges(t *testing.T) {
	for _, kind := range scenarios.Kinds() {
		assert.NotEmpty(t, changes[kind], kind)
	}
	assert.Len(t, changes, len(scenarios.Kinds()))
}
