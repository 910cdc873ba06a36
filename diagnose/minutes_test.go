package diagnose

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMinutesOfATest(t *testing.T) {
	m := DefaultMinutes()
	assert.NoError(t, m.Validate())
	for _, test := range NextTests() {
		switch test {
		case "none", "charge_battery", "open_throttle", "back_pressure": // no test of this bench
			assert.Zero(t, m.Of(test, 4), test)
		default:
			assert.Positive(t, m.Of(test, 4), test)
			assert.GreaterOrEqual(t, m.Of(test, 8), m.Of(test, 4), test)
			assert.Equal(t, m.Of(test, 1), m.Of(test, 0), test)
		}
	}
	assert.Equal(t, 13.0, m.Of("leakage", 4), "5 and four times 2")
	assert.Zero(t, m.Of("guess", 4))
}

func TestMinutesNobodyBelieves(t *testing.T) {
	for _, bad := range []float64{0, -3, 481, math.NaN(), math.Inf(1)} {
		m := DefaultMinutes()
		m.Lash = bad
		assert.ErrorContains(t, m.Validate(), "minutes.lash")
		c := DefaultCard()
		c.Minutes = m
		assert.ErrorContains(t, c.Validate(), "minutes.lash")
	}
}
