package desk_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/web/desk"
)

func TestEveryKindOfFaultIsListed(t *testing.T) {
	a := got(t, map[string]any{"do": "faults"})
	var kinds []string
	for _, k := range a["kinds"].([]any) {
		k := k.(map[string]any)
		kinds = append(kinds, k["kind"].(string))
		for _, n := range k["numbers"].([]any) {
			n := n.(map[string]any)
			assert.Less(t, n["lo"], n["hi"], "%v %v", k["kind"], n["name"])
		}
	}
	assert.Equal(t, scenarios.Kinds(), kinds)
	assert.Len(t, a["families"], len(diagnose.Families()))
}

// Every engine can be begun with: with nothing wrong it reads within its limits, or is
// one whose limits a sound copy of it never keeps, and its text is read back equal.
func TestBeginWithAnEngine(t *testing.T) {
	all := got(t, map[string]any{"do": "engines"})
	engines := all["engines"].([]any)
	assert.Len(t, all["scenarios"], len(scenarios.Catalogue()))
	assert.Greater(t, len(engines), 10)
	for _, e := range engines {
		id := e.(map[string]any)["id"].(string)
		text := got(t, map[string]any{"do": "begin", "engine": id})["text"].(string)
		s, err := scenarios.Decode([]byte(text))
		require.NoError(t, err, id)
		assert.Empty(t, s.Faults, id)
		assert.Equal(t, diagnose.FamilySound, s.Key.Family, id)
		look := got(t, map[string]any{"do": "look", "scenario": text, "quick": true})["look"].(map[string]any)
		assert.Len(t, look["dry"], s.Engine.Cylinders, id)
		assert.Equal(t, []any{}, look["warnings"], id)
	}
	assert.Equal(t, desk.ErrUnknown, ask(t, map[string]any{"do": "begin", "engine": "none"}).Error.Key)
}

func TestBeginWithAScenario(t *testing.T) {
	text := got(t, map[string]any{"do": "begin", "scenario": faulty})["text"].(string)
	s, err := scenarios.Decode([]byte(text))
	require.NoError(t, err)
	assert.Equal(t, scenarios.Find(faulty), s)
	plain, err := json.Marshal(s)
	require.NoError(t, err)
	assert.Equal(t, text, got(t, map[string]any{"do": "begin", "text": string(plain)})["text"], "its usual form")
	assert.Equal(t, desk.ErrUnknown, ask(t, map[string]any{"do": "begin", "scenario": "none"}).Error.Key)
	assert.Equal(t, desk.ErrScenario, ask(t, map[string]any{"do": "begin", "text": "{"}).Error.Key)
}
