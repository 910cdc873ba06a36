package strings

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	gostrings "strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/report"
)

// said are the texts of one language as a report asks for them.
type said map[string]Text

func (s said) Has(key string) bool { _, ok := s[key]; return ok }

func (s said) Say(key string, params ...any) string {
	t, ok := s[key]
	if !ok {
		panic("no text " + key)
	}
	filled := map[string]string{}
	for i := 0; i+1 < len(params); i += 2 {
		filled[fmt.Sprint(params[i])] = fmt.Sprint(params[i+1])
	}
	return t.Fill(filled)
}

// Page and command line put facts into sentences alike: both are held to one file.
func TestFactVectors(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "facts.json"))
	require.NoError(t, err)
	var vectors []struct {
		Text, Want string
		Facts      []diagnose.Fact
	}
	require.NoError(t, json.Unmarshal(data, &vectors))
	require.Greater(t, len(vectors), 10)
	p := report.NewPrinter(said(tables(t)["en"]))
	for _, v := range vectors {
		assert.Equal(t, v.Want, p.Fill(v.Text, v.Facts), v.Text)
	}
}

// Whatever facts a rule brings along, its sentences read in both languages: no braces,
// no double spaces, no sentence without its subject.
func TestRuleSentencesRead(t *testing.T) {
	for lang, table := range tables(t) {
		p := report.NewPrinter(said(table))
		for _, rule := range diagnose.RuleNames() {
			var full []diagnose.Fact
			for _, f := range diagnose.RuleFacts(rule) {
				full = append(full, diagnose.Fact{Name: f, Value: 2}, diagnose.Fact{Name: f, Value: 3}, diagnose.Fact{Name: f, Value: 2})
			}
			for _, l := range []diagnose.Line{
				{Rule: rule, Facts: full}, {Rule: rule, Passed: true, Facts: full}, {Rule: rule, Never: true}, {Rule: rule, Facts: full, Cylinder: 2, Minutes: 75},
			} {
				s := p.Sentence(l)
				assert.NotRegexp(t, `[{}]|  |^ | $|undefined`, s, "%s: %s", lang, rule)
				assert.Regexp(t, `^[\p{Lu}\d“«¿−]`, s, "%s: %s", lang, rule)
			}
		}
	}
}

// A report in either language keeps to its width and says points, moments, what was never
// begun, and what was taken off.
func TestReportText(t *testing.T) {
	r := diagnose.Grade(diagnose.Input{
		Card: diagnose.DefaultCard(), Cylinders: 4, Mode: "grade", Key: diagnose.Key{Family: diagnose.FamilySound},
		Sheet: diagnose.Sheet{Findings: []diagnose.Finding{{Family: diagnose.FamilySound}}, Sure: "certain", Ticks: []string{"glasses", "belts"}},
	})
	for lang, table := range tables(t) {
		text := report.Text(r, said(table))
		for _, line := range gostrings.Split(text, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 80, "%s: %q", lang, line)
		}
		flat := gostrings.Join(gostrings.Fields(text), " ")
		for _, key := range []string{"rule.glasses_on.name", "rule.gate_belts.name", "card.belts", "report.none", "debrief.simulated"} {
			assert.Contains(t, flat, table[key].Other, lang)
		}
		assert.NotContains(t, flat, "0 of 0", lang)
		assert.NotContains(t, flat, " 0 de 0 ", lang)
	}
}
