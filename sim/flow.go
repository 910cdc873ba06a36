package sim

import (
	"math"

	"crankbay/sim/num"
)

// flowKappa is the ratio of specific heats inside the flow law. It is held at
// the value of air at 300 K: at 700 K, where leaks are hottest, the choked flow
// is then 0.7 % too large, far inside what is known of any Cd.
const flowKappa = 1.4

var (
	// criticalRatio is the pressure ratio at which an opening chokes,
	// (2/(κ+1))^(κ/(κ-1)) = 0.52828.
	criticalRatio = num.Pow(2/(flowKappa+1), flowKappa/(flowKappa-1))
	criticalDrop  = 1 - criticalRatio
)

// flowSoft is the relative pressure difference below which the root of the flow
// law is softened: √x becomes x/√(x+flowSoft). The flow is then too small by
// half of flowSoft/x: 9 % at 11 Pa of 1 bar, 1 % at 100 Pa, 0.1 % at 1 kPa. The
// real law has an infinite slope at zero.
const flowSoft = 2e-5

// flowTable holds ψ over y = x + flowSoft, x being the relative pressure
// difference, with nodes that stand psiShare of an octave apart, so that a node is
// found in the bits of y without a root. Lines between nodes are within 9e-6 of
// the law; a test holds that.
const (
	psiOctave = 6                        // bits of the mantissa that tell nodes apart
	psiShift  = 52 - psiOctave           // bits below them
	psiLowest = (1023 - 16) << psiOctave // of y = 2^-16, below flowSoft
	psiCount  = 1024                     // up to y = 1, twice what is needed
)

// A flowNode is a line through two nodes: ψ = base + rise·y.
type flowNode struct {
	base, rise float64
	slope      float64 // √2/√y, of the secant to equal pressures
}

var (
	flowTable = tabulateFlow()
	psiChoke  = psi(criticalRatio)
)

// psi returns the dimensionless mass flow ṁ·√(R·T)/(A·p) at pressure ratio r in
// [criticalRatio, 1]:
//
//	ψ = √( 2κ/(κ-1) · (r^(2/κ) - r^((κ+1)/κ)) )
//
// Source: the isentropic relations of NACA1135.
func psi(r float64) float64 {
	a := num.Pow(r, 2/flowKappa)
	b := num.Pow(r, (flowKappa+1)/flowKappa)
	return math.Sqrt(2 * flowKappa / (flowKappa - 1) * max(a-b, 0))
}

func tabulateFlow() (table [psiCount]flowNode) {
	at := func(k int) (y, value float64) {
		y = math.Float64frombits(uint64(psiLowest+k) << psiShift)
		x := max(0, y-flowSoft)
		return y, psi(max(criticalRatio, 1-float64(x*x)/y))
	}
	for k := range table {
		y0, lo := at(k)
		y1, hi := at(k + 1)
		rise := (hi - lo) / (y1 - y0)
		table[k] = flowNode{lo - float64(rise*y0), rise, math.Sqrt2 / math.Sqrt(0.5*(y0+y1))}
	}
	return table
}

// orificeFlow returns the mass flow [kg/s] through a restriction and how much
// of it a pascal of pressure difference is worth [kg/(s·Pa)].
//
// One-dimensional, quasi-steady, isentropic up to the throat, perfect gas:
//
//	ṁ = cdA · pUp/√(R·tUp) · ψ(max(pDown/pUp, criticalRatio))
//
//	cdA     discharge coefficient × area        [m²]   ≥ 0
//	pUp     absolute pressure before            [Pa]   > 0, ≥ pDown
//	perRootUp  1/√(R·T) before                  [s/m]  > 0
//	pDown   absolute pressure after             [Pa]   ≥ 0
//
// Flow is positive from up to down; a caller that finds pDown above pUp swaps
// them and the sign. Friction is ignored, so long narrow passages pass less gas
// than this. The slope is the secant to equal pressures.
// Source: NACA1135; softening: see flowSoft.
func orificeFlow(cdA, pUp, perRootUp, pDown float64) (flow, slope float64) {
	per := cdA * perRootUp
	x := 1 - pDown/pUp
	if x >= criticalDrop {
		flow = per * pUp * psiChoke
		return flow, flow / (pUp - pDown)
	}
	y := x + flowSoft
	node := &flowTable[int(math.Float64bits(y)>>psiShift-psiLowest)%psiCount]
	return per * pUp * (node.base + float64(node.rise*y)), per * node.slope
}
