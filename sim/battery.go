package sim

import "crankbay/sim/num"

// A battery is six lead-acid cells: rest voltage by charge, resistance by
// temperature, charge and age, and one polarisation voltage.
type battery struct {
	charge       float64 // state of charge [-]
	polarisation float64 // [V], against the current
	terminal     float64 // at the posts [V]
	current      float64 // out of the battery [A]
	charger      bool
	full         float64 // resistance when full, at this temperature [Ω]
	ohms         float64 // 30 s resistance at the present charge [Ω]
}

const (
	// Rest voltage 11.89 V flat to 12.65 V full at 27 °C, straight between.
	// Source: BCI figures (from memory), inside the five versions of RestVoltage.
	restVoltageFlat = 11.89
	restVoltageFull = 12.65
	restReference   = 300.15 // [K]
	// Falls 0.13 V to 0 °F. Source: NutsVolts2011.
	restPerKelvin = 0.13 / 45

	ccaTemperature = 255.15 // [K], -18 °C
	ccaVoltage     = 7.2    // [V] after 30 s at the rated current. Source: SAEJ537.
	ccaSeconds     = 30.0

	// Resistance doubles from 25 °C to -18 °C, between the 1.4 of a weak battery
	// in the load-test tables and what a fresh one does (from memory).
	coldResistanceFactor = 2.0
	coldReference        = 298.15 // [K]

	polarisationShare = 0.4 // of the 30 s resistance (from memory)
	polarisationTime  = 6.0 // [s] (from memory)
)

// restVoltage returns the open-circuit voltage [V] at charge [-] and temperature [K].
func restVoltage(charge, kelvin float64) float64 {
	v := restVoltageFlat + float64((restVoltageFull-restVoltageFlat)*charge)
	return v - float64(restPerKelvin*(restReference-kelvin))
}

// coldFactor returns resistance at a temperature [K] ÷ resistance at 25 °C.
func coldFactor(kelvin float64) float64 {
	rate := num.Log(coldResistanceFactor) / (coldReference - ccaTemperature)
	return num.Exp(rate * (coldReference - kelvin))
}

// chargeFactor returns how much a discharged battery's resistance grows: the
// cranking power left falls about as the charge does (TM51185).
func chargeFactor(charge float64) float64 { return 1 / (0.25 + float64(0.75*charge)) }

// batteryResistance returns the 30 s resistance [Ω] at the posts, ohmic and
// polarisation together, from the CCA definition:
//
//	R(-18 °C, full) = (Vrest(-18 °C) - 7.2)/CCA
func batteryResistance(b *BatteryParams, charge, kelvin float64) float64 {
	atCCA := (restVoltage(1, ccaTemperature) - ccaVoltage) / b.CCA
	return atCCA * coldFactor(kelvin) / coldResistanceFactor * chargeFactor(charge) * b.AgeFactor
}

// ohmicShare makes the sum of the ohmic part and the polarisation after 30 s
// equal to batteryResistance.
func ohmicShare() float64 {
	return 1 - float64(polarisationShare*(1-num.Exp(-ccaSeconds/polarisationTime)))
}

var ohmic = ohmicShare()

func (b *battery) reset(p *Params) {
	b.full = batteryResistance(&p.Battery, 1, p.AmbientTemperature)
	b.setCharge(p.Battery.Charge)
	b.terminal = restVoltage(b.charge, p.AmbientTemperature)
}

// setCharge brings what follows from the charge up to date with it.
func (b *battery) setCharge(charge float64) {
	b.charge = min(max(charge, 0), 1)
	b.ohms = b.full * chargeFactor(b.charge)
}

// source returns the voltage behind the ohmic resistance [V] and that resistance [Ω].
func (b *battery) source(e *Engine) (volts, ohms float64) {
	return restVoltage(b.charge, e.p.AmbientTemperature) - b.polarisation, float64(b.ohms * ohmic)
}

// step advances polarisation and charge by h seconds under the present current.
func (b *battery) step(e *Engine, h float64) {
	aim := float64(b.current * b.ohms * polarisationShare)
	b.polarisation += float64((aim - b.polarisation) * h / polarisationTime)
	b.setCharge(b.charge - float64(b.current*h)/e.p.Battery.Capacity)
}

// stand rests the battery for a time [s]; a charger fills it.
func (b *battery) stand(e *Engine, seconds float64) {
	b.polarisation *= num.Exp(-seconds / polarisationTime)
	b.current = 0
	if b.charger {
		b.setCharge(b.charge + float64(e.p.Battery.ChargerAmps*seconds)/e.p.Battery.Capacity)
	}
	b.terminal = restVoltage(b.charge, e.p.AmbientTemperature) - b.polarisation
}
