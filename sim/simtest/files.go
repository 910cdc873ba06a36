package simtest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Published returns a table of testdata/published: printed by others.
func Published(t testing.TB, name string) Table {
	t.Helper()
	return load(t, "published", name)
}

// Derived returns a table of testdata/derived: worked out from a law that its
// notes state, without our code.
func Derived(t testing.TB, name string) Table {
	t.Helper()
	return load(t, "derived", name)
}

func load(t testing.TB, folder, name string) Table {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(Testdata(t), folder, name))
	require.NoError(t, err)
	table, err := Parse(data)
	require.NoErrorf(t, err, "testdata/%s/%s", folder, name)
	return table
}

// Testdata returns the path of the testdata folder at the root of the module.
func Testdata(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, "testdata")
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the working directory")
		dir = up
	}
}

// Golden compares text with testdata/golden/name. Such a file never appears by
// itself: 'make golden' writes it, and a reader of the diff decides.
func Golden(t testing.TB, name, got string) {
	t.Helper()
	file := filepath.Join(Testdata(t), "golden", name)
	if os.Getenv("GOLDEN") == "rewrite" {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "a golden file is written by 'make golden' alone")
	if got == string(want) {
		return
	}
	w, g := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := range max(len(w), len(g)) {
		if a, b := line(w, i), line(g, i); a != b {
			t.Errorf("testdata/golden/%s:%d:\nrecorded %s\n     got %s", name, i+1, a, b)
		}
	}
}

func line(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "(nothing)"
}
