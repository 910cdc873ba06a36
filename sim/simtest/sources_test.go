package simtest_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/simtest"
)

var (
	entryHead = regexp.MustCompile(`(?m)^### (\S+)$`)
	citation  = regexp.MustCompile(`Source: ([^.;]*)`)
	keyForm   = regexp.MustCompile(`\b(?:[A-Z][A-Za-z]*[a-z][A-Za-z]*(?:19|20)\d\d|NACA\d+|SAEJ\d+|ASTMD\d+)\b`)
)

// entries returns the entries of SOURCES.md by key.
func entries(t *testing.T) map[string]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(simtest.Testdata(t), "SOURCES.md"))
	require.NoError(t, err)
	text := string(data)
	heads := entryHead.FindAllStringSubmatchIndex(text, -1)
	require.NotEmpty(t, heads)
	all := map[string]string{}
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		key := text[h[2]:h[3]]
		require.NotContains(t, all, key, "two entries of one key")
		all[key] = text[h[1]:end]
	}
	return all
}

// tables returns every table of one folder by file name.
func tables(t *testing.T, folder string, load func(testing.TB, string) simtest.Table) map[string]simtest.Table {
	t.Helper()
	names, err := fs.Glob(os.DirFS(filepath.Join(simtest.Testdata(t), folder)), "*")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	all := map[string]simtest.Table{}
	for _, name := range names {
		require.Equal(t, ".csv", filepath.Ext(name), name)
		all[name] = load(t, name)
	}
	return all
}

func TestEverySourceHasAnEntryAndEveryEntryIsUsed(t *testing.T) {
	known, used := entries(t), map[string]string{}
	for name, tab := range tables(t, "published", simtest.Published) {
		used[tab.Source] = "published/" + name
		assert.NotEqual(t, simtest.MarkComputed, tab.Mark, "%s: computed numbers belong in derived", name)
		assert.Equal(t, tab.Mark == simtest.MarkRecalled, strings.Contains(name, "recalled"), "%s: a recalled table says so in its name", name)
	}
	for name, tab := range tables(t, "derived", simtest.Derived) {
		used[tab.Source] = "derived/" + name
		assert.Equal(t, simtest.MarkComputed, tab.Mark, "%s", name)
		assert.NotEmpty(t, tab.Note, "%s: the law must be stated", name)
	}
	for key, where := range cited(t) {
		used[key] = where
	}
	for key, where := range used {
		assert.Contains(t, known, key, "%s cites a source without an entry", where)
	}
	for key := range known {
		assert.Contains(t, used, key, "an entry that nothing cites")
	}
}

// cited returns the keys named after "Source:" in the comments of the model and
// the grader.
func cited(t *testing.T) map[string]string {
	t.Helper()
	root := filepath.Dir(simtest.Testdata(t))
	keys := map[string]string{}
	for _, room := range []string{"sim", "diagnose", "scenarios"} {
		err := filepath.WalkDir(filepath.Join(root, room), func(file string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(file) != ".go" || strings.HasSuffix(file, "_test.go") {
				return err
			}
			data, err := os.ReadFile(file)
			for _, m := range citation.FindAllSubmatch(data, -1) {
				for _, key := range keyForm.FindAllString(string(m[1]), -1) {
					keys[key] = filepath.Base(file)
				}
			}
			return err
		})
		require.NoError(t, err)
	}
	return keys
}

// Each entry says the same things in the same order.
func TestEntriesAreComplete(t *testing.T) {
	for key, text := range entries(t) {
		last := -1
		for _, field := range []string{"What:", "Where:", "Licence:", "Seen:", "Digits:", "No evidence for:"} {
			at := strings.Index(text, "\n- "+field+" ")
			assert.Greater(t, at, last, fmt.Sprintf("%s: %s is missing or out of order", key, field))
			last = at
		}
	}
}
