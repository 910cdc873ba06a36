package scenarios

import "crankbay/sim/num"

// standardPressure returns the pressure of the standard atmosphere [Pa] at a
// height [m] of the troposphere:
//
//	p = 101325 · (1 - 0.0065·h/288.15)^5.25588
//
// Source: the standard atmosphere (USStandardAtmosphere1976).
func standardPressure(metres float64) float64 {
	const seaLevel, lapse, sea, exponent = 101325, 0.0065, 288.15, 5.25588
	return seaLevel * num.Pow(1-float64(lapse/sea*metres), exponent)
}
