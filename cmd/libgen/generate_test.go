package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/libgen/internal/population"
	"crankbay/diagnose/library"
)

// A library is the same bytes whether one machine simulates its engines or several do,
// in whatever order their shards come; and a shard that is missing is missed.
func TestShardsMakeTheSameLibrary(t *testing.T) {
	dir := t.TempDir()
	make := func(name string, shard, shards int) string {
		file := filepath.Join(dir, name)
		p := plan{seed: 7, cylinders: 1, wholes: 0, shard: shard, shards: shards, workers: 2, out: file}
		require.NoError(t, p.run())
		return file
	}
	whole, err := merged([]string{make("whole", 0, 1)})
	require.NoError(t, err)
	a, b := make("a", 0, 2), make("b", 1, 2)
	for _, order := range [][]string{{a, b}, {b, a}} {
		parts, err := merged(order)
		require.NoError(t, err)
		assert.Equal(t, whole, parts)
	}
	_, err = merged([]string{a})
	assert.ErrorContains(t, err, "a shard is missing")
	_, err = merged([]string{a, a})
	assert.ErrorContains(t, err, "twice")
	l, err := library.Open(whole)
	require.NoError(t, err)
	assert.EqualValues(t, 7, l.Seed)
	for _, f := range l.Families {
		assert.Positive(t, f.Count, f.Name)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "no"), []byte("no shard"), 0o600))
	_, err = merged([]string{filepath.Join(dir, "no")})
	assert.Error(t, err)
}

// The engines the inference is judged on are no engines of the library: not one has the
// same tolerances, day and gauge.
func TestJudgedOnOthers(t *testing.T) {
	bases := population.Bases()
	seen := map[uint64]bool{}
	for _, j := range (plan{seed: DefaultSeed, cylinders: 4, wholes: 4, shards: 1}).jobs() {
		seen[population.Draw(DefaultSeed, j, bases).Scenario.Seed] = true
	}
	require.Greater(t, len(seen), 100)
	for _, j := range (plan{seed: judgedSeed, cylinders: 4, wholes: 4, shards: 1}).jobs() {
		assert.False(t, seen[population.Draw(judgedSeed, j, bases).Scenario.Seed])
	}
}
