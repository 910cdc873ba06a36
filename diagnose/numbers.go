package diagnose

import (
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Tolerances between a number written and what could be read. They lie between
// scale marks: a reading comes in half graduations (2.5 psi, 10 or 25 kPa), and
// one graduation aside is still honest reading.
const (
	tolPressure = 5.25 * unit.PascalPerPSI // [Pa], 36.2 kPa
	tolRPM      = 25.5                     // a tachometer swings while cranking
	tolVolts    = 0.45
	tolCelsius  = 4.5
	tolOil      = 0.55 // [ml]
)

// near reports |a − b| ≤ tol; false for what is no number.
func near(a, b, tol float64) bool {
	d := a - b
	return d >= -tol && d <= tol
}

// backed reports whether there was something to read behind a number.
func (c *court) backed(e Entry) bool {
	switch e.Field {
	case FieldSpecStandard, FieldSpecMinimum, FieldSpecDifference:
		return c.t.first(kindSpec, "") >= 0
	case FieldOilML:
		return c.oilBehind(e)
	case FieldCoolantC, FieldThrottle:
		// Written before cranking as often as after: any run will do.
		return c.anyRun(func(i int, r record.Run) bool { return shows(e, r) })
	}
	return c.tested(e) || c.anyRun(func(i int, r record.Run) bool {
		return r.EndTick <= e.Tick && c.instrument(e.Field, i) && shows(e, r)
	})
}

func (c *court) anyRun(ok func(int, record.Run) bool) bool {
	for i, r := range c.runs {
		if ok(i, r) {
			return true
		}
	}
	return false
}

// instrument reports whether the instrument of a field was on during run i.
func (c *court) instrument(field string, i int) bool {
	switch field {
	case FieldRPM:
		return c.t.state(kindTach, c.t.start[i]) == "on"
	case FieldBatteryV:
		return c.t.state(kindVoltmeter, c.t.start[i]) == "on"
	}
	return true
}

// shows reports whether a run could have shown the number of an entry.
func shows(e Entry, r record.Run) bool {
	mine := r.Cylinder > 0 && (e.Cylinder == r.Cylinder || e.Cylinder == 0)
	first, last := firstLast(r)
	full := r.Full()
	switch e.Field {
	case FieldDryFirst, FieldWetFirst:
		return mine && wet(r) == (e.Field == FieldWetFirst) && full > 0 &&
			(near(e.Number, float64(first), tolPressure) || near(e.Number, r.Strokes[0].Shown, tolPressure))
	case FieldDryLast, FieldWetLast:
		return mine && wet(r) == (e.Field == FieldWetLast) && full > 0 && near(e.Number, float64(last), tolPressure)
	case FieldStrokes, FieldWetStrokes:
		return mine && wet(r) == (e.Field == FieldWetStrokes) &&
			(e.Number == float64(full) || e.Number == float64(len(r.Strokes)))
	case FieldRPM:
		return near(e.Number, r.SpeedRPM, tolRPM)
	case FieldBatteryV:
		return near(e.Number, r.BatteryMinV, tolVolts)
	case FieldCoolantC:
		return near(e.Number, r.CoolantC, tolCelsius)
	case FieldThrottle:
		return e.Number == 1 && r.ThrottleOpen || e.Number == 0 && !r.ThrottleOpen
	}
	return false
}

// oilBehind reports whether that much oil went into that cylinder, in one go or
// in all.
func (c *court) oilBehind(e Entry) bool {
	sum := 0.0
	for _, ev := range c.t.events {
		if ev.Kind != kindOil || !finite(ev.Number) || e.Cylinder != 0 && ev.Cylinder != e.Cylinder {
			continue
		}
		sum += ev.Number
		if near(e.Number, ev.Number, tolOil) || near(e.Number, sum, tolOil) {
			return true
		}
	}
	return false
}
