package reason_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/diagnose/reason"
)

// However the examples of a family lie, they weigh 1 on average: also where all lie in
// bands that are never met.
func TestWeightsAreOneOnAverage(t *testing.T) {
	for _, shares := range [][]float64{{0.1}, {0.1, 0.5, 0.7}, {0.01, 0.5, 0.98, 0.99, 1.2}, {1, 1, 1, 1}} {
		for _, family := range []string{reason.ExhaustDead, reason.WornRings, reason.OneOff, reason.ExhaustLeak} {
			sum := 0.0
			for _, w := range reason.Weights(family, shares...) {
				assert.Positive(t, w, "%s %v", family, shares)
				sum += w
			}
			assert.InDelta(t, len(shares), sum, 1e-9, "%s %v", family, shares)
		}
	}
}
