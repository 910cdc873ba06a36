package diagnose

import "slices"

// chooseRules: the order of tests, cheap before dear, method before meaning.
func chooseRules() []rule {
	r := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowChoose, share, facts, judge}
	}
	return []rule{
		r("spec_looked_up", 2, specLookedUp, "why"),
		r("read_before_concluding", 3, readBeforeConcluding, "good", "of"),
		r("dry_before_oil", 3, dryBeforeOil, "good", "of"),
		r("method_first", 3, methodFirst, "cylinder", "fault", "good", "of"),
		r("confirmed_when_called", 3, confirmedWhenCalled, "pattern", "cylinder", "good_test"),
		r("wet_control", 3, wetControl, "cylinder"),
		r("no_needless_oil", 2, noNeedlessOil, "pattern"),
		r("tests_by_cost", 3, testsByCost, "test", "minutes", "better", "better_minutes", "good", "of"),
		r("tests_told", 2, testsTold, "test", "minutes", "pattern", "why", "good", "of"),
		r("next_test", 3, nextTest, "named", "why", "good_test", "better", "better_minutes", "minutes"),
	}
}

// specLookedUp: the limit is looked up before anyone holds a reading against it,
// so before the conclusion; the page of this engine, by its code. The bench notes
// which page it was.
func specLookedUp(c *court) verdict {
	v := yes(c.specBefore(), c.t.at(c.t.first(kindSpec, "")))
	page := c.t.last(kindFact, factPage, 0)
	right := page < 0 || c.t.events[page].Number == 1
	if !right {
		v.part, v.at = 0.5*v.part, c.t.at(page)
	}
	switch {
	case page < 0 && v.part == 0 && c.t.first(kindSpec, "") < 0:
		v.facts = []Fact{word("why", whyNoPage)}
	case !right:
		v.facts = []Fact{word("why", whyOtherPage)}
	case v.part == 0:
		v.facts = []Fact{word("why", whyPageLate)}
	}
	return v
}

// specBefore reports whether a page was looked up before the conclusion. The log
// itself knows the order where time stood still between the two.
func (c *court) specBefore() bool {
	i := c.t.first(kindSpec, "")
	if i < 0 {
		return false
	}
	if end := c.t.last(kindFinding, "", 0); end >= 0 {
		return i < end
	}
	return len(c.in.Sheet.Findings) == 0 || c.t.at(i).tick <= c.in.Sheet.ConcludedTick
}

// readBeforeConcluding: every cylinder had been read when it was concluded. No
// part is bought and nothing is taken apart on half a test.
func readBeforeConcluding(c *court) verdict {
	n := 0
	for _, s := range c.known.Seen {
		if s.Valid {
			n++
		}
	}
	if len(c.claim) == 0 {
		return unbegun()
	}
	return verdict{part: share(n, c.n), at: c.concluded(), facts: []Fact{count("good", n), count("of", c.n)}}
}

// dryBeforeOil: every cylinder has its dry reading before oil goes into any; there
// is no way back.
func dryBeforeOil(c *court) verdict {
	oil := c.t.first(kindOil, "")
	if oil < 0 {
		return skip()
	}
	at := c.t.at(oil)
	good := 0
	for n := 1; n <= c.n; n++ {
		for i, r := range c.all.Runs {
			if r.Cylinder == n && !wet(r) && r.Full() > 0 && r.EndTick <= at.tick && !spoiled(c.all.faults[i]) {
				good++
				break
			}
		}
	}
	return verdict{part: share(good, c.n), at: at, facts: []Fact{count("good", good), count("of", c.n)}}
}

// methodFirst: a reading spoiled by its method is taken again the right way, or
// the method is named as the finding. A method fault can lie over a real one.
func methodFirst(c *court) verdict {
	var t tally
	recognised := c.saysSlow() || c.claims(FamilyMethodOrGauge)
	for n := 1; n <= c.n; n++ {
		fault, at, mended := "", moment{}, false
		for i, r := range c.all.Runs {
			if r.Cylinder != n || wet(r) || len(r.Strokes) == 0 || c.all.side[i] != "" {
				continue
			}
			if f := firstSpoiling(c.all.faults[i]); f != "" {
				fault, at, mended = f, began(r), false
			} else {
				mended = true
			}
		}
		if fault != "" {
			t.add(mended || recognised, n, at, word("fault", fault))
		}
	}
	if t.many == 0 {
		return skip()
	}
	return t.verdict()
}

func firstSpoiling(faults []string) string {
	for _, f := range faults {
		if spoils(f) {
			return f
		}
	}
	return ""
}

// confirmedWhenCalled: readings that stand out or are low as a whole say that
// something is wrong, not what. A test that parts the causes follows, or is named.
func confirmedWhenCalled(c *court) verdict {
	if !c.calls() {
		return skip()
	}
	v := verdict{at: c.concluded(), facts: []Fact{word("pattern", c.dry.Pattern)}}
	if len(c.dry.Suspects) > 0 {
		v.cyl = c.dry.Suspects[0]
		v.facts = append(v.facts, count("cylinder", v.cyl))
	}
	for _, n := range c.dry.Next {
		if worth(c.dry.Pattern, n) >= 2 {
			v.facts = append(v.facts, word("good_test", n))
		}
	}
	switch {
	case c.parted():
		v.part = 1
	case c.goodNext() && worth(c.dry.Pattern, c.in.Sheet.NextTest) >= 2:
		v.part = 0.5
	}
	return v
}

// calls reports whether the dry readings alone leave it open what is wrong.
func (c *court) calls() bool {
	switch c.dry.Pattern {
	case PatternOneLow, PatternSeveral, PatternPair, PatternBankLow, PatternAllLow, PatternAllHigh, PatternOneHigh:
		return true
	}
	return false
}

// parted reports whether a test that parts the causes was made, on each cylinder
// that stands out where it is a test of single cylinders.
func (c *court) parted() bool {
	if worth(c.dry.Pattern, "wet") >= 2 && c.oilIn(c.dry.Suspects) {
		return true
	}
	for _, test := range c.known.Tests() {
		switch {
		case worth(c.dry.Pattern, test) < 2 || test == "repeat" || test == "wet":
		case test == "leakage" && len(c.dry.Suspects) > 0:
			for _, n := range c.dry.Suspects {
				if l, ok := c.known.Confirmed.leak(n); ok && l.Fault == "" {
					return true
				}
			}
		default:
			return true
		}
	}
	return false
}

// wetControl: every cylinder rises with oil (9–25 % in healthy field engines), so
// the gain of the low one means something only beside a healthy one's.
func wetControl(c *court) verdict {
	if len(c.dry.Suspects) == 0 || !c.oilIn(c.dry.Suspects) {
		return skip()
	}
	return verdict{part: b2f(c.j.HasCtl), at: c.t.at(c.t.first(kindOil, "")), cyl: c.dry.Suspects[0], facts: []Fact{count("cylinder", c.dry.Suspects[0])}}
}

// oilIn reports whether all of some cylinders, any one when none is named, had
// been tested wet by the conclusion, well or not.
func (c *court) oilIn(cylinders []int) bool {
	n := 0
	for _, s := range c.known.Seen {
		if s.Valid && s.WetValid && (len(cylinders) == 0 || slices.Contains(cylinders, s.Cylinder)) {
			n++
		}
	}
	return n > 0 && n >= len(cylinders)
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// noNeedlessOil: all within limits and nothing stands out: no wet test needed.
func noNeedlessOil(c *court) verdict {
	if !c.dry.Decided || c.dry.Pattern != PatternWithin {
		return skip()
	}
	oil := c.t.first(kindOil, "")
	return yes(oil < 0, c.t.at(oil), word("pattern", c.dry.Pattern))
}

// testsByCost: cheap before dear. A test that costs an hour before one that costs
// minutes and tells as much is an hour of somebody's money, so that minutes are what
// counts.
func testsByCost(c *court) verdict {
	return c.spent(func(t taken) bool { return t.worth > 0 }, func(t taken) (bool, []Fact) {
		return t.better == "", []Fact{
			word("test", t.test), fact("minutes", t.minutes, "min"), word("better", t.better), fact("better_minutes", t.cheaper, "min"),
		}
	})
}

// testsTold: a test that can tell nothing beyond what is known costs its minutes for
// nothing. Oil in a sound engine has a rule of its own.
func testsTold(c *court) verdict {
	needless := func(t taken) bool { return t.test == "wet" && t.pattern == PatternWithin }
	return c.spent(func(t taken) bool { return !needless(t) }, func(t taken) (bool, []Fact) {
		last := word("pattern", t.pattern)
		if t.settled {
			last = word("why", whySettled)
		}
		return t.worth > 0, []Fact{word("test", t.test), fact("minutes", t.minutes, "min"), last}
	})
}

// spent is the share of the minutes of some confirming tests that was well spent, with
// the first test that was not.
func (c *court) spent(judged func(taken) bool, well func(taken) (bool, []Fact)) verdict {
	var v verdict
	good, many, sum, spent := 0, 0, 0.0, 0.0
	for _, t := range c.taken() {
		if !judged(t) {
			continue
		}
		many++
		ok, facts := well(t)
		minutes := max(t.minutes, 1)
		sum += minutes
		switch {
		case ok:
			good++
			spent += minutes
		case len(v.facts) == 0:
			v.at, v.cyl, v.facts = t.at, t.cylinder, facts
		}
	}
	if many == 0 {
		return skip()
	}
	v.part = clean(spent / sum)
	if good == many {
		v.part = 1
	}
	v.facts = append(v.facts, count("good", good), count("of", many))
	return v
}

// nextTest: what would tell more, judged by the pattern and by the scenario's own
// list. Without readings no test is a good next one but the first. A dear one named
// before a cheap one that tells as much is half right.
func nextTest(c *court) verdict {
	named := c.in.Sheet.NextTest
	v := verdict{part: b2f(c.goodNext()), at: c.concluded(), facts: []Fact{word("named", named)}}
	switch {
	case c.j.Pattern == PatternNothing, c.j.Pattern == PatternPartial && v.part == 0:
		v.facts = append(v.facts, word("why", whyReadFirst))
		return v
	case slices.Contains(c.j.Next, "none") && named != "none":
		v.facts = append(v.facts, word("why", whyNoneNeeded))
	}
	for _, n := range c.j.Next {
		if n != "none" {
			v.facts = append(v.facts, word("good_test", n))
		}
	}
	if v.part == 0 || named == "none" {
		return v
	}
	if better, cost := c.planner().better(c.known, c.j, named); better != "" {
		v.part = 0.5
		v.facts = append(v.facts, fact("minutes", c.planner().minutes(c.known, c.j, named), "min"),
			word("better", better), fact("better_minutes", cost, "min"))
	}
	return v
}

// complained reports whether the gauge passed an engine whose job calls for a test that a
// gauge can't stand in for, and none of them was made. A pass ends the compression tests,
// not the complaint.
func (c *court) complained() bool {
	if c.j.Pattern != PatternWithin || c.clears() || slices.Contains(c.in.Key.NextTests, "none") {
		return false
	}
	for _, n := range c.in.Key.NextTests {
		if c.known.Did(n, c.j) {
			return false
		}
	}
	return len(c.in.Key.NextTests) > 0
}

// goodNext reports whether the next test named would tell more.
func (c *court) goodNext() bool {
	n := c.in.Sheet.NextTest
	doubt := n == "none" && (slices.Contains(c.j.Next, "leakage") && c.known.unfit() || c.complained())
	if n == "" || c.j.Pattern == PatternNothing || doubt {
		return false
	}
	called := slices.Contains(c.in.Key.NextTests, n) && (n != "none" || c.j.Complete) // spoiled readings end nothing
	return called || slices.Contains(c.j.Next, n)
}
