//go:build !js

package e2e

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pseudo lengthens a text by some 40 % and puts accents on it, and leaves what is in
// braces alone: every vowel is there twice, one of them with an accent.
func pseudo(s string) string {
	var b strings.Builder
	inside := false
	for _, r := range s {
		switch {
		case r == '{':
			inside = true
		case r == '}':
			inside = false
		}
		b.WriteRune(r)
		if i := strings.IndexRune("aeiouAEIOU", r); i >= 0 && !inside {
			b.WriteRune([]rune("áéíóúÁÉÍÓÚ")[i])
		}
	}
	return b.String()
}

// pseudoHost serves Spanish as a language that nobody speaks: longer, and accented.
func pseudoHost(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasSuffix(r.URL.Path, "strings/es.json") {
			next.ServeHTTP(w, r)
			return
		}
		w.Header().Set("Content-Type", "application/json")
		_, _ = w.Write(pseudoTable())
	})
}

// pseudoTable is the Spanish table, lengthened.
func pseudoTable() []byte {
	data, err := os.ReadFile(filepath.Join("..", "dist", "strings", "es.json"))
	if err != nil {
		panic(err)
	}
	var table map[string]any
	if err := json.Unmarshal(data, &table); err != nil {
		panic(err)
	}
	for key, entry := range table {
		switch e := entry.(type) {
		case string:
			table[key] = pseudo(e)
		case map[string]any:
			for form, text := range e {
				e[form] = pseudo(text.(string))
			}
		}
	}
	data, err = json.Marshal(table)
	if err != nil {
		panic(err)
	}
	return data
}

// cut lists what of the page's text can't be read: out of the window, out of its
// button, or hidden by what it stands in. What scrolls by itself is read by scrolling,
// and what is for screen readers alone is not looked at. The head's name of the job
// ends in dots where it has no room; the whole name is the heading of the place.
const cut = `(() => {
	const out = [];
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	const scrolls = (e) => { for (; e && e !== document.body; e = e.parentElement) { const s = getComputedStyle(e); if (s.display !== 'contents' && /auto|scroll/.test(s.overflowX)) return true; } return false; };
	for (let n; (n = walk.nextNode());) {
		const el = n.parentElement;
		if (!n.data.trim() || !el.checkVisibility({visibilityProperty: true}) || el.closest('.hidden, .skip, script, style, svg, option, noscript, .job-name')) continue;
		const range = document.createRange();
		range.selectNodeContents(n);
		const box = el.closest('button, summary, .button, th, td')?.getBoundingClientRect();
		for (const r of range.getClientRects()) {
			if (r.width < 1) continue;
			const why = !scrolls(el) && (r.right > innerWidth + 1 || r.left < -1) ? 'out of the window'
				: box && (r.right > box.right + 1 || r.left < box.left - 1) ? 'out of its box' : '';
			if (why) { out.push(why + ': ' + n.data.trim().slice(0, 60) + ' <' + el.tagName.toLowerCase() + ' class=' + el.className + '>'); break; }
		}
		for (let e = el; e && e !== document.body; e = e.parentElement) {
			const s = getComputedStyle(e);
			if (s.display !== 'contents' && /hidden|clip/.test(s.overflowX) && e.scrollWidth > e.clientWidth + 1) { out.push('hidden: ' + n.data.trim().slice(0, 60) + ' in .' + e.className); break; }
		}
	}
	for (const e of document.querySelectorAll('input[type=text]')) {
		if (e.value && e.checkVisibility() && e.closest('table') && e.scrollWidth > e.clientWidth + 1) out.push('a number is cut: ' + e.value + ' in ' + e.dataset.field);
	}
	const wide = document.documentElement.scrollWidth - document.documentElement.clientWidth;
	if (wide > 0) {
		const past = [...document.querySelectorAll('body *')].filter((e) => !(e instanceof SVGElement) && e.getBoundingClientRect().right > innerWidth + 1 && !scrolls(e.parentElement)).pop();
		out.push('the page is ' + wide + ' px too wide, by ' + (past?.outerHTML.slice(0, 160) ?? 'nothing that can be seen'));
	}
	return [...new Set(out)];
})()`

// In a language 40 % longer than Spanish nothing is cut off and nothing scrolls
// sideways, in any place and state, from the smallest phone to a laptop.
func TestLongerLanguageFits(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true, gate: pseudoHost}, "lang=es")
	require.Contains(t, p.text("h1"), "Moótoóreés", "the longer texts are there")
	for _, s := range sights {
		t.Run(s.name, func(t *testing.T) {
			p.t = t
			if s.name == "model" || s.name == "guide" {
				t.Skip("its texts are written when the site is built")
			}
			p.dress(look{width: 1280, height: 800})
			p.sight(s, "lang=es")
			for _, width := range []int64{320, 390, 768, 1280} {
				p.dress(look{width: width, height: 800})
				assert.Empty(t, eval[[]string](p, cut), "%s at %d px", s.name, width)
			}
		})
	}
	p.t = t
}
