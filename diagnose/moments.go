package diagnose

import "crankbay/sim/unit"

// What was known when something was decided: for a judge that reasons from it.

// A Choice is one confirming test as it was begun, each kind once.
type Choice struct {
	Test     string // of NextTests
	Cylinder int    // 0 for the whole engine
	Tick     int64
	Minutes  float64 // bench minutes at that moment
	Cost     float64 // of the test, with what it took to get to it [min]
	Known    Evidence
	Paged    bool // the specification page had been looked up
}

// Choices lists the confirming tests of an attempt in the order they were begun, up to
// its conclusion.
func Choices(in Input) []Choice {
	c := open(in)
	var out []Choice
	end := len(c.t.events)
	if last := c.t.last(kindFinding, "", 0); last >= 0 {
		end = last
	}
	for _, t := range c.taken() {
		if t.event >= end {
			continue
		}
		out = append(out, Choice{
			Test: t.test, Cylinder: t.cylinder, Tick: t.at.tick, Minutes: t.at.minutes, Cost: t.minutes,
			Known: c.knownAt(t.event), Paged: c.t.first(kindSpec, "") >= 0 && c.t.first(kindSpec, "") < t.event,
		})
	}
	return out
}

// A Conclusion is what was claimed and what was known when it was.
type Conclusion struct {
	Claims  []Finding // each family once, with all its cylinders
	Tick    int64
	Minutes float64
	Known   Evidence
	Paged   bool
}

// Concluded returns the conclusion of an attempt. Without one there are no claims, and
// all that was read is known.
func Concluded(in Input) Conclusion {
	c := open(in)
	at := c.concluded()
	out := Conclusion{Tick: at.tick, Minutes: at.minutes, Known: c.known, Paged: c.specBefore()}
	for _, x := range c.claim {
		out.Claims = append(out.Claims, x.Finding)
	}
	return out
}

// Tries lists what the dial showed last in each faultless dry test of a cylinder by the
// main gauge, in the order they were made.
func (e Evidence) Tries(cylinder int) []unit.Gauge {
	var out []unit.Gauge
	for i, r := range e.Runs {
		if r.Cylinder == cylinder && !wet(r) && r.Full() > 0 && e.side[i] == "" && !spoiled(e.faults[i]) {
			_, last := firstLast(r)
			out = append(out, last)
		}
	}
	return out
}

// Leak returns the deciding leakage test of a cylinder that is fit to say something.
func (e Evidence) Leak(cylinder int) (LeakSeen, bool) {
	l, ok := e.Confirmed.leak(cylinder)
	return l, ok && l.Fault == ""
}

// Humps returns the last trace of the starter current that compares cylinders, as heights
// of the mean of all [%], by cylinder from 1; nil when there is none.
func (e Evidence) Humps() []float64 {
	humps := e.Confirmed.humps()
	if humps == nil {
		return nil
	}
	out := make([]float64, e.Cylinders+1)
	for _, h := range humps {
		if h.Cylinder >= 1 && h.Cylinder <= e.Cylinders {
			out[h.Cylinder] = clean(h.Percent)
		}
	}
	return out
}

// Pumped returns the last running reading of a cylinder, at idle or snapped.
func (e Evidence) Pumped(cylinder int, snapped bool) (unit.Gauge, bool) {
	how := pumpedIdle
	if snapped {
		how = pumpedSnap
	}
	return e.Confirmed.pumpedOf(cylinder, how)
}
