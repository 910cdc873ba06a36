package diagnose

import "strings"

// putBackRules: the work is done when the engine is whole again.
func putBackRules() []rule {
	p := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowPrepare, share, facts, judge}
	}
	return []rule{
		p("plugs_by_hand", 1, plugsByHand, "cylinder", "good", "of"),
		p("plugs_torqued", 2, plugsTorqued, "torque"),
		p("reconnected", 2, reconnected, "left"),
		p("codes_cleared", 0.5, codesCleared),
		p("engine_started", 1, engineStarted),
		p("customer_told", 0.5, customerTold),
		p("left_apart", 0, leftApart, "left"),
	}
}

// apartMost is what the row keeps of its points when the car was left apart: less than
// a pass needs of a row, for no shop hands such a car back (common practice, no source).
const apartMost = 0.35

// leftApart: a car that can't be driven away is no finished work, however safely it was
// begun. A plug that was only started by hand is not in.
func leftApart(c *court) verdict {
	left := c.left()
	out := c.t.first(kindPlugOut, "") >= 0
	switch {
	case out && c.plugsMissing() > 0:
		left = append([]string{leftPlugs}, left...)
	case out && !c.torqued():
		left = append([]string{leftTorque}, left...)
	}
	if !out && len(c.takenOff()) == 0 {
		return skip()
	}
	v := yes(len(left) == 0, c.t.at(len(c.t.events)-1))
	for _, x := range left {
		v.facts = append(v.facts, word("left", x))
	}
	if len(left) > 0 {
		v.most = apartMost
	}
	return v
}

// What can be left apart: keys of the fact 'left'.
const (
	leftPlugs    = "plugs"
	leftTorque   = "torque"
	leftLeads    = "leads"
	leftFuel     = "fuel"
	leftIgnition = "ignition"
	leftThrottle = "throttle"
	leftOne      = "one"
)

// LeftKeys lists every key that the fact 'left' can carry.
func LeftKeys() []string {
	return []string{leftPlugs, leftTorque, leftLeads, leftFuel, leftIgnition, leftThrottle, leftOne}
}

// plugsMissing counts the cylinders whose plug came out last.
func (c *court) plugsMissing() int {
	missing := 0
	for n := 1; n <= c.n; n++ {
		out := false
		for _, e := range c.t.events {
			if e.Cylinder == n && (e.Kind == kindPlugOut || e.Kind == kindPlugIn) {
				out = e.Kind == kindPlugOut
			}
		}
		if out {
			missing++
		}
	}
	return missing
}

// torqued reports whether the plugs were torqued after the last one went in.
func (c *court) torqued() bool {
	in, torque := c.t.last(kindPlugIn, "", 0), c.t.last(kindTorque, "", 0)
	return in >= 0 && torque > in
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
	if t.many == 0 {
		return unbegun()
	}
	return t.verdict()
}

// plugsTorqued: by the card's figure, after the last plug went in.
func plugsTorqued(c *court) verdict {
	torque := fact("torque", c.in.Card.PlugTorqueNm, "N·m")
	if !c.did(kindPlugOut, kindPlugIn) {
		return unbegun(torque)
	}
	return yes(c.torqued(), c.t.at(c.t.last(kindTorque, "", 0)), torque)
}

// reconnected: coils, fuel, ignition back, throttle let go, a cylinder that was switched
// off firing again. What never came off earns nothing by being on.
func reconnected(c *court) verdict {
	off, left := c.takenOff(), c.left()
	if len(off) == 0 {
		return unbegun()
	}
	v := verdict{part: share(len(off)-len(left), len(off)), at: c.t.at(len(c.t.events) - 1)}
	for _, x := range left {
		v.facts = append(v.facts, word("left", x))
	}
	return v
}

// takenOff lists what was disconnected, disabled or blocked at some time.
func (c *court) takenOff() []string {
	var out []string
	for _, x := range []struct {
		key string
		off bool
	}{
		{leftLeads, c.t.first(kindPlugOut, "") >= 0}, {leftFuel, c.t.first(kindFuel, "disabled") >= 0},
		{leftIgnition, c.t.first(kindIgnition, "disabled") >= 0}, {leftThrottle, c.t.opened() >= 0},
		{leftOne, c.t.first(kindOne, "disabled") >= 0},
	} {
		if x.off {
			out = append(out, x.key)
		}
	}
	return out
}

// left lists what of it is still so at the end.
func (c *court) left() []string {
	var out []string
	end := len(c.t.events)
	held := c.t.state(kindThrottle, end)
	still := map[string]bool{
		leftLeads: c.t.last(kindLeads, "", 0) < c.t.last(kindPlugOut, "", 0), leftFuel: c.t.state(kindFuel, end) == "disabled",
		leftIgnition: c.t.state(kindIgnition, end) == "disabled", leftThrottle: held == "open" || held == "pedal",
		leftOne: c.t.state(kindOne, end) == "disabled",
	}
	for _, x := range c.takenOff() {
		if still[x] {
			out = append(out, x)
		}
	}
	return out
}

// codesCleared: disabling things sets codes.
func codesCleared(c *court) verdict {
	return c.afterCranking(kindCodes)
}

// engineStarted: after putting back, so that the next person is not surprised.
func engineStarted(c *court) verdict {
	return c.afterCranking(kindStart)
}

// afterCranking: something that is done once the last cranking is over.
func (c *court) afterCranking(kind string) verdict {
	if len(c.t.start) == 0 {
		return unbegun()
	}
	i := c.t.last(kind, "", 0)
	return yes(i > c.t.start[len(c.t.start)-1], c.t.at(i))
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
