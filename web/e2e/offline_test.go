//go:build !js

package e2e

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// kept waits until the browser holds the whole site.
func (p *page) kept() {
	p.t.Helper()
	p.waitFor(`!!document.querySelector('[data-out="kept"]') && !!navigator.serviceWorker.controller`, "the site to be kept")
}

// After the first visit the host may vanish: a whole test, the drawing, the grade
// and the page about the model still come, from a folder below the host's root.
func TestWithoutNetworkAfterTheFirstVisit(t *testing.T) {
	t.Parallel()
	var gone atomic.Bool
	var refused sync.Map
	p := open(t, look{folder: "/shop/floor", gate: func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if gone.Load() {
				refused.Store(r.URL.Path, true)
				panic(http.ErrAbortHandler)
			}
			next.ServeHTTP(w, r)
		})
	}}, "")
	p.kept()
	gone.Store(true)
	p.visit("lang=en")
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	p.waitFor(`!!document.querySelector('.plate.has-scene iframe')`, "the drawn Bay")
	wholeTest(t, w)
	p.do("the model page", chromedp.Navigate(p.base+"/model.es.html"))
	p.waitFor(`document.querySelectorAll('svg.plot').length > 4`, "the model page")
	refused.Range(func(path, _ any) bool {
		return assert.Equal(t, "/sw.js", path, "only the question whether there is a newer version goes out")
	})
}

// A newer build waits; the attempt at work is kept through the change.
func TestNewerVersionLosesNoAttempt(t *testing.T) {
	t.Parallel()
	var newer atomic.Bool
	p := open(t, look{noWebGL: true, gate: func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if !newer.Load() || !strings.HasSuffix(r.URL.Path, "/sw.js") {
				next.ServeHTTP(w, r)
				return
			}
			old := httptest.NewRecorder()
			next.ServeHTTP(old, r)
			w.Header().Set("Content-Type", old.Header().Get("Content-Type"))
			w.Write(bytes.Replace(old.Body.Bytes(), []byte("const BUILD = '"), []byte("const BUILD = 'newer-"), 1))
		})
	}}, "")
	p.kept()
	w := studentAt(t, p, mouse{p})
	w.begin("alone")
	w.act("glasses")
	newer.Store(true)
	p.visit("")
	p.waitFor(`!!document.querySelector('[data-act="use-newer"]')`, "the word of a newer version")
	assert.Contains(t, eval[string](p, `document.querySelector('.newer').innerText`), "unfinished")
	eval[bool](p, `(window.before = true)`)
	w.act("use-newer")
	p.reloaded(`!window.before && !!document.querySelector('[data-act="resume"]')`)
	names := eval[[]string](p, `caches.keys()`)
	assert.Len(t, names, 1, "the older copy is gone")
	assert.Contains(t, names[0], "newer-")
	w.act("resume")
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	assert.Equal(t, "true", eval[string](p, `document.querySelector('[data-act="glasses"]').getAttribute('aria-pressed') ?? 'true'`))
}

// reloaded waits through the page's own reload until an expression holds.
func (p *page) reloaded(js string) {
	p.t.Helper()
	if !until(func() bool { return p.asks(js) }) {
		p.fail("the page did not come back: %s", js)
	}
}
