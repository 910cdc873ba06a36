//go:build !js

package site_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/site"
)

func folder() fstest.MapFS {
	return fstest.MapFS{
		"index.html":      {Data: []byte("<!doctype html>yard")},
		"core.wasm":       {Data: []byte("\x00asm\x01\x00\x00\x00")},
		"core.wasm.gz":    {Data: []byte("\x1f\x8bpacked")},
		"wasm_exec.js":    {Data: []byte("globalThis")},
		"app/main.js":     {Data: []byte("export {}")},
		"strings/en.json": {Data: []byte("{}")},
		"NOTICE":          {Data: []byte("notices")},
		".secret":         {Data: []byte("no")},
		"deep/.git/conf":  {Data: []byte("no")},
	}
}

func get(t *testing.T, s *httptest.Server, method, path string) (*http.Response, string) {
	t.Helper()
	req, err := http.NewRequest(method, s.URL+path, nil)
	require.NoError(t, err)
	// The plain transport would unpack what a server marks as gzip; asking for
	// nothing keeps the bytes as they come.
	req.Header.Set("Accept-Encoding", "identity")
	resp, err := s.Client().Do(req)
	require.NoError(t, err)
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	require.NoError(t, err)
	return resp, string(body)
}

func TestServesTypesAndBytes(t *testing.T) {
	s := httptest.NewServer(site.Handler(folder()))
	defer s.Close()
	for path, want := range map[string]string{
		"/":                "text/html; charset=utf-8",
		"/core.wasm":       "application/wasm",
		"/core.wasm.gz":    "application/octet-stream",
		"/app/main.js":     "text/javascript; charset=utf-8",
		"/strings/en.json": "application/json",
		"/NOTICE":          "text/plain; charset=utf-8",
	} {
		resp, body := get(t, s, http.MethodGet, path)
		assert.Equal(t, http.StatusOK, resp.StatusCode, path)
		assert.Equal(t, want, resp.Header.Get("Content-Type"), path)
		assert.Empty(t, resp.Header.Get("Content-Encoding"), path)
		assert.NotEmpty(t, body, path)
	}
	_, packed := get(t, s, http.MethodGet, "/core.wasm.gz")
	assert.Equal(t, "\x1f\x8bpacked", packed)
}

func TestHidesWhatIsNotTheSite(t *testing.T) {
	s := httptest.NewServer(site.Handler(folder()))
	defer s.Close()
	for _, path := range []string{"/.secret", "/deep/.git/conf", "/app/", "/missing.js", "/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd"} {
		resp, _ := get(t, s, http.MethodGet, path)
		assert.Equal(t, http.StatusNotFound, resp.StatusCode, path)
	}
	resp, _ := get(t, s, http.MethodPost, "/")
	assert.Equal(t, http.StatusMethodNotAllowed, resp.StatusCode)
}

func TestCheckNamesWhatIsMissing(t *testing.T) {
	f := folder()
	require.NoError(t, site.Check(f))
	delete(f, "core.wasm")
	assert.ErrorContains(t, site.Check(f), "core.wasm")
	assert.ErrorContains(t, site.Check(fstest.MapFS{}), "index.html")
}

// Whatever is asked for, only the folder's visible files are given, and the
// answer is one a plain host gives.
func FuzzPath(f *testing.F) {
	for _, seed := range []string{"", "/", "//", "/.secret", "/app/../.secret", "/deep/.git/conf", "/index.html", "/core.wasm.gz", "/%00", "/a\\..\\b", "/CORE.WASM"} {
		f.Add(seed)
	}
	h := site.Handler(folder())
	f.Fuzz(func(t *testing.T, name string) {
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.URL.Path = name
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		assert.Contains(t, []int{http.StatusOK, http.StatusMovedPermanently, http.StatusBadRequest, http.StatusNotFound}, w.Code, "%q", name)
		assert.NotEqual(t, "no", w.Body.String(), "%q", name)
	})
}
