//go:build !js

package pack

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Limits of the compressed programs [bytes]. A student's phone on a shop's
// network loads them; they state intent, so shrink the program rather than raise
// them.
const (
	CoreLimit  = 1_350_000
	DeskLimit  = 1_900_000 // fetched when a place asks for it; it grades by what the evidence allowed, which weighs it like an opinion
	SceneLimit = 3_000_000

	OpinionLimit = 1_250_000 // fetched when an opinion is asked for, with the library
	LibraryLimit = 500_000
	SealLimit    = 1_150_000 // fetched when there is something to seal or to open
)

// singleName is the site in one file.
const singleName = "crankbay.html"

// libraryName is the likelihood library in the site.
const libraryName = "library.bin"

// Options say where the parts of a site come from and where it goes. All paths
// are required.
type Options struct {
	Root   string // root of the module
	Out    string // folder of the site; everything else in it is removed
	GoRoot string // root of the Go toolchain, for its wasm_exec.js
	Single bool   // also write crankbay.html, the site in one file
}

// A File is one file of the built site.
type File struct {
	Name string // slashes, relative to the site
	Size int64  // [bytes]
}

// Build writes the site and returns its files by name. Files that have not
// changed are left untouched, so a build after a small change disturbs little.
func Build(o Options) ([]File, error) {
	site := contents{}
	if err := site.addTree(os.DirFS(filepath.Join(o.Root, "web", "shell")), "", isShell); err != nil {
		return nil, fmt.Errorf("pack: web/shell: %w", err)
	}
	if err := site.addTree(os.DirFS(filepath.Join(o.Root, "web", "strings")), "strings", isStrings); err != nil {
		return nil, fmt.Errorf("pack: web/strings: %w", err)
	}
	glue, err := os.ReadFile(filepath.Join(o.GoRoot, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, fmt.Errorf("pack: the Go toolchain has no wasm_exec.js: %w", err)
	}
	site["wasm_exec.js"] = glue
	library, err := os.ReadFile(filepath.Join(o.Root, "cmd", "crankbay", "internal", "library", libraryName))
	if err != nil {
		return nil, fmt.Errorf("pack: %w", err)
	}
	site[libraryName] = compress(library) // the page unpacks it whatever its name says
	page, err := modelPage(o.Root)
	if err != nil {
		return nil, err
	}
	maps.Copy(site, page)
	for _, p := range programs {
		wasm, err := compile(o.Root, p.from, p.tags)
		if err != nil {
			return nil, err
		}
		site[p.name] = wasm
		site[p.name+".gz"] = compress(wasm)
	}
	scenarios, err := catalogue(o.Root)
	if err != nil {
		return nil, err
	}
	site[catalogueName], site[catalogueName+".gz"] = scenarios, compress(scenarios)
	if err := site.versioned(); err != nil {
		return nil, err
	}
	if o.Single {
		wasm, err := compile(o.Root, wholeProgram, "")
		if err != nil {
			return nil, err
		}
		if site[singleName], err = site.single(compress(wasm)); err != nil {
			return nil, err
		}
	}
	return site.write(o.Out)
}

// contents is a site in memory: name, with slashes, to bytes.
type contents map[string][]byte

// addTree adds every file of a folder that keep wants, under the given prefix.
func (c contents) addTree(from fs.FS, prefix string, keep func(name string) bool) error {
	return fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !keep(name) {
			return err
		}
		data, err := fs.ReadFile(from, name)
		c[path.Join(prefix, name)] = data
		return err
	})
}

// isShell leaves out what belongs to developers: Go and test files, notes, and
// names that begin with a dot.
func isShell(name string) bool {
	base := path.Base(name)
	return !strings.HasPrefix(base, ".") && !strings.HasSuffix(base, ".go") &&
		!strings.HasSuffix(base, ".md") && !strings.Contains(base, ".test.") && !strings.Contains(base, "_test.")
}

func isStrings(name string) bool { return path.Dir(name) == "." && path.Ext(name) == ".json" }

// compress returns data as one gzip member of level 9 without name or time, so
// that equal data give equal bytes.
func compress(data []byte) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		panic("pack: " + err.Error()) // the level is a constant
	}
	w.Write(data) // writing to memory cannot fail
	w.Close()
	return b.Bytes()
}

// write makes the folder hold exactly the contents.
func (c contents) write(out string) ([]File, error) {
	if err := c.removeOthers(out); err != nil {
		return nil, err
	}
	var files []File
	for name, data := range c {
		file := filepath.Join(out, filepath.FromSlash(name))
		files = append(files, File{name, int64(len(data))})
		if old, err := os.ReadFile(file); err == nil && bytes.Equal(old, data) {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return nil, err
		}
		if err := os.WriteFile(file, data, 0o644); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return files, nil
}

// removeOthers deletes the files below out that are not among the contents.
func (c contents) removeOthers(out string) error {
	err := filepath.WalkDir(out, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(out, file)
		if err != nil {
			return err
		}
		if _, kept := c[filepath.ToSlash(name)]; kept {
			return nil
		}
		return os.Remove(file)
	})
	if os.IsNotExist(err) {
		return nil
	}
	return err
}
