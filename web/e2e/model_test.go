//go:build !js

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// arrives waits for another document: questions asked while one goes and the
// other comes are lost.
func (p *page) arrives(js, what string) {
	p.t.Helper()
	if !until(func() bool { return p.asks(js) }) {
		p.fail("waiting for %s", what)
	}
}

// modelPage follows the Yard's link to the page about the model.
func (p *page) modelPage() {
	p.t.Helper()
	mouse{p}.press(css("act", "model"))
	p.arrives(`!!document.querySelector('main.model')`, "the page about the model")
}

// The page about the model is reached from the Yard, loads nothing but itself,
// passes the accessibility checker in both languages, light and dark, and fits the
// narrowest window.
func TestModelPage(t *testing.T) {
	t.Parallel()
	src := axeSource(t)
	for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844, dark: true}} {
		t.Run(fmt.Sprintf("%dx%d", l.width, l.height), func(t *testing.T) {
			l.folder = "/school/shop"
			p := open(t, l, "lang=en")
			p.dress(l)
			p.mu.Lock()
			before := len(p.requests)
			p.mu.Unlock()
			p.modelPage()
			p.accessible(src, "Model")
			eval[any](p, `document.querySelector('details').open = true`)
			p.accessible(src, "Model, sources open")
			mouse{p}.press(`.top a[lang="es"]`)
			p.arrives(`document.documentElement.lang === 'es'`, "Spanish")
			p.accessible(src, "Model in Spanish")
			p.mu.Lock()
			for _, r := range p.requests[before:] {
				assert.Contains(t, r, "/school/shop/", "a request outside its folder")
				assert.False(t, strings.Contains(r, ".wasm") || strings.HasSuffix(r, ".js"), "%s: the page needs no program", r)
			}
			p.mu.Unlock()
			for _, width := range []int64{320, l.width} {
				p.do("size", chromedp.EmulateViewport(width, l.height, chromedp.EmulateScale(1)))
				assert.LessOrEqual(t, eval[int64](p, `document.documentElement.scrollWidth`), width, "no sideways scrolling of the page")
			}
			mouse{p}.press(`.top nav a`)
			p.arrives(`document.documentElement.lang === 'es' && !!document.querySelector('main.yard [data-act="open"]')`, "the Yard in Spanish")
			quiet(t, p)
		})
	}
}

// Lines and words of the drawings take the colours of the page, and those of
// paper when it is printed.
func TestModelPageColours(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "lang=en")
	p.modelPage()
	lines := func(l look, medium string) string {
		scheme := "light"
		if l.dark {
			scheme = "dark"
		}
		_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Media: medium, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
		})
		require.NoError(t, err)
		return eval[string](p, `getComputedStyle(document.querySelector('.line-ink')).stroke`)
	}
	light, dark := lines(look{}, ""), lines(look{dark: true}, "")
	assert.Equal(t, "rgb(34, 38, 43)", light)
	assert.Equal(t, "rgb(236, 231, 220)", dark)
	assert.Equal(t, "rgb(0, 0, 0)", lines(look{dark: true}, "print"))
	assert.Equal(t, "none", eval[string](p, `getComputedStyle(document.querySelector('.top')).display`))
	assert.Equal(t, int64(7), eval[int64](p, `[...document.querySelectorAll('.plot')].filter((e) => e.getBoundingClientRect().width > 200).length`))
	quiet(t, p)
}

// The Debrief offers it in a tab of its own, so that nothing of the attempt is left
// behind.
func TestDebriefLeadsToTheModel(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "lang=es")
	p.openFile(attemptAt(t, faulty, "reasons", cranking))
	mouse{p}.press(css("act", "hand-in"))
	mouse{p}.press(css("act", "hand-in-now"))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the Debrief")
	assert.Equal(t, p.base+"/model.es.html _blank", eval[string](p, `(() => { const a = document.querySelector('[data-act="model"]'); return a.href + ' ' + a.target; })()`))
	quiet(t, p)
}
