package library_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	native "crankbay/cmd/crankbay/internal/library"
	"crankbay/diagnose/reason"
	"crankbay/scenarios/attempt"
	"crankbay/sim"
)

// The library that is built in belongs to this grader and to this model, and has
// examples of every family that is reasoned about.
func TestBuiltIn(t *testing.T) {
	l := native.Open()
	assert.Equal(t, attempt.GraderLibrary, l.Digest, "another library is another version of the grader: set attempt.GraderLibrary and raise GraderVersion")
	assert.Equal(t, sim.ModelVersion, l.Model, "make library")
	for _, f := range reason.Families() {
		if f.Name == reason.ByDesign { // a matter of what a page says
			continue
		}
		if rows := l.Family(f.Name); assert.NotNil(t, rows, f.Name) {
			assert.GreaterOrEqual(t, rows.Count, 50, f.Name)
		}
	}
}

// What the model page says of the inference is of the library that is built in: who makes
// another one evaluates it and writes the figures anew.
func TestFiguresAreOfThisLibrary(t *testing.T) {
	file, err := os.ReadFile("../../../../testdata/evaluation.jsonl")
	require.NoError(t, err)
	assert.Contains(t, string(file), `{"digest":"`+native.Open().Digest+`"`, "make worth")
}
