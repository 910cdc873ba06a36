//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A verdict is what a person found where the accessibility checker can't decide: of
// which rule, for which reason, on which elements (by their markup), and why it is met.
type verdict struct {
	Rule    string `json:"rule"`
	Reason  string `json:"reason"` // why it can't, regular expression
	Markup  string `json:"markup"` // regular expression
	Verdict string `json:"verdict"`
	Looked  string `json:"looked"` // date
	why, of *regexp.Regexp
	used    atomic.Bool
}

func verdicts(t *testing.T) []*verdict {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "axe-verdicts.json"))
	require.NoError(t, err)
	var all []*verdict
	require.NoError(t, json.Unmarshal(data, &all))
	for _, v := range all {
		require.NotEmpty(t, v.Verdict)
		v.of, v.why = regexp.MustCompile(v.Markup), regexp.MustCompile(v.Reason)
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
				if v.Rule == open.ID && v.of.MatchString(n.HTML) && v.why.MatchString(n.Summary) {
					v.used.Store(true)
					found = true
				}
			}
			assert.True(p.t, found, "%s: %s has no verdict: %.200s %v\n%s", state, open.ID, n.HTML, n.Target, n.Summary)
		}
	}
}

// The page's colours for text stand out against every ground that text is put on, and
// lines that mean something against theirs: WCAG 2.2, 1.4.3 and 1.4.11, with relative
// luminance as its glossary defines it. Many verdicts rest on this.
func TestPalette(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "shell", "css", "base.css"))
	require.NoError(t, err)
	themes := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllSubmatch(data, -1)
	require.GreaterOrEqual(t, len(themes), 2)
	for i, theme := range []string{"light", "dark"} {
		tone := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z0-9-]+): (#[0-9a-f]{6})`).FindAllSubmatch(themes[i][1], -1) {
			tone[string(m[1])] = string(m[2])
		}
		for ground, texts := range map[string][]string{
			"paper": {"ink", "ink2", "go", "ok"}, "sheet": {"ink", "ink2", "go", "ok"}, "tint": {"ink", "ink2", "go", "ok"},
			"wash": {"ink", "ink2", "go", "ok"}, "tint2": {"ink"}, "go": {"go-ink"}, "ink": {"sheet"},
		} {
			for _, text := range texts {
				assert.GreaterOrEqual(t, contrast(t, tone[text], tone[ground]), 4.5, "%s: %s on %s", theme, text, ground)
			}
		}
		for _, ground := range []string{"paper", "sheet", "tint"} {
			for _, line := range []string{"edge", "focus", "go", "ink"} {
				assert.GreaterOrEqual(t, contrast(t, tone[line], tone[ground]), 3.0, "%s: %s on %s", theme, line, ground)
			}
		}
	}
	assert.InDelta(t, 21, contrast(t, "#000000", "#ffffff"), 1e-9, "the ratio of black and white that the definition gives")
}

// contrast is the contrast ratio of two colours #rrggbb.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	luminance := func(s string) float64 {
		var rgb [3]int
		_, err := fmt.Sscanf(s, "#%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2])
		require.NoError(t, err, s)
		var sum float64
		for i, share := range []float64{0.2126, 0.7152, 0.0722} {
			c := float64(rgb[i]) / 255
			if c <= 0.04045 {
				c /= 12.92
			} else {
				c = math.Pow((c+0.055)/1.055, 2.4)
			}
			sum += share * c
		}
		return sum
	}
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}
