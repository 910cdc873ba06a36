package bench

// Kinds of action. Beside each: its fields, and the bench minutes it costs.
const (
	KindGlasses     = "glasses"       // choice on, off; 0
	KindGear        = "gear"          // choice park, neutral, drive; 0
	KindBrake       = "brake"         // choice on, off; 0
	KindChocks      = "chocks"        // choice on, off; 1
	KindBelts       = "belts-check"   // fan, belts, hair and sleeves clear; 1
	KindFluids      = "fluids-check"  // oil and coolant looked at; 1
	KindSpec        = "spec-look-up"  // choice page id; 2
	KindWarmUp      = "warm-up"       // number of minutes the engine idles, 1..30
	KindCoolDown    = "cool-down"     // number of minutes it stands, 1..240
	KindFuel        = "fuel"          // choice disabled, enabled; 3
	KindIgnition    = "ignition"      // choice disabled, enabled; 2
	KindCharger     = "charger"       // choice on, off; 1
	KindWells       = "wells-blow"    // plug wells blown clean; 2
	KindPlugOut     = "plug-out"      // cylinder; choice ordered, loose; 1
	KindPlugIn      = "plug-in"       // cylinder; choice hand, wrench; 1
	KindPlugTorque  = "plug-torque"   // every fitted plug torqued; 2
	KindPlugLook    = "plug-look"     // cylinder; 1
	KindAdapter     = "adapter"       // choice id from the tray; 1
	KindGauge       = "gauge"         // choice id from the tray; 0, for a second one minutes of the engine
	KindProve       = "gauge-prove"   // zero and hold of the gauge; 1
	KindHoseOn      = "hose-on"       // cylinder; 1
	KindHoseOff     = "hose-off"      // 1
	KindRelease     = "release"       // pressed until the needle is down; 0
	KindThrottle    = "throttle"      // choice open (by hand), pedal (key on), shut; 0
	KindSwitch      = "switch"        // choice remote, key; 1
	KindVoltmeter   = "voltmeter"     // choice on, off; 1
	KindTachometer  = "tachometer"    // choice on, off; 1
	KindStarter     = "starter"       // choice on, off; time then runs by Advance
	KindTurn        = "turn-by-hand"  // cylinder; choice bdc, tdc (of its compression), overlap; 1
	KindOil         = "oil"           // cylinder; number ml, above 0, at most 50; minutes of the engine
	KindWait        = "wait"          // number of minutes, above 0, at most 240
	KindNeedleWords = "needle-words"  // an instrument put into words: choice none for the gauge, tester, vacuum, clamp; 0
	KindHint        = "hint"          // a hint asked for; 0
	KindSection     = "section"       // the section view asked for; 0
	KindLeads       = "plug-leads-on" // coils and connectors back on; 2
	KindEngineStart = "engine-start"  // started after putting back; 2
	KindCodesClear  = "codes-clear"   // 2

	KindTesterOn        = "tester-on"        // leakage tester into the plug hole of cylinder; minutes of the engine
	KindTesterOff       = "tester-off"       // 1
	KindAir             = "air"              // choice on with number kPa at the tester, above 0, at most 1000, or off; 0
	KindWrench          = "wrench"           // on the crank bolt: choice on, off; 0
	KindClamp           = "clamp"            // meter round the starter cable: choice on, off; minutes of the engine, 1
	KindVacuumGauge     = "vacuum-gauge"     // on the manifold: choice on, off; minutes of the engine, 1
	KindDisableOne      = "disable-one"      // spark and injector of cylinder: choice disabled, enabled; minutes of the engine, 1
	KindEngineRun       = "engine-run"       // with the gauge on the disabled cylinder: choice on, off; 1 to start
	KindSnap            = "snap"             // of the throttle of the running engine; 0
	KindLash            = "lash-check"       // valve clearances of cylinder; minutes of the engine, then 2 for each further
	KindSetLash         = "set-lash"         // cylinder; choice intake, exhaust; number mm, 0.05 to 1; a quarter of what the lash check takes, 3 at least
	KindTiming          = "timing-check"     // marks of crank and cams; minutes of the engine
	KindBorescope       = "borescope"        // into cylinder; minutes of the engine
	KindCoolingPressure = "cooling-pressure" // pumped up and watched; minutes of the engine
	KindCoolantWatch    = "coolant-watch"    // the neck while cranking: choice on, off; 1
	KindPowerBalance    = "power-balance"    // the idling engine with one cylinder off after the other; minutes of the engine
	KindListen          = "listen"           // choice one of Places; cylinder with plug_hole only; 1
)

// What else than the compression gauge can be put into words.
const (
	WordsTester = "tester"
	WordsVacuum = "vacuum"
	WordsClamp  = "clamp"
)

// Places lists where the air of a leakage test can be listened for.
func Places() []string {
	return []string{PlaceThrottle, PlaceTailpipe, PlaceFiller, PlaceNeck, PlaceHole, PlaceEdge}
}

// Where the air of a leakage test can be listened for.
const (
	PlaceThrottle = "throttle"
	PlaceTailpipe = "tailpipe"
	PlaceFiller   = "oil_filler"
	PlaceNeck     = "coolant_neck" // looked at for bubbles
	PlaceHole     = "plug_hole"    // of another cylinder
	PlaceEdge     = "gasket_edge"  // along the seam between head and block
)

// Kinds of event that are not actions.
const (
	EventCrankStart = "crank-start" // cylinder gauged, number of the run
	EventCrankStop  = "crank-stop"  // cylinder gauged, number of the run
	EventStroke     = "stroke"      // cylinder, number shown on the dial [Pa]; choice full or part
	EventStall      = "stall"       // the starter can't turn the crank
	EventCaution    = "caution"     // choice one of Cautions
	EventHazard     = "hazard"      // choice one of Hazards
	EventFact       = "fact"        // choice one of Facts
	EventPumped     = "pumped"      // cylinder gauged, number shown on the dial [Pa]; choice idle or snap
	EventLeak       = "leak"        // cylinder under air, number read off the tester [%]
)

// Cautions lists every key a caution can have.
func Cautions() []string {
	return []string{
		"no_glasses", "gear_engaged", "not_blocked", "belts_unchecked", "fuel_live", "ignition_live", "no_wells_blown",
		"hot_engine", "throttle_before_disabled", "part_stroke", "starter_hot", "starter_while_turning", "much_oil",
		"plug_by_wrench", "plug_not_torqued", "plug_hole_open", "reach_too_long", "reach_too_short", "no_o_ring",
		"gauge_under_pressure", "could_start", "tester_under_air", "wrench_left_on", "much_air", "hot_cap",
		"injectors_fire", "plate_forced", "hot_threads",
	}
}

// Hazards lists every key a hazard can have.
func Hazards() []string {
	return []string{"gear_engaged", "vapour_ignition", "hydrolock", "air_turned_crank", "wrench_on_crank", "belt_caught"}
}

// Facts lists every key of something learned by looking.
func Facts() []string {
	return []string{
		"spec_page", "fluids_good", "gauge_zero", "gauge_off_zero", "gauge_under_pressure", "gauge_holds", "gauge_leaks", "plug_normal",
		"plug_wet_fuel", "plug_oily", "plug_oiled", "engine_runs", "engine_rough", "engine_smokes", "engine_refuses",
		"engine_cranks_slow", "codes_cleared", "codes_return", "air_at_throttle", "air_at_tailpipe", "air_at_oil_filler",
		"air_at_coolant_neck", "air_at_plug_hole", "air_at_gasket_edge", "no_air_heard",
		"lash_intake", "lash_intake_none", "lash_intake_wide", "lash_exhaust", "lash_exhaust_none", "lash_exhaust_wide", "timing_right",
		"timing_intake_late", "timing_intake_early", "timing_exhaust_late", "timing_exhaust_early", "bore_clean",
		"bore_liquid", "bore_carbon", "bore_hole", "bore_scored", "cooling_holds", "cooling_falls", "bubbles_cranked",
		"no_bubbles", "plug_wet", "plug_steamed",
	}
}

// Refusals lists every key of a refusal.
func Refusals() []string {
	return []string{
		"refusal.unknown_kind", "refusal.unknown_choice", "refusal.cylinder", "refusal.number", "refusal.starter_on",
		"refusal.engine_turning", "refusal.time_up", "refusal.too_many_actions", "refusal.already_so",
		"refusal.no_such_page", "refusal.no_such_gauge", "refusal.no_such_adapter", "refusal.plug_still_in",
		"refusal.plug_already_out", "refusal.plug_not_out", "refusal.hose_on", "refusal.hose_on_elsewhere",
		"refusal.hose_not_on", "refusal.no_gauge", "refusal.no_adapter", "refusal.wrong_thread",
		"refusal.not_in_park", "refusal.fuel_disabled", "refusal.ignition_disabled", "refusal.plug_missing",
		"refusal.leads_off", "refusal.engaged", "refusal.hydrolocked", "refusal.starter_not_on",
		"refusal.tester_on", "refusal.tester_on_elsewhere", "refusal.tester_not_on", "refusal.air_on", "refusal.no_air",
		"refusal.disabled_elsewhere", "refusal.cylinder_live", "refusal.throttle_held", "refusal.engine_running",
		"refusal.not_running", "refusal.no_lash", "refusal.remote_dead", "refusal.no_start", "refusal.no_vacuum_gauge",
		"refusal.no_trace", "refusal.cover_on", "refusal.lash_out_of_reach",
	}
}

// A Refusal says that an action is impossible, and why. It leaves no trace.
type Refusal struct {
	Key      string  // one of Refusals
	Cylinder int     // the cylinder it is about, 0 for none
	Number   float64 // the limit or value it is about, 0 for none
}

// Error names the key; the sentence belongs to whoever shows it.
func (r *Refusal) Error() string { return r.Key }

func refuse(key string, cylinder int) error {
	return &Refusal{Key: "refusal." + key, Cylinder: cylinder}
}

func refuseNumber(limit float64) error { return &Refusal{Key: "refusal.number", Number: limit} }
