package diagnose

import "slices"

// What a conclusion may rest on: there, and fit to be rested on.

// inRecord reports whether a kind of evidence was really there before the
// conclusion.
func (c *court) inRecord(kind string) bool {
	switch kind {
	case "dry", "first_stroke":
		return c.coverage() > 0
	case "wet":
		for _, s := range c.known.Seen {
			if s.WetValid {
				return true
			}
		}
	case "repeat":
		return c.repeatedBefore()
	case "speed":
		return c.instrumentBefore(FieldRPM)
	case "voltage":
		return c.instrumentBefore(FieldBatteryV)
	case "throttle":
		return len(c.known.Runs) > 0
	case "spec":
		return c.specBefore()
	}
	return c.triedBefore(kind)
}

// triedBefore reports whether a confirming test had been made, well or not.
func (c *court) triedBefore(kind string) bool {
	k := c.known.Confirmed
	switch kind {
	case "leakage":
		return len(k.Leaks) > 0
	case "current":
		return len(k.Currents) > 0
	case "refit", "second_gauge", "running", "vacuum", "lash", "timing_marks", "borescope", "cooling_pressure", "plug_look",
		"power_balance":
		return slices.Contains(c.known.Tests(), kind)
	}
	return false
}

// usable reports whether evidence that was there can carry the conclusion: its
// runs were not spoiled by method, a repeat repeats a good test, oil in a low
// cylinder stands beside the same oil in a healthy one, air was put on at the right
// top, and a plug is known to be that cylinder's. Speed, voltage and the
// page are what they are, however the gauge was used.
func (c *court) usable(kind string) bool {
	switch kind {
	case "dry", "first_stroke":
		return c.fit()
	case "throttle":
		for _, s := range c.known.Seen {
			if s.Valid && slices.Contains(s.Faults, MethodThrottleShut) && !c.recognised(MethodThrottleShut) {
				return false
			}
		}
	case "repeat":
		for _, s := range c.known.Seen {
			if s.Repeats > 0 {
				return true
			}
		}
		return c.openMinded()
	case "leakage", "current":
		return slices.Contains(c.known.Tests(), kind)
	case "plug_look":
		return c.plugKnown()
	case "wet":
		own, control := c.known.Oiled(c.j.Suspects)
		return len(own) > 0 && (len(c.j.Suspects) == 0 || len(control) > 0) || c.openMinded()
	}
	return true
}

// lack says why a kind of evidence does not count: it was not there, or it cannot
// be used.
func (c *court) lack(kind string) Fact {
	if c.inRecord(kind) {
		return word("spoiled", kind)
	}
	return word("missing", kind)
}

// fit reports whether the dry readings can carry the conclusion: none is spoiled
// by a method fault that the conclusion does not itself name or leave open.
func (c *court) fit() bool {
	for _, s := range c.known.Seen {
		if !s.Valid {
			continue
		}
		for _, f := range s.Faults {
			if spoils(f) && !c.recognised(f) {
				return false
			}
		}
	}
	return true
}

// recognised reports whether the conclusion says nothing that a method fault
// would spoil: that nothing is decided yet, or that the method was at fault.
func (c *court) recognised(fault string) bool {
	if c.openMinded() {
		return true
	}
	list := c.weighed()
	for _, cl := range list {
		slow := cl.Family == FamilySlowCranking && fault == MethodSlowCranking
		if cl.standing != Supported || !slow && cl.Family != FamilyMethodOrGauge {
			return false
		}
	}
	return len(list) > 0
}

// openMinded reports whether the conclusion is 'not decided yet' and no more, with
// a test that would tell.
func (c *court) openMinded() bool {
	for _, cl := range c.claim {
		if cl.Family != FamilyUndecided && cl.Family != FamilyMethodOrGauge {
			return false
		}
	}
	return c.claims(FamilyUndecided) && c.in.Sheet.NextTest != "none" && c.goodNext()
}

func (c *court) repeatedBefore() bool {
	for n := 1; n <= c.n; n++ {
		dry := 0
		for i, r := range c.known.Runs {
			if r.Cylinder == n && !wet(r) && r.Full() > 0 && c.known.side[i] == "" {
				dry++
			}
		}
		if dry > 1 {
			return true
		}
	}
	return false
}

// plugKnown reports whether a plug was looked at that had been kept in order: one
// that lies loose among others is nobody's.
func (c *court) plugKnown() bool {
	for _, l := range c.known.Confirmed.Looks {
		if l.Kind != kindLook {
			continue
		}
		for _, e := range c.t.events {
			if e.Kind == kindPlugOut && e.Cylinder == l.Cylinder && e.Choice == "ordered" {
				return true
			}
		}
	}
	return false
}

func (c *court) instrumentBefore(field string) bool {
	for i, r := range c.runs {
		if r.EndTick <= c.in.Sheet.ConcludedTick && c.instrument(field, i) {
			return true
		}
	}
	return false
}
