//go:build !js

package e2e

import (
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// toDesk goes by the head of the page to a section of the Desk.
func (p *page) toDesk(h hands, part string) {
	p.t.Helper()
	h.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	h.press(css("act", "desk-part", "choice", part))
	p.waitFor(`!!document.querySelector('#desk-`+part+`')`, "the section "+part)
}

// The head of the page, the Yard and an address of its own lead to the Desk, which
// is fetched then and not before.
func TestDeskIsReached(t *testing.T) {
	host := &host{}
	p := open(t, look{noWebGL: true, gate: host.gate}, "lang=en")
	assert.False(t, host.served("/office.js"), "nobody has asked yet")
	k := keyboard{p}
	k.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	assert.True(t, host.served("/office.js"))
	assert.Equal(t, "main", eval[string](p, `document.activeElement.id`))
	k.press(css("act", "to-yard"))
	mouse{p}.press(css("act", "to-desk-yard"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	k.press(css("act", "desk-part", "choice", "collect"))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/?lang=es&place=desk")))
	p.waitFor(`document.querySelector('main.office h1')?.innerText === 'Escritorio'`, "the Desk by its address")
	assert.True(t, eval[bool](p, `!!document.querySelector('#desk-collect')`), "the section that was open")
	quiet(t, p)
}

// into puts a text into a field by its id, as typing and leaving it does.
func (p *page) into(id, text string) {
	p.t.Helper()
	p.waitFor(`!!document.getElementById('`+id+`')`, "field "+id)
	eval[bool](p, fmt.Sprintf(`(() => {
		const e = document.getElementById(%q);
		e.value = %q;
		e.dispatchEvent(new InputEvent('input', {bubbles: true}));
		e.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, id, text))
}

// seen takes pictures for a person to look at, where somebody asked for them.
func (p *page) seen(name string, l look) {
	p.t.Helper()
	if os.Getenv("SCREENS") != "" {
		require.NoError(p.t, os.MkdirAll("screens", 0o755))
		p.pictures(name, []look{l}, func() {})
	}
}

func TestDeskLook(t *testing.T) {
	for _, l := range []look{{noWebGL: true, width: 1280, height: 800}, {noWebGL: true, width: 768, height: 1024, dark: true}, {noWebGL: true, width: 390, height: 844}} {
		p := open(t, l, "lang=en")
		p.dress(l)
		p.do("desk", chromedp.Navigate(p.base+"/?lang=en&place=desk"))
		p.waitFor(`!!document.querySelector('#begin-scenario')`, "the list")
		p.seen("desk-begin", l)
		p.into("begin-scenario", faulty)
		p.waitFor(`!!document.querySelector('[data-out="verdict"]')`, "verdict")
		p.seen("desk-job", l)
		mouse{p}.press(css("act", "job-link"))
		p.waitFor(`!!document.querySelector('[data-out="job-link"]')`, "link")
		eval[bool](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
		p.seen("desk-open", l)
		quiet(t, p)
	}
}
