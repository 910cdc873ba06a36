package diagnose

import "fmt"

// Families of a conclusion, in the order they are offered.
const (
	FamilySound           = "sound"
	FamilyValveLeak       = "valve_leak"
	FamilyTightLash       = "tight_lash"
	FamilyValveNotOpening = "valve_not_opening"
	FamilyValveTiming     = "valve_timing"
	FamilyRingOrBore      = "ring_or_bore"
	FamilyWashedOrDry     = "washed_or_dry_bore"
	FamilyHeadGasket      = "head_gasket"
	FamilyCarbonOrLiquid  = "carbon_or_liquid"
	FamilySlowCranking    = "slow_cranking"
	FamilyMethodOrGauge   = "method_or_gauge"
	FamilyAltitude        = "altitude"
	FamilyNormalByDesign  = "normal_by_design"
	FamilyNotCompression  = "not_compression"
	FamilyUndecided       = "undecided"
)

// Families lists every family a conclusion can name.
func Families() []string {
	return []string{
		FamilySound, FamilyValveLeak, FamilyTightLash, FamilyValveNotOpening, FamilyValveTiming, FamilyRingOrBore,
		FamilyWashedOrDry, FamilyHeadGasket, FamilyCarbonOrLiquid, FamilySlowCranking, FamilyMethodOrGauge,
		FamilyAltitude, FamilyNormalByDesign, FamilyNotCompression, FamilyUndecided,
	}
}

// NextTests lists what can be named as the test to do next.
func NextTests() []string {
	return []string{
		"none", "wet", "repeat", "leakage", "current", "running", "vacuum", "lash", "timing_marks", "borescope",
		"cooling_pressure", "second_gauge", "refit", "power_balance", "back_pressure", "charge_battery", "open_throttle",
	}
}

// EvidenceKinds lists what a conclusion can be said to rest on.
func EvidenceKinds() []string {
	return []string{
		"dry", "first_stroke", "wet", "repeat", "speed", "voltage", "throttle", "spec", "leakage", "current", "running",
		"vacuum", "lash", "timing_marks", "borescope", "cooling_pressure", "second_gauge", "refit", "plug_look",
		"power_balance",
	}
}

// Where the air of a leakage test can be said to have been heard.
const (
	HeardThrottle  = "throttle"
	HeardTailpipe  = "tailpipe"
	HeardFiller    = "oil_filler"
	HeardNeck      = "coolant_neck"
	HeardNeighbour = "neighbour" // at the plug hole of a neighbour
	HeardEdge      = "gasket_edge"
	HeardNowhere   = "nowhere"
)

// HeardPlaces lists where air can be said to have been heard.
func HeardPlaces() []string {
	return []string{
		HeardThrottle, HeardTailpipe, HeardFiller, HeardNeck, HeardNeighbour, HeardEdge, HeardNowhere,
	}
}

// Air is one place where the student says the air of a cylinder was heard.
type Air struct {
	Cylinder int    `json:"cylinder"`
	Place    string `json:"place"` // one of HeardPlaces
	Tick     int64  `json:"tick"`  // when it was written
}

// An Entry is one number on the job sheet, in the unit of its field.
type Entry struct {
	Field    string  `json:"field"`
	Cylinder int     `json:"cylinder"` // 0 for the whole engine
	Number   float64 `json:"number"`
	Tick     int64   `json:"tick"` // when it was written
}

// A Finding is one claim of a conclusion: a family and the cylinders it is
// about, none for the whole engine.
type Finding struct {
	Family    string `json:"family"`
	Cylinders []int  `json:"cylinders,omitempty"`
}

// A Sheet is the job sheet at one moment, derived from the log.
type Sheet struct {
	Ticks         []string  `json:"ticks"`          // card items the student has ticked
	Entries       []Entry   `json:"entries"`        // numbers written, one per field and cylinder
	Heard         []Air     `json:"heard"`          // where air was heard in leakage tests, in the order written
	Findings      []Finding `json:"findings"`       // the conclusion
	Sure          string    `json:"sure"`           // guess, likely, certain or empty
	Evidence      []string  `json:"evidence"`       // what the conclusion rests on
	NextTest      string    `json:"next_test"`      // the test to do next, or empty
	Remark        string    `json:"remark"`         // words for the customer
	HandedIn      bool      `json:"handed_in"`      //
	ConcludedTick int64     `json:"concluded_tick"` // when the last finding was put down
}

// How sure a conclusion can be said to be.
const (
	SureGuess   = "guess"
	SureLikely  = "likely"
	SureCertain = "certain"
)

// Sureness lists the words for how sure a conclusion is.
func Sureness() []string { return []string{SureGuess, SureLikely, SureCertain} }

// Method faults a key can name.
const (
	MethodThrottleShut   = "throttle_shut"
	MethodPlugsIn        = "plugs_in"
	MethodUnequalStrokes = "unequal_strokes"
	MethodGaugeNotZero   = "gauge_not_zero"
	MethodCold           = "cold_engine"
	MethodSlowCranking   = "slow_cranking"
	MethodAdapter        = "adapter"
	MethodGauge          = "gauge"
)

// MethodFaults lists the method faults a key can name.
func MethodFaults() []string {
	return []string{
		MethodThrottleShut, MethodPlugsIn, MethodUnequalStrokes, MethodGaugeNotZero, MethodCold,
		MethodSlowCranking, MethodAdapter, MethodGauge,
	}
}

// A Key is the answer of a scenario: what is wrong with the engine.
type Key struct {
	Family      string    `json:"family"`                 // one of Families
	Cylinders   []int     `json:"cylinders"`              // none for the whole engine
	Accept      []Finding `json:"accept,omitempty"`       // other answers worth as much
	NextTests   []string  `json:"next_tests,omitempty"`   // good tests to name next
	MethodFault string    `json:"method_fault,omitempty"` // method fault lying over the readings that were handed over
}

// maxCylinders bounds cylinder numbers wherever they come from outside.
const maxCylinders = 16

// Validate reports every wrong field of the key; nil when all is well. Whether
// the engine has so many cylinders is for whoever knows the engine.
func (k Key) Validate() error {
	var f faults
	f.oneOf("family", k.Family, Families())
	f.cylinders("cylinders", k.Cylinders)
	for i, a := range k.Accept {
		f.oneOf(fmt.Sprintf("accept[%d].family", i), a.Family, Families())
		f.cylinders(fmt.Sprintf("accept[%d].cylinders", i), a.Cylinders)
	}
	for i, n := range k.NextTests {
		f.oneOf(fmt.Sprintf("next_tests[%d]", i), n, NextTests())
	}
	if k.MethodFault != "" {
		f.oneOf("method_fault", k.MethodFault, MethodFaults())
	}
	return f.join()
}

func (f *faults) cylinders(path string, list []int) {
	for i, c := range list {
		f.inside(fmt.Sprintf("%s[%d]", path, i), float64(c), 1, maxCylinders)
		for _, d := range list[:i] {
			if d == c {
				f.add(fmt.Errorf("%s[%d] = %d stands there twice", path, i, c))
				break
			}
		}
	}
}
