package diagnose

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/simtest"
	"crankbay/sim/unit"
)

// The printed limit chart: highest reading beside the lowest acceptable one. Our
// limit rounded to the chart's whole psi is the chart's; and what is printed is
// kept while one psi less is not.
func TestChart75Published(t *testing.T) {
	tab := simtest.Published(t, "limits-75-chart.csv")
	require.NotEmpty(t, tab.Rows)
	for i, r := range tab.Rows {
		high, low := r["highest_psi"], r["lowest_psi"]
		assert.InDeltaf(t, low, Allowed75(unit.PSI(high)).PSI(), tab.Unit(i, "lowest_psi")/2+1e-9, "%s: highest %g", tab.Source, high)
		assert.Truef(t, kept(RuleRatio75, high, low), "%s: %g/%g", tab.Source, high, low)
		assert.Falsef(t, kept(RuleRatio75, high, low-1), "%s: %g/%g", tab.Source, high, low-1)
	}
}

// The printed example of the other rule: 150 psi allows 105, and never under 100
// psi (690 kPa).
func TestExample70Published(t *testing.T) {
	tab := simtest.Published(t, "limits-70-example.csv")
	require.NotEmpty(t, tab.Rows)
	for i, r := range tab.Rows {
		high, low := r["highest_psi"], r["lowest_psi"]
		assert.InDelta(t, low, Allowed70(unit.PSI(high)).PSI(), tab.Unit(i, "lowest_psi")/2)
		assert.InDelta(t, r["least_kpa"], Allowed70(0).KPa(), tab.Unit(i, "least_kpa")/2)
		assert.InDelta(t, r["least_psi"], Allowed70(0).PSI(), tab.Unit(i, "least_psi"))
		assert.True(t, kept(RuleRatio70, high, low))
		assert.False(t, kept(RuleRatio70, high, low-1))
		assert.False(t, kept(RuleRatio70, r["least_psi"]+5, r["least_psi"]-1), "the absolute floor")
	}
}

// Altitude by the standard atmosphere: the limit falls with ambient pressure. The
// trade's own factors fall with density and differ by a few percent; the tables
// disagree, so we say which one is used.
func TestAltitudeDerived(t *testing.T) {
	tab := simtest.Derived(t, "altitude-pressure-ratio.csv")
	require.NotEmpty(t, tab.Rows)
	for i, r := range tab.Rows {
		l := Limits{Minimum: 1000e3}.AtAltitude(unit.Pressure(r["ratio"]) * StandardAtmosphere)
		assert.InDelta(t, r["ratio"]*1000, l.Minimum.KPa(), 1000*tab.Unit(i, "ratio")/2)
	}
	trade := simtest.Published(t, "altitude-trade-factors.csv")
	for _, r := range trade.Rows {
		for _, d := range tab.Rows {
			if r["altitude_ft"] == d["altitude_ft"] {
				assert.Greater(t, r["factor"], d["ratio"], "density falls more slowly than pressure")
				assert.InDelta(t, r["factor"], d["ratio"], 0.05)
			}
		}
	}
}

// kept applies one rule to two cylinders.
func kept(rule string, high, low float64) bool {
	for _, v := range (Limits{Rule: rule}).Verdicts(dial(bank4, []float64{high, low}, nil).Seen) {
		if v.Rule == rule {
			return v.Passed
		}
	}
	return false
}
