// Package record holds what was done and what could be seen on the bench: plain
// data, written by the bench, read by the grader. It knows no engine.
//
// Units: pressures are gauge pressures in Pa, temperatures °C, speeds rpm,
// volumes ml, time in ticks (1/1200 s of cranking) and in bench minutes.
package record

// TicksPerSecond is the fixed rate of bench time while the engine turns.
const TicksPerSecond = 1200

// An Action is one thing the student did or wrote, stamped with the tick before
// which it took effect. See the list of kinds in sim/bench and scenarios/attempt.
type Action struct {
	Tick     int64   `json:"tick"`
	Kind     string  `json:"kind"`
	Cylinder int     `json:"cylinder,omitempty"`
	Number   float64 `json:"number,omitempty"`
	Choice   string  `json:"choice,omitempty"`
	Text     string  `json:"text,omitempty"`
}

// A Mark pins the state at a tick, so a replay can say where it went wrong.
type Mark struct {
	Tick   int64  `json:"tick"`
	Digest uint64 `json:"digest,string"` // a JSON number would lose bits in a browser
}

// An Event is one fact in the order it happened: an accepted action, or
// something the bench noticed (kinds "crank-start", "crank-stop", "stroke",
// "stall", "caution", "hazard"). Choice carries the caution's or hazard's key.
type Event struct {
	Tick     int64
	Minutes  float64 // bench minutes since the start, stated minutes of actions included
	Kind     string
	Cylinder int
	Number   float64
	Choice   string
}

// A Stroke is one compression stroke of the gauged cylinder.
type Stroke struct {
	Tick   int64
	Shown  float64 // where a person reads the needle, to half a graduation [Pa gauge]
	Full   bool    // false for a part stroke from where the crank was parked
	Needle float64 // where the needle stands, unrounded [Pa gauge]
	True   float64 // gas in the hose, no instrument error [Pa gauge]
}

// A Run is one uninterrupted cranking: starter on until it is off and the crank
// has come to rest.
type Run struct {
	ID               int
	StartTick        int64
	EndTick          int64
	Minutes          float64 // bench minutes at the start
	Cylinder         int     // gauged cylinder, 0 when no gauge was fitted
	Strokes          []Stroke
	ThrottleOpen     bool
	PlugsOut         int     // cylinders with an open plug hole or the gauge
	OilML            float64 // oil put into the gauged cylinder so far
	OilMLAny         float64 // oil put into any cylinder so far
	CoolantC         float64
	GaugeAtZero      bool // needle at rest on zero when the run began
	FuelDisabled     bool
	IgnitionDisabled bool
	Charger          bool
	SpeedRPM         float64 // mean over the run after the first 0.3 s
	BatteryMinV      float64 // lowest after the first 0.3 s
}

// Full returns the number of full compression strokes.
func (r Run) Full() int {
	n := 0
	for _, s := range r.Strokes {
		if s.Full {
			n++
		}
	}
	return n
}

// A Leak is one reading of the leakage tester: air was put on a cylinder and the
// pressure came to stand.
type Leak struct {
	Tick     int64
	Minutes  float64
	Cylinder int
	SupplyPa float64 // at the tester [Pa gauge]
	HeldPa   float64 // in the cylinder, no instrument error [Pa gauge]
	Percent  float64 // lost, as a person reads the tester [%]
	PistonAt float64 // where it came to stand, after its compression TDC [rad], in [-2π, 2π)
	Turned   float64 // how far the air pushed the crank [rad]
	Heard    []Heard // where the student listened, in that order
}

// Heard is one place where the air of a leakage test was listened for.
type Heard struct {
	Place    string // one of bench.Places
	Cylinder int    // whose plug hole, else 0
	Air      bool   // it was heard, or bubbles were seen
}

// A Current is what the clamp meter on the starter cable showed of a run, as a
// person reads it.
type Current struct {
	Run       int     // its ID
	Seconds   float64 // of the last press of the switch in it, 20 s at most
	PeakA     float64 // of the inrush
	MeanA     float64 // after the first second
	MeanHumpA float64 // of all cylinders, 0 when there are no humps
	Humps     []Hump  // in firing order; none when a plug was out or a cylinder never came up
	Compare   string  // CompareAll and its like: whether the humps can be compared
	Tower     int     // where they overlap: the cylinder whose hump stands over all others with the one before it there; 0 none
}

// Compared tells whether the humps say which cylinder is weaker than its like.
func (c Current) Compared() bool { return len(c.Humps) > 1 && Comparable(c.Compare) }

// How the humps of an engine can be compared.
const (
	CompareAll     = ""             // all with each other
	CompareGroups  = "groups"       // it fires unevenly: each with those of its group
	CompareUneven  = "uneven"       // not at all: each fires at an interval of its own
	CompareOverlap = "overlap"      // not at all: it fires so often that each hump lies on its neighbours
	CompareSingle  = "one_cylinder" // there is nothing to compare with
)

// Comparable tells whether heights can be compared that way.
func Comparable(how string) bool { return how == CompareAll || how == CompareGroups }

// Hump is what one cylinder's compression costs the starter.
type Hump struct {
	Cylinder int
	HeightA  float64
	Percent  float64 // of the mean of all cylinders, or of the middle one of its group
	Low      bool    // 20 % or more under that; never where humps can't be compared
	Group    int     // from 1, where only groups can be compared; else 0
}

// A Vacuum is what the vacuum gauge on the manifold showed of a run.
type Vacuum struct {
	Run     int     // its ID
	MeanPa  float64 // below ambient, from the third second on
	SwingPa float64 // highest less lowest
}

// A Pumped is one reading of the running compression test.
type Pumped struct {
	Tick     int64
	Minutes  float64
	Cylinder int
	How      string  // idle or snap
	Shown    float64 // where a person reads the needle, to half a graduation [Pa gauge]
	Needle   float64 // where the needle stands, unrounded [Pa gauge]
	True     float64 // gas in the hose, no instrument error [Pa gauge]
}

// A Balance is what the tachometer showed in a power balance.
type Balance struct {
	Tick    int64
	Minutes float64
	RPM     float64   // with all cylinders
	Without []float64 // by cylinder, with that one off [rpm]; 0 when the engine died
}

// A Record is everything that happened on the bench in one attempt.
type Record struct {
	Tick    int64
	Minutes float64
	Events  []Event
	Runs    []Run
	Leaks   []Leak

	Currents []Current
	Vacuums  []Vacuum
	Pumped   []Pumped
	Balances []Balance
}
