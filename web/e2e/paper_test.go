//go:build !js

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The Debrief on paper: whose attempt it is and what came of it stand at its head,
// nothing that is folded on the screen is missing, in either language, on either paper
// and in the student's own units.
func TestDebriefOnPaper(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	eval[bool](p, `(localStorage.setItem('crankbay/unit', '"kPa"'), true)`)
	p.visit("lang=en")
	p.handedIn(faulty, hasty)
	eval[bool](p, `(dispatchEvent(new Event('beforeprint')), true)`)
	for _, lang := range []string{"en", "es"} {
		words := map[string][]string{
			"en": {"Browser test", "Not passed yet (simulated)", "Prepare and put back", " kPa", "hands-on", "What each limit says"},
			"es": {"Browser test", "simulado", "Preparar y rearmar", " kPa", "práctica", "Qué dice cada límite"},
		}[lang]
		for paper, size := range papers {
			got := p.pages(size[0], size[1])
			what := paper + ", " + lang
			all := strings.Join(got, "\n")
			for _, w := range words {
				assert.Contains(t, all, w, what)
			}
			assert.Contains(t, got[0], "Browser test", "%s: whose it is stands on the first page", what)
			for i, text := range got {
				assert.Greater(t, len(strings.Fields(text)), 25, "%s: page %d is nearly empty", what, i+1)
			}
			p.whole(eval[string](p, `[...document.querySelectorAll('.debrief h1, .debrief h2, .debrief h3, .debrief-score p, .debrief li, .debrief table')].filter((e) => e.checkVisibility() && !e.closest('.leave, .jump, .part-cranks, .part-timeline')).map((e) => e.innerText).join(' ')`), got, what)
			assert.LessOrEqual(t, len(got), 6, "%s: as much as anybody reads", what)
			assert.Equal(t, 1, strings.Count(all, " psi"), "%s: one unit; 100 psi is the name of a rule", what)
			t.Logf("%s: %d pages", what, len(got))
		}
		mouse{p}.press(css("act", "language"))
		p.waitFor(fmt.Sprintf(`document.documentElement.lang !== %q`, lang), "the other language")
	}
	quiet(t, p)
}

// The page about the model on paper: its drawings with their tables, no page that is
// nearly empty, nothing cut at the right.
func TestModelPageOnPaper(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "lang=en")
	for _, lang := range []string{"en", "es"} {
		p.visit("lang=" + lang)
		p.modelPage()
		eval[bool](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
		for paper, size := range papers {
			got := p.pages(size[0], size[1])
			what := paper + ", " + lang
			for i, text := range got {
				assert.Greater(t, len(strings.Fields(text)), 25, "%s: page %d is nearly empty", what, i+1)
			}
			p.whole(eval[string](p, `(document.querySelectorAll('.drawn p, math').forEach((e) => e.remove()), [...document.querySelectorAll('main > :not(nav)')].map((e) => e.innerText).join(' '))`), got, what)
			t.Logf("%s: %d pages", what, len(got))
		}
	}
	quiet(t, p)
}
