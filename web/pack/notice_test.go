//go:build !js

package pack_test

import (
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shipped returns the modules whose code is in a program of the site.
func shipped(t *testing.T, program string) []string {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-json=Module,Standard", program)
	cmd.Dir = "../.."
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	seen := map[string]bool{}
	var modules []string
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p struct {
			Standard bool
			Module   *struct{ Path string }
		}
		require.NoError(t, d.Decode(&p))
		if p.Module != nil && p.Module.Path != "crankbay" && !seen[p.Module.Path] {
			seen[p.Module.Path] = true
			modules = append(modules, p.Module.Path)
		}
	}
	return modules
}

// Whoever's code or data is in the site is named in its NOTICE, and nobody else.
func TestNoticeIsComplete(t *testing.T) {
	data, err := os.ReadFile("../shell/NOTICE")
	require.NoError(t, err)
	notice := string(data)
	ours, err := os.ReadFile("../../LICENSE")
	require.NoError(t, err)
	assert.Contains(t, notice, string(ours), "our own licence")
	for _, part := range []string{"wasm_exec.js", "The Go Authors", "Sun Microsystems", "Apache License"} {
		assert.Contains(t, notice, part)
	}
	all := map[string]bool{}
	for _, program := range []string{"./cmd/webcore", "./cmd/webdesk", "./cmd/webopinion", "./cmd/webseal", "./cmd/webbench"} {
		for _, m := range shipped(t, program) {
			assert.Contains(t, notice, m, "%s contains it", program)
			all[m] = true
		}
	}
	for _, word := range strings.FieldsFunc(notice, func(r rune) bool { return strings.ContainsRune(" ,\n", r) }) {
		word = strings.TrimRight(word, ".")
		if strings.HasPrefix(word, "github.com/") || strings.HasPrefix(word, "golang.org/") {
			assert.True(t, all[word], "%s is named in NOTICE but in no program", word)
		}
	}
}

// NOTICE says that there are no fonts; a font file would need its licence there.
func TestNoFontInTheSite(t *testing.T) {
	for _, folder := range []string{"../shell", "../benchview", "../plan"} {
		err := filepath.WalkDir(folder, func(file string, d fs.DirEntry, err error) error {
			if os.IsNotExist(err) {
				return nil
			}
			switch filepath.Ext(file) {
			case ".ttf", ".otf", ".woff", ".woff2":
				t.Errorf("%s: name the font and its licence in NOTICE, then change this test", file)
			}
			return err
		})
		require.NoError(t, err)
	}
}
