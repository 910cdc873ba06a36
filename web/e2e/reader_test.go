//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A line of the written script: a key press on a control, or what is heard after it in
// one of the languages.
var (
	scriptPress = regexp.MustCompile(`^press ([a-z.-]+)(?: on (\d+))?$`)
	scriptHear  = regexp.MustCompile(`^  (en|es): (.*)$`)
)

// A person at the keyboard who hears instead of seeing: the written script is played
// in both languages, for the grade, and what is announced is what it says, word for
// word: one announcement for each stroke, none that counts them.
func TestReaderScript(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("testdata", "reader-script.txt"))
	require.NoError(t, err)
	for _, lang := range []string{"en", "es"} {
		t.Run(lang, func(t *testing.T) {
			p := open(t, look{noWebGL: true}, "lang="+lang)
			p.openFile(attemptAt(t, faulty, "grade", prepared))
			eval[bool](p, hearing)
			k := keyboard{p}
			var step string
			var want []string
			check := func() {
				if step == "" {
					return
				}
				p.settled()
				assert.Equal(t, want, eval[[]string](p, `crankbayHeard.splice(0)`), step)
			}
			for i, line := range strings.Split(string(data), "\n") {
				press, hear := scriptPress.FindStringSubmatch(line), scriptHear.FindStringSubmatch(line)
				switch {
				case press != nil:
					check()
					step, want = fmt.Sprintf("line %d: %s", i+1, line), []string{}
					sel := css("act", press[1])
					if press[2] != "" {
						sel = css("act", press[1], "cylinder", press[2])
					}
					k.press(sel)
				case hear != nil && hear[1] == lang:
					want = append(want, hear[2])
				case line == "" || strings.HasPrefix(line, "#") || hear != nil:
				default:
					t.Fatalf("line %d of the script can't be read: %s", i+1, line)
				}
			}
			check()
			quiet(t, p)
		})
	}
}

// settled waits until crank and needle stand still where nobody holds the switch.
func (p *page) settled() {
	p.t.Helper()
	if !eval[bool](p, `JSON.parse(crankbay.view()).state.starter`) {
		(&student{p: p}).rest()
	}
	eval[bool](p, `new Promise((done) => setTimeout(() => done(true), 250))`)
}

// outlined are the roles that make the outline of a page.
var outlined = map[string]bool{
	"banner": true, "navigation": true, "main": true, "region": true, "contentinfo": true, "heading": true, "tablist": true, "tab": true, "tabpanel": true,
	"button": true, "img": true, "image": true, "dialog": true, "status": true, "group": true, "textbox": true, "combobox": true, "link": true, "radio": true,
}

// outline is what the browser's accessibility tree says of the page, indented.
func (p *page) outline() string {
	p.t.Helper()
	tree, err := chromedp.Call(p.ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	require.NoError(p.t, err)
	kids := map[accessibility.NodeID]*accessibility.Node{}
	for _, n := range tree.Nodes {
		kids[n.NodeID] = n
	}
	var b strings.Builder
	var walk func(n *accessibility.Node, depth int)
	walk = func(n *accessibility.Node, depth int) {
		role := valueOf(n.Role)
		if !n.Ignored && outlined[role] {
			fmt.Fprintf(&b, "%s%s %q%s\n", strings.Repeat("  ", depth), role, valueOf(n.Name), states(n))
			depth++
		}
		for _, id := range n.ChildIDs {
			if kid := kids[id]; kid != nil {
				walk(kid, depth)
			}
		}
	}
	walk(tree.Nodes[0], 0)
	return b.String()
}

func valueOf(v *accessibility.Value) string {
	if v == nil {
		return ""
	}
	var said any
	if json.Unmarshal(v.Value, &said) != nil {
		return ""
	}
	return fmt.Sprint(said)
}

// states are what a control says of itself besides its name.
func states(n *accessibility.Node) string {
	var out string
	for _, s := range n.Properties {
		switch s.Name {
		case accessibility.PropertyNamePressed, accessibility.PropertyNameSelected, accessibility.PropertyNameExpanded, accessibility.PropertyNameChecked:
			if v := valueOf(s.Value); v != "false" {
				out += " " + string(s.Name) + "=" + v
			}
		}
	}
	return out
}

// What the accessibility tree of the Bay says, in both languages, is what was written
// down after somebody had read it.
func TestGoldenOutline(t *testing.T) {
	t.Parallel()
	for _, lang := range []string{"en", "es"} {
		p := open(t, look{noWebGL: true}, "lang="+lang)
		p.opened(faulty, "grade", cranking)
		p.tab("crank")
		got := p.outline()
		name := filepath.Join("testdata", "golden-outline-"+lang+".txt")
		if os.Getenv("GOLDEN") == "rewrite" {
			require.NoError(t, os.WriteFile(name, []byte(got), 0o644))
		}
		want, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, "GOLDEN=rewrite writes it anew; then read it as a listener would")
	}
}
