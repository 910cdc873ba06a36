// Package book does a compression test by the book: everything the procedure
// card asks for, in order, by the same actions a student has. It is what the
// command line shows, what a job sheet is handed over from another shop, and
// what every pattern of the catalogue is checked with.
package book

import (
	"errors"
	"fmt"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Kinds of test.
const (
	Dry = "dry"
	Wet = "wet" // dry on every cylinder first, then with oil on every cylinder
)

// Options says which test, and how it is read.
type Options struct {
	Kind   string // Dry or Wet; Dry when empty
	AsRead bool   // what a person reads off the dial instead of the gas in the hose
	ByCard bool   // by the card even when the scenario says the test was done otherwise
}

// A Reading is the test of one cylinder. Pressures are psi gauge.
type Reading struct {
	Cylinder    int     `json:"cylinder"`
	FirstPSI    float64 `json:"first_psi"`
	FinalPSI    float64 `json:"final_psi"`
	Strokes     int     `json:"strokes"` // full compression strokes
	RPM         float64 `json:"rpm"`     // mean of the cranking after its first 0.3 s
	BatteryMinV float64 `json:"battery_min_v"`
}

// A Result is a whole test.
type Result struct {
	Scenario string          `json:"scenario"`
	Kind     string          `json:"kind"`
	AsRead   bool            `json:"as_read"`
	Throttle string          `json:"throttle"` // open, shut
	Plugs    string          `json:"plugs"`    // of the other cylinders: out, in
	IdleMM2  float64         `json:"idle_area_mm2"`
	CoolantC float64         `json:"coolant_c"` // when the first cylinder was cranked
	OilML    float64         `json:"oil_ml"`    // in each cylinder, of a wet test
	Minutes  float64         `json:"minutes"`   // bench minutes of all of it
	Readings []Reading       `json:"readings"`
	Dry      []Reading       `json:"dry,omitempty"` // of a wet test: what went before
	Digest   uint64          `json:"-"`             // of the whole bench at the end
	Log      []record.Action `json:"-"`
	Record   record.Record   `json:"-"`
}

// ErrNoWetTest says that the card has no wet test.
var ErrNoWetTest = errors.New("this engine's card has no wet test (card.oil_ml is 0)")

// Run does the test. The same scenario and options give the same bits.
func Run(s *scenarios.Scenario, o Options) (Result, error) {
	if o.Kind == "" {
		o.Kind = Dry
	}
	if o.Kind != Dry && o.Kind != Wet {
		return Result{}, fmt.Errorf("kind %q, want %s or %s", o.Kind, Dry, Wet)
	}
	if o.Kind == Wet && s.Card.OilML == 0 {
		return Result{}, ErrNoWetTest
	}
	b, err := bench.New(s.Setup())
	if err != nil {
		return Result{}, err
	}
	h := &hands{b: b, s: s, open: s.Card.ThrottleOpen, out: s.Card.PlugsOut, asRead: o.AsRead}
	if s.Method != nil && !o.ByCard {
		h.open, h.out = s.Method.Throttle == "open", s.Method.Plugs == "out"
	}
	h.prepare()
	readings := h.round(0)
	var dry []Reading
	if o.Kind == Wet {
		dry, readings = readings, h.round(s.Card.OilML)
	}
	if h.err != nil {
		return Result{}, h.err
	}
	r := Result{
		Scenario: s.ID, Kind: o.Kind, AsRead: o.AsRead, Throttle: "shut", Plugs: "in", IdleMM2: s.Engine.IdleMM2,
		Minutes: b.Minutes(), Readings: readings, Dry: dry, Digest: b.Digest(), Log: b.Log(), Record: b.Record(),
	}
	if h.open {
		r.Throttle = "open"
	}
	if h.out {
		r.Plugs = "out"
	}
	if o.Kind == Wet {
		r.OilML = s.Card.OilML
	}
	if len(r.Record.Runs) > 0 {
		r.CoolantC = r.Record.Runs[0].CoolantC
	}
	return r, nil
}

// Strokes is how many full compression strokes the book takes on each cylinder:
// the middle of what the card allows.
func Strokes(c diagnose.Card) int { return (c.StrokesMin + c.StrokesMax) / 2 }

// hands does one action after the other until one is refused.
type hands struct {
	b         *bench.Bench
	s         *scenarios.Scenario
	open, out bool // throttle held open; all plugs out
	asRead    bool
	err       error
}

func (h *hands) do(kind, choice string) { h.act(record.Action{Kind: kind, Choice: choice}) }

func (h *hands) on(kind string, cylinder int, choice string) {
	h.act(record.Action{Kind: kind, Cylinder: cylinder, Choice: choice})
}

func (h *hands) act(a record.Action) {
	if h.err != nil {
		return
	}
	if err := h.b.Do(a); err != nil {
		h.err = fmt.Errorf("%s %s (cylinder %d): %w", a.Kind, a.Choice, a.Cylinder, err)
	}
}

// prepare does what comes before the first hose. What can be done on a cold
// engine is done before it is warmed up, because it cools from then on.
func (h *hands) prepare() {
	c := h.s.Card
	h.do(bench.KindGlasses, "on")
	if h.s.Conditions.Gear == bench.GearDrive {
		h.do(bench.KindGear, bench.GearPark)
	}
	h.do(bench.KindBrake, "on")
	h.do(bench.KindChocks, "on")
	h.do(bench.KindBelts, "")
	h.do(bench.KindFluids, "")
	h.do(bench.KindSpec, h.s.RightPage)
	h.do(bench.KindGauge, h.s.Tools.Gauges[0].ID)
	h.do(bench.KindProve, "")
	h.do(bench.KindAdapter, h.adapter())
	h.do(bench.KindVoltmeter, "on")
	h.do(bench.KindTachometer, "on")
	if c.Switch != diagnose.SwitchKey { // the key is what there is
		h.do(bench.KindSwitch, "remote")
	}
	h.temperature()
	if c.FuelDisable {
		h.do(bench.KindFuel, "disabled")
	}
	if c.IgnitionDisable {
		h.do(bench.KindIgnition, "disabled")
	}
	h.do(bench.KindWells, "")
	if c.Charger {
		h.do(bench.KindCharger, "on")
	}
	for cyl := 1; h.out && cyl <= h.s.Engine.Cylinders; cyl++ {
		h.on(bench.KindPlugOut, cyl, "ordered")
	}
	if h.open {
		h.do(bench.KindThrottle, c.ThrottleChoice())
	}
}

// adapter returns the first on the tray that fits the engine.
func (h *hands) adapter() string {
	plug := h.s.Engine.Plug
	for _, a := range h.s.Tools.Adapters {
		if a.ThreadMM == plug.ThreadMM && a.ReachMM == plug.ReachMM && (a.ORing || !h.s.Card.ORing) {
			return a.ID
		}
	}
	return h.s.Tools.Adapters[0].ID // a decoded scenario has one that fits
}

// temperature warms the engine up, or lets it cool, until the card is content.
// It gives up after a working day.
func (h *hands) temperature() {
	c := h.s.Card
	for range 8 {
		now := unit.Kelvin(h.b.Engine().Coolant()).Celsius()
		aim := min(h.s.Conditions.WarmC-3, c.CoolantMaxC)
		switch {
		case h.err != nil:
			return
		case now > c.CoolantMaxC:
			h.act(record.Action{Kind: bench.KindCoolDown, Number: 60})
		case now < aim && c.CoolantMinC > h.s.Conditions.AmbientC:
			h.act(record.Action{Kind: bench.KindWarmUp, Number: 10})
		default:
			return
		}
	}
}

// round tests every cylinder once, with oil in each when ml is above 0.
func (h *hands) round(ml float64) []Reading {
	var all []Reading
	for cyl := 1; cyl <= h.s.Engine.Cylinders && h.err == nil; cyl++ {
		all = append(all, h.test(cyl, ml))
	}
	return all
}

// test does one cylinder: oil if wanted, hose on, turned by hand to BDC before
// its compression, cranked, read, released, hose off.
func (h *hands) test(cyl int, ml float64) Reading {
	if !h.out {
		h.on(bench.KindPlugOut, cyl, "ordered")
	}
	if ml > 0 {
		h.act(record.Action{Kind: bench.KindOil, Cylinder: cyl, Number: ml})
	}
	h.on(bench.KindHoseOn, cyl, "")
	h.on(bench.KindTurn, cyl, "bdc")
	h.do(bench.KindWrench, "off")
	h.do(bench.KindStarter, "on")
	for range Strokes(h.s.Card) {
		if h.err != nil || h.b.StrokeStep() == 0 {
			break
		}
	}
	h.do(bench.KindStarter, "off")
	if h.err == nil {
		h.b.Settle()
	}
	r := h.read(cyl)
	h.do(bench.KindRelease, "")
	h.do(bench.KindHoseOff, "")
	if !h.out {
		h.on(bench.KindPlugIn, cyl, "hand")
		h.do(bench.KindPlugTorque, "")
	}
	return r
}

// read takes the reading out of the last run.
func (h *hands) read(cyl int) Reading {
	out := Reading{Cylinder: cyl}
	runs := h.b.Record().Runs
	if h.err != nil || len(runs) == 0 || runs[len(runs)-1].Cylinder != cyl {
		return out
	}
	run := runs[len(runs)-1]
	out.RPM, out.BatteryMinV = run.SpeedRPM, run.BatteryMinV
	for _, s := range run.Strokes {
		if !s.Full {
			continue
		}
		p := unit.Gauge(s.True)
		if h.asRead {
			p = unit.Gauge(s.Shown)
		}
		if out.Strokes == 0 {
			out.FirstPSI = p.PSI()
		}
		out.FinalPSI = p.PSI()
		out.Strokes++
	}
	return out
}
