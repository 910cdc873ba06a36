package sim

import (
	"math"

	"crankbay/sim/num"
)

const (
	turn  = 2 * math.Pi
	cycle = 4 * math.Pi
)

// A crankGear is the slider-crank of one cylinder.
type crankGear struct {
	area   float64 // piston face [m²]
	throw  float64 // crank radius [m]
	rod    float64 // [m]
	offset float64 // pin offset [m]
	top    float64 // crank centre to pin at TDC [m]
	bottom float64 // crank centre to pin at BDC [m]
}

func newCrankGear(p *Params) crankGear {
	g := crankGear{area: math.Pi / 4 * p.Bore * p.Bore, throw: float64(p.Stroke / 2), rod: p.Rod, offset: p.PinOffset}
	long, short := g.rod+g.throw, g.rod-g.throw
	off := float64(g.offset * g.offset)
	g.top = math.Sqrt(float64(long*long) - off)
	g.bottom = math.Sqrt(float64(short*short) - off)
	return g
}

// travel returns how far the piston is below TDC [m] at crank angle a [rad]
// after TDC, and how far it moves per radian [m]:
//
//	x = top - throw·cos a - √(rod² - (throw·sin a - offset)²)
//
// Source: Heywood1988 §2.2 (equation number from memory), with the pin offset.
func (g *crankGear) travel(a float64) (x, slope float64) {
	sin, cos := num.Sin(a), num.Cos(a)
	side := float64(g.throw*sin) - g.offset
	root := math.Sqrt(float64(g.rod*g.rod) - float64(side*side))
	x = g.top - float64(g.throw*cos) - root
	return x, float64(g.throw*sin) + float64(side*g.throw)*cos/root
}

// swept returns the displacement of one cylinder [m³].
func (g *crankGear) swept() float64 { return g.area * (g.top - g.bottom) }

// A volumeTable gives the swept volume and its slope over one turn from nodes
// one degree apart. Between nodes it is the cubic through both values and both
// slopes, so that the slope returned is the derivative of the volume returned
// and the work integral closes. The cubic is within 1e-9 of the stroke.
type volumeTable struct {
	node [volumeNodes + 1]volumeNode
}

type volumeNode struct{ volume, slope float64 } // [m³], [m³ per node distance]

const (
	volumeNodes = 360
	volumeStep  = turn / volumeNodes
	volumeScale = volumeNodes / turn
)

func newVolumeTable(g *crankGear) *volumeTable {
	t := &volumeTable{}
	for k := range t.node {
		x, slope := g.travel(float64(k) * volumeStep)
		t.node[k] = volumeNode{x * g.area, slope * g.area * volumeStep}
	}
	return t
}

// at returns the volume swept below TDC [m³] and its slope [m³/rad] at angle a
// [rad] in [-2π, 2π) after a TDC.
func (t *volumeTable) at(a float64) (volume, slope float64) {
	if a < 0 {
		a += turn
	}
	x := float64(a * volumeScale)
	k := 0
	if x > 0 {
		k = min(int(x), volumeNodes-1)
	}
	x -= float64(k)
	lo, hi := &t.node[k], &t.node[k+1]
	rise := hi.volume - lo.volume
	second := float64(3*rise) - float64(2*lo.slope) - hi.slope
	third := lo.slope + hi.slope - float64(2*rise)
	volume = lo.volume + float64(x*(lo.slope+float64(x*(second+float64(x*third)))))
	slope = lo.slope + float64(x*(float64(2*second)+float64(3*x*third)))
	return volume, slope * volumeScale
}

// larger is max for numbers, without its care for what isn't one.
func larger(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

// wrap brings an angle into [-2π, 2π), one working cycle about a compression TDC.
func wrap(a float64) float64 {
	for a >= turn {
		a -= cycle
	}
	for a < -turn {
		a += cycle
	}
	return a
}
