// Package unit names the few physical quantities that cross a package
// boundary. Every value is stored in the coherent SI unit given in its comment.
// Anything else (bar, psi, degrees, rpm) exists only as an explicit conversion.
package unit

type (
	// Pressure is an absolute pressure in Pa. It is never negative.
	Pressure float64
	// Gauge is a pressure in Pa relative to ambient, as a dial shows it.
	Gauge float64
	// Angle is in rad. For the crank, 0 is TDC at the end of compression
	// of cylinder 1 and one working cycle spans [0, 4π).
	Angle float64
	// Kelvin is a thermodynamic temperature in K.
	Kelvin float64
)

// Exact by definition: the international pound-force and inch (NIST SP 811,
// appendix B, from memory) and the zero of the Celsius scale.
const (
	PascalPerPSI  = 6894.757293168361
	pascalPerBar  = 1e5
	celsiusZero   = 273.15
	radPerDegree  = 3.14159265358979323846264338327950288 / 180
	rpmPerRadPerS = 60 / (2 * 3.14159265358979323846264338327950288)
)

// PSI makes a gauge pressure from pounds-force per square inch.
func PSI(psi float64) Gauge { return Gauge(float64(psi * PascalPerPSI)) }

// Gauge returns p relative to ambient.
func (p Pressure) Gauge(ambient Pressure) Gauge { return Gauge(p - ambient) }

// PSI returns g in pounds-force per square inch.
func (g Gauge) PSI() float64 { return float64(g) / PascalPerPSI }

// Bar returns g in bar.
func (g Gauge) Bar() float64 { return float64(g) / pascalPerBar }

// KPa returns g in kilopascal.
func (g Gauge) KPa() float64 { return float64(g) / 1000 }

// Degrees makes an angle from degrees.
func Degrees(deg float64) Angle { return Angle(float64(deg * radPerDegree)) }

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a) / radPerDegree }

// Celsius makes a temperature from degrees Celsius.
func Celsius(c float64) Kelvin { return Kelvin(c + celsiusZero) }

// Celsius returns k in degrees Celsius.
func (k Kelvin) Celsius() float64 { return float64(k) - celsiusZero }

// RPM returns an angular speed given in rad/s as revolutions per minute.
func RPM(radPerSecond float64) float64 { return float64(radPerSecond * rpmPerRadPerS) }
