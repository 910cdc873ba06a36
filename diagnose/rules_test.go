package diagnose

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Names are keys of texts: none twice, none empty, plain characters only.
func TestRuleNames(t *testing.T) {
	seen := map[string]bool{}
	for _, n := range RuleNames() {
		assert.Regexp(t, `^[a-z][a-z0-9_]*$`, n)
		assert.False(t, seen[n], n)
		seen[n] = true
	}
	assert.Nil(t, RuleFacts("no such rule"))
}

// Every row has rules, every rule a row, and shares are points to be had.
func TestRuleTable(t *testing.T) {
	for _, r := range ruleTable() {
		assert.Contains(t, RowNames(), r.row, r.name)
		if !slices.Contains([]string{"left_apart", "ticks_true", "wrong_as_final"}, r.name) { // they earn nothing, and take off their row
			assert.Greater(t, r.share, 0.0, r.name)
		}
		assert.NotNil(t, r.judge, r.name)
	}
}

// What a rule says uses only the facts it has declared, whatever happened: the
// page's texts rely on it.
func TestFactsAreDeclared(t *testing.T) {
	check := func(l Line) {
		for _, f := range l.Facts {
			assert.Contains(t, RuleFacts(l.Rule), f.Name, l.Rule)
			assert.Contains(t, []string{"", "Pa", "Pa/min", "%", "°", "°C", "V", "rpm", "ml", "mm", "N·m", "s", "min"}, f.Unit, l.Rule)
		}
	}
	for seed := range uint64(300) {
		r := Grade(anyInput(seed))
		for _, g := range r.Gates {
			check(g)
		}
		for _, row := range r.Rows {
			for _, l := range row.Lines {
				check(l)
			}
		}
	}
}

// Every rule can be kept and every rule can be missed: no line says the same to
// everybody. A rule that only applies in some attempts must have applied.
func TestEveryRuleBites(t *testing.T) {
	kept, missed := map[string]bool{}, map[string]bool{}
	note := func(l Line) {
		if l.Passed {
			kept[l.Rule] = true
		} else {
			missed[l.Rule] = true
		}
	}
	inputs := []Input{soundAttempt().in, valveAttempt().in, ringAttempt().in, newShop(bank4).in}
	mended := soundAttempt()
	mended.in.Record.Runs = append(mended.in.Record.Runs[:1:1], mended.in.Record.Runs...)
	mended.in.Record.Runs[0].ThrottleOpen = false
	inputs = append(inputs, mended.in)
	for _, s := range confirmedAttempts() {
		inputs = append(inputs, s.in)
	}
	for seed := range uint64(600) {
		inputs = append(inputs, anyInput(seed))
	}
	for _, in := range inputs {
		r := Grade(in)
		for _, g := range r.Gates {
			note(g)
		}
		for _, row := range r.Rows {
			for _, l := range row.Lines {
				note(l)
			}
		}
	}
	for _, n := range RuleNames() {
		assert.True(t, kept[n], "%s is never kept", n)
		assert.True(t, missed[n], "%s is never missed", n)
	}
}
