package book

import (
	"math"

	"crankbay/scenarios"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// CurrentKind names the test of relative compression by starter current.
const CurrentKind = "current"

const (
	// CurrentSeconds is how long the engine is cranked; the inrush of the first
	// second is left out.
	CurrentSeconds = 6.0
	currentInrush  = 1.0
	// HumpLowPercent is how far under the mean a hump has to be to be marked.
	HumpLowPercent = instrument.HumpLowPercent
	clampStepA     = 1.0 // of the clamp meter's display
)

// Hump is what one cylinder's compression costs the starter.
type Hump = instrument.Hump

// CurrentResult is a test of relative compression.
type CurrentResult struct {
	Scenario    string  `json:"scenario"`
	Kind        string  `json:"kind"`
	AsRead      bool    `json:"as_read"`
	Throttle    string  `json:"throttle"`
	Seconds     float64 `json:"seconds"`
	CoolantC    float64 `json:"coolant_c"`
	PeakA       float64 `json:"peak_a"` // of the inrush
	MeanA       float64 `json:"mean_a"` // after it
	RPM         float64 `json:"rpm"`
	BatteryMinV float64 `json:"battery_min_v"` // after the first 0.3 s
	MeanHeightA float64 `json:"mean_hump_a"`
	Stalled     bool    `json:"stalled"`
	// Compare says whether the humps can be compared, see record.CompareAll.
	Compare string `json:"compare"`
	// Tower is the cylinder whose hump stands over all others where they can't, with
	// the one before it there; 0 none.
	Tower       int    `json:"tower"`
	Hydrolocked bool   `json:"hydrolocked"` // liquid stopped the crank
	Humps       []Hump `json:"humps"`       // in firing order
	// Trace is the current tick by tick, 1/1200 s apart [A].
	Trace []float64 `json:"-"`
	// TopTicks are the ticks of Trace at which a piston stands at the top of its
	// compression, with its cylinder.
	TopTicks []Top `json:"-"`
}

// A Top is a piston at the top of its compression.
type Top = instrument.Top

// Current cranks the engine with all plugs in and the fuel off and weighs each
// cylinder by the hump it makes in the starter's current. What all cylinders lose
// alike doesn't show.
func Current(s *scenarios.Scenario, asRead bool, watch Watch) (CurrentResult, error) {
	r, err := newRig(s, s.Card.ThrottleOpen, false, watch)
	if err != nil {
		return CurrentResult{}, err
	}
	out := CurrentResult{
		Scenario: s.ID, Kind: CurrentKind, AsRead: asRead, Throttle: word(s.Card.ThrottleOpen), Seconds: CurrentSeconds,
		CoolantC: r.coolantC(), BatteryMinV: math.Inf(1),
	}
	r.begin(0)
	angles := make([]float64, s.Engine.Cylinders)
	for i := range angles {
		angles[i] = r.e.CylinderAngle(i + 1)
	}
	turns := 0.0
	r.crank(CurrentSeconds, func() {
		out.Trace = append(out.Trace, r.e.Current())
		out.PeakA = max(out.PeakA, r.e.Current())
		if r.seconds() > speedFrom {
			out.BatteryMinV = min(out.BatteryMinV, r.e.Voltage())
			turns += r.e.Speed() / record.TicksPerSecond
		}
		for i, before := range angles {
			angles[i] = r.e.CylinderAngle(i + 1)
			if before < 0 && before > -1 && angles[i] >= 0 {
				out.TopTicks = append(out.TopTicks, Top{Tick: len(out.Trace) - 1, Cylinder: i + 1})
			}
		}
	})
	out.RPM = unit.RPM(turns / (CurrentSeconds - speedFrom))
	out.Hydrolocked = r.e.Hydrolocked()
	out.weigh(instrument.Firings(s.Params()))
	if asRead {
		out.round()
	}
	return out, nil
}

// speedFrom is when a crank is up to speed [s], as in the runs of a bench.
const speedFrom = 0.3

// weigh measures the humps.
func (c *CurrentResult) weigh(order []instrument.Firing) {
	from := ticksOf(currentInrush)
	sum := 0.0
	for _, a := range c.Trace[from:] {
		sum += a
	}
	c.MeanA = sum / float64(len(c.Trace)-from)
	found := instrument.Compare(c.Trace, c.TopTicks, order, from)
	c.Humps, c.MeanHeightA, c.Stalled, c.Compare, c.Tower = found.Humps, found.MeanA, found.Stalled, found.How, found.Tower
}

// round gives what a clamp meter and a person make of it.
func (c *CurrentResult) round() {
	for _, v := range []*float64{&c.PeakA, &c.MeanA, &c.MeanHeightA} {
		*v = to(clampStepA, *v)
	}
	for i := range c.Humps {
		c.Humps[i].HeightA = to(clampStepA, c.Humps[i].HeightA)
		c.Humps[i].Percent = to(1, c.Humps[i].Percent)
	}
	c.RPM, c.BatteryMinV = to(1, c.RPM), to(0.1, c.BatteryMinV)
}

func word(open bool) string {
	if open {
		return "open"
	}
	return "shut"
}
