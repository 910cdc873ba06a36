package book_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/diagnose"
	"crankbay/scenarios"
)

// Whoever tests by the card, dry and wet, and reads the dial honestly must be
// able to reach the key of every scenario: the readings point to it.
func TestReadingsAllowTheKey(t *testing.T) {
	for i, s := range scenarios.Catalogue() {
		r := byCard()[i]
		e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, r.Record, r.Record.Tick+1)
		j := diagnose.Judge(e, s.Card.Limits, true)
		said := j.Supported
		if s.ID == "timing-early-inline-four" {
			said = j.Open // a gauge alone cannot tell it from carbon
		}
		assert.True(t, names(said, s.Key), "%s: %s %v supports %v, leaves open %v", s.ID, j.Pattern, j.Suspects, j.Supported, j.Open)
	}
}

// names tells whether one of the findings is the key or as good as it.
func names(list []diagnose.Finding, k diagnose.Key) bool {
	good := append([]diagnose.Finding{{Family: k.Family, Cylinders: k.Cylinders}}, k.Accept...)
	for _, f := range list {
		for _, g := range good {
			if f.Family == g.Family && (len(f.Cylinders) == 0 || len(g.Cylinders) == 0 || slices.Equal(f.Cylinders, g.Cylinders)) {
				return true
			}
		}
	}
	return false
}
