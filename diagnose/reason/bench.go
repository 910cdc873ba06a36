package reason

import (
	"crankbay/diagnose"
	"crankbay/sim/unit"
)

// A Bench is what is known of the engine on the bench beside what its tests showed.
type Bench struct {
	Limits  diagnose.Limits // of the page, at sea level
	Paged   bool            // it has been looked up
	Ambient unit.Pressure   // of the day; 0 when nobody knows
	Lash    bool            // its valves have clearances to be measured
	Asked   diagnose.Lash   // and what the page asks for them
}

// degPerTooth is what a tooth of a cam wheel of forty is in crank degrees: marks are
// counted in teeth.
const degPerTooth = 18.0

// FromBench turns what could be read on the bench into evidence. What was spoiled by the
// way it was done stays out, or stands as an answer to how it was done.
func FromBench(d diagnose.Evidence, b Bench) Evidence {
	e := Evidence{Banks: d.Banks, Cylinders: make([]Cylinder, d.Cylinders)}
	if b.Paged {
		for _, p := range []struct {
			from unit.Gauge
			to   *Number
		}{{b.Limits.Standard, &e.Standard}, {b.Limits.Minimum, &e.Minimum}} {
			if p.from > 0 {
				*p.to = Of(float64(p.from))
			}
		}
	}
	if b.Ambient > 0 {
		e.Ambient = Of(float64(b.Ambient))
	}
	if !b.Lash {
		e.Hydraulic = Yes
	}
	e.conditions(d)
	humps := d.Humps()
	for i := range e.Cylinders {
		c := &e.Cylinders[i]
		c.read(d, i+1)
		if humps != nil {
			c.Hump = Of(humps[i+1])
		}
	}
	e.looked(d, b.Asked)
	if n := len(d.Confirmed.Vacuums); n > 0 {
		e.Vacuum = Of(d.Confirmed.Vacuums[n-1].MeanPa)
	}
	if n := len(d.Confirmed.Balances); n > 0 {
		e.balance(d.Confirmed.Balances[n-1].RPM, d.Confirmed.Balances[n-1].Without)
	}
	return e
}

// conditions says how the deciding dry tests were done, and how fast.
func (e *Evidence) conditions(d diagnose.Evidence) {
	read, shut, in, few := 0, 0, 0, 0
	speed, volts := 0.0, 0.0
	for _, s := range d.Seen {
		if !s.Valid {
			continue
		}
		read++
		shut += flag(named(s.Faults, diagnose.MethodThrottleShut))
		in += flag(named(s.Faults, diagnose.MethodPlugsIn))
		few += flag(named(s.Faults, "few_strokes") || named(s.Faults, diagnose.MethodUnequalStrokes))
		r := d.Runs[s.DryRun-1]
		speed += r.SpeedRPM
		if volts == 0 || r.BatteryMinV < volts {
			volts = r.BatteryMinV
		}
	}
	if read == 0 {
		return
	}
	mostly := func(bad int) Answer {
		if 2*bad > read {
			return No
		}
		return Yes
	}
	e.Throttle, e.Plugs, e.Strokes = mostly(shut), mostly(in), mostly(few)
	e.Speed, e.Volts = Of(speed/float64(read)), Of(volts)
}

func named(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// read takes over what the gauges showed of cylinder n.
func (c *Cylinder) read(d diagnose.Evidence, n int) {
	s := d.Seen[n-1]
	if s.Valid {
		c.Dry, c.First = Of(float64(s.DryLast)), Of(float64(s.DryFirst))
		tries := d.Tries(n)
		for i, p := range tries {
			if i == 0 { // the first try is the reading, later ones repeat it
				c.Dry = Of(float64(p))
			} else {
				c.Repeats = append(c.Repeats, float64(p))
			}
		}
	}
	if s.WetValid && len(s.WetFaults) == 0 {
		c.Wet = Of(float64(s.WetLast))
	}
	if l, ok := d.Leak(n); ok {
		c.Leakage = Of(l.Percent)
		for _, h := range l.Heard {
			if h.Air {
				c.Heard = append(c.Heard, place(h.Place))
			}
		}
		if len(l.Heard) > 0 && len(c.Heard) == 0 {
			c.Heard = []string{diagnose.HeardNowhere}
		}
	}
	if p, ok := d.Pumped(n, false); ok {
		c.Idle = Of(float64(p))
	}
	if p, ok := d.Pumped(n, true); ok {
		c.Snap = Of(float64(p))
	}
	for _, g := range d.Confirmed.Gauges {
		if g.Cylinder == n {
			c.Second = Of(float64(g.After))
		}
	}
}

// place names a place of the bench as the sheet does.
func place(bench string) string {
	if bench == "plug_hole" {
		return diagnose.HeardNeighbour
	}
	return bench
}

// looked takes over what looking showed.
func (e *Evidence) looked(d diagnose.Evidence, asked diagnose.Lash) {
	late := make([]float64, len(d.Banks))
	marks := false
	for _, l := range d.Confirmed.Looks {
		if l.Cylinder > 0 && l.Cylinder <= len(e.Cylinders) {
			e.Cylinders[l.Cylinder-1].seen(l, asked)
		}
		switch l.Fact {
		case "cooling_falls", "bubbles_cranked":
			e.Cooling = Yes
		case "cooling_holds", "no_bubbles":
			if e.Cooling == NotKnown {
				e.Cooling = No
			}
		case "timing_right":
			marks = true
		case "timing_intake_late", "timing_exhaust_late":
			marks = true
			lateOf(late, d.Banks, l.Cylinder, l.Number*degPerTooth)
		case "timing_intake_early", "timing_exhaust_early":
			marks = true
			lateOf(late, d.Banks, l.Cylinder, -l.Number*degPerTooth)
		}
	}
	if marks {
		e.Late = nil
		for _, x := range late {
			e.Late = append(e.Late, Of(x))
		}
	}
}

// lateOf notes how far the cam over a cylinder is off.
func lateOf(late []float64, banks [][]int, cylinder int, deg float64) {
	for b, bank := range banks {
		for _, c := range bank {
			if c == cylinder {
				late[b] = deg
			}
		}
	}
}

// seen takes over what was seen of one cylinder.
func (c *Cylinder) seen(l diagnose.Look, asked diagnose.Lash) {
	switch l.Fact {
	case "lash_intake":
		c.LashIn = Of(l.Number - asked.IntakeMM)
	case "lash_exhaust":
		c.LashEx = Of(l.Number - asked.ExhaustMM)
	case "lash_intake_none":
		c.LashIn = Of(-asked.IntakeMM - diagnose.FeelerStepMM)
	case "lash_exhaust_none":
		c.LashEx = Of(-asked.ExhaustMM - diagnose.FeelerStepMM)
	case "lash_intake_wide", "lash_exhaust_wide":
		c.Dead = Yes // hardly opens at all
	case "bore_clean":
		c.Bore = BoreClean
	case "bore_hole":
		c.Bore = BoreHole
	case "bore_scored":
		c.Bore = BoreScored
	case "bore_liquid":
		c.Bore = BoreLiquid
	case "bore_carbon":
		c.Bore = BoreCarbon
	}
}

// balance says which cylinders do not pull their share: without them the idle falls by
// less than two fifths of what it falls without the best one (judgement).
func (e *Evidence) balance(rpm float64, without []float64) {
	best := 0.0
	for _, w := range without {
		best = max(best, rpm-w)
	}
	for i := range min(len(without), len(e.Cylinders)) {
		e.Cylinders[i].Dead = No
		if rpm-without[i] < 0.4*best {
			e.Cylinders[i].Dead = Yes
		}
	}
}
