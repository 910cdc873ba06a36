package reason_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/reason"
)

// Families are named once, belong to a group a conclusion can name, and are twenty at
// least.
func TestFamilies(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range reason.Families() {
		assert.False(t, seen[f.Name], f.Name)
		seen[f.Name] = true
		assert.Contains(t, diagnose.Families(), f.Group, f.Name)
		assert.Contains(t, []string{reason.ScopeCylinder, reason.ScopePair, reason.ScopeBank, reason.ScopeEngine}, f.Scope)
		assert.Positive(t, f.Prior, f.Name)
	}
	require.GreaterOrEqual(t, len(seen), 20)
}
