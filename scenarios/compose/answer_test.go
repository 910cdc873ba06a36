package compose_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/compose"
)

// What an author begins with agrees with the keys that people wrote for the catalogue,
// wherever one thing is wrong and nothing else.
func TestAnswerOfAKindIsThatOfTheCatalogue(t *testing.T) {
	held := 0
	for _, s := range scenarios.Catalogue() {
		if len(s.Faults) != 1 || s.Method != nil {
			continue
		}
		held++
		a := compose.AnswerOf(s.Faults[0].Kind)
		assert.Equal(t, s.Key.Family, a.Family, s.ID)
		named := false
		for _, test := range a.NextTests {
			for _, key := range s.Key.NextTests {
				named = named || test == key
			}
		}
		assert.Equal(t, s.Key.MethodFault, a.MethodFault, s.ID)
		for _, family := range a.Accept {
			counts := slices.ContainsFunc(s.Key.Accept, func(f diagnose.Finding) bool { return f.Family == family })
			assert.Equal(t, s.Card.LashCheck || family == diagnose.FamilySound, counts, "%s: %s", s.ID, family)
		}
		assert.True(t, named, "%s: none of %v is among %v", s.ID, a.NextTests, s.Key.NextTests)
	}
	assert.Greater(t, held, 25)
	for _, kind := range scenarios.Kinds() {
		a := compose.AnswerOf(kind)
		assert.Contains(t, diagnose.Families(), a.Family, kind)
		assert.Subset(t, diagnose.NextTests(), a.NextTests, kind)
		assert.Equal(t, kind == scenarios.Interference, a.Family == diagnose.FamilySound, kind)
	}
}
