//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A verdict is what a person found where the accessibility checker can't decide: of
// which rule, on which elements (by their markup), and why it is met.
type verdict struct {
	Rule    string `json:"rule"`
	Markup  string `json:"markup"` // regular expression
	Verdict string `json:"verdict"`
	Looked  string `json:"looked"` // date
	of      *regexp.Regexp
	used    bool
}

func verdicts(t *testing.T) []*verdict {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "axe-verdicts.json"))
	require.NoError(t, err)
	var all []*verdict
	require.NoError(t, json.Unmarshal(data, &all))
	for _, v := range all {
		require.NotEmpty(t, v.Verdict)
		v.of = regexp.MustCompile(v.Markup)
	}
	return all
}

// judged reports what the checker finds in this state, and holds what it leaves open
// against the verdicts.
func (p *page) judged(src, state string, all []*verdict) {
	p.t.Helper()
	said := p.axe(src)
	p.unbroken(said.Violations, state)
	for _, open := range said.Incomplete {
		for _, n := range open.Nodes {
			found := false
			for _, v := range all {
				if v.Rule == open.ID && v.of.MatchString(n.HTML) {
					v.used, found = true, true
				}
			}
			assert.True(p.t, found, "%s: %s has no verdict: %.200s %v\n%s", state, open.ID, n.HTML, n.Target, n.Summary)
		}
	}
}

// Of every place in every state the checker finds nothing wrong, light and large in
// English, dark and small in Spanish; what it can't decide somebody has looked at and
// written down, and nothing is written down that it doesn't say any more.
func TestAxeOnEverySight(t *testing.T) {
	src := axeSource(t)
	all := verdicts(t)
	p := open(t, look{noWebGL: true}, "")
	for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844, dark: true}} {
		lang := map[bool]string{false: "en", true: "es"}[l.dark]
		for _, s := range sights {
			t.Run(fmt.Sprintf("%s/%dx%d", s.name, l.width, l.height), func(t *testing.T) {
				p.t = t
				p.dress(l)
				p.sight(s, "lang="+lang)
				p.judged(src, s.name, all)
			})
		}
	}
	p.t = t
	p = open(t, look{}, "") // the frame of the drawing, which the checker doesn't go into, by itself
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/scene.html")))
	p.waitFor(`!!document.querySelector('canvas')`, "the canvas")
	p.judged(src, "scene.html", all)
	for _, v := range all {
		assert.True(t, v.used, "a verdict that is no longer asked for: %s %s", v.Rule, v.Markup)
	}
}
