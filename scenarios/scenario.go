// Package scenarios holds what a student may be given: an engine with what is
// wrong with it, the tools beside it, its procedure card and the answer key, in
// a file that a person can write and mail.
//
// A file is read strictly (package strict): one wrong name or number gives one
// sentence with its path. Units stand in the names of the fields; everything is
// turned into SI once, in Setup. Areas are effective areas, flow coefficient
// times geometric area.
package scenarios

import (
	"encoding/json"

	"crankbay/diagnose"
)

// Format is the version of the file that this package reads and writes.
const Format = 1

// A Scenario is one file of scenarios/data.
type Scenario struct {
	Format     int           `json:"format"`
	ID         string        `json:"id"`
	Seed       uint64        `json:"seed,string"` // of the instruments' own errors
	Title      Text          `json:"title"`
	Complaint  Text          `json:"complaint"` // what the customer says
	History    Text          `json:"history"`   // what was done before it came in
	Trains     []string      `json:"trains"`    // of Trains
	Difficulty int           `json:"difficulty"`
	Engine     Engine        `json:"engine"`
	Battery    Battery       `json:"battery"`
	Starter    Starter       `json:"starter"`
	Conditions Conditions    `json:"conditions"`
	Tools      Tools         `json:"tools"`
	SpecPages  []SpecPage    `json:"spec_pages"`
	RightPage  string        `json:"right_page"`
	Faults     []Fault       `json:"faults"`
	Method     *Method       `json:"method,omitempty"`
	Work       *Work         `json:"work,omitempty"`
	Card       diagnose.Card `json:"card"`
	Key        diagnose.Key  `json:"key"`
}

// Text is one text in the languages of the page. One of them may be missing in
// an instructor's own file.
type Text struct {
	EN string `json:"en,omitempty"`
	ES string `json:"es,omitempty"`
}

// Engine is the sound engine. Faults change it.
type Engine struct {
	ID              string    `json:"id"`
	Name            Text      `json:"name"`
	Layout          string    `json:"layout"` // inline, v, flat
	Cylinders       int       `json:"cylinders"`
	Banks           [][]int   `json:"banks"`                       // cylinder numbers front to rear, as the trade numbers them
	FiringOrder     []int     `json:"firing_order"`                // starts with cylinder 1
	FiringAnglesDeg []float64 `json:"firing_angles_deg,omitempty"` // beside the firing order; evenly spaced when absent
	BoreMM          float64   `json:"bore_mm"`
	StrokeMM        float64   `json:"stroke_mm"`
	RodMM           float64   `json:"rod_mm"`
	Compression     float64   `json:"compression_ratio"`
	Valves          Valves    `json:"valves"`
	PlenumL         float64   `json:"plenum_l"`
	ThrottleMM2     float64   `json:"throttle_area_mm2"`
	IdleMM2         float64   `json:"idle_area_mm2"`
	RingMM2         float64   `json:"ring_area_mm2"` // one cylinder, sound, with its normal oil film
	InertiaKgM2     float64   `json:"inertia_kg_m2"`
	FrictionKPa     float64   `json:"friction_kpa"` // mean effective pressure of friction, warm, at 200 rpm
	Oil             Oil       `json:"oil"`
	Plug            Plug      `json:"plug"`
	CamDrive        string    `json:"cam_drive"` // belt, chain, pushrod
	Cams            string    `json:"cams"`      // twin (two per bank), single (one per bank), block (one in all)

	// What follows may be absent.
	PinOffsetMM      float64  `json:"pin_offset_mm,omitempty"`      // towards the thrust side
	PlugHoleMM2      float64  `json:"plug_hole_area_mm2,omitempty"` // 0: as sim.Reference has it
	ExhaustL         float64  `json:"exhaust_l,omitempty"`          // up to the narrowest place; 0: as sim.Reference has it
	ExhaustOutletMM2 float64  `json:"exhaust_outlet_mm2,omitempty"` // 0: so wide that it is open air
	RecessMM         float64  `json:"recess_mm,omitempty"`          // between piston at TDC and shut valve; 0: they never touch
	Release          *Release `json:"release,omitempty"`

	OiledShare  float64 `json:"oiled_share,omitempty"`   // part of the ring that oil poured in reaches; 0: all of it
	Key         string  `json:"key,omitempty"`           // what the ignition key does to cranking: fires, valves, service_mode; nothing when absent
	DriveByWire bool    `json:"drive_by_wire,omitempty"` // the throttle plate follows the pedal by a motor
	ThreadsMaxC float64 `json:"threads_max_c,omitempty"` // hottest coolant at which plugs come out without harm to the head; 0: no limit of its own

	// What makes the cylinders of one sound engine differ, by number; one figure for
	// each or none at all.
	CylinderRingMM2   []float64 `json:"cylinder_ring_area_mm2,omitempty"` // instead of RingMM2
	CylinderDepositML []float64 `json:"cylinder_deposit_ml,omitempty"`    // in the chamber
}

// Release is a cam that holds an exhaust valve off its seat while the engine
// turns slowly.
type Release struct {
	LiftMM   float64 `json:"lift_mm"`
	FromDeg  float64 `json:"from_deg"` // crank angle after compression TDC, negative before it
	ToDeg    float64 `json:"to_deg"`
	BelowRPM float64 `json:"below_rpm"`
}

// Valves are the two cams' timing and the valves they move.
type Valves struct {
	Intake  IntakeValve  `json:"intake"`
	Exhaust ExhaustValve `json:"exhaust"`
}

// IntakeValve counts its angles the way a service manual does.
type IntakeValve struct {
	Count         int     `json:"count"`
	DiameterMM    float64 `json:"diameter_mm"`
	LiftMM        float64 `json:"lift_mm"`
	OpensDegBTDC  float64 `json:"opens_deg_btdc"`
	ClosesDegABDC float64 `json:"closes_deg_abdc"`
}

// ExhaustValve counts its angles the way a service manual does.
type ExhaustValve struct {
	Count         int     `json:"count"`
	DiameterMM    float64 `json:"diameter_mm"`
	LiftMM        float64 `json:"lift_mm"`
	OpensDegBBDC  float64 `json:"opens_deg_bbdc"`
	ClosesDegATDC float64 `json:"closes_deg_atdc"`
}

// Oil is the engine oil by its kinematic viscosity.
type Oil struct {
	KV40  float64 `json:"kv40_mm2_s"`
	KV100 float64 `json:"kv100_mm2_s"`
}

// Plug is the spark plug this engine takes.
type Plug struct {
	ThreadMM float64 `json:"thread_mm"`
	ReachMM  float64 `json:"reach_mm"`
	TorqueNm float64 `json:"torque_nm"`
}

// Battery is the starting battery as it came, with its cables.
type Battery struct {
	CCA        float64 `json:"cca_a"`
	Charge     float64 `json:"charge"`
	AgeFactor  float64 `json:"age_factor"` // resistance over that of a new one
	CapacityAh float64 `json:"capacity_ah"`
	CableMOhm  float64 `json:"cable_mohm"`
}

// Starter is the starter motor through its gears.
type Starter struct {
	ResistanceMOhm float64 `json:"resistance_mohm"`
	ConstantNmA    float64 `json:"constant_nm_a"`
	Ratio          float64 `json:"ratio"`
	DragNm         float64 `json:"drag_nm"`
	InertiaKgM2    float64 `json:"inertia_kg_m2"` // seen at the crank

	// What follows may be absent: then it is as sim.Reference has it.
	SaturationA float64 `json:"saturation_a,omitempty"`  // current at which half of the constant is left
	WindageNmSS float64 `json:"windage_nm_s2,omitempty"` // torque lost per square of the pinion's rad/s
	PullInS     float64 `json:"pull_in_s,omitempty"`     // switch to current
}

// Conditions are the day and the state the engine came in.
type Conditions struct {
	AmbientKPa float64 `json:"ambient_kpa"`
	AmbientC   float64 `json:"ambient_c"`
	CoolantC   float64 `json:"coolant_c"`
	WarmC      float64 `json:"warm_c"` // where the thermostat holds it
	Gear       string  `json:"gear"`
	ParkedDeg  float64 `json:"parked_deg"`         // crank angle after the compression TDC of cylinder 1
	NoStart    bool    `json:"no_start,omitempty"` // it cranks and doesn't start, so it can't be warmed up
}

// Tools is the tray beside the engine.
type Tools struct {
	Gauges   []Gauge   `json:"gauges"`
	Adapters []Adapter `json:"adapters"`
}

// Gauge is one compression gauge with its hose, and this copy's own errors.
type Gauge struct {
	ID               string  `json:"id"`
	RangePSI         float64 `json:"range_psi"`
	GraduationPSI    float64 `json:"graduation_psi"`
	HoseML           float64 `json:"hose_ml"`    // behind the tip valve
	AdapterML        float64 `json:"adapter_ml"` // between plug hole and tip valve
	ZeroErrorPSI     float64 `json:"zero_error_psi"`
	SpanErrorPercent float64 `json:"span_error_percent"`
	FrictionPSI      float64 `json:"friction_psi"`
}

// Adapter screws into the plug hole.
type Adapter struct {
	ID       string  `json:"id"`
	ThreadMM float64 `json:"thread_mm"`
	ReachMM  float64 `json:"reach_mm"`
	ORing    bool    `json:"o_ring"`
}

// SpecPage is a page of service information that can be looked up; only the one
// of the right engine code helps. A figure the page does not print is 0.
type SpecPage struct {
	ID            string  `json:"id"`
	EngineCode    string  `json:"engine_code"`
	StandardKPa   float64 `json:"standard_kpa"`
	MinimumKPa    float64 `json:"minimum_kpa"`
	DifferenceKPa float64 `json:"difference_kpa"`
}

// Method is how the test told of in the history was done, when not by the book.
type Method struct {
	Throttle string `json:"throttle"` // open, shut
	Plugs    string `json:"plugs"`    // out, in
}

// Trains lists what a scenario can say it trains.
func Trains() []string {
	return []string{
		"procedure", "reading", "one_low", "neighbours", "all_low", "one_high", "one_bank", "first_stroke", "wet_test",
		"battery", "throttle", "method", "sound_engine", "leakage", "current", "running", "vacuum", "lash", "gauge", "no_start",
		"contrary_card", "by_design", "not_compression",
	}
}

// Items lists what a procedure card can let the student tick.
func Items() []string {
	return []string{
		"glasses", "gear", "brake", "chocks", "belts", "fluids", "spec", "warm", "charger", "fuel", "ignition", "plugs_out",
		"wells", "adapter", "gauge_prove", "throttle", "switch", "strokes", "release", "plugs_back", "reconnect", "codes",
	}
}

// Encode returns the scenario as an indented file. Decode reads it back equal.
func (s *Scenario) Encode() ([]byte, error) { return json.MarshalIndent(s, "", "  ") }
