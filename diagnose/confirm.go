package diagnose

import (
	"math"
	"slices"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Words of the bench.
const (
	holePlace  = "plug_hole" // where air can be listened for, with its cylinder
	pumpedIdle = "idle"
	pumpedSnap = "snap"
)

// What makes a leakage test unfit to say anything.
const (
	leakTurned  = "air_turned_crank" // the piston was off the top and the air pushed it down
	leakOverlap = "tester_overlap"   // at the top one turn out: both valves stand open
	leakOff     = "tester_off_top"   // neither top
)

const (
	// leakLarge and leakSmall part what a leakage tester shows [%]. Printed limits for
	// 'excessive' lie between 20 and 25, a good cylinder reads a few percent; between
	// the two it says nothing (band stated in the debrief; common practice, no source).
	leakLarge = 22.5
	leakSmall = 15.5
	// leakRings: sound rings leak too, and more the longer their walls have drained, so
	// that air at the oil filler alone has to be more than that (judgement).
	leakRings = 27.5
	// topSlack is how far off its top a piston may stand with friction still holding
	// it against the air [rad]: 12°.
	topSlack = 12 * math.Pi / 180
	// crankPlay is what a crank turns by taking up its play [rad]: 1.5°.
	crankPlay = 1.5 * math.Pi / 180
)

// A LeakSeen is one leakage test as it could be read.
type LeakSeen struct {
	Cylinder int            `json:"cylinder"`
	Percent  float64        `json:"percent"`
	Heard    []record.Heard `json:"heard"`
	Fault    string         `json:"fault"` // what makes it unfit, or empty
	at       moment
}

// heard reports where air was heard, and whether a place was listened at.
func (l LeakSeen) heard(place string) (air, asked bool) {
	for _, h := range l.Heard {
		if h.Place == place {
			asked, air = true, air || h.Air
		}
	}
	return air, asked
}

// A Look is what looking at one thing showed.
type Look struct {
	Kind     string // the action
	Cylinder int    // 0 for the whole engine
	Fact     string // one of the bench's
	Number   float64
	at       moment
}

// A Second is one dry test of a cylinder set against its deciding one.
type Second struct {
	Cylinder int
	Before   unit.Gauge
	After    unit.Gauge
	run      int // its index among the runs
}

// Confirmed is what the tests beside the compression test showed.
type Confirmed struct {
	Leaks    []LeakSeen
	Currents []record.Current
	Vacuums  []record.Vacuum
	Pumped   []record.Pumped
	Looks    []Look
	Balances []record.Balance
	Gauges   []Second // by a second gauge
	Refits   []Second // with a neighbour's plug refitted
}

// confirm gathers the confirming tests out of a record as it stood at tick until.
// events are those that had happened by then.
func (e *Evidence) confirm(rec record.Record, events []record.Event) {
	c := &e.Confirmed
	for _, l := range rec.Leaks {
		if l.Tick <= e.Until && l.Cylinder >= 1 && l.Cylinder <= e.Cylinders && finite(l.Percent) {
			c.Leaks = append(c.Leaks, LeakSeen{
				Cylinder: l.Cylinder, Percent: l.Percent, Heard: l.Heard, Fault: leakFault(l), at: moment{l.Tick, l.Minutes},
			})
		}
	}
	for _, p := range rec.Pumped {
		if p.Tick <= e.Until && p.Cylinder >= 1 && p.Cylinder <= e.Cylinders && finite(p.Shown) {
			c.Pumped = append(c.Pumped, p)
		}
	}
	ended := func(id int) bool {
		for _, r := range rec.Runs {
			if r.ID == id {
				return r.EndTick <= e.Until
			}
		}
		return false
	}
	for _, x := range rec.Currents {
		if ended(x.Run) {
			c.Currents = append(c.Currents, x)
		}
	}
	for _, v := range rec.Vacuums {
		if ended(v.Run) && finite(v.MeanPa) && finite(v.SwingPa) {
			c.Vacuums = append(c.Vacuums, v)
		}
	}
	for _, b := range rec.Balances {
		if b.Tick <= e.Until && finite(b.RPM) {
			c.Balances = append(c.Balances, b)
		}
	}
	c.Looks = looks(events, e.Cylinders)
}

// leakFault says what makes a leakage test unfit. The piston belongs at the top
// after its compression stroke; one turn out both valves stand open, and anywhere
// else the air drives the piston down.
func leakFault(l record.Leak) string {
	off := math.Abs(clean(l.PistonAt))
	switch {
	case math.Abs(clean(l.Turned)) > crankPlay:
		return leakTurned
	case off <= topSlack:
		return ""
	case off >= 2*math.Pi-topSlack:
		return leakOverlap
	}
	return leakOff
}

// looks pairs each look with what it showed: the facts that follow the action.
func looks(events []record.Event, cylinders int) []Look {
	var out []Look
	var oiled, set [maxCylinders + 1]bool
	kind := ""
	for _, ev := range events {
		if ev.Cylinder < 0 || ev.Cylinder > cylinders {
			continue
		}
		switch ev.Kind {
		case kindOil:
			oiled[ev.Cylinder], kind = true, ""
		case kindSetLash: // what is measured there now is the student's own work
			set[ev.Cylinder], kind = true, ""
		case kindLash, kindTiming, kindBorescope, kindCooling, kindLook, kindWatch:
			kind = ev.Kind
		case kindFact:
			about := lookOf(ev.Choice)
			own := ev.Choice == "bore_liquid" && oiled[ev.Cylinder] || // what was poured in
				about == kindLash && set[ev.Cylinder]
			if about != "" && (about == kind || about == kindWatch) && !own {
				out = append(out, Look{about, ev.Cylinder, ev.Choice, clean(ev.Number), moment{ev.Tick, ev.Minutes}})
			}
		case kindCaution:
		default:
			kind = ""
		}
	}
	return out
}

// lookOf returns the action that a fact comes from, empty for one that no look
// gives.
func lookOf(fact string) string {
	for _, x := range []struct{ head, kind string }{
		{"lash_", kindLash}, {"timing_", kindTiming}, {"bore_", kindBorescope}, {"cooling_", kindCooling}, {"plug_", kindLook},
	} {
		if len(fact) > len(x.head) && fact[:len(x.head)] == x.head {
			return x.kind
		}
	}
	if fact == "bubbles_cranked" || fact == "no_bubbles" {
		return kindWatch
	}
	return ""
}

// leak returns the deciding leakage test of a cylinder: the last fit one, or the
// last one if none was.
func (c Confirmed) leak(cylinder int) (LeakSeen, bool) {
	var best LeakSeen
	found := false
	for _, l := range c.Leaks {
		if l.Cylinder == cylinder && (!found || l.Fault == "" || best.Fault != "") {
			best, found = l, true
		}
	}
	return best, found
}

// look reports whether a kind of look was taken, and at a cylinder unless 0.
func (c Confirmed) look(kind string, cylinder int) bool {
	for _, l := range c.Looks {
		if l.Kind == kind && (cylinder == 0 || l.Cylinder == cylinder) {
			return true
		}
	}
	return false
}

// humps returns the last trace of the starter current that compares cylinders.
func (c Confirmed) humps() []record.Hump {
	for i := len(c.Currents) - 1; i >= 0; i-- {
		if c.Currents[i].Compared() {
			return c.Currents[i].Humps
		}
	}
	return nil
}

// incomparable reports whether the cylinders of this engine can't be compared by a
// trace that was taken as it should be.
func (c Confirmed) incomparable() bool {
	for _, x := range c.Currents {
		if len(x.Humps) > 0 && !x.Compared() {
			return true
		}
	}
	return false
}

// pumpedOf returns the last running reading of a cylinder, idle or snap.
func (c Confirmed) pumpedOf(cylinder int, how string) (unit.Gauge, bool) {
	for i := len(c.Pumped) - 1; i >= 0; i-- {
		if p := c.Pumped[i]; p.Cylinder == cylinder && p.How == how {
			return unit.Gauge(p.Shown), true
		}
	}
	return 0, false
}

// Did reports whether a confirming test was done in a way that says something: air
// on each cylinder that stands out, the engine run with the gauge on two, any other one
// anywhere.
func (e Evidence) Did(test string, j Judgement) bool {
	switch test {
	case "leakage":
	case "running":
		return e.ran() >= min(2, e.Cylinders)
	default:
		return slices.Contains(e.Tests(), test)
	}
	fit := 0
	for n := 1; n <= e.Cylinders; n++ {
		l, ok := e.Confirmed.leak(n)
		switch {
		case ok && l.Fault == "":
			fit++
		case slices.Contains(j.Suspects, n):
			return false
		}
	}
	return fit > 0
}

// Tests lists the confirming tests that were done by then in a way that says
// something, by their names as evidence, each once.
func (e Evidence) Tests() []string {
	c := e.Confirmed
	var out []string
	add := func(done bool, name string) {
		if done && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	own, _ := e.Oiled(nil)
	add(len(own) > 0, "wet")
	for _, s := range e.Seen {
		add(s.Repeats > 0, "repeat")
	}
	for _, l := range c.Leaks {
		add(l.Fault == "", "leakage")
	}
	add(c.humps() != nil || c.incomparable(), "current")
	add(len(c.Pumped) > 0, "running")
	add(len(c.Vacuums) > 0, "vacuum")
	add(c.look(kindLash, 0), "lash")
	add(c.look(kindTiming, 0), "timing_marks")
	add(c.look(kindBorescope, 0), "borescope")
	add(c.look(kindCooling, 0) || c.look(kindWatch, 0), "cooling_pressure")
	add(len(c.Gauges) > 0, "second_gauge")
	add(len(c.Refits) > 0, "refit")
	add(c.look(kindLook, 0), "plug_look")
	add(len(c.Balances) > 0, "power_balance")
	return out
}
