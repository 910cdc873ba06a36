package diagnose

import "strings"

// putBackRules: the work is done when the engine is whole again.
func putBackRules() []rule {
	p := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowPrepare, share, facts, judge}
	}
	return []rule{
		p("plugs_by_hand", 1, plugsByHand, "cylinder", "good", "of"),
		p("plugs_torqued", 1, plugsTorqued, "torque"),
		p("reconnected", 1, reconnected, "leads", "fuel", "ignition", "throttle", "one"),
		p("codes_cleared", 0.5, codesCleared),
		p("engine_started", 1, engineStarted),
		p("customer_told", 0.5, customerTold),
	}
}

// plugsByHand: each plug that came out is back in, its thread started by hand.
func plugsByHand(c *court) verdict {
	var t tally
	for n := 1; n <= c.n; n++ {
		out, in := -1, -1
		for i, e := range c.t.events {
			if e.Cylinder != n {
				continue
			}
			if e.Kind == kindPlugOut {
				out = i
			} else if e.Kind == kindPlugIn {
				in = i
			}
		}
		if out < 0 {
			continue
		}
		t.add(in > out && c.t.events[in].Choice == "hand", n, c.t.at(in))
	}
	return t.verdict()
}

// plugsTorqued: by the card's figure, after the last plug went in.
func plugsTorqued(c *court) verdict {
	in := c.t.last(kindPlugIn, "", 0)
	torque := c.t.last(kindTorque, "", 0)
	return yes(in >= 0 && torque > in, c.t.at(torque), fact("torque", c.in.Card.PlugTorqueNm, "N·m"))
}

// reconnected: coils, fuel, ignition back, throttle let go, after the last
// cranking of the test.
func reconnected(c *court) verdict {
	if len(c.t.start) == 0 {
		return yes(false, moment{})
	}
	end := len(c.t.events)
	if start := c.t.last(kindStart, "", 0); start >= 0 {
		end = start
	}
	var all []bool
	v := verdict{at: c.t.at(end)}
	back := func(name string, taken, ok bool) {
		if taken { // what never came off earns nothing by being on
			all = append(all, ok)
			v.facts = append(v.facts, flag(name, ok))
		}
	}
	off := func(kind, choice string) bool { return c.t.first(kind, choice) >= 0 }
	back("leads", off(kindPlugOut, ""), c.t.last(kindLeads, "", 0) > c.t.last(kindPlugOut, "", 0))
	back("fuel", off(kindFuel, "disabled"), c.t.state(kindFuel, end) != "disabled")
	back("ignition", off(kindIgnition, "disabled"), c.t.state(kindIgnition, end) != "disabled")
	held := c.t.state(kindThrottle, end)
	back("throttle", c.t.opened() >= 0, held != "open" && held != "pedal")
	back("one", off(kindOne, "disabled"), c.t.state(kindOne, end) != "disabled")
	good := 0
	for _, ok := range all {
		if ok {
			good++
		}
	}
	v.part = share(good, len(all))
	return v
}

// codesCleared: disabling things sets codes.
func codesCleared(c *court) verdict {
	i := c.t.last(kindCodes, "", 0)
	return yes(len(c.t.start) > 0 && i > c.t.start[len(c.t.start)-1], c.t.at(i))
}

// engineStarted: after putting back, so that the next person is not surprised.
func engineStarted(c *court) verdict {
	i := c.t.last(kindStart, "", 0)
	return yes(len(c.t.start) > 0 && i > c.t.start[len(c.t.start)-1], c.t.at(i))
}

// customerTold: oil in a cylinder smokes after the start, so something has to be
// said. Only that there is a remark is checked; its words are for the instructor.
func customerTold(c *court) verdict {
	oil := c.t.first(kindOil, "")
	if oil < 0 {
		return skip()
	}
	return yes(strings.TrimSpace(c.in.Sheet.Remark) != "", c.t.at(oil))
}
