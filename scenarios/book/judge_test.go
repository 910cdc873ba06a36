package book_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/diagnose"
	"crankbay/scenarios"
)

// notByGauge lists scenarios that dry and wet readings alone leave open or call by a
// wrong name, with the test that settles them. Each has its row among the look-alikes.
var notByGauge = map[string]string{
	"holed-piston-turbo":          "leakage: air at the oil filler",
	"scored-bore-inline-three":    "leakage: air at the oil filler though oil gains nothing",
	"broken-land-turbo":           "leakage: air at the oil filler though it passes",
	"worn-rings-flat-four":        "leakage: oil does not reach the ring",
	"cracked-head-v8-twin-cam":    "cooling system: it falls",
	"gasket-outside-single":       "leakage: air along the edge; a release hides it from the gauge",
	"gauge-reads-low-v6":          "second gauge",
	"needle-wanders-v8-twin-cam":  "second gauge",
	"pushrod-off-old-inline-four": "lash and current: the one puff stood in the cylinder",
	"dead-exhaust-v8":             "current: an extra hump",
	"worn-lobe-v8":                "running compression",
	"tight-lash-mountain":         "lash: it closes as the engine cools, which looks like a gain by oil",
	"bank-tight-flat-four":        "lash, or leakage",
	"washed-inline-six":           "plugs wet with fuel, first strokes not low",
}

// Whoever tests by the card, dry and wet, and reads the dial honestly must be able to
// reach the key of every other scenario: the readings point to it.
func TestReadingsAllowTheKey(t *testing.T) {
	for id := range notByGauge {
		assert.NotNil(t, scenarios.Find(id), id)
	}
	for i, s := range scenarios.Catalogue() {
		if notByGauge[s.ID] != "" {
			continue
		}
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
