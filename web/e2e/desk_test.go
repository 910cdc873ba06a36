//go:build !js

package e2e

import (
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"

	"github.com/chromedp/chromedp"
)

// host is a static host that notes what it was asked for and refuses some of it.
type host struct {
	mu     sync.Mutex
	asked  []string
	refuse atomic.Pointer[string] // part of a path that is not there just now
}

func (h *host) gate(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h.mu.Lock()
		h.asked = append(h.asked, r.URL.Path)
		h.mu.Unlock()
		if part := h.refuse.Load(); part != nil && strings.Contains(r.URL.Path, *part) {
			http.NotFound(w, r)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// served reports whether a path with such an ending was asked for.
func (h *host) served(ending string) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, path := range h.asked {
		if strings.HasSuffix(path, ending) {
			return true
		}
	}
	return false
}

// handInAtOnce opens an attempt and hands it in.
func (p *page) handInAtOnce() {
	p.t.Helper()
	p.openFile(attemptAt(p.t, faulty, "grade", prepared))
	mouse{p}.press(css("act", "hand-in"))
	mouse{p}.press(css("act", "hand-in-now"))
}

// The second program comes when the Debrief asks for it and not before, wherever
// the site lies, and runs in a Worker.
func TestGradedInAWorker(t *testing.T) {
	h := &host{}
	p := open(t, look{noWebGL: true, folder: "/a/folder", gate: h.gate}, "lang=en")
	assert.False(t, h.served("desk-worker.js") || h.served("desk.wasm.gz"), "nobody has asked yet")
	p.handInAtOnce()
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	assert.True(t, h.served("/app/desk-worker.js"))
	assert.True(t, h.served("/desk.wasm.gz"))
	assert.False(t, h.served("/desk.wasm"), "the packed copy is enough")
	assert.True(t, eval[bool](p, `globalThis.crankbayDesk === undefined`), "it runs in the Worker")
	quiet(t, p)
}

// Where Workers are denied it runs in the page.
func TestGradedWithoutWorkers(t *testing.T) {
	h := &host{}
	p := open(t, look{noWebGL: true, gate: h.gate}, "lang=en")
	eval[bool](p, `(globalThis.Worker = class { constructor() { throw new DOMException('denied', 'SecurityError'); } }, true)`)
	p.handInAtOnce()
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	p.waitFor(`!document.querySelector('.debrief .working')`, "all parts")
	assert.False(t, eval[bool](p, `!!document.querySelector('.debrief .part .error')`))
	assert.False(t, h.served("desk-worker.js"))
	assert.True(t, eval[bool](p, `globalThis.crankbayDesk !== undefined`))
	quiet(t, p)
}

// A Worker whose script doesn't come is one that there isn't.
func TestGradedWithoutTheWorkersScript(t *testing.T) {
	h, script := &host{}, "desk-worker.js"
	h.refuse.Store(&script)
	p := open(t, look{noWebGL: true, gate: h.gate}, "lang=en")
	p.handInAtOnce()
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	assert.True(t, h.served("desk-worker.js"))
}

// A program that doesn't arrive is said, the attempt can be downloaded and is kept
// on the device, and another try works once it is there.
func TestGradeThatDoesNotArrive(t *testing.T) {
	h, program := &host{}, "desk.wasm"
	h.refuse.Store(&program)
	p := open(t, look{noWebGL: true, gate: h.gate}, "lang=en")
	p.handInAtOnce()
	p.waitFor(`document.querySelector('main.debrief [role="alert"]')?.textContent.includes('Your attempt is safe')`, "a word about it")
	assert.FileExists(t, p.download(css("act", "download-attempt")))
	mouse{p}.press(css("act", "grade-again"))
	p.waitFor(`document.querySelector('main.debrief [role="alert"]')?.textContent.includes('Your attempt is safe')`, "the same word again")

	p.do("reload", chromedp.Reload()) // the tab was closed meanwhile
	p.waitFor(`!!document.querySelector('[data-act="resume"]')`, "the attempt in the Yard")
	mouse{p}.press(css("act", "resume"))
	p.waitFor(`!!document.querySelector('[data-act="grade-again"]')`, "the Debrief without a grade")
	h.refuse.Store(nil)
	mouse{p}.press(css("act", "grade-again"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	mouse{p}.press(css("act", "yard"))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-act="resume"]')`), "graded, it is no longer unfinished")
}
