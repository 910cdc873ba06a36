package diagnose

import "slices"

// careRules: what can hurt hands, eyes and engines beyond the crank, where it came
// up. Cautions of service documents and common practice.
func careRules() []rule {
	p := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowPrepare, share, facts, judge}
	}
	return []rule{
		p("plate_left_alone", 3, plateLeftAlone),
		p("hot_parts_left", 1, hotPartsLeft, "caution", "times"),
		p("hose_empty", 0.5, hoseEmpty, "cylinder", "times"),
		p("wrench_off", 2, wrenchOff, "times"),
		p("air_in_order", 1, airInOrder, "caution", "times"),
	}
}

// cautions tallies the cautions and hazards of some keys: none of them keeps the
// rule, each costs half of it.
func (c *court) cautions(keys ...string) verdict {
	v := verdict{}
	n := 0
	for i, e := range c.t.events {
		if e.Kind != kindCaution && e.Kind != kindHazard || !slices.Contains(keys, e.Choice) {
			continue
		}
		n++
		if n == 1 {
			v.at, v.cyl = c.t.at(i), e.Cylinder
		}
		if n <= 4 {
			v.facts = append(v.facts, Fact{Name: "caution", Value: float64(e.Cylinder), Key: e.Choice})
		}
	}
	v.part = max(0, 1-float64(0.5*float64(n)))
	v.facts = append(v.facts, count("times", n))
	return v
}

// did reports whether one of some kinds of action was done.
func (c *court) did(kinds ...string) bool {
	for _, k := range kinds {
		if c.t.first(k, "") >= 0 {
			return true
		}
	}
	return false
}

// plateLeftAlone: a plate that a motor moves is never propped or pried open by hand;
// its gears strip and it forgets where shut is. The pedal opens it. Its card says never,
// and once costs a throttle body, so that once costs the whole line.
func plateLeftAlone(c *court) verdict {
	if c.in.Card.ThrottleBy != ThrottlePedal || c.t.opened() < 0 {
		return skip()
	}
	v := c.cautions("plate_forced")
	if v.part < 1 {
		v.part = 0
	}
	v.facts = nil
	return v
}

// hotPartsLeft: hot liquid comes out of plug holes and fillers, steam out of a cap,
// and threads tear in a hot head where the card wants it cool.
func hotPartsLeft(c *court) verdict {
	if !c.did(kindFluids, kindPlugOut, kindCooling, kindWatch, kindListen) {
		return skip()
	}
	return c.cautions("hot_engine", "hot_cap", "hot_threads")
}

// hoseEmpty: pressure is let out by the release, not by the thread.
func hoseEmpty(c *court) verdict {
	if !c.did(kindHoseOff) {
		return skip()
	}
	v := c.cautions("gauge_under_pressure")
	v.facts = v.facts[len(v.facts)-1:]
	return v
}

// wrenchOff: a wrench on the crank bolt comes off before the starter or the air does
// anything.
func wrenchOff(c *court) verdict {
	if !c.did(kindTurn, kindWrench) {
		return skip()
	}
	v := c.cautions("wrench_left_on", "wrench_on_crank")
	v.facts = v.facts[len(v.facts)-1:]
	return v
}

// airInOrder: shut off before the tester is unscrewed or the crank turned, and no
// more than tester and piston are meant for.
func airInOrder(c *court) verdict {
	if !c.did(kindAir) {
		return skip()
	}
	return c.cautions("tester_under_air", "much_air")
}
