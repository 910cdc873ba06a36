//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What has to hold of every place in every state is looked at on one visit, large and
// light in English, small and dark in Spanish: the accessibility checker finds nothing
// wrong, and what it can't decide somebody has looked at and written down; every text
// has its words; nothing to press is smaller than 24 by 24 pixels on a phone; nothing is
// cut off or scrolls sideways on the smallest phone and with text set twice as large.
func TestEverySight(t *testing.T) {
	t.Parallel()
	src, all := axeSource(t), verdicts(t)
	t.Run("every", func(t *testing.T) {
		for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844, dark: true}} {
			t.Run(fmt.Sprintf("%dx%d", l.width, l.height), func(t *testing.T) {
				t.Parallel()
				everySight(t, l, src, all)
			})
		}
		t.Run("scene.html", func(t *testing.T) { // the frame of the drawing, which the checker doesn't go into, by itself
			p := open(t, look{}, "")
			require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/scene.html")))
			p.waitFor(`!!document.querySelector('canvas')`, "the canvas")
			p.judged(src, "scene.html", all)
		})
	})
	for _, v := range all {
		assert.True(t, v.used.Load() || t.Failed(), "a verdict that is no longer asked for: %s %s", v.Rule, v.Markup)
	}
}

func everySight(t *testing.T, l look, src string, all []*verdict) {
	lang := map[bool]string{false: "en", true: "es"}[l.dark]
	key := bareKey(t)
	p := open(t, look{noWebGL: true}, "")
	for _, s := range sights {
		t.Run(s.name, func(t *testing.T) {
			p.t = t
			p.dress(l)
			p.sight(s, "lang="+lang)
			p.judged(src, s.name, all)
			assert.Empty(t, key(p.text("main")), "keys without a text")
			p.dress(look{width: 390, height: 844})
			assert.Empty(t, eval[[]string](p, tiny), "smaller than 24 by 24 pixels")
			for _, width := range []int64{320, 640} { // 1280 px at 400 % and at 200 %
				p.dress(look{width: width, height: 640})
				assert.Empty(t, eval[[]string](p, cut), fmt.Sprint(width))
			}
		})
	}
	p.t = t
}

// bareKey returns what finds keys of texts that stand in a text themselves, because
// their words are missing.
func bareKey(t *testing.T) func(text string) []string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "strings", "en.json"))
	require.NoError(t, err)
	var table map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(data, &table))
	first := map[string]bool{}
	for key := range table {
		if head, _, ok := strings.Cut(key, "."); ok {
			first[regexp.QuoteMeta(head)] = true
		}
	}
	require.Contains(t, first, "debrief")
	key := regexp.MustCompile(`\b(?:` + strings.Join(slices.Sorted(maps.Keys(first)), "|") + `)(?:\.[a-z][a-z_0-9]*)+\b`)
	file := regexp.MustCompile(`\.(?:json|csv|txt|html|js|zip|eml|pdf|svg|crankkey)$`)
	return func(text string) []string {
		return slices.DeleteFunc(key.FindAllString(text, -1), file.MatchString)
	}
}

// The finder of keys finds what it is for.
func TestBareKey(t *testing.T) {
	key := bareKey(t)
	assert.Equal(t, []string{"debrief.no_such.text"}, key("Your grade: debrief.no_such.text."))
	assert.Empty(t, key("The Debrief. It opens debrief.json, at 3.5 psi, after the first stroke.1.4"))
}
