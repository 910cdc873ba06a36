package simtest_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/simtest"
)

// A recorder stands in for the test that calls a helper, so that its failures
// can be looked at.
type recorder struct {
	testing.TB
	failures []string
}

func (r *recorder) Helper() {}

func (r *recorder) Errorf(format string, args ...any) {
	r.failures = append(r.failures, format)
}

func (r *recorder) FailNow() { panic(r) }

// run calls f with a recorder and returns what failed.
func run(t *testing.T, f func(testing.TB)) []string {
	t.Helper()
	r := &recorder{TB: t}
	func() {
		defer func() {
			if p := recover(); p != nil && p != any(r) {
				panic(p)
			}
		}()
		f(r)
	}()
	return r.failures
}

// module makes a folder that looks like the root of a module and goes there.
func module(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "go.mod"), []byte("module x\n"), 0o644))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "a", "b"), 0o755))
	t.Chdir(filepath.Join(dir, "a", "b"))
	return dir
}

func TestGoldenNeverAppearsByItself(t *testing.T) {
	dir := module(t)
	file := filepath.Join(dir, "testdata", "golden", "x.txt")
	t.Setenv("GOLDEN", "")
	assert.NotEmpty(t, run(t, func(tb testing.TB) { simtest.Golden(tb, "x.txt", "one\ntwo\n") }))
	assert.NoFileExists(t, file)

	t.Setenv("GOLDEN", "rewrite")
	assert.Empty(t, run(t, func(tb testing.TB) { simtest.Golden(tb, "x.txt", "one\ntwo\n") }))
	assert.FileExists(t, file)

	t.Setenv("GOLDEN", "")
	assert.Empty(t, run(t, func(tb testing.TB) { simtest.Golden(tb, "x.txt", "one\ntwo\n") }))
	assert.Len(t, run(t, func(tb testing.TB) { simtest.Golden(tb, "x.txt", "one\nTWO\n") }), 1)
	assert.NotEmpty(t, run(t, func(tb testing.TB) { simtest.Golden(tb, "x.txt", "one\n") }), "a shorter text")
}

func TestMissingAndBrokenTables(t *testing.T) {
	dir := module(t)
	assert.NotEmpty(t, run(t, func(tb testing.TB) { simtest.Published(tb, "none.csv") }))
	folder := filepath.Join(dir, "testdata", "derived")
	require.NoError(t, os.MkdirAll(folder, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "bad.csv"), []byte("# source: A\n# digits: 0\nx\n\n"), 0o644))
	assert.Len(t, run(t, func(tb testing.TB) { simtest.Derived(tb, "bad.csv") }), 1)
}
