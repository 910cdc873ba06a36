package instrument

import "math"

// The leakage tester: air through a 1.0 mm (0.040 in) bore. The bore is that of the
// differential test of aircraft practice; that its approach lets it pass 0.80 of
// its area is judgement, and a tester with another restrictor shows another
// percentage.
const (
	TesterBoreMM      = 1.016                                                                // of the restrictor [mm]
	TesterCoefficient = 0.80                                                                 // effective ÷ geometric area [-]
	TesterArea        = TesterCoefficient * math.Pi / 4 * TesterBoreMM * TesterBoreMM * 1e-6 // Cd·A [m²]
	TesterGraduation  = 1.0                                                                  // half a division of its percent dial [%]
)

// TesterPercent returns what a person reads off the tester [%]: the share of the
// supply that the cylinder does not hold, to TesterGraduation. Both are [Pa gauge],
// the supply above 0.
func TesterPercent(supply, held float64) float64 {
	lost := float64(100 * (1 - held/supply))
	return TesterGraduation * math.Floor(lost/TesterGraduation+0.5)
}
