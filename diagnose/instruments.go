package diagnose

import (
	"strings"

	"crankbay/sim/record"
)

// Tolerances of the confirming tests: a scale mark and a half, as for the gauge.
const (
	tolLeakage = 3.5   // the tester's dial is read to 1 %, and creeps while one looks [%]
	tolSupply  = 36e3  // [Pa]
	tolHump    = 6.5   // a hump drawn against its neighbours [%]
	tolVacuum  = 1.8e3 // half an inch of mercury [Pa]
	tolLash    = 0.035 // feeler gauges come in 0.05 mm [mm]
	tolDrop    = 2e3   // [Pa per minute]
)

// tested reports whether a confirming test showed the number of an entry by then.
func (c *court) tested(e Entry) bool {
	switch e.Field {
	case FieldLeakage, FieldLeakageSupply:
		return c.leaked(e)
	case FieldHump:
		return c.humped(e)
	case FieldRunningIdle, FieldRunningSnap:
		return c.pumped(e)
	case FieldVacuum:
		for _, v := range c.in.Record.Vacuums {
			if c.runEnds(v.Run) <= e.Tick && near(e.Number, clean(v.MeanPa), tolVacuum) {
				return true
			}
		}
	case FieldRepeatLast, FieldSecondLast, FieldRefitLast:
		return c.again(e)
	case FieldLashIntake, FieldLashExhaust, FieldTiming, FieldCoolingDrop:
		return c.looked(e)
	}
	return false
}

func (c *court) leaked(e Entry) bool {
	for _, l := range c.in.Record.Leaks {
		switch {
		case l.Tick > e.Tick:
		case e.Field == FieldLeakageSupply && near(e.Number, clean(l.SupplyPa), tolSupply):
			return true
		case e.Field == FieldLeakage && l.Cylinder == e.Cylinder && near(e.Number, clean(l.Percent), tolLeakage):
			return true
		}
	}
	return false
}

func (c *court) humped(e Entry) bool {
	for _, r := range c.in.Record.Currents {
		for _, h := range r.Humps {
			if c.runEnds(r.Run) <= e.Tick && h.Cylinder == e.Cylinder && near(e.Number, clean(h.Percent), tolHump) {
				return true
			}
		}
	}
	return false
}

func (c *court) pumped(e Entry) bool {
	how := "idle"
	if e.Field == FieldRunningSnap {
		how = "snap"
	}
	for _, p := range c.in.Record.Pumped {
		if p.Tick <= e.Tick && p.Cylinder == e.Cylinder && p.How == how && near(e.Number, clean(p.Shown), tolPressure) {
			return true
		}
	}
	return false
}

// never is the end of a run that is not in the record.
const never = int64(1) << 62

// runEnds returns when a run ended.
func (c *court) runEnds(id int) int64 {
	for _, r := range c.runs {
		if r.ID == id {
			return r.EndTick
		}
	}
	return never
}

// again reports whether a dry test of that cylinder which was a repeat, one by
// another gauge, or one with a plug refitted, showed the number.
func (c *court) again(e Entry) bool {
	before := 0
	for i, r := range c.runs {
		if r.Cylinder != e.Cylinder || wet(r) || r.Full() == 0 {
			continue
		}
		before++
		_, last := firstLast(r)
		kind := true
		switch e.Field {
		case FieldRepeatLast:
			kind = before > 1
		case FieldSecondLast:
			kind = c.otherGauge(i)
		case FieldRefitLast:
			kind = r.PlugsOut == c.n-1
		}
		if kind && r.EndTick <= e.Tick && near(e.Number, float64(last), tolPressure) {
			return true
		}
	}
	return false
}

// otherGauge reports whether run i was read off another gauge than the first one.
func (c *court) otherGauge(i int) bool {
	first := c.t.first(kindGauge, "")
	now := c.t.state(kindGauge, c.t.start[i])
	return first >= 0 && now != "" && now != c.t.events[first].Choice
}

// looked reports whether a look at the engine showed the number. What a look only
// calls right or wrong backs any number: it was looked at.
func (c *court) looked(e Entry) bool {
	part, tol := "", 0.0
	switch e.Field {
	case FieldLashIntake:
		part, tol = "lash_intake", tolLash
	case FieldLashExhaust:
		part, tol = "lash_exhaust", tolLash
	case FieldTiming:
		part = "timing_"
	case FieldCoolingDrop:
		part, tol = "cooling_", tolDrop
	}
	for _, ev := range c.t.events {
		about := strings.HasPrefix(ev.Choice, part)
		if ev.Kind != kindFact || ev.Tick > e.Tick || !about {
			continue
		}
		if e.Field == FieldTiming {
			if inTeeth(e.Number, ev) {
				return true
			}
			continue
		}
		if ev.Cylinder == e.Cylinder && (ev.Number == 0 || near(e.Number, clean(ev.Number), tol)) {
			return true
		}
	}
	return false
}

// Marks are told in teeth; a cam wheel has 16 to 72 of them and turns once in 720° of
// crank, so that a tooth is 10° to 45° (which, is the student's to know).
const (
	leastTooth = 10.0
	mostTooth  = 45.0
)

// inTeeth reports whether degrees of crank are what the marks showed: late is positive.
func inTeeth(degrees float64, ev record.Event) bool {
	teeth := clean(ev.Number)
	switch {
	case ev.Choice == "timing_right":
		return degrees == 0
	case strings.HasSuffix(ev.Choice, "_early"):
		degrees = -degrees
	}
	return degrees >= leastTooth*teeth && degrees <= mostTooth*teeth
}
