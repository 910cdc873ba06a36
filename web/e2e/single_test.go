//go:build !js

package e2e

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// singleFile is the site in one file.
func singleFile(t *testing.T) string {
	t.Helper()
	name, err := filepath.Abs(filepath.Join("..", "dist", "crankbay.html"))
	require.NoError(t, err)
	if _, err := os.Stat(name); err != nil {
		missing(t, "web/dist has no crankbay.html: run 'make single' first")
	}
	return name
}

// openSingle opens the site in one file from the disk, with no server anywhere.
func openSingle(t *testing.T, l look) *page {
	t.Helper()
	name := singleFile(t)
	p := &page{t: t, base: "file://" + name}
	p.ctx = start(t, l)
	p.watch()
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(1280, 800, chromedp.EmulateScale(1)), chromedp.Navigate(p.base)))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the core to answer")
	return p
}

// From the disk, without a server: a whole test with the drawing, graded by the
// second program in its Worker, and a file that the command line accepts.
func TestSingleFileFromDisk(t *testing.T) {
	t.Parallel()
	p := openSingle(t, look{})
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	p.waitFor(`!!document.querySelector('.plate.has-scene iframe')`, "the drawn Bay")
	wholeTest(t, w)
	assert.Equal(t, 1, eval[int](p, `performance.getEntriesByType('navigation').length`))
	for _, asked := range p.asked() {
		assert.Regexp(t, `^(file:///.*/crankbay\.html|about:srcdoc|blob:|data:)`, asked, "nothing is fetched")
	}
	assert.Empty(t, p.complaints(), "the console")
}

// The teacher's guide travels in the file too, and leads nowhere out of it.
func TestSingleFileCarriesTheGuide(t *testing.T) {
	t.Parallel()
	p := openSingle(t, look{noWebGL: true})
	for lang, title := range map[string]string{"en": "Teacher's guide", "es": "Guía para maestros"} {
		p.do("to the single file", chromedp.Navigate(p.base+"?lang="+lang))
		p.waitFor(`document.documentElement.lang === "`+lang+`" && !!document.querySelector('[data-act="open"]')`, "the Yard")
		p.do("the link", chromedp.Click(chromedp.CSS(`a[data-act="guide"]`)), chromedp.WaitVisible(chromedp.CSS("main.guide")))
		p.waitFor(`document.querySelector('h1')?.textContent === "`+title+`"`, "the guide")
		assert.Equal(t, int64(0), eval[int64](p, `document.querySelectorAll('a:not([href^="#"])').length`), "a way that leads nowhere")
		assert.Equal(t, "grid", eval[string](p, `getComputedStyle(document.querySelector('.steps > li')).display`), "its style")
	}
	assert.Empty(t, p.complaints(), "the console")
}

// The page about the model travels in the file too, in both languages, with its
// style and figures.
func TestSingleFileCarriesTheModelPage(t *testing.T) {
	t.Parallel()
	p := openSingle(t, look{noWebGL: true})
	for lang, title := range map[string]string{"en": "How the model works", "es": "Cómo funciona el modelo"} {
		p.do("to the single file", chromedp.Navigate(p.base+"?lang="+lang))
		p.waitFor(`document.documentElement.lang === "`+lang+`" && !!document.querySelector('[data-act="open"]')`, "the Yard")
		p.do("the link", chromedp.Click(chromedp.CSS(`a[data-act="model"]`)), chromedp.WaitVisible(chromedp.CSS("h1 + p.lead")))
		p.waitFor(`document.querySelector('h1')?.textContent === "`+title+`"`, "the model page")
		assert.Greater(t, eval[int](p, `document.querySelectorAll('svg.plot').length`), 4, "its figures")
		assert.True(t, eval[bool](p, `[...document.querySelectorAll('a[download]')].every((a) => a.href.startsWith('data:image/svg+xml'))`), "its figures to keep")
		assert.NotEqual(t, "0px", eval[string](p, `getComputedStyle(document.querySelector('main')).paddingLeft`), "its style")
	}
	assert.Empty(t, p.complaints(), "the console")
}
