package diagnose

import (
	"math"

	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Seen is what the record shows of one cylinder: the readings a person could
// take from the dial, never the gas behind them.
type Seen struct {
	Cylinder   int        `json:"cylinder"`
	Valid      bool       `json:"valid"`     // a dry reading was taken; could not read is not zero
	WetValid   bool       `json:"wet_valid"` // a wet reading was taken
	DryFirst   unit.Gauge `json:"dry_first_pa"`
	DryLast    unit.Gauge `json:"dry_last_pa"`
	WetFirst   unit.Gauge `json:"wet_first_pa"`
	WetLast    unit.Gauge `json:"wet_last_pa"`
	Strokes    int        `json:"strokes"`     // full strokes of the deciding dry test
	WetStrokes int        `json:"wet_strokes"` // full strokes of the deciding wet test
	OilML      float64    `json:"oil_ml"`      // oil in the cylinder at the wet test [ml]
	Repeats    int        `json:"repeats"`     // faultless dry tests of this cylinder beyond the first
	WetGain    float64    `json:"wet_gain"`    // (wet − dry)/dry; 0 when not known
	Faults     []string   `json:"faults"`      // method faults of the deciding dry test
	WetFaults  []string   `json:"wet_faults"`  // what makes the deciding wet test unfit to set against the dry one
	DryRun     int        `json:"dry_run"`     // its number among the runs, from 1; 0 none
	WetRun     int        `json:"wet_run"`     // likewise
	Spread     float64    `json:"spread"`      // (highest − lowest)/highest of its faultless dry tests
}

// Evidence is what can be known at one moment from the record alone.
type Evidence struct {
	Cylinders int
	Banks     [][]int
	Runs      []record.Run // runs that had ended by then, with a gauge fitted
	Seen      []Seen       // one per cylinder, in order
	Until     int64        // the moment [tick]

	Confirmed Confirmed // what other tests showed

	lash   Lash       // what the card asks for
	faults [][]string // method faults of each run
	side   []string   // of each run that is no part of the test by itself: sideGauge, sideRefit
}

// Runs that stand beside the compression test.
const (
	sideGauge = "gauge" // read off another gauge than the rest
	sideRefit = "refit" // with one plug refitted, after the same cylinder was read without
)

// More method faults, of one run, that a key does not name.
const (
	methodHot        = "hot_engine"
	methodFewStrokes = "few_strokes"
)

// methodOil is a fault of a wet test alone: oil outside the card's range changes
// the clearance, and the gain is then not the rings'. The oil has a rule of its
// own, so no sentence names it as a method fault.
const methodOil = "oil_amount"

// RunFaults lists every method fault a rule can name: those of a key, and two
// that only a run shows.
func RunFaults() []string { return append(MethodFaults(), methodHot, methodFewStrokes) }

const (
	// slowRPM: under this no reading can be held against a limit. Service
	// documents ask for 200 rpm and more (C.3 of our notes lists eight); half a
	// scale mark under the lowest of them.
	slowRPM = 195
	// slackC: an engine cools a little while eight cylinders are tested [°C].
	slackC = 2.5
	// unequal is the difference in stroke counts between cylinders from which
	// readings cannot be compared any more (common practice, no source): with
	// one or two more the needle has all but stopped.
	unequal = 3
	// oilSlack is how far off the card's range oil is still as the card says [ml].
	oilSlack = 0.05
	// sameOil: a healthy cylinder got the same oil as the low one when theirs lie
	// this close together [ml]. Every millilitre also fills clearance (common
	// practice: the same amount in each; no source for a bound).
	sameOil = 3.0
)

// Gather takes the evidence out of a record as it stood at tick until; runs that
// ended later were not known yet.
func Gather(c Card, cylinders int, banks [][]int, rec record.Record, until int64) Evidence {
	n := 0
	for n < len(rec.Events) && rec.Events[n].Tick <= until {
		n++
	}
	return gatherTo(c, cylinders, banks, rec, timelineOf(rec), until, n)
}

// gatherTo takes the evidence as it stood at tick until, when the first n events
// had happened: ticks stand still while hands are at work, so that both are needed.
func gatherTo(c Card, cylinders int, banks [][]int, rec record.Record, t timeline, until int64, n int) Evidence {
	e := Evidence{Cylinders: bounded(cylinders), Until: until, lash: c.Lash}
	e.Banks = wholeBanks(banks, e.Cylinders)
	rec = unmended(rec)
	var gauges []string
	for i, r := range rec.Runs {
		if r.EndTick <= until && r.Cylinder >= 1 && r.Cylinder <= e.Cylinders {
			r = readable(r)
			e.Runs = append(e.Runs, r)
			e.faults = append(e.faults, c.methodFaults(r, e.Cylinders))
			gauges = append(gauges, t.state(kindGauge, t.start[i]))
		}
	}
	e.setAside(c, gauges)
	e.markUnequal()
	for n := 1; n <= e.Cylinders; n++ {
		s := e.see(n)
		s.WetFaults = append(s.WetFaults, e.wetFaults(c, s)...)
		e.Seen = append(e.Seen, s)
	}
	e.besides()
	e.confirm(rec, rec.Events[:min(n, len(rec.Events))])
	return e
}

// setAside marks the runs that were done to compare with: those by another gauge
// than most cylinders were read with, and those with one plug refitted on purpose.
func (e *Evidence) setAside(c Card, gauges []string) {
	e.side = make([]string, len(e.Runs))
	main, most := "", 0
	for i, g := range gauges {
		n := 0
		var seen [maxCylinders + 1]bool
		for k, other := range gauges {
			if cyl := e.Runs[k].Cylinder; other == g && !seen[cyl] && e.plain(k) {
				seen[cyl] = true
				n++
			}
		}
		if n > most || i == 0 {
			main, most = g, n
		}
	}
	var read [maxCylinders + 1]bool
	for i, r := range e.Runs {
		switch {
		case gauges[i] != main:
			e.side[i] = sideGauge
		case read[r.Cylinder] && c.PlugsOut && r.PlugsOut == e.Cylinders-1 && !wet(r):
			e.side[i] = sideRefit
		case e.plain(i):
			read[r.Cylinder] = true
		}
	}
}

// plain reports whether run i is a dry test that nothing spoiled.
func (e *Evidence) plain(i int) bool {
	return !wet(e.Runs[i]) && e.Runs[i].Full() > 0 && !spoiled(e.faults[i])
}

// besides sets what was set aside against the readings it was to be compared with.
func (e *Evidence) besides() {
	for i, r := range e.Runs {
		s := e.Seen[r.Cylinder-1]
		if e.side[i] == "" || !s.Valid || r.Full() == 0 || wet(r) {
			continue
		}
		_, last := firstLast(r)
		two := Second{Cylinder: r.Cylinder, Before: s.DryLast, After: last, run: i}
		if e.side[i] == sideRefit {
			e.Confirmed.Refits = append(e.Confirmed.Refits, two)
		} else if !spoiled(e.faults[i]) {
			e.Confirmed.Gauges = append(e.Confirmed.Gauges, two)
		}
	}
}

// wetFaults names what makes the wet test of a cylinder unfit to be set against
// its dry one.
func (e *Evidence) wetFaults(c Card, s Seen) []string {
	if !s.WetValid {
		return nil
	}
	var out []string
	for _, f := range e.faults[s.WetRun-1] {
		if spoils(f) {
			out = append(out, f)
		}
	}
	if d := s.WetStrokes - s.Strokes; s.Valid && (d >= unequal || d <= -unequal) {
		out = append(out, MethodUnequalStrokes)
	}
	if c.OilMLMax > 0 && (s.OilML < c.OilMLMin-oilSlack || s.OilML > c.OilMLMax+oilSlack) {
		out = append(out, methodOil)
	}
	return out
}

// bounded keeps a number of cylinders from outside inside [0, maxCylinders].
func bounded(n int) int {
	return max(0, min(n, maxCylinders))
}

// wholeBanks drops cylinders that do not exist; without banks all stand in one.
func wholeBanks(banks [][]int, cylinders int) [][]int {
	var out [][]int
	for _, bank := range banks {
		var b []int
		for _, c := range bank {
			if c >= 1 && c <= cylinders && len(b) < maxCylinders {
				b = append(b, c)
			}
		}
		if len(b) > 0 && len(out) < maxCylinders {
			out = append(out, b)
		}
	}
	if len(out) == 0 && cylinders > 0 {
		out = [][]int{nil}
		for c := 1; c <= cylinders; c++ {
			out[0] = append(out[0], c)
		}
	}
	return out
}

// readable returns r without numbers nobody could have read.
func readable(r record.Run) record.Run {
	r.SpeedRPM, r.BatteryMinV = clean(r.SpeedRPM), clean(r.BatteryMinV)
	r.CoolantC, r.OilML, r.OilMLAny = clean(r.CoolantC), clean(r.OilML), clean(r.OilMLAny)
	strokes := make([]record.Stroke, 0, len(r.Strokes))
	for _, s := range r.Strokes {
		if finite(s.Shown) {
			s.Shown = max(-1e9, min(s.Shown, 1e9))
			strokes = append(strokes, s)
		}
	}
	r.Strokes = strokes
	return r
}

// wet reports whether the gauged cylinder held oil put in for a wet test.
func wet(r record.Run) bool { return r.OilML > 0 }

// methodFaults names what was wrong with how one run was done, by the card. Only
// what a careful eye on the bench could see counts.
func (c Card) methodFaults(r record.Run, cylinders int) []string {
	var out []string
	add := func(fault bool, name string) {
		if fault {
			out = append(out, name)
		}
	}
	add(c.ThrottleOpen && !r.ThrottleOpen, MethodThrottleShut)
	add(c.PlugsOut && r.PlugsOut < cylinders, MethodPlugsIn)
	add(!r.GaugeAtZero, MethodGaugeNotZero)
	add(r.Full() < c.StrokesMin, methodFewStrokes)
	add(r.SpeedRPM < slowRPM, MethodSlowCranking)
	add(r.CoolantC < c.CoolantMinC-slackC, MethodCold)
	add(r.CoolantC > c.CoolantMaxC+slackC, methodHot)
	return out
}

// spoils reports whether a method fault makes a reading unfit for comparison. A
// cold or hot engine is marked down but still shows which cylinder differs.
func spoils(fault string) bool { return fault != MethodCold && fault != methodHot }

func spoiled(faults []string) bool {
	for _, f := range faults {
		if spoils(f) {
			return true
		}
	}
	return false
}

// markUnequal adds the fault that no single run shows: far fewer strokes than
// the other cylinders got.
func (e *Evidence) markUnequal() {
	most := 0
	for i, r := range e.Runs {
		if !wet(r) && !spoiled(e.faults[i]) && e.side[i] == "" {
			most = max(most, r.Full())
		}
	}
	for i, r := range e.Runs {
		if !wet(r) && e.side[i] == "" && r.Full() > 0 && most-r.Full() >= unequal {
			e.faults[i] = append(e.faults[i], MethodUnequalStrokes)
		}
	}
}

// see gathers one cylinder: the deciding test is the last faultless one, or the
// last one if none was.
func (e *Evidence) see(cylinder int) Seen {
	s := Seen{Cylinder: cylinder, Faults: []string{}, WetFaults: []string{}}
	dry, good := e.pick(cylinder, false)
	wetRun, _ := e.pick(cylinder, true)
	s.DryRun, s.WetRun = dry+1, wetRun+1
	s.Repeats = max(0, good-1)
	if dry >= 0 {
		r := e.Runs[dry]
		s.Valid, s.Strokes = true, r.Full()
		s.DryFirst, s.DryLast = firstLast(r)
		s.Faults = append(s.Faults, e.faults[dry]...)
		s.Spread = e.spread(cylinder)
	}
	if wetRun >= 0 {
		r := e.Runs[wetRun]
		s.WetValid, s.WetStrokes, s.OilML = true, r.Full(), r.OilML
		s.WetFirst, s.WetLast = firstLast(r)
	}
	if s.Valid && s.WetValid && s.DryLast > 0 {
		s.WetGain = clean(float64((s.WetLast - s.DryLast) / s.DryLast))
	}
	return s
}

// pick returns the index of the deciding run of a cylinder, -1 for none, and how
// many faultless ones there were.
func (e *Evidence) pick(cylinder int, isWet bool) (run, good int) {
	run = -1
	for i, r := range e.Runs {
		if r.Cylinder != cylinder || wet(r) != isWet || r.Full() == 0 || e.side[i] != "" {
			continue
		}
		if !spoiled(e.faults[i]) {
			run = i
			good++
		} else if good == 0 {
			run = i
		}
	}
	return run, good
}

// spread returns how far faultless dry tests of one cylinder lie apart.
func (e *Evidence) spread(cylinder int) float64 {
	var lo, hi unit.Gauge
	n := 0
	for i, r := range e.Runs {
		if r.Cylinder != cylinder || wet(r) || r.Full() == 0 || len(e.faults[i]) > 0 || e.side[i] != "" {
			continue
		}
		_, last := firstLast(r)
		if n == 0 || last < lo {
			lo = last
		}
		if n == 0 || last > hi {
			hi = last
		}
		n++
	}
	return ratio(hi-lo, hi)
}

// firstLast returns what the dial showed after the first and after the last full
// stroke. A part stroke from where the crank was parked does not count.
func firstLast(r record.Run) (first, last unit.Gauge) {
	seen := false
	for _, s := range r.Strokes {
		if !s.Full {
			continue
		}
		if !seen {
			first = unit.Gauge(s.Shown)
		}
		seen, last = true, unit.Gauge(s.Shown)
	}
	return first, last
}

// finite reports whether v is a number.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// clean returns v, or 0 where v is not a finite number: nothing unreadable ever
// reaches a result.
func clean(v float64) float64 {
	if !finite(v) {
		return 0
	}
	return v
}
