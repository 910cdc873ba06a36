package pack_test

import (
	"os"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// criteria are the success criteria of WCAG 2.2 at levels A and AA, as the
// recommendation numbers them (W3C, 5 October 2023, section "Requirements"). Parsing
// (4.1.1) is obsolete there.
var criteria = []string{
	"1.1.1", "1.2.1–1.2.5", "1.3.1", "1.3.2", "1.3.3", "1.3.4", "1.3.5", "1.4.1", "1.4.2", "1.4.3", "1.4.4", "1.4.5", "1.4.10", "1.4.11", "1.4.12", "1.4.13",
	"2.1.1", "2.1.2", "2.1.4", "2.2.1", "2.2.2", "2.3.1", "2.4.1", "2.4.2", "2.4.3", "2.4.4", "2.4.5", "2.4.6", "2.4.7", "2.4.11", "2.5.1", "2.5.2", "2.5.3", "2.5.4", "2.5.7", "2.5.8",
	"3.1.1–3.1.2", "3.2.1–3.2.2", "3.2.3–3.2.4", "3.2.6", "3.3.1–3.3.3", "3.3.4", "3.3.7", "3.3.8", "4.1.2", "4.1.3",
}

var (
	criterionRow = regexp.MustCompile(`<tr data-result="(met|part|none)"><th scope="row">([0-9.–]+) `)
	structure    = regexp.MustCompile(`<(h[1-6]|section id="[a-z]+"|li|tr|p)[ >]`)
)

// The page about accessibility speaks of every criterion once, and says the same in
// both languages.
func TestAccessibilityPages(t *testing.T) {
	results := map[string][]string{}
	shape := map[string][]string{}
	for _, lang := range []string{"en", "es"} {
		data, err := os.ReadFile("../shell/access." + lang + ".html")
		require.NoError(t, err)
		var numbers []string
		for _, m := range criterionRow.FindAllStringSubmatch(string(data), -1) {
			numbers = append(numbers, m[2])
			results[lang] = append(results[lang], m[1])
		}
		assert.Equal(t, criteria, numbers, lang)
		shape[lang] = structure.FindAllString(string(data), -1)
		assert.Contains(t, string(data), `<html lang="`+lang+`">`)
	}
	assert.Equal(t, results["en"], results["es"], "the same results")
	assert.Equal(t, shape["en"], shape["es"], "the same parts")
}
