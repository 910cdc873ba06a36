//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hearing keeps what a screen reader would say by itself, wherever in the site: what
// comes into a live part of the page, or a live part that comes with a text.
const hearing = `(() => {
	globalThis.crankbayHeard = [];
	const say = (text) => { text = text.replace(/\s+/g, ' ').trim(); if (text) crankbayHeard.push(text); };
	const parts = '[role=status], [role=alert], [aria-live]:not([aria-live=off])';
	new MutationObserver((all) => {
		for (const m of all) {
			const place = m.target.nodeType === 1 ? m.target : m.target.parentElement;
			if (m.type === 'characterData') { if (place?.closest(parts)) say(m.target.data); continue; }
			for (const n of m.addedNodes) {
				if (place?.closest(parts)) say(n.textContent);
				else if (n.nodeType === 1) for (const live of [n, ...n.querySelectorAll('*')]) if (live.matches('[role=alert]')) say(live.textContent);
			}
		}
	}).observe(document.body, {childList: true, characterData: true, subtree: true});
	return true;
})()`

// A listener is a person at the keyboard who writes down every control that was worked
// and everything that was heard after it.
type listener struct {
	keyboard
	lines *[]string
}

func (l listener) press(sel string) {
	l.p.t.Helper()
	l.keyboard.press(sel)
	if sel == css("act", "hand-in-now") {
		l.p.waitFor(`crankbayHeard.length > 0 && !!document.querySelector('.score')`, "the word that the grade is there")
	}
	l.hear("press "+plainly(sel), sel == css("act", "stroke") || sel == css("act", "starter") || sel == css("act", "release"))
}

func (l listener) choose(sel, value string) {
	l.p.t.Helper()
	l.keyboard.choose(sel, value)
	l.hear(fmt.Sprintf("choose %s in %s", value, plainly(sel)), false)
}

func (l listener) write(sel, text string) {
	l.p.t.Helper()
	l.keyboard.write(sel, text)
	l.hear(fmt.Sprintf("write %q into %s", text, plainly(sel)), false)
}

// hear writes down what was done and what was said; where the crank may turn or the
// needle move, once they stand still.
func (l listener) hear(done string, moves bool) {
	l.p.t.Helper()
	if moves {
		l.p.settled()
	} else {
		eval[bool](l.p, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
	}
	*l.lines = append(*l.lines, done)
	for _, said := range eval[[]string](l.p, `crankbayHeard.splice(0)`) {
		*l.lines = append(*l.lines, "  "+said)
	}
}

// plainly writes a selector as it reads in a transcript: act=plug-out cylinder=2.
func plainly(sel string) string {
	return strings.TrimSpace(strings.NewReplacer(`[data-`, " ", `[name=`, " name=", `[value=`, " value=", `]`, "", `"`, "").Replace(sel))
}

// A whole test for the grade by keyboard and ear, from the Yard to the points: what is
// announced is, word for word and in its order, what testdata has in either language.
func TestTranscriptOfAWholeTest(t *testing.T) {
	heard := map[string][]string{}
	for _, lang := range []string{"en", "es"} {
		t.Run(lang, func(t *testing.T) {
			p := open(t, look{noWebGL: true}, "lang="+lang)
			eval[bool](p, hearing)
			lines := []string{}
			l := listener{keyboard{p}, &lines}
			w := studentAt(t, p, l)
			w.begin("grade")
			wholeTest(t, w)
			l.hear("the points are there", false)
			heard[lang] = lines
			name := filepath.Join("testdata", "transcript-"+lang+".txt")
			got := strings.Join(lines, "\n") + "\n"
			if os.Getenv("GOLDEN") == "rewrite" {
				require.NoError(t, os.WriteFile(name, []byte(got), 0o644))
			}
			want, err := os.ReadFile(name)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, "GOLDEN=rewrite writes it anew; then read it as a listener would")
			strokesAreNotCounted(t, lines)
			quiet(t, p)
		})
	}
	if len(heard) == 2 { // neither was left out by -run
		assert.Equal(t, shape(heard["en"]), shape(heard["es"]), "who listens in Spanish hears as much, and as often")
	}
}

// strokesAreNotCounted checks every stroke of a transcript: one announcement after each
// press of the key, without a number.
func strokesAreNotCounted(t *testing.T, lines []string) {
	t.Helper()
	number := regexp.MustCompile(`\d`)
	strokes := 0
	for i, line := range lines {
		if line != "press act=stroke" {
			continue
		}
		strokes++
		said := []string{}
		for _, next := range lines[i+1:] {
			if !strings.HasPrefix(next, "  ") {
				break
			}
			said = append(said, next)
		}
		if assert.Len(t, said, 1, "line %d", i+1) {
			assert.NotRegexp(t, number, said[0], "line %d", i+1)
		}
	}
	assert.Equal(t, 7*6, strokes, "four cylinders dry, one again, two wet, six strokes each")
}

// shape is a transcript without its words: what was done, and how often something was
// said.
func shape(lines []string) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		if out[i] = line; strings.HasPrefix(line, "  ") {
			out[i] = "  said"
		}
	}
	return out
}
