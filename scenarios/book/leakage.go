package book

import (
	"math"

	"crankbay/scenarios"
	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// LeakageKind names the cylinder leakage test.
const LeakageKind = "leakage"

// The tester is that of package instrument, with air at the 80 psi of the
// differential test of aircraft practice.
const (
	TesterSupplyPSI    = 80.0
	testerGraduation   = 1.0  // half a division of its dial [psi]
	leakageOilSeconds  = 3.0  // of cranking before each cylinder, so that its rings are oiled
	leakageHandSeconds = 10.0 // until it stands at its TDC and air is on
	leakageSteady      = 1e-5 // of the pressure over a tenth of a second
	leakageMost        = 10.0 // until it is steady [s]
)

// Where the air of a leakage test can be heard.
const (
	AirIntake    = "intake"    // at the throttle
	AirExhaust   = "exhaust"   // at the tailpipe
	AirCrankcase = "crankcase" // at the oil filler
	AirNeighbour = "neighbour" // at the plug hole beside it
	AirCoolant   = "coolant"   // bubbles in the filler neck
	AirOutside   = "outside"   // along the gasket
)

// LeakageOptions says how the test is done.
type LeakageOptions struct {
	AsRead   bool    // what a person reads off the tester
	AfterDeg float64 // where each piston is put, crank degrees after its compression TDC; 360 is the classic error
	Watch    Watch
}

// Air is one way the air goes.
type Air struct {
	Path         string  `json:"path"`
	SharePercent float64 `json:"share_percent"` // of all that leaves
	GramsPerS    float64 `json:"g_per_s"`
	Cylinder     int     `json:"cylinder,omitempty"` // the neighbour
}

// Leak is the leakage test of one cylinder.
type Leak struct {
	Cylinder   int     `json:"cylinder"`
	HeldPSI    float64 `json:"held_psi"`
	Percent    float64 `json:"leakage_percent"` // of the supply
	Air        []Air   `json:"air"`             // largest first; what doesn't leak is left out
	TurnedDeg  float64 `json:"crank_turned_deg"`
	PlacedDeg  float64 `json:"placed_deg"` // after its compression TDC
	TurnedAway bool    `json:"turned_away"`
}

// LeakageResult is the leakage test of an engine.
type LeakageResult struct {
	Scenario     string  `json:"scenario"`
	Kind         string  `json:"kind"`
	AsRead       bool    `json:"as_read"`
	SupplyPSI    float64 `json:"supply_psi"`
	BoreMM       float64 `json:"restrictor_bore_mm"`
	EffectiveMM2 float64 `json:"restrictor_effective_mm2"`
	CoolantC     float64 `json:"coolant_c"`
	Cylinders    []Leak  `json:"cylinders"`
}

// Leakage tests every cylinder with air: throttle open, plugs out, the engine
// cranked for a moment so that oil is on the walls, the piston turned by hand to
// the top of its compression, air on, read when it is steady. The crank is free:
// off TDC the air turns it.
func Leakage(s *scenarios.Scenario, o LeakageOptions) (LeakageResult, error) {
	r, err := newRig(s, true, true, o.Watch)
	if err != nil {
		return LeakageResult{}, err
	}
	out := LeakageResult{
		Scenario: s.ID, Kind: LeakageKind, AsRead: o.AsRead, SupplyPSI: TesterSupplyPSI, BoreMM: instrument.TesterBoreMM,
		EffectiveMM2: instrument.TesterArea * 1e6, CoolantC: r.coolantC(),
	}
	r.e.SetAir(float64(unit.PSI(TesterSupplyPSI)), instrument.TesterArea)
	for cyl := 1; cyl <= s.Engine.Cylinders; cyl++ {
		out.Cylinders = append(out.Cylinders, r.leak(cyl, o))
	}
	return out, nil
}

func (r *rig) leak(cyl int, o LeakageOptions) Leak {
	r.begin(cyl)
	r.crank(leakageOilSeconds, nil)
	r.rest()
	r.e.Stand(leakageHandSeconds)
	start := r.e.Params().Cylinder[cyl-1].FiringAngle + float64(unit.Degrees(o.AfterDeg))
	r.e.SetAngle(start)
	start = r.e.Angle()
	r.e.SetPlug(cyl, sim.PlugAir)
	r.airOn(cyl)
	held := unit.Pressure(r.e.Pressure(cyl)).Gauge(r.air).PSI()
	l := Leak{
		Cylinder: cyl, HeldPSI: held, PlacedDeg: o.AfterDeg, Air: r.airPaths(cyl),
		TurnedDeg: unit.Angle(turned(start, r.e.Angle())).Degrees(),
	}
	l.TurnedAway = math.Abs(l.TurnedDeg) > 1
	if o.AsRead {
		l.HeldPSI = to(testerGraduation, held)
	}
	l.Percent = 100 * (1 - l.HeldPSI/TesterSupplyPSI)
	r.e.SetPlug(cyl, sim.PlugOut)
	return l
}

// airOn waits until the pressure is steady.
func (r *rig) airOn(cyl int) {
	const part = record.TicksPerSecond / 10
	before := 0.0
	for i := range ticksOf(leakageMost) {
		r.step(sim.Inputs{})
		if i%part != 0 || i < 5*part {
			continue
		}
		now := r.e.Pressure(cyl)
		if math.Abs(now-before) < leakageSteady*now && r.e.AtRest() {
			return
		}
		before = now
	}
}

// airPaths lists the ways air leaves cyl, largest first.
func (r *rig) airPaths(cyl int) []Air {
	p := r.e.Params()
	rings, intake, exhaust, own := r.e.LeakFlow(cyl)
	coolant, outside := r.e.HeadFlow(cyl)
	all := []Air{
		{Path: AirCrankcase, GramsPerS: rings}, {Path: AirIntake, GramsPerS: intake}, {Path: AirExhaust, GramsPerS: exhaust},
		{Path: AirCoolant, GramsPerS: coolant}, {Path: AirOutside, GramsPerS: outside},
		{Path: AirNeighbour, GramsPerS: own, Cylinder: p.Cylinder[cyl-1].GasketTo},
	}
	for k := 1; k <= p.Cylinders; k++ { // a path noted at the neighbour
		if p.Cylinder[k-1].GasketTo == cyl {
			_, _, _, from := r.e.LeakFlow(k)
			all = append(all, Air{Path: AirNeighbour, GramsPerS: -from, Cylinder: k})
		}
	}
	sum := 0.0
	for _, a := range all {
		sum += max(0, a.GramsPerS)
	}
	var list []Air
	for _, a := range all {
		if a.GramsPerS <= 0 {
			continue
		}
		a.SharePercent = 100 * a.GramsPerS / sum
		a.GramsPerS *= 1e3
		at := len(list)
		for at > 0 && list[at-1].GramsPerS < a.GramsPerS {
			at--
		}
		list = append(list[:at], append([]Air{a}, list[at:]...)...)
	}
	return list
}
