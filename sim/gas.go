package sim

import (
	"math"

	"crankbay/sim/num"
)

// gasConstant is that of dry air [J/(kg·K)], from the molar masses and mole
// fractions below and the molar gas constant (CODATA 2018, exact, from memory).
var gasConstant = molarGasConstant / molarMassAir

const molarGasConstant = 8.31446261815324 // [J/(mol·K)]

// species is one row of the NASA nine-constant form, lower temperature range.
type species struct {
	share float64 // mole fraction in dry air [-]
	mass  float64 // [kg/mol]
	a     [7]float64
}

// Coefficients valid 200–1000 K. Source: McBrideZeheGordon2002; CO2 is counted
// as argon.
var airSpecies = [3]species{
	{0.78084, 0.0280134, [7]float64{2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3, 1.384646189e-5, -9.625793620e-9, 2.519705809e-12}},
	{0.20946, 0.0319988, [7]float64{-3.425563420e4, 4.847000970e2, 1.119010961, 4.293889240e-3, -6.836300520e-7, -2.023372700e-9, 1.039040018e-12}},
	{0.00970, 0.039948, [7]float64{0, 0, 2.5, 0, 0, 0, 0}},
}

var (
	molarMassAir = mixMass()
	airFit       = mixFit()
)

func mixMass() float64 {
	sum := 0.0
	for _, s := range airSpecies {
		sum += float64(s.share * s.mass)
	}
	return sum
}

func mixFit() (fit [7]float64) {
	for _, s := range airSpecies {
		for k := range fit {
			fit[k] += float64(s.share * s.a[k])
		}
	}
	return fit
}

// Range of the published fit; outside it cp keeps the value at the end [K].
const (
	fitTemperatureMin = 200.0
	fitTemperatureMax = 1000.0
)

// specificHeat returns cp of dry air [J/(kg·K)] at temperature t [K]:
//
//	cp/R = a1·T⁻² + a2·T⁻¹ + a3 + a4·T + a5·T² + a6·T³ + a7·T⁴
//
// Below 200 K and above 1000 K it stays at the value of that end.
// Source: McBrideZeheGordon2002.
func specificHeat(t float64) float64 {
	t = min(max(t, fitTemperatureMin), fitTemperatureMax)
	a := &airFit
	poly := a[6]
	for k := 5; k >= 2; k-- {
		poly = float64(poly*t) + a[k]
	}
	return float64(gasConstant * (poly + a[1]/t + a[0]/float64(t*t)))
}

// enthalpyRaw is the integral of cp from an arbitrary zero [J/kg], inside the fit.
func enthalpyRaw(t float64) float64 {
	a := &airFit
	poly := a[6] / 5
	for k := 5; k >= 2; k-- {
		poly = float64(poly*t) + a[k]/float64(k-1)
	}
	return float64(gasConstant * (float64(poly*t) + float64(a[1]*num.Log(t)) - a[0]/t))
}

// energyZero makes the internal energy of air zero at 0 K in the sense that a
// gas with the cp of 200 K all the way down would have; it keeps u positive.
var energyZero = enthalpyRaw(fitTemperatureMin) - float64(specificHeat(fitTemperatureMin)*fitTemperatureMin)

// enthalpy returns the specific enthalpy of dry air [J/kg] at t [K].
func enthalpy(t float64) float64 {
	inside := min(max(t, fitTemperatureMin), fitTemperatureMax)
	return enthalpyRaw(inside) - energyZero + float64(specificHeat(t)*(t-inside))
}

// energy returns the specific internal energy u = h - R·T [J/kg] at t [K].
func energy(t float64) float64 { return enthalpy(t) - float64(gasConstant*t) }

// The inverse T(u) is a table over equal steps of u. Linear interpolation in it
// is within 3e-4 K of the inverse by iteration between 150 K and 1300 K, and 1/√(R·T)
// within 1.5e-5 of its value above 250 K; a test holds that.
const (
	inverseCount          = 1024
	inverseTemperatureMin = 120.0
	inverseTemperatureMax = 2500.0
)

var (
	inverseEnergyMin   = energy(inverseTemperatureMin)
	inverseEnergyStep  = (energy(inverseTemperatureMax) - inverseEnergyMin) / inverseCount
	inverseEnergyScale = 1 / inverseEnergyStep
	inverseTable       = invertEnergy()
)

// An inverseNode is what follows from the energy.
type inverseNode struct{ t, perRoot float64 } // [K], [s/m]

func invertEnergy() (table [inverseCount + 1]inverseNode) {
	t := inverseTemperatureMin
	for k := range table {
		u := inverseEnergyMin + float64(float64(k)*inverseEnergyStep)
		for range 30 { // Newton; cv is smooth and positive
			step := (u - energy(t)) / (specificHeat(t) - gasConstant)
			t += step
			if math.Abs(step) < 1e-11 {
				break
			}
		}
		table[k] = inverseNode{t, 1 / math.Sqrt(gasConstant*t)}
	}
	return table
}

// temperature returns T [K] of dry air with specific internal energy u [J/kg].
// Outside the table it is extrapolated from the last interval.
func temperature(u float64) float64 {
	t, _ := thermal(u)
	return t
}

// thermal returns T [K] and 1/√(R·T) [s/m] of dry air with specific internal
// energy u [J/kg].
func thermal(u float64) (t, perRoot float64) {
	x := float64((u - inverseEnergyMin) * inverseEnergyScale)
	k := 0
	switch {
	case x >= inverseCount:
		k = inverseCount - 1
	case x > 0: // false for NaN: check() reports it
		k = int(x)
	}
	lo, hi := &inverseTable[k], &inverseTable[k+1]
	x -= float64(k)
	return lo.t + float64((hi.t-lo.t)*x), lo.perRoot + float64((hi.perRoot-lo.perRoot)*x)
}
