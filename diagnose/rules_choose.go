package diagnose

// chooseRules: the order of tests, cheap before dear, method before meaning.
func chooseRules() []rule {
	r := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowChoose, share, facts, judge}
	}
	return []rule{
		r("spec_looked_up", 2, specLookedUp, "right_page"),
		r("read_before_concluding", 3, readBeforeConcluding, "good", "of"),
		r("dry_before_oil", 3, dryBeforeOil, "good", "of"),
		r("method_first", 3, methodFirst, "cylinder", "fault", "good", "of"),
		r("wet_when_called", 3, wetWhenCalled, "pattern", "cylinder"),
		r("wet_control", 3, wetControl, "cylinder"),
		r("no_needless_oil", 2, noNeedlessOil, "pattern"),
		r("next_test", 3, nextTest, "named", "good_test"),
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
	v.facts = []Fact{flag("right_page", right)}
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
	v := verdict{at: c.concluded(), facts: []Fact{count("good", n), count("of", c.n)}}
	if len(c.claim) > 0 {
		v.part = share(n, c.n)
	}
	return v
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
			if r.Cylinder != n || wet(r) || len(r.Strokes) == 0 {
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

// wetWhenCalled: one low, or all low and even at normal speed: oil is the cheapest
// thing that tells more. Naming it as the next test is worth half.
func wetWhenCalled(c *court) verdict {
	if !c.dry.WetCalled {
		return skip()
	}
	v := verdict{facts: []Fact{word("pattern", c.dry.Pattern)}}
	if len(c.dry.Suspects) > 0 {
		v.cyl = c.dry.Suspects[0]
		v.facts = append(v.facts, count("cylinder", v.cyl))
	}
	switch {
	case c.oilIn(c.dry.Suspects):
		v.part = 1
	case c.in.Sheet.NextTest == "wet":
		v.part = 0.5
	}
	return v
}

// wetControl: every cylinder rises with oil (9–25 % in healthy field engines), so
// the gain of the low one means something only beside a healthy one's.
func wetControl(c *court) verdict {
	if len(c.dry.Suspects) == 0 || !c.oilIn(c.dry.Suspects) {
		return skip()
	}
	return verdict{part: b2f(c.j.HasCtl), cyl: c.dry.Suspects[0], facts: []Fact{count("cylinder", c.dry.Suspects[0])}}
}

// oilIn reports whether all of some cylinders, any one when none is named, had
// been tested wet by the conclusion, well or not.
func (c *court) oilIn(cylinders []int) bool {
	n := 0
	for _, s := range c.known.Seen {
		if s.Valid && s.WetValid && (len(cylinders) == 0 || hasInt(cylinders, s.Cylinder)) {
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

// nextTest: what would tell more, judged by the pattern and by the scenario's own
// list. Without readings no test is a good next one but the first.
func nextTest(c *court) verdict {
	v := verdict{part: b2f(c.goodNext()), at: c.concluded(), facts: []Fact{word("named", c.in.Sheet.NextTest)}}
	for _, n := range c.j.Next {
		v.facts = append(v.facts, word("good_test", n))
	}
	return v
}

// goodNext reports whether the next test named would tell more.
func (c *court) goodNext() bool {
	n := c.in.Sheet.NextTest
	if n == "" || c.j.Pattern == PatternNothing {
		return false
	}
	return has(c.j.Next, n) || has(c.in.Key.NextTests, n)
}
