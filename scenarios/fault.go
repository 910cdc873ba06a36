package scenarios

import "encoding/json"

// Kinds of fault. Each changes physical parameters and nothing else.
const (
	ExhaustSeatLeak = "exhaust_seat_leak" // area past the shut exhaust valves
	IntakeSeatLeak  = "intake_seat_leak"  // area past the shut intake valves
	WornRings       = "worn_rings"        // area past the rings over that of the sound engine
	GasketBetween   = "gasket_between"    // area between two neighbours of one bank
	CamTiming       = "cam_timing"        // teeth late on the cam wheel
	WeakBattery     = "weak_battery"      // charge and resistance
	IntakeLift      = "intake_lift"       // share of the cam's lift that arrives
	ExhaustLift     = "exhaust_lift"      // share of the cam's lift that arrives
	Carbon          = "carbon"            // volume of deposit in the chamber
)

// Kinds lists the kinds of fault.
func Kinds() []string {
	return []string{
		ExhaustSeatLeak, IntakeSeatLeak, WornRings, GasketBetween, CamTiming, WeakBattery, IntakeLift, ExhaustLift, Carbon,
	}
}

// A Fault is one thing that is wrong. Kind tells which of the other fields count.
type Fault struct {
	Kind       string
	Cylinder   int     // 0: all cylinders (worn_rings, carbon)
	Cylinders  []int   // gasket_between: two neighbours
	AreaMM2    float64 // the leaks, effective area over that of the sound engine
	Cam        string  // cam_timing: intake, exhaust, both
	Bank       int     // cam_timing: 0 all, else 1 or 2
	TeethLate  int     // cam_timing: negative is early
	WheelTeeth int     // cam_timing: teeth of the cam wheel
	Charge     float64 // weak_battery
	AgeFactor  float64 // weak_battery
	Share      float64 // the lifts
	VolumeML   float64 // carbon
}

// MarshalJSON writes the fields that count for the kind, zero or not.
func (f Fault) MarshalJSON() ([]byte, error) {
	type head struct {
		Kind     string `json:"kind"`
		Cylinder int    `json:"cylinder,omitempty"`
	}
	h := head{f.Kind, f.Cylinder}
	switch f.Kind {
	case GasketBetween:
		return json.Marshal(struct {
			Kind      string  `json:"kind"`
			Cylinders []int   `json:"cylinders"`
			AreaMM2   float64 `json:"area_mm2"`
		}{f.Kind, f.Cylinders, f.AreaMM2})
	case CamTiming:
		return json.Marshal(struct {
			Kind       string `json:"kind"`
			Cam        string `json:"cam"`
			Bank       int    `json:"bank"`
			TeethLate  int    `json:"teeth_late"`
			WheelTeeth int    `json:"wheel_teeth"`
		}{f.Kind, f.Cam, f.Bank, f.TeethLate, f.WheelTeeth})
	case WeakBattery:
		return json.Marshal(struct {
			Kind      string  `json:"kind"`
			Charge    float64 `json:"charge"`
			AgeFactor float64 `json:"age_factor"`
		}{f.Kind, f.Charge, f.AgeFactor})
	case IntakeLift, ExhaustLift:
		return json.Marshal(struct {
			head
			Share float64 `json:"share"`
		}{h, f.Share})
	case Carbon:
		return json.Marshal(struct {
			head
			VolumeML float64 `json:"volume_ml"`
		}{h, f.VolumeML})
	}
	return json.Marshal(struct {
		head
		AreaMM2 float64 `json:"area_mm2"`
	}{h, f.AreaMM2})
}
