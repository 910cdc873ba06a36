//go:build !js

package e2e

import (
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
