// Package debrief works out what a student is told after handing in: the grade
// with what it rests on, what was inside the engine, what was done when, what every
// cranking showed, what each reading was worth, which mistake changed which reading
// by how much, and which tests would have settled it soonest. Everything is computed
// from the attempt and the engine model: a mistake's cost is the difference to the
// same attempt played without it. Sentences are made elsewhere, from keys and
// numbers.
package debrief

import (
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
)

// Facts are what the first look at a debrief needs.
type Facts struct {
	Grade    diagnose.Result `json:"grade"`
	Truth    Truth           `json:"truth"`
	Timeline []Event         `json:"timeline"`
	Runs     []Run           `json:"runs"`
	Readings []Reading       `json:"readings"` // of each cylinder, dry and wet
	Most     Most            `json:"most"`     // the one thing to take away, as far as the grade tells
}

// Truth is what was inside.
type Truth struct {
	Key      diagnose.Key           `json:"key"`
	Faults   []scenarios.Fault      `json:"faults"`
	Method   *scenarios.Method      `json:"method"`
	Readings []book.Reading         `json:"readings"` // dry, by the book, no instrument error
	Rules    []diagnose.RuleVerdict `json:"rules"`    // what every limit rule says of those
}

// Event is one line of the timeline.
type Event struct {
	Tick     int64   `json:"tick"`
	Minutes  float64 `json:"minutes"`
	Kind     string  `json:"kind"`
	Cylinder int     `json:"cylinder,omitempty"`
	Number   float64 `json:"number,omitempty"`
	Choice   string  `json:"choice,omitempty"`
}

// Run is one cranking.
type Run struct {
	ID           int      `json:"id"`
	Tick         int64    `json:"tick"`
	Minutes      float64  `json:"minutes"`
	Cylinder     int      `json:"cylinder"`
	Strokes      []Stroke `json:"strokes"`
	ThrottleOpen bool     `json:"throttle_open"`
	PlugsOut     int      `json:"plugs_out"`
	OilML        float64  `json:"oil_ml"`
	CoolantC     float64  `json:"coolant_c"`
	RPM          float64  `json:"rpm"`
	BatteryMinV  float64  `json:"battery_min_v"`
	PeakPa       float64  `json:"peak_pa"` // highest in the gauged cylinder [Pa gauge], 0 without a gauge
	// Trace is where the needle stood, every TraceTicks ticks from the start [Pa gauge];
	// empty without a gauge.
	Trace []float64 `json:"trace"`
}

// Stroke is one compression of the gauged cylinder. Pressures are Pa gauge.
type Stroke struct {
	Tick    int64   `json:"tick"`
	ShownPa float64 `json:"shown_pa"`
	TruePa  float64 `json:"true_pa"`
	Full    bool    `json:"full"`
}

// Of returns the facts of a verified attempt. The error is one of the scenario:
// its engine can't be tested by the book.
func Of(v attempt.Report) (Facts, error) {
	s := v.Session.Scenario()
	right, err := byTheBook(s)
	if err != nil {
		return Facts{}, err
	}
	w := &watcher{}
	if _, err := recordTape(v, w.see); err != nil {
		return Facts{}, err
	}
	rec := v.Session.Record()
	runs := runs(rec.Runs, w)
	return Facts{
		Grade:    v.Grade,
		Truth:    Truth{s.Key, s.Faults, s.Method, right.dry, s.Card.Limits.Verdicts(seen(right.dry))},
		Timeline: timeline(rec.Events),
		Runs:     runs,
		Readings: readings(v, right, runs),
		Most:     MostOf(v.Grade, Mistakes{}),
	}, nil
}

// standard is the test by the book: what there was to be found.
type standard struct{ dry, wet []book.Reading }

// byTheBook tests an engine dry, and wet where its card has a wet test.
func byTheBook(s *scenarios.Scenario) (standard, error) {
	kind := book.Wet
	if s.Card.OilML == 0 {
		kind = book.Dry
	}
	r, err := book.Run(s, book.Options{Kind: kind, ByCard: true})
	if err != nil || kind == book.Dry {
		return standard{dry: r.Readings}, err
	}
	return standard{r.Dry, r.Readings}, nil
}

func timeline(events []record.Event) []Event {
	out := make([]Event, 0, len(events))
	for _, e := range events {
		out = append(out, Event(e))
	}
	return out
}

func runs(list []record.Run, w *watcher) []Run {
	out := make([]Run, 0, len(list))
	for _, r := range list {
		x := Run{
			ID: r.ID, Tick: r.StartTick, Minutes: r.Minutes, Cylinder: r.Cylinder, Strokes: []Stroke{},
			ThrottleOpen: r.ThrottleOpen, PlugsOut: r.PlugsOut, OilML: r.OilML, CoolantC: r.CoolantC,
			RPM: r.SpeedRPM, BatteryMinV: r.BatteryMinV, Trace: []float64{},
		}
		for _, s := range r.Strokes {
			x.Strokes = append(x.Strokes, Stroke{s.Tick, s.Shown, s.True, s.Full})
		}
		if r.Cylinder > 0 {
			x.Trace, x.PeakPa = w.of(r)
		}
		out = append(out, x)
	}
	return out
}
