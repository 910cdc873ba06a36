package sim

import (
	"math"

	"crankbay/sim/num"
)

// powerTable gives x^0.4 for positive finite x: exponent by table, mantissa by
// linear interpolation, within 1e-6 of num.Pow; a test holds that.
type powerTable struct {
	scale    [powerExponents]float64 // 2^(0.4·e)
	mantissa [powerCount + 1]float64 // m^0.4 for m in [1, 2]
}

const (
	powerCount     = 256
	powerExponents = 2048
	powerBias      = 1023
)

var power04 = newPowerTable()

func newPowerTable() *powerTable {
	t := &powerTable{}
	for k := range t.mantissa {
		t.mantissa[k] = num.Pow(1+float64(float64(k)/powerCount), 0.4)
	}
	for e := range t.scale {
		t.scale[e] = num.Pow(2, 0.4*float64(e-powerBias))
	}
	return t
}

func (t *powerTable) at(x float64) float64 {
	bits := math.Float64bits(x)
	e := bits >> 52 & (powerExponents - 1)
	m := float64((math.Float64frombits(bits&(1<<52-1)|powerBias<<52) - 1) * powerCount)
	k := min(int(m), powerCount-1)
	lo := t.mantissa[k]
	return t.scale[e] * (lo + float64((t.mantissa[k+1]-lo)*(m-float64(k))))
}

// hohenbergVolume is V^-0.06 over one turn, nodes one degree apart.
func hohenbergVolume(clearance float64, swept *volumeTable) *[volumeNodes + 1]float64 {
	t := &[volumeNodes + 1]float64{}
	for k := range t {
		t[k] = 130 * num.Pow(clearance+swept.node[k].volume, -0.06)
	}
	return t
}

// hohenbergSpeed returns the speed factor (Sp + 1.4)^0.8 for a mean piston
// speed Sp = stroke·|ω|/π [m/s].
func hohenbergSpeed(stroke, omega float64) float64 {
	x := power04.at(float64(stroke*math.Abs(omega))/math.Pi + 1.4)
	return x * x
}

// heatSpeed is hohenbergSpeed with the calibration factor.
func (e *Engine) heatSpeed(omega float64) float64 {
	return hohenbergSpeed(e.p.Stroke, omega) * e.p.Heat.Factor
}

// wallLoss returns the conductance from gas to walls [W/K].
//
// Hohenberg's correlation, with one calibration factor for all engines:
//
//	h = 130 · V^-0.06 · p^0.8 · T^-0.4 · (Sp + 1.4)^0.8   [W/(m²·K)]
//
// with V in m³, p in bar, T in K, Sp in m/s. The exposed area is head, crown and
// liner. No correlation is validated at cranking speed, and they differ 3.5-fold
// there: the factor is a calibrated parameter. Source: Hohenberg1979 (from memory).
func (e *Engine) wallLoss(c *cylinder, volume, pressure, temperature float64) float64 {
	bar := pressure * 1e-5
	h := c.hohenberg * power04.at(float64(bar*bar)/temperature)
	area := e.headArea + float64(volume*e.linerPerVolume)
	return h * area
}
