//go:build !js

package e2e

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// guidePage follows the Yard's link to the teacher's guide.
func (p *page) guidePage() {
	p.t.Helper()
	mouse{p}.press(css("act", "guide"))
	p.arrives(`!!document.querySelector('main.guide')`, "the teacher's guide")
}

// The teacher's guide is reached from the Yard, loads nothing but itself, passes the
// accessibility checker in both languages, light and dark, and fits the narrowest
// window.
func TestGuidePage(t *testing.T) {
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
			p.guidePage()
			p.accessible(src, "Guide")
			mouse{p}.press(`.top a[lang="es"]`)
			p.arrives(`document.documentElement.lang === 'es'`, "Spanish")
			p.accessible(src, "Guide in Spanish")
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
			small := eval[[]string](p, `[...document.querySelectorAll('nav a')].filter((a) => a.getBoundingClientRect().height < 43.5).map((a) => a.textContent)`)
			assert.Empty(t, small, "too small for a finger")
			mouse{p}.press(`.top nav a`)
			p.arrives(`document.documentElement.lang === 'es' && !!document.querySelector('main.yard [data-act="open"]')`, "the Yard in Spanish")
			quiet(t, p)
		})
	}
}

var longWord = regexp.MustCompile(`\pL{5,}`)

// whole asserts that every longer word of what is printed stands on the paper.
func (p *page) whole(main string, pages []string, what string) {
	p.t.Helper()
	paper := map[string]bool{}
	for _, w := range longWord.FindAllString(strings.Join(pages, " "), -1) {
		paper[w] = true
	}
	missed := map[string]bool{}
	for _, w := range longWord.FindAllString(main, -1) {
		if !paper[w] {
			missed[w] = true
		}
	}
	assert.Empty(p.t, missed, "%s: words that are not on the paper", what)
}

var papers = map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}}

// The guide on paper: each lesson, the sheet for few devices and the table of tags
// begin a page and end on it, nothing is cut, and the text can be taken out again.
func TestGuideOnPaper(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "lang=en")
	for lang, heads := range map[string][][2]string{
		"en": {{"A lesson of 45 minutes", "43–45"}, {"A lesson of 90 minutes", "84–90"}, {"A class with few devices", "knows the card"}, {"Your own task tags", "wet test"}},
		"es": {{"Una clase de 45 minutos", "43–45"}, {"Una clase de 90 minutos", "84–90"}, {"Un grupo con pocos dispositivos", "conoce la tarjeta"}, {"Sus propias etiquetas de tareas", "vacío"}},
	} {
		p.visit("lang=" + lang)
		p.guidePage()
		for paper, size := range papers {
			got := p.pages(size[0], size[1])
			what := paper + ", " + lang
			assert.LessOrEqual(t, len(got), 11, what)
			for _, h := range heads {
				found := false
				for _, text := range got {
					text = strings.Join(strings.Fields(text), " ")
					if strings.HasPrefix(text, h[0]) {
						found = true
						assert.Contains(t, text, h[1], "%s: %s begins and ends on one page", what, h[0])
					}
				}
				assert.True(t, found, "%s: no page begins with %s", what, h[0])
			}
			for i, text := range got {
				assert.Greater(t, len(strings.Fields(text)), 25, "%s: page %d is nearly empty", what, i+1)
			}
			p.whole(eval[string](p, `[...document.querySelectorAll('main > :not(nav)')].map((e) => e.innerText).join(' ')`), got, what)
		}
	}
	quiet(t, p)
}

// Pictures of the guide, run by `make screens`.
func TestScreensOfTheGuide(t *testing.T) {
	if os.Getenv("SCREENS") == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll("screens", 0o755))
	p := open(t, look{}, "lang=en")
	p.guidePage()
	var looks []look
	for _, size := range [][2]int64{{1280, 800}, {768, 1024}, {390, 844}} {
		looks = append(looks, look{width: size[0], height: size[1]}, look{width: size[0], height: size[1], dark: true})
	}
	p.pictures("guide", looks, func() {})
	quiet(t, p)
}
