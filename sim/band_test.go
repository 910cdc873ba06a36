package sim

import (
	"maps"
	"math"
	"testing"

	"crankbay/sim/simtest"

	"github.com/stretchr/testify/assert"
)

// printed builds an engine from a row of printed geometry and intake closing,
// by one rule for all, fixed before the first comparison: intake cam parked at
// full retard, events at EventLift, an intake event of 245°, rod 1.65 × stroke,
// seats 0.37 and 0.32 of the bore, lift a tenth of it; everything else is
// Reference, heat factor 1 and ring area included.
func printed(row simtest.Row) Params {
	p := Reference()
	bore, stroke := row["bore_mm"]*mm, row["stroke_mm"]*mm
	p.Bore, p.Stroke, p.Rod, p.Compression = bore, stroke, 1.65*stroke, row["ratio"]
	p.Intake.Diameter, p.Intake.Lift = 0.37*bore, 0.1*bore
	p.Exhaust.Diameter, p.Exhaust.Lift = 0.32*bore, 0.1*bore
	p.Intake.Closes = (540 + row["ivc_retard_deg"]) * deg
	p.Intake.Opens = p.Intake.Closes - 245*deg
	return p
}

// Engines with printed timing and a printed cranking specification. Two of
// three lie inside their bands over the whole printed speed range. The third, a
// high-ratio engine whose intake closes 103° after BDC at full retard, reads 1 to 15
// psi under its band. It is held to what the rule gives, not fitted.
func TestPrintedBands(t *testing.T) {
	table := simtest.Published(t, "engines-printed-timing.csv")
	inside := 0
	for i, row := range table.Rows {
		low, high := printedRange(t, row)
		t.Logf("%-22s %5.1f to %5.1f psi, printed %g to %g", table.Names[i], low, high, row["low_psi"], row["high_psi"])
		if low >= row["low_psi"] && high <= row["high_psi"] {
			inside++
		}
	}
	assert.Equal(t, 2, inside)
}

// printedRange returns the lowest and highest reading over the printed speeds [psi].
func printedRange(t *testing.T, row simtest.Row) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, rpm := range []float64{row["low_rpm"], 250, row["high_rpm"]} {
		got := testCylinder(rig(t, printed(row), 1, PlugOut), 1, rpm*turn/60).final.PSI()
		low, high = min(low, got), max(high, got)
	}
	return low, high
}

// How much hangs on where the third engine's phaser stands while it cranks, which the
// source does not print: 3 psi and more for each degree. It swings 78°, where the
// others swing 52° and 55°, and a phaser that swings so far is likely locked for
// starting somewhere on its way (common practice, no source). Full retard is under
// the band, 90 to 95° after BDC is inside it at every speed, 80° is over it: so the
// engine neither proves the model nor refutes it.
func TestThirdBandHangsOnThePhaser(t *testing.T) {
	table := simtest.Published(t, "engines-printed-timing.csv")
	row := maps.Clone(table.Rows[2])
	at := func(closes float64) (low, high float64) {
		row["ivc_retard_deg"] = closes
		return printedRange(t, row)
	}
	full, fullHigh := at(103)
	assert.Less(t, fullHigh, row["low_psi"])
	assert.InDelta(t, 15, row["low_psi"]-full, 2)
	before := full
	for _, closes := range []float64{95, 90} {
		low, high := at(closes)
		assert.GreaterOrEqual(t, low, row["low_psi"], "%g°", closes)
		assert.LessOrEqual(t, high, row["high_psi"], "%g°", closes)
		assert.Greater(t, low, before, "closing earlier reads higher")
		before = low
	}
	low, high := at(80)
	assert.Greater(t, low, row["high_psi"])
	assert.Greater(t, (low-full)/(103-80), 2.5, "psi per degree")
	assert.Less(t, high, 1.15*row["high_psi"])
}

// Reading against ambient pressure at equal temperature and speed: it follows
// the pressure ratio, not the density ratio of the trade's tables, because the
// charge has the same temperature. Wall loss and rings take a constant share.
func TestAltitudeDerived(t *testing.T) {
	read := func(ambient float64) float64 {
		p := Reference()
		p.Ambient = ambient
		return float64(testCylinder(rig(t, p, 1, PlugOut), 1, 26).final)
	}
	sea := read(101325)
	for _, row := range simtest.Derived(t, "altitude-pressure-ratio.csv").Rows {
		assert.InEpsilon(t, row["ratio"], read(101325*row["ratio"])/sea, 0.015, "%g ft", row["altitude_ft"])
	}
	rule := simtest.Published(t, "altitude-rule.csv")
	for i, row := range rule.Rows { // whole psi, "about"; the pressure there by the standard atmosphere
		want := row["there_psi"] / row["sea_psi"]
		assert.InDelta(t, want, read(101325*0.8321)/sea, rule.Unit(i, "there_psi")/row["sea_psi"])
	}
	trade := simtest.Published(t, "altitude-trade-factors.csv")
	for _, row := range trade.Rows {
		if row["altitude_ft"] == 5000 {
			assert.Greater(t, row["factor"], read(101325*0.8321)/sea+0.02, "the trade's table is milder")
		}
	}
}
