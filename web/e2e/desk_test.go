//go:build !js

package e2e

import (
	"net/http"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/chromedp/chromedp"
)

// host is a static host that notes what it was asked for and refuses some of it. Its
// sw.js keeps nothing on the device: the real one fetches everything some seconds after
// the start, which on a slow machine is in the middle of a test.
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
		if strings.HasSuffix(r.URL.Path, "/sw.js") {
			w.Header().Set("Content-Type", "text/javascript")
			w.Write([]byte("// keeps nothing"))
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
	t.Parallel()
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
	t.Parallel()
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

// A program that crashes over a question says so instead of leaving it, and all later
// ones, without an answer; the next question starts another.
func TestProgramThatCrashesOverAQuestion(t *testing.T) {
	t.Parallel()
	for _, where := range []string{"page", "Worker"} {
		t.Run(where, func(t *testing.T) {
			p := open(t, look{noWebGL: true}, "lang=en")
			if where == "page" {
				eval[bool](p, `(globalThis.Worker = class { constructor() { throw new DOMException('denied', 'SecurityError'); } }, true)`)
			} else {
				// A Worker can't be reached from here; its program then crashes over a word of its own.
				eval[bool](p, `(() => { const Real = Worker; globalThis.Worker = class extends Real {
					postMessage(m) { if (globalThis.crash && m.id) { this.dispatchEvent(new MessageEvent('message', { data: { gone: true } })); return; } super.postMessage(m); } }; return true; })()`)
			}
			p.handInAtOnce()
			p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
			p.waitFor(`!document.querySelector('.debrief .working')`, "all parts")
			file, err := os.ReadFile(p.download(css("act", "download-attempt")))
			require.NoError(t, err)
			question := `import('./app/desk.js').then(({ ask }) => ask('plan', { attempt: ` + quote(escaped(string(file))) + `, scenario: '' })).then(() => 'answered', (e) => e.key)`
			eval[bool](p, `(globalThis.crash = true, globalThis.crankbayDesk && setTimeout(() => crankbayDesk.ask('{}', () => { throw new Error('crashed on purpose'); }), 20), true)`)
			assert.Equal(t, "desk_panic", eval[string](p, question))
			eval[bool](p, `(globalThis.crash = false, true)`)
			assert.Equal(t, "answered", eval[string](p, question))
		})
	}
}

// A Worker whose script doesn't come is one that there isn't.
func TestGradedWithoutTheWorkersScript(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
