//go:build !js

// Package site serves the built folder the way a plain static host does.
package site

import (
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
)

// needed are the files without which the page cannot work.
var needed = []string{"index.html", "core.wasm", "wasm_exec.js"}

// Check reports the first file that a usable site would have and this folder
// lacks.
func Check(dir fs.FS) error {
	for _, name := range needed {
		if st, err := fs.Stat(dir, name); err != nil || st.IsDir() {
			return fmt.Errorf("no %s in it", name)
		}
	}
	return nil
}

// types by suffix, so that the answer depends on no table of the machine.
// A .gz file is the compressed file itself, for the page to unpack: it is sent
// as plain bytes and never with a content encoding.
var types = map[string]string{
	".html":        "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".mjs":         "text/javascript; charset=utf-8",
	".json":        "application/json",
	".wasm":        "application/wasm",
	".gz":          "application/octet-stream",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".ico":         "image/x-icon",
	".woff2":       "font/woff2",
	".txt":         "text/plain; charset=utf-8",
	".md":          "text/plain; charset=utf-8",
	".webmanifest": "application/manifest+json",
	"":             "text/plain; charset=utf-8",
}

// Handler serves the folder: no listing of folders, no names that begin with a
// dot, types by suffix, and nothing kept by the browser without asking again.
func Handler(dir fs.FS) http.Handler {
	files := http.FileServerFS(visible{dir})
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
			return
		}
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-cache")
		if !strings.HasSuffix(r.URL.Path, "/") {
			if t, ok := types[strings.ToLower(path.Ext(r.URL.Path))]; ok {
				h.Set("Content-Type", t)
			}
		}
		files.ServeHTTP(w, r)
	})
}

// visible hides names with a leading dot and folders without an index.html.
type visible struct{ fs.FS }

// Open returns fs.ErrNotExist for whatever should not be seen.
func (v visible) Open(name string) (fs.File, error) {
	for part := range strings.SplitSeq(name, "/") {
		if part != "." && strings.HasPrefix(part, ".") {
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
	}
	f, err := v.FS.Open(name)
	if err != nil {
		return nil, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, err
	}
	if st.IsDir() {
		if _, err := fs.Stat(v.FS, path.Join(name, "index.html")); err != nil {
			f.Close()
			return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
		}
	}
	return f, nil
}
