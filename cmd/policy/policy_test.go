//go:build !js

package policy

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests of this file hold every rule against the tree. That each rule can
// bite is shown in bites_test.go.

// targets are the platforms the tree is built for.
var targets = []string{"linux/amd64", "js/wasm"}

func root(t *testing.T) string {
	t.Helper()
	dir, err := findRoot()
	require.NoError(t, err)
	return dir
}

func report(t *testing.T, bad []string) {
	t.Helper()
	slices.Sort(bad)
	for _, b := range slices.Compact(bad) {
		t.Error(b)
	}
}

// each runs a check over every package on every target; platform files hide
// imports from a single one.
func each(t *testing.T, check func(listed) []string) {
	t.Helper()
	var bad []string
	for _, target := range targets {
		packages, err := list(root(t), target, "-e", "./...")
		require.NoError(t, err)
		for _, p := range packages {
			bad = append(bad, check(p)...)
		}
	}
	report(t, bad)
}

func TestImports(t *testing.T) { each(t, checkImports) }

func TestCoreImports(t *testing.T) {
	each(t, func(p listed) []string {
		if !slices.Contains(core, p.name()) {
			return nil
		}
		return checkCore(p)
	})
}

// Everything below the rooms of the core is in the list of core packages, so that
// a new package cannot slip past the rules.
func TestCoreIsComplete(t *testing.T) {
	each(t, func(p listed) []string {
		room, _, _ := strings.Cut(p.name(), "/")
		if !slices.Contains([]string{"sim", "diagnose", "scenarios"}, room) || slices.Contains(outside, p.name()) || slices.Contains(core, p.name()) {
			return nil
		}
		return []string{p.name() + " is not in the list of core packages"}
	})
}

// The core program of the page draws nothing and talks to no network.
func TestReachOfCoreProgram(t *testing.T) {
	deps, err := list(root(t), "js/wasm", "-e", "-deps", "./cmd/webcore")
	require.NoError(t, err)
	report(t, checkReach("cmd/webcore", deps, "github.com/hajimehoshi", "gonum.org", "net/http", "crypto/tls", "os/exec"))
}

// existing returns the core packages that the tree has.
func existing(t *testing.T) (packages []listed) {
	t.Helper()
	all, err := list(root(t), "linux/amd64", "-e", "./sim/...", "./diagnose/...", "./scenarios/...")
	require.NoError(t, err)
	for _, p := range all {
		if slices.Contains(core, p.name()) {
			packages = append(packages, p)
		}
	}
	require.NotEmpty(t, packages)
	return packages
}

func TestCoreSyntax(t *testing.T) {
	var bad, paths []string
	for _, p := range existing(t) {
		paths = append(paths, p.ImportPath)
	}
	deps, err := list(root(t), "linux/amd64", append([]string{"-export", "-deps"}, paths...)...)
	require.NoError(t, err)
	c := newChecker(deps)
	for _, p := range existing(t) {
		found, err := c.checkPackage(p)
		require.NoError(t, err)
		bad = append(bad, found...)
	}
	report(t, bad)
}

func TestNoFusedArithmetic(t *testing.T) {
	var paths []string
	for _, p := range existing(t) {
		paths = append(paths, p.ImportPath)
	}
	bad, err := fused(root(t), paths...)
	require.NoError(t, err)
	report(t, bad)
}

// files runs a check over every kept file with one of the given suffixes, or
// over all.
func files(t *testing.T, check func(name string, data []byte) ([]string, error), suffixes ...string) {
	t.Helper()
	dir := root(t)
	names, err := tracked(dir)
	require.NoError(t, err)
	require.NotEmpty(t, names)
	var bad []string
	for _, name := range names {
		if len(suffixes) > 0 && !slices.Contains(suffixes, filepath.Ext(name)) {
			continue
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		found, err := check(name, data)
		require.NoError(t, err)
		bad = append(bad, found...)
	}
	report(t, bad)
}

func TestFunctionLength(t *testing.T) { files(t, checkLength, ".go") }

func TestComments(t *testing.T) { files(t, checkDocs, ".go") }

func TestWords(t *testing.T) {
	files(t, func(name string, data []byte) ([]string, error) { return checkWords(name, data), nil })
}

func TestLinks(t *testing.T) {
	kept, err := tracked(root(t))
	require.NoError(t, err)
	files(t, func(name string, data []byte) ([]string, error) { return checkLinks(name, data, kept), nil }, ".md")
}

func TestTopLevel(t *testing.T) {
	names, err := tracked(root(t))
	require.NoError(t, err)
	report(t, checkTopLevel(names))
}

// A table that names packages nobody wrote would slowly become fiction.
func TestTablesNameRealPackages(t *testing.T) {
	real := map[string]bool{}
	for _, target := range targets {
		packages, err := list(root(t), target, "-e", "./...")
		require.NoError(t, err)
		for _, p := range packages {
			real[p.name()] = true
		}
	}
	for name := range may {
		assert.True(t, real[name], fmt.Sprintf("the import table names %s, which does not exist", name))
	}
	for name := range testsMay {
		assert.Contains(t, may, name, "the table for tests names a package that the import table does not")
	}
	for _, name := range core {
		assert.Contains(t, may, name, "the list of core packages names one that the import table does not")
	}
}
