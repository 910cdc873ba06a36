package diagnose

import "crankbay/sim/record"

// Kinds of events the rules ask about; the bench and the log use the same words.
const (
	kindGlasses    = "glasses"
	kindGear       = "gear"
	kindBrake      = "brake"
	kindChocks     = "chocks"
	kindBelts      = "belts-check"
	kindFluids     = "fluids-check"
	kindSpec       = "spec-look-up"
	kindFuel       = "fuel"
	kindIgnition   = "ignition"
	kindCharger    = "charger"
	kindWells      = "wells-blow"
	kindPlugOut    = "plug-out"
	kindPlugIn     = "plug-in"
	kindTorque     = "plug-torque"
	kindAdapter    = "adapter"
	kindGauge      = "gauge"
	kindProve      = "gauge-prove"
	kindHoseOn     = "hose-on"
	kindHoseOff    = "hose-off"
	kindRelease    = "release"
	kindThrottle   = "throttle"
	kindSwitch     = "switch"
	kindVoltmeter  = "voltmeter"
	kindTurn       = "turn-by-hand"
	kindTach       = "tachometer"
	kindStarter    = "starter"
	kindCrankStart = "crank-start"
	kindOil        = "oil"
	kindTesterOn   = "tester-on"
	kindTesterOff  = "tester-off"
	kindAir        = "air"
	kindWrench     = "wrench"
	kindClamp      = "clamp"
	kindPipe       = "vacuum-gauge"
	kindOne        = "disable-one"
	kindRunIt      = "engine-run"
	kindSnap       = "snap"
	kindLash       = "lash-check"
	kindSetLash    = "set-lash"
	kindTiming     = "timing-check"
	kindBorescope  = "borescope"
	kindCooling    = "cooling-pressure"
	kindWatch      = "coolant-watch"
	kindLook       = "plug-look"
	kindBalance    = "power-balance"
	kindListen     = "listen"
	kindLeads      = "plug-leads-on"
	kindStart      = "engine-start"
	kindCodes      = "codes-clear"
	kindCaution    = "caution"
	kindHazard     = "hazard"
	kindFinding    = "finding"   // of the job sheet
	kindFact       = "fact"      // something learned by looking
	factPage       = "spec_page" // choice of such a fact: number 1 on the right page
)

// A timeline answers questions about what came before what. Ticks alone cannot:
// time stands still while hands are at work.
type timeline struct {
	events []record.Event
	start  []int // per run of the record, the index of the event that began it
	crank  int   // index of the first cranking; len(events) when there was none
}

// timelineOf finds where in the order of events each run began.
func timelineOf(rec record.Record) timeline {
	t := timeline{events: rec.Events, crank: len(rec.Events)}
	from := 0
	for _, r := range rec.Runs {
		i := from
		for i < len(t.events) && (t.events[i].Tick < r.StartTick || !begins(t.events[i])) && t.events[i].Tick <= r.StartTick {
			i++
		}
		t.start = append(t.start, i)
		from = min(i+1, len(t.events))
	}
	if len(t.start) > 0 {
		t.crank = t.start[0]
	}
	return t
}

// begins reports whether an event starts the crank turning.
func begins(e record.Event) bool {
	return e.Kind == kindCrankStart || e.Kind == kindStarter && e.Choice == "on"
}

// first returns the index of the first event of a kind, of one choice unless
// empty; -1 when there is none.
func (t timeline) first(kind, choice string) int {
	for i, e := range t.events {
		if e.Kind == kind && (choice == "" || e.Choice == choice) {
			return i
		}
	}
	return -1
}

// last returns the index of the last such event at or after from; -1 for none.
func (t timeline) last(kind, choice string, from int) int {
	for i := len(t.events) - 1; i >= 0 && i >= from; i-- {
		if e := t.events[i]; e.Kind == kind && (choice == "" || e.Choice == choice) {
			return i
		}
	}
	return -1
}

// state returns the choice of the last event of a kind before index i, empty
// when there was none.
func (t timeline) state(kind string, i int) string {
	for k := min(i, len(t.events)) - 1; k >= 0; k-- {
		if t.events[k].Kind == kind {
			return t.events[k].Choice
		}
	}
	return ""
}

// did reports whether an event of a kind came before index i.
func (t timeline) did(kind string, i int) bool {
	k := t.first(kind, "")
	return k >= 0 && k < i
}

// A moment is when something happened, by both clocks of the bench. Ticks stand
// still while hands are at work, so that the minutes say more.
type moment struct {
	tick    int64
	minutes float64
}

// at returns when event i happened, nothing outside.
func (t timeline) at(i int) moment {
	if i < 0 || i >= len(t.events) {
		return moment{}
	}
	return moment{t.events[i].Tick, t.events[i].Minutes}
}

// began returns when a run began.
func began(r record.Run) moment { return moment{r.StartTick, r.Minutes} }

// clock returns the moment of a tick: the minutes are those of the last event by
// then.
func (c *court) clock(tick int64) moment {
	m := moment{tick: tick}
	for _, e := range c.t.events {
		if e.Tick <= tick {
			m.minutes = e.Minutes
		}
	}
	return m
}

// concluded returns when the conclusion was put down.
func (c *court) concluded() moment {
	if i := c.t.last(kindFinding, "", 0); i >= 0 {
		return c.t.at(i)
	}
	return c.clock(c.in.Sheet.ConcludedTick)
}

// opened returns the index of the first event that opened the throttle, -1 for none.
func (t timeline) opened() int {
	i := t.firstOf(t.first(kindThrottle, "open"), t.first(kindThrottle, "pedal"))
	if i == len(t.events) {
		return -1
	}
	return i
}

// firstOf returns the smallest of some indices that exist; len(events) if none.
func (t timeline) firstOf(list ...int) int {
	best := len(t.events)
	for _, i := range list {
		if i >= 0 && i < best {
			best = i
		}
	}
	return best
}
