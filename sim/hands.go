package sim

import (
	"fmt"
	"math"

	"crankbay/sim/num"
)

// Params returns what the engine was built from.
func (e *Engine) Params() Params { return e.p }

// SetPlug screws something into or out of the plug hole of cyl, numbered from 1.
// Fitting the gauge takes it from the cylinder it was on, whose hole stays open.
func (e *Engine) SetPlug(cyl int, s PlugState) {
	c := &e.cyl[cyl-1]
	if e.hose.cylinder == cyl && s != PlugGauge {
		e.hose.cylinder = 0
	}
	if s == PlugGauge {
		if old := e.hose.cylinder; old != 0 && old != cyl {
			e.SetPlug(old, PlugOut)
		}
		e.hose.cylinder = cyl
	}
	if s == PlugAir {
		for i := range e.p.Cylinders {
			if e.cyl[i].plug == PlugAir && i != cyl-1 {
				e.SetPlug(i+1, PlugOut)
			}
		}
	}
	c.plug = s
	c.clearance = e.swept/(e.p.Compression-1) - c.params.Deposit
	if s == PlugGauge {
		c.clearance += e.p.Gauge.AdapterVolume
	}
	e.resize(c)
	e.wire()
}

// SetAir sets the leakage tester: supply pressure over ambient [Pa], as regulated,
// and the effective area of its restrictor Cd·A [m²]. What the tester's gauge
// shows is the pressure in the cylinder.
func (e *Engine) SetAir(supply, area float64) {
	e.air = newSide(e.p.Ambient+max(0, supply), e.p.AmbientTemperature)
	e.airArea = max(0, area)
	e.wire()
}

// resize fits a new clearance or oil volume to the gas at its present pressure:
// what no longer fits leaves, what is missing comes in.
func (e *Engine) resize(c *cylinder) {
	before := c.volume
	e.place(c)
	share := c.volume / before
	c.mass *= share
	c.energy *= share
}

// Plug returns what is in the plug hole of cyl, numbered from 1.
func (e *Engine) Plug(cyl int) PlugState { return e.cyl[cyl-1].plug }

// SetLash sets the clearance of the intake or exhaust valves of cyl, numbered from 1, over
// (+) or under (-) specification [m], [-0.002, 0.005].
func (e *Engine) SetLash(cyl int, intake bool, lash float64) {
	q := &e.p.Cylinder[cyl-1]
	if intake {
		q.IntakeLash = lash
	} else {
		q.ExhaustLash = lash
	}
	e.setValves(cyl - 1)
	e.cyl[cyl-1].setHeld(&e.p, e.coolant)
}

// SetGauge puts another gauge or adapter on the bench. The gas in the hose goes
// with the old one.
func (e *Engine) SetGauge(g GaugeParams) {
	e.p.Gauge = g
	e.hose.settle(e)
	if e.hose.cylinder != 0 {
		e.SetPlug(e.hose.cylinder, PlugGauge)
	}
}

// Angle of a throttle plate in its stop; the bore is then shut but for IdleArea.
const throttleStop = 7 * math.Pi / 180

// SetThrottle opens the plate from 0, on its stop, to 1, wide open, by the share
// of its angle.
func (e *Engine) SetThrottle(open float64) {
	e.throttle = min(max(open, 0), 1)
	e.plenum.throttle = e.throttleArea()
}

// throttleArea returns Cd·A past the plate [m²]:
//
//	A = idle + open·(1 - cos ψ/cos ψ0)
//
// with the plate at ψ from the closed bore. Source: Heywood1988 §7.6 (from memory),
// without the shaft.
func (e *Engine) throttleArea() float64 {
	angle := throttleStop + float64((math.Pi/2-throttleStop)*e.throttle)
	share := 1 - num.Cos(angle)/num.Cos(throttleStop)
	return e.p.IdleArea + float64(e.p.ThrottleArea*share)
}

// SetCharger connects or disconnects the charger.
func (e *Engine) SetCharger(on bool) { e.battery.charger = on }

// AddOil pours a volume of oil [m³] onto the piston of cyl.
func (e *Engine) AddOil(cyl int, volume float64) {
	c := &e.cyl[cyl-1]
	c.oil += max(0, volume)
	e.resize(c)
}

// Wash takes the share [0, 1] of the oil film of cyl away, as raw fuel does.
func (e *Engine) Wash(cyl int, share float64) {
	c := &e.cyl[cyl-1]
	keep := 1 - min(max(share, 0), 1)
	c.film *= keep
	c.excess *= keep
}

// coolingTime is how long a warm engine block takes to lose 1 - 1/e of its
// warmth to still air [s] (common practice, no source: about two hours).
const coolingTime = 7200

// Stand lets a time [s] pass with the crank at rest, in one jump: films drain,
// oil runs down, the battery recovers, the block cools, and gas in every
// cylinder is back at ambient pressure and wall temperature. A jump of n + m is
// not bitwise two jumps. A crank that still moves is stopped.
func (e *Engine) Stand(seconds float64) {
	if !(seconds > 0) {
		return
	}
	e.stop()
	e.standFilm(seconds)
	e.battery.stand(e, seconds)
	away := float64((e.coolant - e.p.AmbientTemperature) * num.Exp(-seconds/coolingTime))
	e.coolant = e.p.AmbientTemperature + away
	e.sides()
	e.settleGas()
	e.plenum.fill(e.p.Ambient, e.p.AmbientTemperature)
	e.plenum.port = e.plenum.side()
	e.hose.stand(e, seconds)
}

// stop brings crank and starter to rest.
func (e *Engine) stop() {
	e.speed, e.gain, e.ahead = 0, 0, 0
	e.starter = starter{}
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		c.torque = 0
	}
}

// stand cools the held gas to ambient and lets it leak down.
//
// Isothermal choked flow through a leak empties a volume exponentially; nearer
// to ambient pressure it is slower than this, which only matters below 1 bar.
func (g *hose) stand(e *Engine, seconds float64) {
	q := &e.p.Gauge
	own := g.side()
	pressure := own.pressure * e.p.AmbientTemperature / own.temperature
	root := math.Sqrt(gasConstant * e.p.AmbientTemperature)
	rate := (q.ValveLeak + q.ReleaseLeak) * root * psiChoke / g.volume
	above := pressure - e.p.Ambient
	g.fill(e.p.Ambient+float64(above*num.Exp(-rate*seconds)), e.p.AmbientTemperature)
	g.inside = g.side()
}

// Vent empties the hose through the release until it is at ambient pressure.
func (e *Engine) Vent() {
	e.hose.fill(e.p.Ambient, e.p.AmbientTemperature)
	e.hose.inside = e.hose.side()
}

// SetCoolant brings block, walls and oil to a temperature [K], as minutes of
// idling do. The films are then what turning keeps up, dry bores are oiled and a
// flake on a seat is gone.
func (e *Engine) SetCoolant(kelvin float64) {
	e.coolant = min(max(kelvin, 230), 400)
	e.sides()
	e.settleGas()
	for i := range e.p.Cylinders {
		c := &e.cyl[i]
		c.film, c.dry, c.flake = 1, 0, 0
	}
}

// SetAngle turns the crank by hand to an angle [rad], slowly, so that the gas
// stays at ambient pressure.
func (e *Engine) SetAngle(rad float64) {
	e.stop()
	e.angle = math.Mod(math.Mod(rad, cycle)+cycle, cycle)
	e.settleGas()
}

// TurnFilms gives the rings what turning the crank by hand through angle [rad]
// gives them, without moving anything else.
func (e *Engine) TurnFilms(angle float64) { e.turnFilm(max(0, angle)) }

func (e *Engine) describe(i int) string {
	c := &e.cyl[i]
	return fmt.Sprintf("tick %d: cylinder %d: gas %g kg with %g J at crank angle %g rad, %g rad/s",
		e.tick, i+1, c.mass, c.energy, e.angle, e.speed)
}
