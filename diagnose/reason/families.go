package reason

import "crankbay/diagnose"

// A Family is one way an engine can be.
type Family struct {
	Name  string
	Group string // family of a conclusion, as package diagnose names it
	Scope string // ScopeCylinder, ScopePair, ScopeBank or ScopeEngine
	// Prior is how often it is met among engines whose compression somebody measures,
	// over the sum of all priors. Assumptions, no source: judged from what people ask and
	// find; an instructor can change them.
	Prior float64
	// Several is how often it is met on more than one cylinder at once, likewise.
	Several float64
}

// The scopes.
const (
	ScopeCylinder = "cylinder"
	ScopePair     = "pair"
	ScopeBank     = "bank"
	ScopeEngine   = "engine"
)

// The families. Their names are those of the library.
const (
	ExhaustLeak   = "exhaust_valve_leak"
	IntakeLeak    = "intake_valve_leak"
	ValveHeldOpen = "valve_held_open" // bent, or stuck in its guide
	CarbonFlake   = "carbon_flake"    // on an exhaust seat; gone after a run
	TightLash     = "tight_lash"
	IntakeDead    = "intake_not_opening"
	ExhaustDead   = "exhaust_not_opening"
	WeakSpring    = "weak_spring"
	WornRings     = "worn_rings"  // or stuck ones: oil seals them
	BrokenLand    = "broken_land" // or a broken ring: oil does not
	ScoredBore    = "scored_bore"
	HoledPiston   = "holed_piston"
	WashedBore    = "washed_bore"
	GasketCoolant = "gasket_to_coolant"
	GasketOutside = "gasket_to_outside"
	CarbonOne     = "carbon_in_one"
	LiquidOne     = "liquid_in_one"
	OneOff        = "one_off_reading" // one cylinder measured badly
	GasketBetween = "gasket_between"
	BankTiming    = "bank_timing"
	BankLash      = "bank_tight_lash"
	BankBent      = "bank_valves_bent"

	Sound          = "sound"
	NotHere        = "not_compression" // sound as far as pressure goes, and yet something is wrong
	TimingLate     = "timing_late"
	TimingEarly    = "timing_early"
	TimingFar      = "timing_far_off" // jumped so far that valves are open when they should be shut, or bent
	ValvesAll      = "valves_all_leaking"
	RingsAll       = "rings_all_worn"
	BoresDry       = "bores_dry"
	LashAll        = "lash_all_tight"
	CarbonAll      = "carbon_all"
	SlowCranking   = "slow_cranking"
	ThrottleShut   = "throttle_shut"
	PlugsIn        = "plugs_left_in"
	GaugeLeaks     = "gauge_leaks"
	GaugeShifted   = "gauge_shifted"
	FewStrokes     = "few_strokes"
	Altitude       = "altitude"
	ByDesign       = "low_by_design"
	ExhaustBlocked = "exhaust_blocked"
)

// Families lists every family with its default prior: single cylinders first, the
// whole engine last.
func Families() []Family {
	const (
		cyl, pair, bank, eng = ScopeCylinder, ScopePair, ScopeBank, ScopeEngine
	)
	return []Family{
		{ExhaustLeak, diagnose.FamilyValveLeak, cyl, 13, 3},
		{IntakeLeak, diagnose.FamilyValveLeak, cyl, 3.5, 1},
		{ValveHeldOpen, diagnose.FamilyValveLeak, cyl, 5, 1.2},
		{CarbonFlake, diagnose.FamilyValveLeak, cyl, 1, 0},
		{TightLash, diagnose.FamilyTightLash, cyl, 2, 1},
		{IntakeDead, diagnose.FamilyValveNotOpening, cyl, 2, 0.2},
		{ExhaustDead, diagnose.FamilyValveNotOpening, cyl, 2, 0.3},
		{WeakSpring, diagnose.FamilyValveNotOpening, cyl, 0.5, 0},
		{WornRings, diagnose.FamilyRingOrBore, cyl, 5, 4},
		{BrokenLand, diagnose.FamilyRingOrBore, cyl, 4.5, 0.5},
		{ScoredBore, diagnose.FamilyRingOrBore, cyl, 2, 0.5},
		{HoledPiston, diagnose.FamilyRingOrBore, cyl, 2, 0.1},
		{WashedBore, diagnose.FamilyWashedOrDry, cyl, 2, 1.5},
		{GasketCoolant, diagnose.FamilyHeadGasket, cyl, 2.5, 0.3},
		{GasketOutside, diagnose.FamilyHeadGasket, cyl, 1, 0},
		{CarbonOne, diagnose.FamilyCarbonOrLiquid, cyl, 1, 0.3},
		{LiquidOne, diagnose.FamilyCarbonOrLiquid, cyl, 1.5, 0.2},
		{OneOff, diagnose.FamilyMethodOrGauge, cyl, 4.5, 0.7},
		{GasketBetween, diagnose.FamilyHeadGasket, pair, 10, 0},
		{BankTiming, diagnose.FamilyValveTiming, bank, 2, 0},
		{BankLash, diagnose.FamilyTightLash, bank, 1.5, 0},
		{BankBent, diagnose.FamilyValveLeak, bank, 0.5, 0},

		// Nobody takes plugs out for nothing: of five engines that read as they should three and
		// a half were tested for a complaint.
		{Sound, diagnose.FamilySound, eng, 9, 0},
		{NotHere, diagnose.FamilyNotCompression, eng, 22, 0},
		{TimingLate, diagnose.FamilyValveTiming, eng, 4, 0},
		{TimingEarly, diagnose.FamilyValveTiming, eng, 0.7, 0},
		{TimingFar, diagnose.FamilyValveTiming, eng, 1.2, 0},
		{RingsAll, diagnose.FamilyRingOrBore, eng, 9, 0},
		{ValvesAll, diagnose.FamilyValveLeak, eng, 5, 0},
		{BoresDry, diagnose.FamilyWashedOrDry, eng, 4, 0},
		{LashAll, diagnose.FamilyTightLash, eng, 1, 0},
		{CarbonAll, diagnose.FamilyCarbonOrLiquid, eng, 1, 0},
		{SlowCranking, diagnose.FamilySlowCranking, eng, 3, 0},
		{ThrottleShut, diagnose.FamilyMethodOrGauge, eng, 4, 0},
		{PlugsIn, diagnose.FamilyMethodOrGauge, eng, 2.5, 0},
		{GaugeLeaks, diagnose.FamilyMethodOrGauge, eng, 4.5, 0},
		{GaugeShifted, diagnose.FamilyMethodOrGauge, eng, 1.5, 0},
		{FewStrokes, diagnose.FamilyMethodOrGauge, eng, 1.5, 0},
		{Altitude, diagnose.FamilyAltitude, eng, 2, 0},
		{ByDesign, diagnose.FamilyNormalByDesign, eng, 2.5, 0},
		{ExhaustBlocked, diagnose.FamilyNotCompression, eng, 1, 0},
	}
}

// HealthyExamples names the examples of the library that say how healthy cylinders of
// one engine differ among themselves. It is no explanation.
const HealthyExamples = "healthy"
