package scenarios

import (
	"bytes"
	"encoding/json"

	"crankbay/sim"
	"crankbay/sim/bench"
)

// Kinds of fault. Each changes physical parameters and nothing else.
const (
	ExhaustSeatLeak = "exhaust_seat_leak" // area past the shut exhaust valves
	IntakeSeatLeak  = "intake_seat_leak"  // area past the shut intake valves
	BentValve       = "bent_valve"        // gap at the seat of one valve
	ExhaustLash     = "exhaust_lash"      // clearance over (+) or under (-) specification
	IntakeLash      = "intake_lash"       // clearance over (+) or under (-) specification
	WeakSpring      = "weak_spring"       // force over that of a new spring
	IntakeLift      = "intake_lift"       // share of the cam's lift that arrives: worn lobe, collapsed lifter, rocker off
	ExhaustLift     = "exhaust_lift"      // the same of the exhaust valves
	CamTiming       = "cam_timing"        // teeth late on the cam wheel
	StuckPhaser     = "stuck_phaser"      // crank degrees late
	Interference    = "interference"      // room between piston and shut valve: what meets bends
	ReleaseCam      = "release_cam"       // exhaust valve held off its seat at low speed

	WornRings   = "worn_rings"   // area past the rings over that of the sound engine
	StuckRing   = "stuck_ring"   // area past a ring that sits fast in its groove; oil fills it
	BrokenRing  = "broken_ring"  // area between the pieces, which no oil seals
	BrokenLand  = "broken_land"  // area past the piston, which no oil seals
	ScoredBore  = "scored_bore"  // depth and width of all scores together
	HoledPiston = "holed_piston" // diameter of the hole
	DryBore     = "dry_bore"     // share of the oil film that turning does not bring back
	WashedBore  = "washed_bore"  // the same, washed off by fuel

	GasketBetween   = "gasket_between"     // area between two neighbours of one bank
	GasketToCoolant = "gasket_to_coolant"  // area to the water jacket
	GasketToOutside = "gasket_to_outside"  // area to the open air
	CrackedHead     = "cracked_head"       // area of a crack to coolant or open air
	Carbon          = "carbon"             // volume of deposit in the chamber
	CarbonFlake     = "carbon_flake"       // area past an exhaust seat until the engine has run
	Liquid          = "liquid_in_cylinder" // volume on the piston

	RestrictedExhaust = "restricted_exhaust" // area of the way out
	RestrictedIntake  = "restricted_intake"  // area of the way in
	VacuumLeak        = "vacuum_leak"        // area into the manifold past the throttle

	WeakBattery       = "weak_battery"       // charge and resistance
	DischargedBattery = "discharged_battery" // charge
	Cold              = "cold"               // battery, air and oil as cold as the day
	CableResistance   = "cable_resistance"   // of the live cable, over that of a sound one
	GroundResistance  = "ground_resistance"  // of the ground, over that of a sound one
	DraggingStarter   = "dragging_starter"   // torque lost in the starter
	TightEngine       = "tight_engine"       // friction over that of the sound engine
	ThickOil          = "thick_oil"          // viscosity
	Altitude          = "altitude"           // air pressure by height

	TipValveLeak = "tip_valve_leak"         // area back through the shut tip valve
	TipValveAway = "tip_valve_at_gauge_end" // volume left behind the valve; the hose is dead volume
	ReleaseLeak  = "release_leak"           // area of the release at rest
	MissingORing = "missing_o_ring"         // area past the adapter's thread
	WrongReach   = "wrong_reach"            // thread length of the adapter
	ZeroError    = "zero_error"             // where the needle stands without pressure
	SpanError    = "span_error"             // error of slope
	StickyNeedle = "sticky_needle"          // within which the needle stays where it is
)

// Places tell what a fault is of, and so which field of the file names it.
const (
	PlaceCylinder   = "cylinder"   // one cylinder
	PlaceCylinders  = "cylinders"  // one cylinder, or all when none is named
	PlaceNeighbours = "neighbours" // two cylinders side by side in one bank
	PlaceCams       = "cams"       // intake, exhaust or both, of one bank or all
	PlaceEngine     = "engine"
	PlaceGauge      = "gauge"   // a gauge of the tray
	PlaceAdapter    = "adapter" // an adapter of the tray
)

// A Fault is one thing that is wrong. Kind tells which of the other fields count.
type Fault struct {
	Kind       string
	Cylinder   int    // 0: all cylinders, where the kind allows it
	Cylinders  []int  // two neighbours
	Cam        string // intake, exhaust, both
	Bank       int    // of cams: 0 all, else 1 or 2
	Valve      string // intake, exhaust
	To         string // coolant, outside
	Tool       string // id of a gauge or an adapter
	TeethLate  int    // negative is early
	WheelTeeth int    // teeth of the cam wheel

	AreaMM2        float64 // effective area, over that of the sound engine where that has one
	GapMM          float64 // of a bent valve at its seat
	LashMM         float64 // clearance less specification
	Share          float64 // of lift, spring force or film
	DegLate        float64 // crank degrees
	RecessMM       float64 // between piston and shut valve
	LiftMM         float64 // of a release cam
	FromDeg, ToDeg float64 // crank angle after compression TDC
	BelowRPM       float64 // crank speed
	DepthMM        float64 // of scores
	WidthMM        float64 // of all scores together
	DiameterMM     float64 // of a hole
	VolumeML       float64
	Charge         float64 // state of charge
	AgeFactor      float64 // resistance over that of a new battery
	AmbientC       float64
	ResistanceMOhm float64
	DragNm         float64 // at the pinion
	FrictionKPa    float64 // mean effective pressure
	KV40, KV100    float64 // kinematic viscosity, mm²/s
	AltitudeM      float64
	ReachMM        float64
	ErrorPSI       float64
	ErrorPercent   float64
	FrictionPSI    float64
}

// A FaultKind says what a fault of one kind needs: where it sits and the numbers
// that say how bad it is.
type FaultKind struct {
	Name    string
	Place   string        // one of the Place constants
	Which   string        // field that takes one of Choice, besides the place; mostly empty
	Choice  []string      // what it can hold
	Numbers []FaultNumber // how bad it is

	which    func(*Fault) *string
	cylinder func(*Fault, *sim.Params, *sim.CylinderParams)
	engine   func(*Fault, *sim.Params)
	gauge    func(*Fault, *bench.GaugeTool)
	adapter  func(*Fault, *bench.AdapterTool)
}

// A FaultNumber is one physical number of a fault in the unit of the file.
type FaultNumber struct {
	Name   string // in the file
	Unit   string // empty for a plain number
	Lo, Hi float64

	float func(*Fault) *float64
	whole func(*Fault) *int // instead of float for a whole number
}

// Whole tells whether the number has to be whole.
func (n FaultNumber) Whole() bool { return n.whole != nil }

// Of returns the number of a fault.
func (n FaultNumber) Of(f Fault) float64 {
	if n.whole != nil {
		return float64(*n.whole(&f))
	}
	return *n.float(&f)
}

// Put changes the number of a fault; one that has to be whole stays as it is. v is
// held to the number's range.
func (n FaultNumber) Put(f *Fault, v float64) {
	if n.float != nil {
		*n.float(f) = min(max(v, n.Lo), n.Hi)
	}
}

// KindOf returns what faults of this kind need, nil for a name that is none.
func KindOf(name string) *FaultKind { return faultKind(name) }

// FaultKinds lists all kinds of fault, valves first and tools last.
func FaultKinds() []FaultKind { return faultKinds }

// Kinds lists the names of all kinds of fault.
func Kinds() []string {
	names := make([]string, len(faultKinds))
	for i := range faultKinds {
		names[i] = faultKinds[i].Name
	}
	return names
}

// faultKind finds a kind by its name, or returns nil.
func faultKind(name string) *FaultKind {
	for i := range faultKinds {
		if faultKinds[i].Name == name {
			return &faultKinds[i]
		}
	}
	return nil
}

// MarshalJSON writes the fields that count for the kind, zero or not; only the
// cylinder is left out when all are meant.
func (f Fault) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	add := func(name string, v any) {
		data, err := json.Marshal(v)
		if err != nil { // a decoded fault has only finite numbers and texts
			panic("scenarios: " + err.Error())
		}
		if b.Len() > 0 {
			b.WriteByte(',')
		}
		b.WriteString(`"` + name + `":`)
		b.Write(data)
	}
	add("kind", f.Kind)
	k := faultKind(f.Kind)
	if k == nil {
		k = &FaultKind{}
	}
	switch k.Place {
	case PlaceCylinder, PlaceCylinders:
		if f.Cylinder != 0 {
			add("cylinder", f.Cylinder)
		}
	case PlaceNeighbours:
		add("cylinders", f.Cylinders)
	case PlaceCams:
		add("cam", f.Cam)
		add("bank", f.Bank)
	case PlaceGauge, PlaceAdapter:
		add(k.Place, f.Tool)
	}
	if k.Which != "" {
		add(k.Which, *k.which(&f))
	}
	for _, n := range k.Numbers {
		if n.Whole() {
			add(n.Name, *n.whole(&f))
		} else {
			add(n.Name, *n.float(&f))
		}
	}
	return append(append([]byte{'{'}, b.Bytes()...), '}'), nil
}

// apply changes the parameters the fault is about.
func (f Fault) apply(p *sim.Params, e Engine) {
	k := faultKind(f.Kind)
	switch {
	case k == nil:
	case k.Place == PlaceNeighbours:
		f.join(p, e)
	case k.engine != nil:
		k.engine(&f, p)
	case k.cylinder != nil:
		for i := range e.Cylinders {
			c := &p.Cylinder[i]
			if (f.Cylinder == 0 || f.Cylinder == i+1) && (f.Bank == 0 || c.Bank == f.Bank-1) {
				k.cylinder(&f, p, c)
			}
		}
	}
}

// join opens a way between two neighbours. The path is one: it is noted once, at
// the cylinder nearer the front, which has only one behind it.
func (f Fault) join(p *sim.Params, e Engine) {
	for _, bank := range e.Banks {
		for i := 1; i < len(bank); i++ {
			a, b := bank[i-1], bank[i]
			if a == f.Cylinders[0] && b == f.Cylinders[1] || a == f.Cylinders[1] && b == f.Cylinders[0] {
				p.Cylinder[a-1].GasketTo = b
				p.Cylinder[a-1].GasketArea += float64(f.AreaMM2 * mm2)
			}
		}
	}
}

// spoil changes the tools the fault is about.
func (f Fault) spoil(b *bench.Setup) {
	k := faultKind(f.Kind)
	if k == nil {
		return
	}
	for i := range b.Gauges {
		if k.gauge != nil && b.Gauges[i].ID == f.Tool {
			k.gauge(&f, &b.Gauges[i])
		}
	}
	for i := range b.Adapters {
		if k.adapter != nil && b.Adapters[i].ID == f.Tool {
			k.adapter(&f, &b.Adapters[i])
		}
	}
}

// show tells the bench what an eye would find of a fault.
func (f Fault) show(b *bench.Setup) {
	if f.WheelTeeth > 0 {
		b.WheelTeeth = f.WheelTeeth
	}
	for i := range b.Seen {
		if f.Kind == WashedBore && (f.Cylinder == 0 || f.Cylinder == i+1) {
			b.Seen[i].Fuel = true
		}
	}
	if f.Cylinder < 1 || f.Cylinder > len(b.Seen) {
		return
	}
	seen := &b.Seen[f.Cylinder-1]
	seen.Hole = seen.Hole || f.Kind == HoledPiston
	seen.Scored = seen.Scored || f.Kind == ScoredBore
}
