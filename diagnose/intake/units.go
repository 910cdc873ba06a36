package intake

import (
	"strings"

	"crankbay/sim/unit"
)

// Units of pressure that readings come in.
const (
	PSI = "psi"
	KPa = "kPa"
	Bar = "bar"
	Kgf = "kgf/cm²" // technical atmosphere
	MPa = "MPa"
)

// pascalPerKgf is exact by definition: standard gravity (9.80665 m/s²) on a
// square centimetre.
const pascalPerKgf = 98066.5

// Pascal returns how many Pa one of a unit is; 0 for a unit that there isn't.
func Pascal(u string) float64 {
	switch u {
	case PSI:
		return unit.PascalPerPSI
	case KPa:
		return 1e3
	case Bar:
		return 1e5
	case Kgf:
		return pascalPerKgf
	case MPa:
		return 1e6
	}
	return 0
}

// What a unit is a unit of.
const (
	ofPressure = iota + 1
	ofSuction  // a pressure below ambient
	ofPercent
	ofSpeed
	ofVoltage
	ofTemperature
	ofLength
	ofHeight
	ofVolume
	ofAngle
	ofNothing // a bare number
)

// A measure is one way of writing a unit.
type measure struct {
	name  string // as understood; for pressures one of Units
	of    int
	scale float64 // to SI, or to the unit of the field
	shift float64 // added after scaling
	meant bool    // how it is written isn't quite a unit of this: it has to be told
}

// Units by how they are written.
var measures = func() map[string]measure {
	m := map[string]measure{}
	for _, row := range unitTable() {
		for _, w := range strings.Fields(row.written) {
			m[w] = row.measure
		}
	}
	return m
}()

// unitOf finds a unit by how it is written, lower case without accents or blanks.
func unitOf(text string) (measure, bool) {
	m, ok := measures[strings.TrimSuffix(text, ".")]
	return m, ok
}

type unitRow struct {
	written string
	measure
}

func unitTable() []unitRow {
	const feet, inch = 0.3048, 25.4 // exact
	return []unitRow{
		{"psi psig lb/in2 lbs/in2 lbf/in2 lb/sqin lb/pulg2 libras/pulgada2 lpc p.s.i", measure{PSI, ofPressure, unit.PascalPerPSI, 0, false}},
		{"lb lbs lbf pound pounds libra libras #", measure{PSI, ofPressure, unit.PascalPerPSI, 0, true}},
		{"kpa kpas kilopascal kilopascals", measure{KPa, ofPressure, 1e3, 0, false}},
		{"bar bars barg bares", measure{Bar, ofPressure, 1e5, 0, false}},
		{"kgf/cm2 kg/cm2 kgcm2 kgfcm2 kg/cm kgf/cm kp/cm2 at", measure{Kgf, ofPressure, pascalPerKgf, 0, false}},
		{"kg kgs kgf kilo kilos", measure{Kgf, ofPressure, pascalPerKgf, 0, true}},
		{"mpa megapascal megapascals", measure{MPa, ofPressure, 1e6, 0, false}},
		{"inhg in.hg", measure{"inHg", ofSuction, 3386.389, 0, false}},
		{"mmhg torr", measure{"mmHg", ofSuction, 133.322387415, 0, false}},
		{"cmhg", measure{"cmHg", ofSuction, 1333.22387415, 0, false}},
		{"mbar mb hpa", measure{"mbar", ofSuction, 100, 0, false}},
		{"% percent pct porciento", measure{"%", ofPercent, 1, 0, false}},
		{"rpm r/min 1/min", measure{"rpm", ofSpeed, 1, 0, false}},
		{"v volt volts voltios", measure{"V", ofVoltage, 1, 0, false}},
		{"c °c ºc degc", measure{"°C", ofTemperature, 1, 0, false}},
		{"f °f ºf degf", measure{"°F", ofTemperature, 1 / 1.8, -32 / 1.8, false}},
		{"mm", measure{"mm", ofLength, 1, 0, false}},
		{"in inch inches pulg pulgada pulgadas", measure{"in", ofLength, inch, 0, false}},
		{"m meter meters metre metres metro metros msnm", measure{"m", ofHeight, 1, 0, false}},
		{"ft feet foot pie pies", measure{"ft", ofHeight, feet, 0, false}},
		{"km", measure{"km", ofHeight, 1000, 0, false}},
		{"ml cc cm3", measure{"ml", ofVolume, 1, 0, false}},
		{"tbsp tablespoon tablespoons cucharada cucharadas", measure{"tbsp", ofVolume, 14.7868, 0, false}},
		{"tsp teaspoon teaspoons cucharadita cucharaditas", measure{"tsp", ofVolume, 4.92892, 0, false}},
		{"deg ° º degrees grados", measure{"°", ofAngle, 1, 0, false}},
	}
}

// A guess of the unit rests on the highest pressure written without one. The
// bounds lie where no other unit gives an engine that could be met: a sound
// gasoline engine reads 400–2,300 kPa at cranking (service documents from 57 psi,
// with a release, to 280 psi), a wet one somewhat more. Between them the number
// fits two units or none, and it is asked for. A dead engine can read lower in any
// unit; then the guess is wrong and, being told, is seen.
var guesses = []struct {
	low, high float64
	unit      string
}{
	{0.35, 2.4, MPa},
	{5, 18, Bar},
	{45, 330, PSI},
	{450, 2750, KPa},
}

// guess returns the unit that readings up to highest are in; empty when that
// can't be told.
func guess(highest float64) string {
	for _, g := range guesses {
		if highest >= g.low && highest <= g.high {
			return g.unit
		}
	}
	return ""
}
