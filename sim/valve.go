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
}

const areaNodes = 256

func newAreaTable(v *ValveParams, l *lobe) *areaTable {
	t := &areaTable{scale: areaNodes / l.half}
	for k := range t.area {
		x := float64(k) / areaNodes
		rest := 1 - float64(x*x)
		t.area[k] = flowArea(v.Count, v.Diameter, l.lift*rest*rest)
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
