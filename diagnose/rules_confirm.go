package diagnose

import (
	"crankbay/sim/unit"
	"slices"
)

// confirmRules: the confirming tests, each only where it was made. As with the
// readings, the deciding test of a cylinder counts, so that a mistake noticed and
// done again costs nothing here.
func confirmRules() []rule {
	m := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowMeasure, share, facts, judge}
	}
	return []rule{
		m("leak_at_top", 3, leakAtTop, "cylinder", "why", "leak", "good", "of"),
		m("leak_listened", 2, leakListened, "cylinder", "leak", "where", "good", "of"),
		m("current_compares", 2, currentCompares, "why"),
		m("running_read", 2, runningRead, "cylinder", "why", "good", "of"),
		m("vacuum_shut", 1.5, vacuumShut, "why"),
	}
}

// leakAtTop: the piston at the top after its compression stroke, the crank still. At
// overlap, one turn out, both valves stand open: near 100 % and air at throttle and
// tailpipe say nothing of the cylinder.
func leakAtTop(c *court) verdict {
	var t tally
	for n := 1; n <= c.n; n++ {
		if l, ok := c.all.Confirmed.leak(n); ok {
			facts := []Fact{fact("leak", l.Percent, "%")}
			if l.Fault != "" {
				facts = append(facts, word("why", l.Fault))
			}
			t.add(l.Fault == "", n, l.at, facts...)
		}
	}
	if t.many == 0 {
		return skip()
	}
	return t.verdict()
}

// leakListened: the percentage says whether, only the ear says where, and what is
// heard at one place does not rule the others out. Bubbles are looked for where
// nothing else has told: a cap of a warm engine stays on as long as it can.
func leakListened(c *court) verdict {
	var v verdict
	good, many := 0, 0
	for n := 1; n <= c.n; n++ {
		l, ok := c.all.Confirmed.leak(n)
		if !ok || l.Fault != "" || l.Percent < leakSmall {
			continue
		}
		first := true
		for _, place := range l.ears() {
			many++
			if _, asked := l.heard(place); asked {
				good++
				continue
			}
			if first {
				first = false
				v.facts = append(v.facts, count("cylinder", n), fact("leak", l.Percent, "%"))
			}
			if v.at == (moment{}) {
				v.at, v.cyl = l.at, n
			}
			v.facts = append(v.facts, word("where", place))
		}
	}
	if many == 0 {
		return skip()
	}
	v.part = share(good, many)
	v.facts = append(v.facts, count("good", good), count("of", many))
	return v
}

// ears lists where this leak has to be listened for.
func (l LeakSeen) ears() []string {
	out := []string{HeardThrottle, HeardTailpipe, HeardFiller}
	for _, h := range l.Heard {
		if h.Air && h.Place != HeardFiller {
			return out
		}
	}
	if l.Percent >= leakLarge {
		out = append(out, HeardNeck)
	}
	return out
}

// What keeps a confirming test from saying anything.
const (
	whyPlugsOut = "plugs_were_out"
	whyOpen     = "throttle_was_open"
	whyNever    = "never_cranked"
	whyNoIdle   = "no_idle_reading"
	whyNoSnap   = "no_snap_reading"
)

// What else a line can say for a reason.
const (
	whyNoPage     = "no_page"
	whyOtherPage  = "other_page"
	whyPageLate   = "page_late"
	whyReadFirst  = "read_first"
	whyNoneCited  = "none_cited"
	whyNoneNeeded = "none_needed"
	whySettled    = "settled"
	whyNoControl  = "no_control"
	whyAgainst    = "cited_against" // there, but the claim has nothing to stand on
)

// Reasons lists every key that the fact 'why' can carry.
func Reasons() []string {
	return []string{leakTurned, leakOverlap, leakOff, whyPlugsOut, whyOpen, whyNever, whyNoIdle, whyNoSnap,
		whyNoPage, whyOtherPage, whyPageLate, whyReadFirst, whyNoneCited, whyAgainst, whyNoneNeeded, whySettled, whyNoControl}
}

// currentCompares: plugs in, or a cylinder makes no hump; cranked long enough for
// every cylinder to come up more than once.
func currentCompares(c *court) verdict {
	clamp := c.t.first(kindClamp, "on")
	if clamp < 0 {
		return skip()
	}
	at := c.t.at(clamp)
	switch {
	case c.all.Confirmed.humps() != nil:
		return yes(true, at)
	case c.all.Confirmed.incomparable():
		return skip() // the engine doesn't allow it; nobody did anything wrong
	case len(c.all.Confirmed.Currents) > 0:
		return yes(false, at, word("why", whyPlugsOut))
	}
	return yes(false, at, word("why", whyNever))
}

// runningRead: at idle after the release, and after a snap of the throttle; one
// without the other says half (common practice).
func runningRead(c *court) verdict {
	var v verdict
	good, many := 0, 0
	var asked [maxCylinders + 1]bool
	for i, e := range c.t.events {
		if e.Kind != kindOne || e.Choice != "disabled" || e.Cylinder < 1 || e.Cylinder > c.n || asked[e.Cylinder] {
			continue
		}
		asked[e.Cylinder] = true
		first := true
		for _, x := range []struct{ how, lack string }{{pumpedIdle, whyNoIdle}, {pumpedSnap, whyNoSnap}} {
			many++
			if _, ok := c.all.Confirmed.pumpedOf(e.Cylinder, x.how); ok {
				good++
				continue
			}
			if first {
				first = false
				v.facts = append(v.facts, count("cylinder", e.Cylinder))
			}
			if v.at == (moment{}) {
				v.at, v.cyl = c.t.at(i), e.Cylinder
			}
			v.facts = append(v.facts, word("why", x.lack))
		}
	}
	if many == 0 {
		return skip()
	}
	v.part = share(good, many)
	v.facts = append(v.facts, count("good", good), count("of", many))
	return v
}

// vacuumShut: a manifold is pumped down only with the throttle shut and the plugs in.
func vacuumShut(c *court) verdict {
	pipe := c.t.first(kindPipe, "on")
	if pipe < 0 {
		return skip()
	}
	why := whyNever
	for _, v := range c.all.Confirmed.Vacuums {
		for _, r := range c.runs {
			switch {
			case r.ID != v.Run:
			case r.PlugsOut > 0:
				why = whyPlugsOut
			case r.ThrottleOpen:
				why = whyOpen
			default:
				return yes(true, c.t.at(pipe))
			}
		}
	}
	return yes(false, c.t.at(pipe), word("why", why))
}

// testsWritten: what a confirming test showed stands on the sheet, or it was for
// nothing.
func testsWritten(c *court) verdict {
	var v verdict
	good, many := 0, 0
	for _, x := range c.toWrite() {
		many++
		if _, ok := c.written(x.field, x.cylinder); ok {
			good++
			continue
		}
		if v.at == (moment{}) {
			v.at, v.cyl = x.at, max(0, x.cylinder)
		}
		if len(v.facts) < 12 {
			v.facts = append(v.facts, count("cylinder", max(0, x.cylinder)), word("field", x.field))
		}
	}
	if many == 0 {
		return skip()
	}
	v.part = share(good, many)
	v.facts = append(v.facts, count("good", good), count("of", many))
	return v
}

// anyOne stands for a number that may be written for one bank or for all.
const anyOne = -1

// A blank is a number that a confirming test gave.
type blank struct {
	field    string
	cylinder int
	at       moment
}

func (c *court) toWrite() []blank {
	var out []blank
	k := c.all.Confirmed
	for n := 1; n <= c.n; n++ {
		if l, ok := k.leak(n); ok {
			out = append(out, blank{FieldLeakage, n, l.at})
		}
		for _, x := range []struct{ how, field string }{{pumpedIdle, FieldRunningIdle}, {pumpedSnap, FieldRunningSnap}} {
			if _, ok := k.pumpedOf(n, x.how); ok {
				out = append(out, blank{x.field, n, moment{}})
			}
		}
	}
	if len(k.Leaks) > 0 {
		out = append(out, blank{FieldLeakageSupply, 0, k.Leaks[0].at})
	}
	for _, h := range k.humps() {
		if h.Cylinder >= 1 && h.Cylinder <= c.n {
			out = append(out, blank{FieldHump, h.Cylinder, moment{}})
		}
	}
	if len(k.Vacuums) > 0 {
		out = append(out, blank{FieldVacuum, 0, moment{}})
	}
	for _, s := range k.Gauges {
		out = append(out, blank{FieldSecondLast, s.Cylinder, began(c.all.Runs[s.run])})
	}
	for _, s := range k.Refits {
		out = append(out, blank{FieldRefitLast, s.Cylinder, began(c.all.Runs[s.run])})
	}
	for _, l := range k.Looks {
		field := lashField(l.Fact)
		switch {
		case l.Fact == "cooling_falls":
			field = FieldCoolingDrop
		case l.Kind == kindTiming && l.Fact != "timing_right":
			out = append(out, blank{FieldTiming, anyOne, l.at})
		}
		if field != "" && l.Number > 0 {
			out = append(out, blank{field, l.Cylinder, l.at})
		}
	}
	return out
}

func lashField(fact string) string {
	switch fact {
	case "lash_intake":
		return FieldLashIntake
	case "lash_exhaust":
		return FieldLashExhaust
	}
	return ""
}

// heardWritten: where air was heard, as it was heard: a place left out is lost, a
// place nobody listened at is invented.
func heardWritten(c *court) verdict {
	var t tally
	for n := 1; n <= c.n; n++ {
		l, ok := c.all.Confirmed.leak(n)
		said := c.said(n)
		if !ok && len(said) == 0 || ok && len(l.Heard) == 0 && len(said) == 0 {
			continue
		}
		var off []Fact
		for _, place := range HeardPlaces() {
			if c.heardAt(n, place) != slices.Contains(said, place) {
				off = append(off, word("where", place))
			}
		}
		t.add(len(off) == 0, n, l.at, off...)
	}
	if t.many == 0 {
		return skip()
	}
	return t.verdict()
}

// said lists the places that the sheet names for a cylinder.
func (c *court) said(cylinder int) []string {
	var out []string
	for _, h := range c.in.Sheet.Heard {
		if h.Cylinder == cylinder {
			out = append(out, h.Place)
		}
	}
	return out
}

// heardAt reports whether air of a cylinder was heard at a place in any leakage test
// of it that could be used, or in any at all when none could.
func (c *court) heardAt(cylinder int, place string) bool {
	best, _ := c.all.Confirmed.leak(cylinder)
	anywhere, asked := false, false
	for _, l := range c.all.Confirmed.Leaks {
		if l.Cylinder != cylinder || l.Fault != best.Fault {
			continue
		}
		for _, h := range l.Heard {
			asked = true
			anywhere = anywhere || h.Air
			if h.Air && (h.Place == place || h.Place == holePlace && place == HeardNeighbour) {
				return true
			}
		}
	}
	return place == HeardNowhere && asked && !anywhere
}

// arithmetic: the student's own sums, held against the student's own numbers. Two
// points of percent and a scale mark are rounding.
func arithmetic(c *court) verdict {
	good, many := 0, 0
	var v verdict
	for _, e := range c.entry {
		want, ok := c.sum(e)
		if !ok {
			continue
		}
		many++
		tol := 2.05
		if e.Field == FieldSpread {
			tol = 2.6 * unit.PascalPerPSI
		}
		if near(e.Number, want, tol) {
			good++
			continue
		}
		if v.at == (moment{}) {
			v.at, v.cyl = c.clock(e.Tick), e.Cylinder
		}
		v.facts = append(v.facts, count("cylinder", e.Cylinder), word("field", e.Field), fact("written", e.Number, fieldUnit(e.Field)),
			fact("wanted", want, fieldUnit(e.Field)))
	}
	if many == 0 {
		return skip()
	}
	v.part = share(good, many)
	v.facts = append(v.facts, count("good", good), count("of", many))
	return v
}

// sum works out what an entry of arithmetic should be from the other numbers on the
// sheet; false when it is no arithmetic.
func (c *court) sum(e Entry) (float64, bool) {
	var low, high float64
	n := 0
	for _, x := range c.entry {
		if x.Field != FieldDryLast {
			continue
		}
		if n == 0 || x.Number < low {
			low = x.Number
		}
		if n == 0 || x.Number > high {
			high = x.Number
		}
		n++
	}
	switch e.Field {
	case FieldRatio:
		return clean(100 * low / max(high, 1)), true
	case FieldSpread:
		return high - low, true
	case FieldGain:
		dry, wet := c.onSheet(FieldDryLast, e.Cylinder), c.onSheet(FieldWetLast, e.Cylinder)
		return clean(100 * (wet - dry) / max(dry, 1)), true
	}
	return 0, false
}

// onSheet returns what was written in a field, 0 when nothing was.
func (c *court) onSheet(field string, cylinder int) float64 {
	for _, e := range c.entry {
		if e.Field == field && e.Cylinder == cylinder {
			return e.Number
		}
	}
	return 0
}
