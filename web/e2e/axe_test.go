//go:build !js

package e2e

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// axeSource returns the accessibility checker; `npm ci` in testdata/npm fetches
// it once.
func axeSource(t *testing.T) string {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "npm", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		missing(t, "axe-core is not there: run 'npm ci' in testdata/npm")
	}
	return string(src)
}

// A violation is one rule of the accessibility checker that the page breaks.
type violation struct {
	ID     string `json:"id"`
	Impact string `json:"impact"`
	Help   string `json:"help"`
	Nodes  []node `json:"nodes"`
}

// A node is one element that a rule speaks of.
type node struct {
	HTML    string `json:"html"`
	Target  []any  `json:"target"`
	Summary string `json:"failureSummary"`
}

// A finding is what the checker says of one state of the page: what breaks WCAG 2.0
// to 2.2, levels A and AA, and what it can't decide and leaves to a person.
type finding struct {
	Violations []violation `json:"violations"`
	Incomplete []violation `json:"incomplete"`
}

// axe has the checker look at the page.
func (p *page) axe(src string) finding {
	p.t.Helper()
	if !eval[bool](p, `!!globalThis.axe`) {
		eval[any](p, src+";1")
	}
	text := eval[string](p, `axe.run(document, {
		runOnly: {type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22a', 'wcag22aa']},
		resultTypes: ['violations', 'incomplete'],
	}).then((r) => JSON.stringify({violations: r.violations, incomplete: r.incomplete}))`)
	var out finding
	require.NoError(p.t, json.Unmarshal([]byte(text), &out))
	out.Violations = uncovered(out.Violations)
	return out
}

// uncovered leaves out what is too small only because a part that sticks covers some of
// it where the page happens to be scrolled to: its size is that of the whole (WCAG 2.2,
// 2.5.8), which TestEverySight measures, and with the focus it is in sight.
func uncovered(all []violation) []violation {
	var rest []violation
	for _, v := range all {
		if v.ID == "target-size" {
			v.Nodes = slices.DeleteFunc(v.Nodes, func(n node) bool { return strings.Contains(n.Summary, "partially obscured") })
		}
		if len(v.Nodes) > 0 {
			rest = append(rest, v)
		}
	}
	return rest
}

// accessible reports every violation in this state of the page.
func (p *page) accessible(src, state string) {
	p.t.Helper()
	p.unbroken(p.axe(src).Violations, state)
}

// unbroken reports violations.
func (p *page) unbroken(all []violation, state string) {
	p.t.Helper()
	for _, v := range all {
		p.t.Errorf("%s: %s (%s): %s", state, v.ID, v.Impact, v.Help)
		for i, n := range v.Nodes {
			if i == 5 {
				p.t.Logf("  … and %d more", len(v.Nodes)-i)
				break
			}
			p.t.Logf("  %.200s\n    %s", n.HTML, n.Summary)
		}
	}
}
