// Package instrument reads the engine as a person with instruments would:
// needle, dial, voltmeter, tachometer, each with its own error and rounding.
package instrument

import (
	"errors"
	"fmt"
	"math"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// GaugeSpec is one copy of a compression gauge: its scale and its errors.
type GaugeSpec struct {
	Range      unit.Gauge // full scale [Pa]                                  (1e5, 1e7)
	Graduation unit.Gauge // smallest division [Pa]                           (0, Range/5]
	Zero       unit.Gauge // shown at no pressure [Pa]                        [-Range/10, Range/10]
	Span       float64    // error of slope [-], 0.01 reads 1 % high          [-0.2, 0.2]
	Friction   unit.Gauge // the needle stays where it is within this [Pa]    [0, Range/10]
}

// Validate reports every number outside the range in brackets.
func (s GaugeSpec) Validate() error {
	var errs []error
	hold := func(ok bool, name string, value float64) {
		if !ok {
			errs = append(errs, fmt.Errorf("gauge %s = %g is out of range", name, value))
		}
	}
	full := float64(s.Range)
	hold(full > 1e5 && full < 1e7, "Range", full)
	hold(s.Graduation > 0 && float64(s.Graduation) <= full/5, "Graduation", float64(s.Graduation))
	hold(math.Abs(float64(s.Zero)) <= full/10, "Zero", float64(s.Zero))
	hold(math.Abs(s.Span) <= 0.2, "Span", s.Span)
	hold(s.Friction >= 0 && float64(s.Friction) <= full/10, "Friction", float64(s.Friction))
	return errors.Join(errs...)
}

// The movement of a 63 mm Bourdon gauge: it answers like a mass on a spring at
// 6 Hz, damped to overshoot about 5 % (judgement; no source found).
const (
	needleFrequency = 2 * math.Pi * 6 // [rad/s]
	needleDamping   = 0.7             // [-]
	needleRestRate  = 50.0            // [Pa/s]
	needleRestAway  = 20.0            // [Pa]
	needleTick      = 1.0 / record.TicksPerSecond
)

// A Needle is the moving part of a gauge.
type Needle struct {
	spec  GaugeSpec
	aim   float64 // where friction lets the movement go [Pa]
	place float64 // where the needle points [Pa]
	rate  float64 // [Pa/s]
}

// NewNeedle returns a needle at rest with no pressure on it.
func NewNeedle(s GaugeSpec) Needle {
	n := Needle{spec: s, aim: float64(s.Zero)}
	n.place = n.stopped(n.aim)
	return n
}

// stopped keeps a place between the pins, at zero and just past full scale.
func (n *Needle) stopped(place float64) float64 {
	return min(max(place, 0), float64(n.spec.Range)*1.02)
}

// Step moves the needle by one tick under hose pressure p.
//
//	x″ = ω²·(aim - x) - 2·ζ·ω·x′
//
// by the semi-implicit rule; aim follows the pressure with the play that
// friction gives it.
func (n *Needle) Step(p unit.Gauge) {
	target := float64(n.spec.Zero) + float64((1+n.spec.Span)*float64(p))
	play := float64(n.spec.Friction)
	n.aim = min(max(n.aim, target-play), target+play)
	pull := float64(needleFrequency * needleFrequency * (n.aim - n.place))
	n.rate += float64((pull - float64(2*needleDamping*needleFrequency*n.rate)) * needleTick)
	moved := n.place + float64(n.rate*needleTick)
	n.place = n.stopped(moved)
	if n.place != moved {
		n.rate = 0
	}
}

// Indicated returns where the needle points, unrounded.
func (n *Needle) Indicated() unit.Gauge { return unit.Gauge(n.place) }

// Read returns what a person reads: the nearest half graduation, at most full scale.
func (n *Needle) Read() unit.Gauge {
	half := float64(n.spec.Graduation) / 2
	return min(unit.Gauge(math.Floor(n.place/half+0.5)*half), n.spec.Range)
}

// Between returns the two scale marks the needle stands between.
func (n *Needle) Between() (lo, hi unit.Gauge) {
	division := float64(n.spec.Graduation)
	k := math.Floor(n.place / division)
	return unit.Gauge(k * division), unit.Gauge((k + 1) * division)
}

// AtRest says whether the needle has settled.
func (n *Needle) AtRest() bool {
	away := n.stopped(n.aim) - n.place
	return math.Abs(n.rate) < needleRestRate && math.Abs(away) < needleRestAway
}

// Spec returns the scale and the errors.
func (n *Needle) Spec() GaugeSpec { return n.spec }

// Digest folds the state of the needle into h by FNV-1a.
func (n *Needle) Digest(h uint64) uint64 {
	for _, v := range [...]float64{n.aim, n.place, n.rate} {
		w := math.Float64bits(v)
		for range 8 {
			h = (h ^ w&0xff) * 1099511628211
			w >>= 8
		}
	}
	return h
}
