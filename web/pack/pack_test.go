//go:build !js

package pack_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/pack"
)

// tinySources lays out a module with the shape of ours and next to nothing in it.
func tinySources(t *testing.T) pack.Options {
	t.Helper()
	root := t.TempDir()
	for name, text := range map[string]string{
		"go.mod":                 "module tiny\n\ngo 1.26\n",
		"cmd/webcore/main.go":    "package main\n\nfunc main() { println(\"core\") }\n",
		"cmd/webdesk/main.go":    "package main\n\nfunc main() { println(\"desk\") }\n",
		"cmd/webopinion/main.go": "package main\n\nfunc main() { println(\"opinion\") }\n",
		"cmd/crankbay/internal/library/library.bin": "examples",
		"cmd/webseal/main.go":                       "package main\n\nfunc main() { println(\"seal\") }\n",
		"cmd/webbench/main.go":                      "package main\n\nfunc main() { println(\"scene\") }\n",
		"cmd/crankbay/modelpage/main.go": `package main

import "os"

func main() {
	if err := os.Mkdir(os.Args[2]+"/model", 0o755); err != nil {
		panic(err)
	}
	os.WriteFile(os.Args[2]+"/model.en.html", []byte("model"), 0o644)
	os.WriteFile(os.Args[2]+"/model/plot.svg", []byte("<svg/>"), 0o644)
}
`,
		"web/shell/index.html":        "<!doctype html>",
		"web/shell/NOTICE":            "notices",
		"web/shell/app/bay.js":        "export {}",
		"web/shell/app/bay.test.js":   "a test",
		"web/shell/embed.go":          "package shell",
		"web/shell/README.md":         "for developers",
		"web/shell/.hidden":           "hidden",
		"web/strings/en.json":         "{}",
		"scenarios/data/b-four.json":  `{ "id": "b-four", "engine": { "id": "four" } }`,
		"scenarios/data/a-six.json":   `{ "id": "a-six", "engine": { "id": "six" } }`,
		"scenarios/data/c-four.json":  "{\n  \"id\": \"c-four\",\n  \"engine\": {\"id\": \"four\"}\n}",
		"scenarios/data/schema.json":  "{}",
		"web/strings/strings.go":      "package strings",
		"web/strings/testdata/a.json": "{}",
	} {
		file := filepath.Join(root, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	}
	goRoot, err := exec.Command("go", "env", "GOROOT").Output()
	require.NoError(t, err)
	return pack.Options{Root: root, Out: filepath.Join(root, "web", "dist"), GoRoot: strings.TrimSpace(string(goRoot))}
}

func names(files []pack.File) (list []string) {
	for _, f := range files {
		list = append(list, f.Name)
	}
	return list
}

func TestBuildHoldsThePageAndNothingElse(t *testing.T) {
	o := tinySources(t)
	stale := filepath.Join(o.Out, "app", "old.js")
	require.NoError(t, os.MkdirAll(filepath.Dir(stale), 0o755))
	require.NoError(t, os.WriteFile(stale, nil, 0o644))

	files, err := pack.Build(o)
	require.NoError(t, err)
	assert.Equal(t, []string{"NOTICE", "app/bay.js", "catalogue.txt", "catalogue.txt.gz", "core.wasm", "core.wasm.gz", "desk.wasm", "desk.wasm.gz", "index.html",
		"library.bin", "model.en.html", "model/plot.svg", "opinion.wasm", "opinion.wasm.gz", "scene.wasm", "scene.wasm.gz",
		"seal.wasm", "seal.wasm.gz", "strings/en.json", "wasm_exec.js"}, names(files))
	for _, f := range files {
		st, err := os.Stat(filepath.Join(o.Out, f.Name))
		require.NoError(t, err)
		assert.Equal(t, st.Size(), f.Size, f.Name)
	}
	assert.NoFileExists(t, stale, "a file left from an earlier build")
}

// One scenario a line, those of one engine together.
func TestCatalogueIsOneScenarioALine(t *testing.T) {
	o := tinySources(t)
	_, err := pack.Build(o)
	require.NoError(t, err)
	text, err := os.ReadFile(filepath.Join(o.Out, "catalogue.txt"))
	require.NoError(t, err)
	assert.Equal(t, `{"id":"b-four","engine":{"id":"four"}}`+"\n"+`{"id":"c-four","engine":{"id":"four"}}`+"\n"+`{"id":"a-six","engine":{"id":"six"}}`+"\n", string(text))
	require.NoError(t, os.WriteFile(filepath.Join(o.Root, "scenarios/data/d-bad.json"), []byte("{"), 0o644))
	_, err = pack.Build(o)
	assert.ErrorContains(t, err, "d-bad.json")
}

func TestBuildIsReproducible(t *testing.T) {
	first, second := tinySources(t), tinySources(t) // two folders: no path may get in
	files, err := pack.Build(first)
	require.NoError(t, err)
	_, err = pack.Build(second)
	require.NoError(t, err)
	for _, f := range files {
		a, err := os.ReadFile(filepath.Join(first.Out, f.Name))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(second.Out, f.Name))
		require.NoError(t, err)
		assert.Truef(t, bytes.Equal(a, b), "%s differs between two builds", f.Name)
	}
}

func TestBuildLeavesUnchangedFilesAlone(t *testing.T) {
	o := tinySources(t)
	_, err := pack.Build(o)
	require.NoError(t, err)
	page, program := filepath.Join(o.Out, "index.html"), filepath.Join(o.Out, "core.wasm")
	before, err := os.Stat(program)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(o.Root, "web/shell/index.html"), []byte("new"), 0o644))
	_, err = pack.Build(o)
	require.NoError(t, err)
	after, err := os.Stat(program)
	require.NoError(t, err)
	assert.Equal(t, before.ModTime(), after.ModTime())
	text, err := os.ReadFile(page)
	require.NoError(t, err)
	assert.Equal(t, "new", string(text))
}

func TestBuildNamesWhatIsWrong(t *testing.T) {
	o := tinySources(t)
	require.NoError(t, os.WriteFile(filepath.Join(o.Root, "cmd/webcore/main.go"), []byte("package main\n\nfunc main() { oops }\n"), 0o644))
	_, err := pack.Build(o)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "building ./cmd/webcore")
	assert.Contains(t, err.Error(), "oops")

	require.NoError(t, os.WriteFile(filepath.Join(o.Root, "cmd/crankbay/modelpage/main.go"), []byte("package main\n\nfunc main() { panic(\"no numbers\") }\n"), 0o644))
	_, err = pack.Build(o)
	assert.ErrorContains(t, err, "the page about the model")
	assert.ErrorContains(t, err, "no numbers")

	o.GoRoot = t.TempDir()
	_, err = pack.Build(o)
	assert.ErrorContains(t, err, "the Go toolchain has no wasm_exec.js")
}

// The tests below look at the real site.

const dist = "../dist"

// built returns a file of the built site; where nobody has built one there is
// nothing to test.
func built(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dist, name))
	if os.IsNotExist(err) {
		why := "web/dist has no " + name + ": run 'make site' first"
		if os.Getenv("CI") != "" {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	require.NoError(t, err)
	return data
}

func TestSizesOfTheSite(t *testing.T) {
	for name, limit := range map[string]int{"core.wasm.gz": pack.CoreLimit, "desk.wasm.gz": pack.DeskLimit, "scene.wasm.gz": pack.SceneLimit, "seal.wasm.gz": pack.SealLimit,
		"opinion.wasm.gz": pack.OpinionLimit, "library.bin": pack.LibraryLimit} {
		t.Run(name, func(t *testing.T) {
			size := len(built(t, name))
			t.Logf("%s: %d bytes of %d", name, size, limit)
			assert.LessOrEqual(t, size, limit)
		})
	}
}

func TestCompressedProgramsOfTheSite(t *testing.T) {
	for _, name := range []string{"core.wasm", "desk.wasm", "opinion.wasm", "scene.wasm", "seal.wasm"} {
		t.Run(name, func(t *testing.T) {
			raw, packed := built(t, name), built(t, name+".gz")
			r, err := gzip.NewReader(bytes.NewReader(packed))
			require.NoError(t, err)
			assert.True(t, r.ModTime.IsZero(), "a time would make every build differ")
			assert.Empty(t, r.Name)
			again, err := io.ReadAll(r)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(raw, again), "unpacked, it is the program itself")
			assert.Equal(t, "\x00asm", string(raw[:4]))
		})
	}
}

// A path of the machine that built the site tells strangers about that machine,
// and makes two builds differ.
func TestNoPathOfThisMachineInTheSite(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	built(t, "core.wasm")
	home, err := os.UserHomeDir()
	require.NoError(t, err)
	err = filepath.WalkDir(dist, func(file string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(file)
		assert.Falsef(t, bytes.Contains(data, []byte(root+"/")), "%s names %s", file, root)
		assert.Falsef(t, bytes.Contains(data, []byte(home+"/")), "%s names %s", file, home)
		return err
	})
	require.NoError(t, err)
}
