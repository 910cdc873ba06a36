//go:build !js

package e2e

import (
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// second opens another tab of the same browser on the same site.
func (p *page) second(query string) *page {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.ctx)
	p.t.Cleanup(cancel)
	o := &page{t: p.t, base: p.base, ctx: ctx}
	require.NoError(p.t, chromedp.Do(ctx, chromedp.EmulateViewport(1280, 800, chromedp.EmulateScale(1))))
	o.watch()
	o.visit(query)
	return o
}

// One attempt in two tabs: the second says so and overwrites nothing.
func TestTwoTabsOnOneAttempt(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	w := studentAt(t, p, mouse{p})
	w.begin("alone")
	w.act("glasses")
	kept := `localStorage.getItem('crankbay/attempt/` + faulty + `/alone')`
	p.waitFor(kept+`?.includes('glasses')`, "the attempt kept")
	o := p.second("lang=en")
	x := studentAt(t, o, mouse{o})
	x.act("resume")
	o.waitFor(`!!document.querySelector('[data-out="elsewhere"]')`, "the word that it is open elsewhere")
	before := eval[string](o, kept)
	x.act("brake")
	x.act("chocks")
	assert.Equal(t, before, eval[string](o, kept), "the second tab keeps nothing")
	w.act("belts-check")
	p.waitFor(kept+`.includes('belts-check')`, "the first tab goes on keeping")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-out="elsewhere"]')`))
	quiet(t, p)
}

// A device that keeps nothing, because its storage is full or forbidden: the test
// goes on, the page says so, and the file still comes out.
func TestStorageFullOrForbidden(t *testing.T) {
	t.Parallel()
	for name, breakage := range map[string]string{
		"full":      `Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }`,
		"forbidden": `Object.defineProperty(globalThis, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } })`,
	} {
		t.Run(name, func(t *testing.T) {
			p := open(t, look{noWebGL: true}, "lang=en")
			eval[any](p, `(`+breakage+`, 0)`)
			w := studentAt(t, p, mouse{p})
			w.begin("alone")
			w.act("glasses")
			p.waitFor(`document.querySelector('.notices')?.textContent.includes('keeps nothing')`, "the word that nothing is kept")
			w.handIn()
			assert.FileExists(t, p.download(css("act", "download-attempt")))
			assert.Empty(t, p.complaints(), "the console")
		})
	}
}

// hostile are texts that have broken pages elsewhere.
var hostile = []string{
	`<img src=x onerror="window.hurt=1">`, `"><script>window.hurt=1</script>`, `'; window.hurt=1; //`, "{{7*7}}${window.hurt=1}",
	"\u202eevil\u202c", "a\u0000b\u0007c", "𝒜🔧\u200d🔧", `=cmd|'/C calc'!A0`, "__proto__", "../../../../etc/passwd",
}

// Text from strangers stays text, in every field, in the address, and in the file.
func TestHostileText(t *testing.T) {
	t.Parallel()
	for _, query := range []string{`lang=<script>window.hurt=1</script>`, `lang=__proto__`, `scene=%00&theme=%3Cimg%20src=x%20onerror=window.hurt=1%3E#%22%3E%3Cscript%3Ewindow.hurt=1%3C/script%3E`} {
		p := open(t, look{noWebGL: true}, query)
		assert.False(t, eval[bool](p, `!!window.hurt`), query)
		quiet(t, p)
	}
	p := open(t, look{noWebGL: true}, "lang=en")
	w := studentAt(t, p, mouse{p})
	for _, text := range hostile {
		p.fill(`input[name="who"]`, text)
	}
	p.fill(`input[name="who"]`, hostile[0])
	w.h.press(`input[name="mode"][value="alone"]`)
	w.act("open", "scenario", w.s.ID)
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
	fields := eval[int](p, `document.querySelectorAll('input:not([type=radio]):not([type=checkbox]):not([type=file]), textarea').length`)
	require.Greater(t, fields, 10)
	for i, text := range hostile {
		eval[int](p, `(() => { let n = 0; for (const e of document.querySelectorAll('input:not([type=radio]):not([type=checkbox]):not([type=file]), textarea')) {
			try { e.value = `+quote(escaped(text))+`; } catch { continue; }
			e.dispatchEvent(new Event('input', { bubbles: true })); e.dispatchEvent(new Event('change', { bubbles: true })); n++; } return n; })()`)
		assert.False(t, eval[bool](p, `!!window.hurt || !!document.querySelector('img[src="x"]')`), "text %d", i)
	}
	w.handIn()
	assert.False(t, eval[bool](p, `!!window.hurt || !!document.querySelector('img[src="x"]')`))
	again := verify(t, p.download(css("act", "download-attempt")))
	assert.True(t, again.HandedIn)
	quiet(t, p)
}

// fill sets a field the way a paste does.
func (p *page) fill(sel, text string) {
	p.t.Helper()
	eval[any](p, `(() => { const e = document.querySelector(`+quote(sel)+`); e.value = `+quote(escaped(text))+`; e.dispatchEvent(new Event('change', { bubbles: true })); })()`)
}

// escaped makes a text safe inside a template literal.
func escaped(s string) string {
	var out []rune
	for _, r := range s {
		switch r {
		case '`', '\\', '$':
			out = append(out, '\\', r)
		default:
			out = append(out, r)
		}
	}
	return string(out)
}

// A phone of a quarter of the speed, asleep for a while and with its clock set
// back: the crank turns on, nothing jumps and nothing is lost.
func TestSlowSleepingPhone(t *testing.T) {
	t.Parallel()
	p := open(t, look{width: 390, height: 844, noWebGL: true}, "lang=en")
	_, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	require.NoError(t, err)
	w := studentAt(t, p, keyboard{p})
	w.begin("alone")
	w.prepare()
	w.test(1, "dry")
	before := p.facts()
	eval[any](p, `(() => { const real = Date.now; Date.now = () => real() - 86400000; })()`)
	time.Sleep(time.Second)
	w.test(2, "dry")
	after := p.facts()
	assert.Greater(t, after.Minutes, before.Minutes)
	assert.Less(t, after.Minutes-before.Minutes, 6.0, "bench time is what was done, not what the clock says")
	quiet(t, p)
}
