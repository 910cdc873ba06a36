// Package instrument reads the engine as a person with instruments would:
// needle, dial, voltmeter, tachometer, each with its own error and rounding.
package instrument

import "crankbay/sim/unit"

// GaugeSpec is one copy of a compression gauge.
type GaugeSpec struct {
	Range      unit.Gauge // full scale [Pa]
	Graduation unit.Gauge // smallest division [Pa]
	Zero       unit.Gauge // error at zero [Pa]
	Span       float64    // error of slope [-], 0.01 reads 1 % high
	Friction   unit.Gauge // needle sticks within this [Pa]
}

type Needle struct{}

func NewNeedle(s GaugeSpec) Needle             { return Needle{} }
func (n *Needle) Step(p unit.Gauge)            {}              // one tick, p = hose gas relative to ambient
func (n *Needle) Indicated() unit.Gauge        { return 0 }    // where it points, unrounded
func (n *Needle) Read() (shown unit.Gauge)     { return 0 }    // nearest half graduation, never below 0 nor above Range
func (n *Needle) Between() (lo, hi unit.Gauge) { return 0, 0 } // the two scale marks it stands between
func (n *Needle) AtRest() bool                 { return true }
func (n *Needle) Digest(h uint64) uint64       { return h }
