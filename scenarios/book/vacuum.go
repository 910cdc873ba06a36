package book

import (
	"math"

	"crankbay/scenarios"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// VacuumKind names the test of cranking vacuum.
const VacuumKind = "vacuum"

const (
	// VacuumSeconds is how long the engine is cranked; the manifold is pumped down
	// in the first two.
	VacuumSeconds  = 6.0
	vacuumSettling = 2.0
	kPaPerInHg     = 3.386389
	vacuumStepKPa  = 0.5 // a person reads half a division of 1 kPa
)

// VacuumResult is a test of cranking vacuum: throttle shut, all plugs in.
type VacuumResult struct {
	Scenario  string  `json:"scenario"`
	Kind      string  `json:"kind"`
	AsRead    bool    `json:"as_read"`
	Seconds   float64 `json:"seconds"`
	CoolantC  float64 `json:"coolant_c"`
	RPM       float64 `json:"rpm"`
	MeanKPa   float64 `json:"mean_kpa"` // under ambient
	MeanInHg  float64 `json:"mean_in_hg"`
	RippleKPa float64 `json:"ripple_kpa"` // highest less lowest of a working cycle, mean of all cycles
	PlenumKPa float64 `json:"plenum_kpa_abs"`
	Cycles    int     `json:"cycles"`
	// Hydrolocked says that liquid stopped the crank.
	Hydrolocked bool `json:"hydrolocked"`
	// Trace is the vacuum tick by tick, 1/1200 s apart [kPa].
	Trace []float64 `json:"-"`
}

// Vacuum cranks the engine with the throttle shut and all plugs in and reads the
// vacuum in the manifold.
func Vacuum(s *scenarios.Scenario, asRead bool, watch Watch) (VacuumResult, error) {
	r, err := newRig(s, false, false, watch)
	if err != nil {
		return VacuumResult{}, err
	}
	turns := 0.0
	out := VacuumResult{Scenario: s.ID, Kind: VacuumKind, AsRead: asRead, Seconds: VacuumSeconds, CoolantC: r.coolantC()}
	r.begin(0)
	ambient := float64(r.air)
	var sum, lo, hi, angle, span float64
	var ticks int
	begin := func() { lo, hi = math.Inf(1), math.Inf(-1) }
	begin()
	r.crank(VacuumSeconds, func() {
		v := (ambient - r.e.PlenumPressure()) / 1e3
		out.Trace = append(out.Trace, v)
		if r.seconds() < vacuumSettling {
			angle = r.e.Angle()
			return
		}
		sum += v
		turns += r.e.Speed() / record.TicksPerSecond
		ticks++
		lo, hi = min(lo, v), max(hi, v)
		if r.e.Angle() < angle-fourPi/2 { // a working cycle is over
			if span > 0 {
				out.RippleKPa += hi - lo
				out.Cycles++
			}
			span = 1
			begin()
		}
		angle = r.e.Angle()
	})
	out.Hydrolocked = r.e.Hydrolocked()
	out.MeanKPa = sum / float64(ticks)
	out.RPM = unit.RPM(turns * record.TicksPerSecond / float64(ticks))
	out.RippleKPa /= float64(max(out.Cycles, 1))
	if asRead {
		out.RPM = to(1, out.RPM)
		out.MeanKPa, out.RippleKPa = to(vacuumStepKPa, out.MeanKPa), to(vacuumStepKPa, out.RippleKPa)
	}
	out.MeanInHg, out.PlenumKPa = out.MeanKPa/kPaPerInHg, ambient/1e3-out.MeanKPa
	return out, nil
}
