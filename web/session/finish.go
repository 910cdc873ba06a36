package session

import (
	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/book"
	"crankbay/sim/record"
)

// Save answers with the attempt so far as the text of its file.
func (c *Core) Save() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	data, err := c.s.Encode()
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	return string(data)
}

// HandIn ends the attempt and answers with its file and its grade. Handing in
// again answers the same.
func (c *Core) HandIn() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	if !c.s.Sheet().HandedIn {
		if err := c.do(record.Action{Kind: attempt.KindHandIn}); err != nil {
			return c.answer(err)
		}
	}
	data, err := c.s.Encode()
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	return encode(struct {
		File  string          `json:"file"`
		Grade diagnose.Result `json:"grade"`
	}{string(data), c.s.Grade()})
}

// truth is what was inside, told once the sheet is handed in.
type truth struct {
	Key      diagnose.Key      `json:"key"`
	Faults   []scenarios.Fault `json:"faults"`
	Method   *scenarios.Method `json:"method"`
	Readings []book.Reading    `json:"readings"` // dry, by the book, no instrument error
}

// event is one line of the timeline.
type event struct {
	Tick     int64   `json:"tick"`
	Minutes  float64 `json:"minutes"`
	Kind     string  `json:"kind"`
	Cylinder int     `json:"cylinder,omitempty"`
	Number   float64 `json:"number,omitempty"`
	Choice   string  `json:"choice,omitempty"`
}

// Debrief answers with the grade, what was inside, the timeline and the runs.
func (c *Core) Debrief() string {
	switch {
	case c.s == nil:
		return fail(ErrNothingOpen)
	case !c.s.Sheet().HandedIn:
		return fail(ErrNotHandedIn)
	}
	r, err := book.Run(c.scenario, book.Options{Kind: book.Dry, ByCard: true})
	if err != nil {
		return fail(ErrScenario, "text", err.Error())
	}
	rec := c.s.Bench().Record()
	return encode(struct {
		Grade    diagnose.Result `json:"grade"`
		Truth    truth           `json:"truth"`
		Timeline []event         `json:"timeline"`
		Runs     []run           `json:"runs"`
	}{
		c.s.Grade(),
		truth{c.scenario.Key, c.scenario.Faults, c.scenario.Method, r.Readings},
		timeline(rec.Events), runs(rec.Runs),
	})
}

func timeline(events []record.Event) []event {
	out := make([]event, 0, len(events))
	for _, e := range events {
		out = append(out, event(e))
	}
	return out
}

// run is one cranking as the Debrief shows it.
type run struct {
	ID           int      `json:"id"`
	Tick         int64    `json:"tick"`
	Minutes      float64  `json:"minutes"`
	Cylinder     int      `json:"cylinder"`
	Strokes      []stroke `json:"strokes"`
	ThrottleOpen bool     `json:"throttle_open"`
	PlugsOut     int      `json:"plugs_out"`
	OilML        float64  `json:"oil_ml"`
	CoolantC     float64  `json:"coolant_c"`
	RPM          float64  `json:"rpm"`
	BatteryMinV  float64  `json:"battery_min_v"`
}

type stroke struct {
	Tick    int64   `json:"tick"`
	ShownPa float64 `json:"shown_pa"`
	TruePa  float64 `json:"true_pa"`
	Full    bool    `json:"full"`
}

func runs(list []record.Run) []run {
	out := make([]run, 0, len(list))
	for _, r := range list {
		x := run{
			ID: r.ID, Tick: r.StartTick, Minutes: r.Minutes, Cylinder: r.Cylinder, Strokes: []stroke{},
			ThrottleOpen: r.ThrottleOpen, PlugsOut: r.PlugsOut, OilML: r.OilML, CoolantC: r.CoolantC,
			RPM: r.SpeedRPM, BatteryMinV: r.BatteryMinV,
		}
		for _, s := range r.Strokes {
			x.Strokes = append(x.Strokes, stroke{s.Tick, s.Shown, s.True, s.Full})
		}
		out = append(out, x)
	}
	return out
}
