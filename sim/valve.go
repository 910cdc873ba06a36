package sim

import "math"

// EventLift is the valve lift at which the opening and closing angles of an
// engine are understood [m]: 0.15 mm (0.006 in). Duration "advertised" by cam
// makers is counted from there (SAE J604, from memory). Service documents
// seldom say; this rule and the one below were fixed before any comparison with
// printed bands. A phaser stands where it is parked without oil pressure: intake
// fully late, exhaust fully early (common practice, no source).
const EventLift = 0.15e-3

// Discharge: curtain area times 0.7 at low lift, and never more than 0.62 of
// the seat's bore. Source: the band 0.5–0.8 of Heywood1988 §6.3.2 (from memory);
// thin ice below 0.1 of the diameter.
const (
	curtainCoefficient = 0.70
	throatCoefficient  = 0.62
)

// A lobe is the motion of one valve group over the working cycle.
type lobe struct {
	centre float64 // crank angle of maximum lift after compression TDC [rad], in [-2π, 2π)
	half   float64 // from the centre to where the valve seats [rad]
	lift   float64 // [m]
}

// newLobe shapes a lift curve that passes EventLift at both event angles:
//
//	lift = max·(1 - x²)²        x = (angle - centre)/half
//
// so the valve seats a few degrees outside its events with zero speed.
func newLobe(v *ValveParams, share, shift float64) lobe {
	l := lobe{centre: wrap(float64((v.Opens+v.Closes)/2) + shift), lift: v.Lift * share}
	edge := math.Sqrt(1 - math.Sqrt(EventLift/v.Lift))
	l.half = (v.Closes - v.Opens) / 2 / edge
	return l
}

// at returns the lift [m] at crank angle a [rad] in [-2π, 2π).
func (l *lobe) at(a float64) float64 {
	x := wrap(a-l.centre) / l.half
	rest := 1 - float64(x*x)
	if rest <= 0 {
		return 0
	}
	return l.lift * rest * rest
}

// SeatGap returns Cd·A [m²] past n valves of seat diameter d [m] held lift [m]
// off their seats.
func SeatGap(n int, d, lift float64) float64 { return flowArea(n, d, lift) }

// flowArea returns Cd·A [m²] of n valves of diameter d [m] at lift [m]:
//
//	A = Ac·At/√(Ac² + At²)    Ac = 0.70·π·d·lift    At = 0.62·π/4·d²
func flowArea(n int, d, lift float64) float64 {
	curtain := curtainCoefficient * math.Pi * d * lift
	throat := throatCoefficient * math.Pi / 4 * d * d
	if curtain <= 0 {
		return 0
	}
	both := float64(curtain*curtain) + float64(throat*throat)
	return float64(n) * curtain * throat / math.Sqrt(both)
}

// An areaTable is flowArea over half a lobe: node 0 at maximum lift, the last
// where the valve seats. Lifts are symmetric about the centre.
type areaTable struct {
	area  [areaNodes + 1]float64
	scale float64 // nodes per rad
	key   [2]float64
}

const areaNodes = 256

// newAreaTable tabulates a lobe that a clearance over specification shortens by
// loose [m].
func newAreaTable(v *ValveParams, l *lobe, loose float64) *areaTable {
	t := &areaTable{scale: areaNodes / l.half, key: [2]float64{l.lift, loose}}
	for k := range t.area {
		x := float64(k) / areaNodes
		rest := 1 - float64(x*x)
		t.area[k] = flowArea(v.Count, v.Diameter, max(0, float64(l.lift*rest*rest)-loose))
	}
	return t
}

// at returns Cd·A [m²] at a distance [rad] from the centre of the lobe.
func (t *areaTable) at(distance float64) float64 {
	x := float64(math.Abs(distance) * t.scale)
	if !(x < areaNodes) {
		return 0
	}
	k := int(x)
	lo := t.area[k]
	return lo + float64((t.area[k+1]-lo)*(x-float64(k)))
}

// A valveGroup is the intake or exhaust valves of one cylinder.
type valveGroup struct {
	lobe
	loose float64    // lift lost to clearance [m]
	table *areaTable // Cd·A over the lobe
	held  float64    // Cd·A at which clearance under specification holds it open [m²]
	seat  float64    // Cd·A past the seat when shut [m²]
}

// Clearance that a specification leaves at 85 °C, and how it shrinks as the
// valve grows with heat (from memory of what makers print for solid lifters:
// 0.1 mm less hot than cold on the exhaust side).
const (
	lashReserve     = 0.08e-3 // [m]
	lashPerKelvin   = 1.0e-6  // [m/K]
	lashTemperature = 358.15  // [K]
)

// hold returns how far clearance under specification keeps a valve off its seat
// [m] at a temperature [K].
func hold(lash, kelvin float64) float64 {
	reserve := max(0, lashReserve-float64(lashPerKelvin*(kelvin-lashTemperature)))
	return max(0, -lash-reserve)
}

// setValves builds both valve groups of cylinder i.
func (e *Engine) setValves(i int) {
	c, q := &e.cyl[i], &e.p.Cylinder[i]
	bentIn, bentEx := e.bent(c)
	c.intake.set(e, i, &e.p.Intake, q.IntakeLash, q.IntakeSeatArea+bentIn, true)
	c.exhaust.set(e, i, &e.p.Exhaust, q.ExhaustLash, q.ExhaustSeatArea+bentEx, false)
}

// set finds the area table of an earlier cylinder with the same lift, or makes one.
func (g *valveGroup) set(e *Engine, i int, v *ValveParams, lash, seat float64, intake bool) {
	g.seat, g.loose = seat, max(0, lash)
	g.table = nil
	for k := range i {
		other := &e.cyl[k].exhaust
		if intake {
			other = &e.cyl[k].intake
		}
		if other.table.key == [2]float64{g.lift, g.loose} {
			g.table = other.table
			return
		}
	}
	g.table = newAreaTable(v, &g.lobe, g.loose)
}

// bent returns what valves that piston and cam have pushed into each other leave
// open [m²], intake and exhaust: a quarter of the depth by which they would
// have met, as a gap at the seat (judgement).
func (e *Engine) bent(c *cylinder) (intake, exhaust float64) {
	if e.p.Recess == 0 {
		return 0, 0
	}
	deepIn, deepEx := 0.0, 0.0
	for k := range 2 * volumeNodes {
		a := wrap(float64(float64(k) * volumeStep))
		swept, _ := e.volumes.at(a)
		gap := e.p.Recess + float64(swept/e.gear.area)
		deepIn = max(deepIn, c.intake.lobe.at(a)-gap)
		deepEx = max(deepEx, c.exhaust.lobe.at(a)-gap)
	}
	v, x := &e.p.Intake, &e.p.Exhaust
	return flowArea(1, v.Diameter, deepIn/4), flowArea(1, x.Diameter, deepEx/4)
}

// Valve spring of a passenger-car engine, per valve: seat force and rate, and the
// crank speed at which a new one just follows the cam (from memory).
const (
	springForce = 250.0 // [N]
	springRate  = 28e3  // [N/m]
	springSpeed = 700.0 // [rad/s]
)

// area returns Cd·A of the group [m²] at crank angle a of its cylinder. A weak
// spring lets the valve fall late at speed and lets the pressure behind it, drop
// [Pa] above the cylinder's, push it off its seat.
func (e *Engine) area(g *valveGroup, v *ValveParams, spring, a, drop float64) float64 {
	away := wrap(a - g.centre)
	if spring < 1 {
		if away > 0 {
			away /= floats(spring, e.speed)
		}
		force := float64(drop*math.Pi/4*v.Diameter*v.Diameter) - float64(spring*springForce)
		if force > 0 {
			lift := min(force/(springRate*spring), v.Lift/4)
			return max(g.table.at(away), g.held, flowArea(v.Count, v.Diameter, lift)) + g.seat
		}
	}
	return max(g.table.at(away), g.held) + g.seat
}

// floats returns by how much a valve of the given spring share falls later than
// its cam at a crank speed [rad/s], as a stretch of the closing flank.
func floats(spring, speed float64) float64 {
	x := speed * speed / (springSpeed * springSpeed * spring)
	return 1 + float64(0.6*min(max(x-1, 0), 1))
}

// setHeld brings what tight clearance holds open up to date with the coolant.
func (c *cylinder) setHeld(p *Params, kelvin float64) {
	q := c.params
	c.intake.held = flowArea(p.Intake.Count, p.Intake.Diameter, hold(q.IntakeLash, kelvin))
	c.exhaust.held = flowArea(p.Exhaust.Count, p.Exhaust.Diameter, hold(q.ExhaustLash, kelvin))
}

// valveAreas returns Cd·A past the intake and exhaust valves of c [m²] at a crank
// angle, with everything that holds them open.
func (e *Engine) valveAreas(c *cylinder, a float64) (intake, exhaust float64) {
	q, r := c.params, &e.p.Release
	if q.Spring == 1 && r.Lift == 0 {
		return larger(c.intake.table.at(wrap(a-c.intake.centre)), c.intake.held) + c.intake.seat,
			larger(c.exhaust.table.at(wrap(a-c.exhaust.centre)), c.exhaust.held) + c.exhaust.seat + c.flake
	}
	intake = e.area(&c.intake, &e.p.Intake, q.Spring, a, e.plenum.port.pressure-c.pressure)
	exhaust = e.area(&c.exhaust, &e.p.Exhaust, q.Spring, a, e.manifold.pressure-c.pressure) + c.flake
	if math.Abs(e.speed) < r.Below && a > r.From && a < r.To {
		exhaust = max(exhaust, flowArea(1, e.p.Exhaust.Diameter, r.Lift))
	}
	return intake, exhaust
}
