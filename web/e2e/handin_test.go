//go:build !js

package e2e

import (
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/code"
	"crankbay/scenarios/seal"
)

// assigned opens the faulty engine as an assignment, sealed to a key if there is one,
// and hands it in after next to nothing.
func (p *page) assigned(key string) {
	p.t.Helper()
	link, err := (&code.Assignment{Scenario: scenarios.Find(faulty), Mode: "grade", Who: "Ana Núñez", Class: "Auto 2", Seal: key}).Link()
	require.NoError(p.t, err)
	eval[any](p, `location.hash = '#`+link+`'`)
	p.waitFor(`!!document.querySelector('[data-act="start-job"]')`, "the assignment")
	mouse{p}.press(css("act", "start-job"))
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	mouse{p}.press(css("act", "glasses"))
	mouse{p}.press(css("act", "hand-in"))
	mouse{p}.press(css("act", "hand-in-now"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
}

// inked is the paper and the ink of a QR code.
func (p *page) inked(sel string) string {
	p.t.Helper()
	return eval[string](p, `['paper', 'ink'].map((what) => getComputedStyle(document.querySelector('`+sel+` .square-' + what)).fill).join(' ')`)
}

// handed is what the Debrief says of the way to the instructor.
func (p *page) handed() string {
	return eval[string](p, `document.querySelector('[data-out="handed"]')?.dataset.value ?? 'nothing'`)
}

// decoded reads a short code back.
func decoded(t *testing.T, text string) *attempt.File {
	t.Helper()
	b, err := code.Decode(text)
	require.NoError(t, err)
	return b.File
}

// Work that nobody has got yet is in sight in the Debrief and in the Yard, and the page
// asks before it is closed over it; a file or a code ends that.
func TestHandInStaysInSight(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.assigned("")
	assert.Empty(t, p.handed())
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('[data-act="hand-over"]') && !!document.querySelector('[data-act="start-job"]') && !!document.querySelector('[data-act="open"]')`, "the hand-in in the Yard")
	assert.Equal(t, []string{"beforeunload"}, p.dialogs, "asked before leaving")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-act="resume"]')`), "it is not unfinished")
	mouse{p}.press(css("act", "discard"))
	assert.True(t, eval[bool](p, `!!document.querySelector('[data-act="hand-over"]')`), "thrown away at a second touch only")

	mouse{p}.press(css("act", "hand-over"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the Debrief")
	assert.Empty(t, p.handed())
	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`!!document.querySelector('[data-out="code"]')`, "the code")
	f := decoded(t, eval[string](p, `document.querySelector('[data-out="code"]').value`))
	assert.Equal(t, "Ana Núñez", f.Who)
	assert.True(t, eval[bool](p, `document.querySelector('.square path').getAttribute('d').length > 500`), "its QR code")
	assert.Equal(t, "rgb(255, 255, 255) rgb(0, 0, 0)", p.inked(".square-box"), "black on white: a camera reads it")
	assert.Empty(t, p.handed(), "shown is not handed in")
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('[data-act="hand-over"]')`, "still in sight")
	assert.Equal(t, []string{"beforeunload", "beforeunload"}, p.dialogs)
	mouse{p}.press(css("act", "hand-over"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the Debrief")
	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`!!document.querySelector('[data-out="code"]')`, "the code")
	mouse{p}.press(css("act", "code-arrived"))
	assert.Equal(t, "shown", p.handed(), "the student says so")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-act="code-arrived"]')`))
	assert.Equal(t, "copy-code", eval[string](p, `document.activeElement.dataset.act ?? ''`))
	eval[any](p, `Object.defineProperty(navigator, 'clipboard', { configurable: true, value: { writeText: async (text) => { globalThis.copied = text; } } })`)
	mouse{p}.press(css("act", "copy-code"))
	p.waitFor(`globalThis.copied === document.querySelector('[data-out="code"]').value`, "the copy")
	assert.Equal(t, "code", p.handed())
	mouse{p}.press(css("act", "yard"))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-act="hand-over"], [data-act="resume"]')`), "graded and gone, it is nobody's worry")
	p.do("reload", chromedp.Reload())
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	assert.Len(t, p.dialogs, 2, "nothing to ask about")
	quiet(t, p)
}

// Practice is nobody's to wait for.
func TestPracticeIsNotOwed(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.openFile(attemptAt(t, faulty, "alone", prepared))
	mouse{p}.press(css("act", "hand-in"))
	mouse{p}.press(css("act", "hand-in-now"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	assert.Equal(t, "nothing", p.handed())
	mouse{p}.press(css("act", "yard"))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-act="hand-over"], [data-act="resume"]')`))
}

// A hand-in is sealed to the key that the link carries; who hands in may leave the seal
// off, and keeps an open copy. What seals is fetched then and not before.
func TestSealedHandIn(t *testing.T) {
	t.Parallel()
	key, err := seal.NewKey()
	require.NoError(t, err)
	h := &host{}
	p := open(t, look{noWebGL: true, gate: h.gate}, "lang=es")
	p.assigned(key.Public())
	assert.False(t, h.served("seal.wasm.gz"), "nobody has sealed yet")

	program := "seal.wasm"
	h.refuse.Store(&program)
	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`document.querySelector('.leave [role="alert"]')?.textContent.includes('no llegó')`, "a word that it didn't come")
	assert.Empty(t, p.handed())
	h.refuse.Store(nil)

	mouse{p}.press(css("act", "show-code"))
	p.waitFor(`!!document.querySelector('[data-out="code"]')`, "the sealed code")
	assert.Empty(t, p.handed())
	closed := eval[string](p, `document.querySelector('[data-out="code"]').value`)
	assert.True(t, strings.HasPrefix(closed, seal.Prefix))
	opened, err := key.Open(closed)
	require.NoError(t, err)
	f := decoded(t, string(opened))
	assert.Equal(t, "Ana Núñez", f.Who)
	assert.True(t, eval[bool](p, `!!document.querySelector('.square path')`))

	data, err := os.ReadFile(p.downloadAs(css("act", "download-attempt"), "*.txt"))
	require.NoError(t, err)
	opened, err = key.Open(string(data))
	require.NoError(t, err)
	whole, err := attempt.Decode(opened)
	require.NoError(t, err)
	assert.Equal(t, f.Actions, whole.Actions)
	assert.Equal(t, "file", p.handed())

	own, err := os.ReadFile(p.downloadAs(css("act", "download-open"), "*.json"))
	require.NoError(t, err)
	assert.Equal(t, strings.TrimSpace(string(opened)), strings.TrimSpace(string(own)))
	mouse{p}.press(`input[name="sealing"]`)
	p.waitFor(`document.querySelector('[data-out="code"]')?.value.startsWith('CB1.')`, "the open code")
}
