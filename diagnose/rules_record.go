package diagnose

import (
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// recordRules: what real reports leave out. Weights are ours.
func recordRules() []rule {
	r := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowRecord, share, facts, judge}
	}
	return []rule{
		r("no_number_invented", 4, noNumberInvented, "cylinder", "field", "written", "other", "times", "noted", "all"),
		r("dry_last_written", 3, lastWritten, "cylinder", "good", "of"),
		r("dry_first_written", 2, firstWritten, "cylinder", "part_stroke", "good", "of"),
		r("strokes_written", 1, strokesWritten, "cylinder", "good", "of"),
		r("speed_written", 1, speedWritten, "speed"),
		r("battery_written", 1, batteryWritten, "voltage"),
		r("temperature_written", 1, temperatureWritten, "temperature"),
		r("throttle_written", 0.5, throttleWritten),
		r("spec_written", 2, specWritten, "absent", "field", "wanted", "written"),
		r("wet_written", 2, wetWritten, "cylinder", "good", "of"),
		r("tests_written", 2, testsWritten, "cylinder", "field", "good", "of"),
		r("heard_written", 1.5, heardWritten, "cylinder", "where", "good", "of"),
		r("arithmetic", 1, arithmetic, "cylinder", "field", "written", "wanted", "good", "of"),
		r("ticks_true", 0, ticksTrue, "item", "times"),
	}
}

// noNumberInvented: a number without a reading behind it. Two of them cost the
// whole line. True numbers about half an engine are half as much truth.
func noNumberInvented(c *court) verdict {
	if len(c.entry) == 0 {
		return skip()
	}
	v := verdict{}
	n := 0
	for _, e := range c.entry {
		if _, ours := c.sum(e); ours || c.backed(e) {
			continue
		}
		n++
		if n == 1 {
			v.at, v.cyl = c.clock(e.Tick), e.Cylinder
		}
		if n <= 6 {
			v.facts = append(v.facts, count("cylinder", e.Cylinder), word("field", e.Field),
				fact("written", e.Number, fieldUnit(e.Field)))
			if o := c.otherCylinder(e); o > 0 {
				v.facts = append(v.facts, count("other", o))
			}
		}
	}
	v.kept = n == 0
	on := c.onPaper()
	v.part = max(0, 1-float64(0.5*float64(n))) * share(on, c.n)
	v.facts = append(v.facts, count("times", n))
	if v.part > 0 {
		v.facts = append(v.facts, c.onlyOf("noted", on)...)
	}
	return v
}

// onPaper is the number of cylinders whose dry reading stands on the sheet.
func (c *court) onPaper() int {
	n := 0
	for cyl := 1; cyl <= c.n; cyl++ {
		if _, ok := c.written(FieldDryLast, cyl); ok {
			n++
		}
	}
	return n
}

// unread reports that there was nothing to write down: no reading, and no entry either.
func (c *court) unread() bool { return len(c.all.Runs) == 0 && len(c.entry) == 0 }

// blank judges what would have been written down: what nobody could read is not missing.
func (c *court) blank(v verdict) verdict {
	if c.unread() {
		return unbegun()
	}
	return v
}

// otherCylinder returns a cylinder whose test shows the number that was written
// for another one; 0 when none does.
func (c *court) otherCylinder(e Entry) int {
	if e.Cylinder == 0 {
		return 0
	}
	for n := 1; n <= c.n; n++ {
		if n != e.Cylinder && c.backed(Entry{Field: e.Field, Cylinder: n, Number: e.Number, Tick: e.Tick}) {
			return n
		}
	}
	return 0
}

// written returns the last entry of a field for a cylinder that has a reading
// behind it.
func (c *court) written(field string, cylinder int) (Entry, bool) {
	for i := len(c.entry) - 1; i >= 0; i-- {
		if e := c.entry[i]; e.Field == field && (e.Cylinder == cylinder || cylinder < 0) && c.backed(e) {
			return e, true
		}
	}
	return Entry{}, false
}

// eachWritten tallies a field over every cylinder of the engine.
func (c *court) eachWritten(field string) verdict {
	var t tally
	for n := 1; n <= c.n; n++ {
		e, ok := c.written(field, n)
		at := moment{}
		if ok {
			at = c.clock(e.Tick)
		}
		t.add(ok, n, at)
	}
	return c.blank(t.verdict())
}

// lastWritten: the reading of each cylinder.
func lastWritten(c *court) verdict { return c.eachWritten(FieldDryLast) }

// firstWritten: the first stroke tells how it built up. None of 76 field cases
// looked at had it.
// What the dial showed after a part stroke was read, but it is no first stroke.
func firstWritten(c *court) verdict {
	var t tally
	for n := 1; n <= c.n; n++ {
		e, ok := c.written(FieldDryFirst, n)
		whole := ok && c.anyRun(func(i int, r record.Run) bool {
			first, _ := firstLast(r)
			return r.Cylinder == n && r.EndTick <= e.Tick && r.Full() > 0 && near(e.Number, float64(first), tolPressure)
		})
		t.add(whole, n, c.clock(e.Tick))
		if ok && !whole {
			t.v.facts = append(t.v.facts, count("part_stroke", n))
		}
	}
	return c.blank(t.verdict())
}

// strokesWritten: how often each was turned; once for all is enough when it was
// the same.
func strokesWritten(c *court) verdict {
	if e, ok := c.written(FieldStrokes, 0); ok {
		return yes(true, c.clock(e.Tick), count("good", c.n), count("of", c.n))
	}
	return c.eachWritten(FieldStrokes)
}

// speedWritten: cranking speed, read while cranking.
func speedWritten(c *court) verdict {
	e, ok := c.written(FieldRPM, -1)
	return c.blank(yes(ok, c.clock(e.Tick), fact("speed", e.Number, "rpm")))
}

// batteryWritten: the lowest voltage while cranking.
func batteryWritten(c *court) verdict {
	e, ok := c.written(FieldBatteryV, -1)
	return c.blank(yes(ok, c.clock(e.Tick), fact("voltage", e.Number, "V")))
}

// temperatureWritten: warm or cold, and how warm.
func temperatureWritten(c *court) verdict {
	e, ok := c.written(FieldCoolantC, -1)
	return c.blank(yes(ok, c.clock(e.Tick), fact("temperature", e.Number, "°C")))
}

// throttleWritten: open or shut; whoever reads the report cannot see it.
func throttleWritten(c *court) verdict {
	e, ok := c.written(FieldThrottle, -1)
	return c.blank(yes(ok, c.clock(e.Tick)))
}

// specWritten: what the right page says, every figure it gives. The unit of the
// page may have been rounded (1,034 and 1,035 kPa are both 150 psi).
func specWritten(c *court) verdict {
	l := c.page
	good, many := 0, 0
	v := verdict{}
	for _, s := range []struct {
		field string
		want  unit.Gauge
	}{{FieldSpecStandard, l.Standard}, {FieldSpecMinimum, l.Minimum}, {FieldSpecDifference, l.DifferenceMax}} {
		if s.want <= 0 || !finite(float64(s.want)) {
			continue
		}
		many++
		e, ok := c.written(s.field, -1)
		if ok && near(e.Number, float64(s.want), float64(0.011*float64(s.want))+0.5*unit.PascalPerPSI) {
			good++
			continue
		}
		if ok && v.at == (moment{}) {
			v.at = c.clock(e.Tick)
		}
		if ok {
			v.facts = append(v.facts, word("field", s.field), pressure("wanted", s.want), fact("written", e.Number, "Pa"))
		} else {
			v.facts = append(v.facts, word("absent", s.field))
		}
	}
	if many == 0 {
		return skip()
	}
	v.part = share(good, many)
	return v
}

// wetWritten: reading and oil of every wet test.
func wetWritten(c *court) verdict {
	var t tally
	for _, s := range c.all.Seen {
		if !s.WetValid {
			continue
		}
		_, last := c.written(FieldWetLast, s.Cylinder)
		_, oil := c.written(FieldOilML, s.Cylinder)
		if !oil {
			_, oil = c.written(FieldOilML, 0)
		}
		t.add(last && oil, s.Cylinder, began(c.all.Runs[s.WetRun-1]))
	}
	if t.many == 0 {
		return skip()
	}
	return t.verdict()
}

// What ticks that are not so cost: a tick is a statement to somebody who wasn't there,
// and with one of them false none can be relied on. The first takes about a seventh of
// the row, every further one a tenth, up to half of it (common practice, no source; how
// much is argued in testdata/SOURCES.md, "Marks").
const (
	falseTick  = 0.15
	falseTicks = 0.10
	falseMost  = 0.50
)

// ticksTrue: each tick is held against what was done. An item that leaves no trace (the
// count of strokes, say) is the student's own mark and is not judged.
func ticksTrue(c *court) verdict {
	v := verdict{at: c.t.at(len(c.t.events) - 1)}
	wrong, known := 0, 0
	for _, item := range c.in.Sheet.Ticks {
		judge := c.deed(item)
		if judge == nil {
			continue
		}
		known++
		if judge() {
			continue
		}
		wrong++
		v.facts = append(v.facts, word("item", item))
	}
	if known == 0 {
		return skip()
	}
	v.facts = append(v.facts, count("times", wrong))
	if wrong == 0 {
		v.part = 1
		return v
	}
	v.lost = min(falseMost, falseTick+float64(falseTicks*float64(wrong-1)))
	return v
}
