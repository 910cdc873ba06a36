package bench

import (
	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Limits of one attempt.
const (
	MaxActions = 5000
	MaxTicks   = 30 * 60 * record.TicksPerSecond // half an hour of cranking

	maxChoice = 64
	maxText   = 400
	maxNumber = 1e9
)

// ticksPerMinute turns cranking into bench minutes.
const ticksPerMinute = 60 * record.TicksPerSecond

// A Bench is the whole state of one test. It is not safe for concurrent use.
type Bench struct {
	setup  Setup
	engine *sim.Engine
	needle instrument.Needle

	hands  hands
	cyl    []plug
	press  pressing
	run    running
	meters meters
	tests  confirming
	ready  ready

	ran        bool    // by itself since it came in; follows from the log alone
	valvesShut bool    // intake valves, for want of the key
	rail       int     // turns the rail still feeds with the fuel disabled
	trace      trace   // folded into tests while a run goes on
	release    int     // ticks the release has been pressed; 0 when it is not
	quiet      int     // ticks since switch, crank and release came to rest
	stated     float64 // minutes stated by actions
	heat       float64 // cranking that is still in the starter [s]
	told       int     // cautions about a hot starter since it was cool

	rec     record.Record
	log     []record.Action
	marks   []record.Mark
	logHash uint64
	expect  *expectation
	tap     func() // after every tick; no part of the state
}

// hands is where everything stands that is not screwed into a cylinder.
type hands struct {
	glasses, brake, chocks, belts, fluids  bool
	charger, wells, open, pedal, remote    bool
	fuelOff, ignitionOff                   bool
	voltmeter, tachometer, starter, proved bool
	leads                                  bool
	codes                                  bool // stored since the last clearing
	vapour                                 bool // fuel vapour about the open holes
	jammed                                 bool // liquid has stopped the crank
	gear, page, started                    string
	gauge, adapter                         int // index on the tray, -1 none
	hose                                   int // cylinder, 0 none
}

// plug is what the bench knows of one plug and its hole.
type plug struct {
	order  string // ordered or loose once it was out
	loose  bool   // fitted, not torqued
	torn   bool   // its thread, by unscrewing it hot
	oil    float64
	washed float64 // turns cranked with live fuel
}

// New sets a bench up. The error says everything that is wrong with the set-up.
func New(s Setup) (*Bench, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	s.Engine.Gauge = s.plumbing(s.Gauges[0], nil)
	engine, err := sim.New(s.Engine)
	if err != nil {
		return nil, err
	}
	b := &Bench{setup: s, engine: engine, needle: instrument.NewNeedle(s.Gauges[0].Spec)}
	b.cyl = make([]plug, s.Engine.Cylinders)
	b.hands = hands{gear: s.Gear, gauge: -1, adapter: -1, leads: true}
	b.ready.gauge, b.rail = -1, railTurns
	b.logHash = newHash().word(s.Seed).sum()
	b.meters.reset(engine)
	return b, nil
}

// Engine returns the engine, for looking only.
func (b *Bench) Engine() *sim.Engine { return b.engine }

// Needle returns the needle of the gauge in hand, for looking only.
func (b *Bench) Needle() *instrument.Needle { return &b.needle }

// GaugeRange returns the full scale of the gauge in hand, or of the first on the
// tray [Pa].
func (b *Bench) GaugeRange() unit.Gauge { return b.setup.Gauges[max(b.hands.gauge, 0)].Spec.Range }

// Tap has f called after every tick, for looking only: it is how cranking is
// heard. Nil ends it.
func (b *Bench) Tap(f func()) { b.tap = f }

// Setup returns what the bench was set up with.
func (b *Bench) Setup() Setup { return b.setup }

// Tick returns the ticks of bench time that have passed, as the engine counts them.
func (b *Bench) Tick() int64 { return b.rec.Tick }

// Minutes returns the bench minutes since the start, cranking included.
func (b *Bench) Minutes() float64 { return b.stated + float64(b.rec.Tick)/ticksPerMinute }

// Record returns what happened so far. It shares memory with the bench; a run in
// progress is not in it.
func (b *Bench) Record() record.Record {
	r := b.rec
	r.Minutes = b.Minutes()
	return r
}

// Log returns the accepted actions. It shares memory with the bench.
func (b *Bench) Log() []record.Action { return b.log }

// Marks returns the marks made so far. It shares memory with the bench.
func (b *Bench) Marks() []record.Mark { return b.marks }

// hose returns the gas pressure in the gauge relative to ambient.
func (b *Bench) hosePressure() unit.Gauge {
	return unit.Gauge(b.engine.HosePressure() - b.setup.Engine.Ambient)
}

// event notes something in the record.
func (b *Bench) event(kind, choice string, cylinder int, number float64) {
	b.rec.Events = append(b.rec.Events, record.Event{
		Tick: b.rec.Tick, Minutes: b.Minutes(), Kind: kind, Cylinder: cylinder, Number: number, Choice: choice,
	})
}

func (b *Bench) caution(key string, cylinder int) { b.event(EventCaution, key, cylinder, 0) }

func (b *Bench) hazard(key string, cylinder int) { b.event(EventHazard, key, cylinder, 0) }

func (b *Bench) fact(key string, cylinder int, number float64) {
	b.event(EventFact, key, cylinder, number)
}
