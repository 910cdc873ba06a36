package diagnose

import "slices"

const ticksPerSecond = 1200.0

// measureRules: the readings themselves. A cylinder is judged by its deciding
// test, so a mistake noticed and done again costs nothing here.
func measureRules() []rule {
	m := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowMeasure, share, append(facts, "read", "all"), judge}
	}
	return []rule{
		m("all_cylinders_dry", 4, allCylindersDry, "cylinder", "good", "of"),
		m("throttle_held", 3, throttleHeld, "cylinder", "good", "of"),
		m("plugs_all_out", 2, plugsAllOut, "cylinder", "out", "good", "of"),
		m("gauge_proved", 1, gaugeProved),
		m("gauge_released", 2, gaugeReleased, "cylinder", "good", "of"),
		m("strokes_enough", 2, strokesEnough, "cylinder", "strokes", "least", "most", "good", "of"),
		m("first_stroke_whole", 1, firstStrokeWhole, "cylinder", "good", "of"),
		m("strokes_equal", 3, strokesEqual, "fewest", "most"),
		m("temperature_right", 2, temperatureRight, "cylinder", "temperature", "least", "most", "good", "of"),
		m("speed_enough", 2, speedEnough, "cylinder", "speed", "least", "good", "of"),
		m("surprise_repeated", 3, surpriseRepeated, "cylinder", "reading", "share", "pattern"),
	}
}

// eachDry tallies a condition over the cylinders that were tested. One without a
// dry test has broken no rule, but it earns nothing either.
func (c *court) eachDry(ok func(Seen) bool, facts func(Seen) []Fact) verdict {
	var t tally
	for _, s := range c.all.Seen {
		if !s.Valid {
			continue
		}
		var f []Fact
		if facts != nil {
			f = facts(s)
		}
		t.add(ok(s), s.Cylinder, c.dryAt(s), f...)
	}
	if t.many == 0 {
		return unbegun()
	}
	v := t.verdict()
	v.kept = t.good == t.many
	v.part = share(t.good, c.n)
	if v.part > 0 {
		v.facts = append(v.facts, c.onlyOf("read", t.many)...)
	}
	return v
}

// onlyOf says why a rule that was kept on every cylinder that was read (or noted) earns
// less than its share: the others were not. No facts where all were.
func (c *court) onlyOf(done string, n int) []Fact {
	if n >= c.n {
		return nil
	}
	return []Fact{count(done, n), count("all", c.n)}
}

// dryAt returns when the deciding dry test of a cylinder began.
func (c *court) dryAt(s Seen) moment {
	if s.DryRun <= 0 || s.DryRun > len(c.all.Runs) {
		return moment{}
	}
	return began(c.all.Runs[s.DryRun-1])
}

// allCylindersDry: a reading means something only beside all the others.
func allCylindersDry(c *court) verdict {
	var t tally
	for _, s := range c.all.Seen {
		t.add(s.Valid, s.Cylinder, c.dryAt(s))
	}
	return t.verdict()
}

// throttleHeld: wide open by the card. The book's figure assumes it.
func throttleHeld(c *court) verdict {
	if !c.in.Card.ThrottleOpen {
		return skip()
	}
	return c.eachDry(func(s Seen) bool { return !slices.Contains(s.Faults, MethodThrottleShut) }, nil)
}

// plugsAllOut: the starter turns one cylinder against pressure, not all of them.
func plugsAllOut(c *court) verdict {
	if !c.in.Card.PlugsOut {
		return skip()
	}
	return c.eachDry(func(s Seen) bool { return !slices.Contains(s.Faults, MethodPlugsIn) }, func(s Seen) []Fact {
		return []Fact{count("out", c.all.Runs[s.DryRun-1].PlugsOut)}
	})
}

// gaugeProved: stands at zero and holds, before the first reading.
func gaugeProved(c *court) verdict {
	if len(c.t.start) == 0 {
		return unbegun()
	}
	return yes(c.t.did(kindProve, c.t.crank), c.t.at(c.t.first(kindProve, "")))
}

// gaugeReleased: the needle is at zero before each test; what the last cylinder
// left in the hose is not this one's.
func gaugeReleased(c *court) verdict {
	return c.eachDry(func(s Seen) bool { return !slices.Contains(s.Faults, MethodGaugeNotZero) }, nil)
}

// strokesEnough: as many full strokes as the card says. Service documents print
// anything from 4 puffs to 10 cycles, so only the card counts.
func strokesEnough(c *court) verdict {
	card := c.in.Card
	return c.eachDry(
		func(s Seen) bool { return s.Strokes >= card.StrokesMin && s.Strokes <= card.StrokesMax },
		func(s Seen) []Fact {
			return []Fact{count("strokes", s.Strokes), count("least", card.StrokesMin), count("most", card.StrokesMax)}
		})
}

// firstStrokeWhole: the piston stood at the bottom before its compression. A part
// stroke from where the crank happened to be parked is no first reading.
func firstStrokeWhole(c *court) verdict {
	return c.eachDry(func(s Seen) bool {
		strokes := c.all.Runs[s.DryRun-1].Strokes
		return len(strokes) > 0 && strokes[0].Full
	}, nil)
}

// strokesEqual: the same number on every cylinder. A quarter of the line for each
// stroke between fewest and most.
func strokesEqual(c *court) verdict {
	fewest, most, n := 0, 0, 0
	var v verdict
	for _, s := range c.all.Seen {
		if !s.Valid {
			continue
		}
		if n == 0 || s.Strokes < fewest {
			fewest, v.cyl, v.at = s.Strokes, s.Cylinder, c.dryAt(s)
		}
		most = max(most, s.Strokes)
		n++
	}
	if n < 2 && c.n > 1 {
		return unbegun()
	}
	v.facts = []Fact{count("fewest", fewest), count("most", most)}
	if n > 0 {
		v.kept = most == fewest
		v.part = max(0, 1-float64(0.25*float64(most-fewest))) * share(n, c.n)
	}
	if v.part > 0 {
		v.facts = append(v.facts, c.onlyOf("read", n)...)
	}
	return v
}

// temperatureRight: the card's window. Most engines are tested warm, some at room
// temperature because of the thread in their head (both read).
func temperatureRight(c *court) verdict {
	card := c.in.Card
	return c.eachDry(
		func(s Seen) bool {
			return !slices.Contains(s.Faults, MethodCold) && !slices.Contains(s.Faults, methodHot)
		},
		func(s Seen) []Fact {
			return []Fact{
				fact("temperature", c.all.Runs[s.DryRun-1].CoolantC, "°C"),
				fact("least", card.CoolantMinC, "°C"), fact("most", card.CoolantMaxC, "°C"),
			}
		})
}

// speedEnough: fast enough to be held against a limit, or the slow cranking was
// recognised for what it is.
func speedEnough(c *court) verdict {
	seen := c.saysSlow()
	return c.eachDry(
		func(s Seen) bool { return seen || !slices.Contains(s.Faults, MethodSlowCranking) },
		func(s Seen) []Fact {
			return []Fact{fact("speed", c.all.Runs[s.DryRun-1].SpeedRPM, "rpm"), fact("least", 200, "rpm")}
		})
}

// saysSlow reports whether the conclusion names slow cranking or asks for the
// battery to be charged.
func (c *court) saysSlow() bool {
	return c.claims(FamilySlowCranking) || c.in.Sheet.NextTest == "charge_battery"
}

// evenShare is a share of the highest reading from which nobody would call one low.
const evenShare = 0.95

// surpriseRepeated: a reading that stands out, or a whole engine off its figure,
// is taken again before anyone believes it. Source: practice notes of field cases
// where one cylinder read 95, then 0.
func surpriseRepeated(c *court) verdict {
	j := c.judge(c.all.gaugeOnly())
	switch j.Pattern {
	case PatternNothing:
		return unbegun()
	case PatternWithin, PatternSlow, PatternMethod, PatternPartial:
		return skip()
	}
	_, hi, _, _ := extremes(c.all.Seen)
	v := verdict{}
	for _, s := range c.all.Seen {
		if len(j.Suspects) > 0 && !slices.Contains(j.Suspects, s.Cylinder) || !s.Valid {
			continue
		}
		facts := []Fact{count("cylinder", s.Cylinder), pressure("reading", s.DryLast)}
		if low := ratio(s.DryLast, hi.DryLast); low < evenShare {
			facts = append(facts, percent("share", low))
		} else { // as high as any: it is the engine, or this one is too high
			facts = append(facts, word("pattern", j.Pattern))
		}
		if s.Repeats > 0 {
			return yes(true, c.dryAt(s), facts...)
		}
		if v.cyl == 0 {
			v = verdict{cyl: s.Cylinder, at: c.dryAt(s), facts: facts}
		}
	}
	return v
}

// oil reports whether the card knows a wet test.
func (c *court) oil() bool { return c.in.Card.OilML > 0 }

// wetRules: only where oil was used.
func wetRules() []rule {
	m := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowMeasure, share, facts, judge}
	}
	return []rule{
		m("oil_amount", 2, oilAmount, "cylinder", "oil", "least", "most", "good", "of"),
		m("wet_strokes", 1, wetStrokes, "cylinder", "wet_strokes", "strokes", "good", "of"),
		m("wet_same_way", 1.5, wetSameWay, "cylinder", "good", "of"),
	}
}

// eachWet tallies a condition over the cylinders that were tested wet.
func (c *court) eachWet(ok func(Seen) bool, facts func(Seen) []Fact) verdict {
	var t tally
	for _, s := range c.all.Seen {
		if s.WetValid {
			t.add(ok(s), s.Cylinder, began(c.all.Runs[s.WetRun-1]), facts(s)...)
		}
	}
	if t.many == 0 {
		return skip()
	}
	return t.verdict()
}

// oilAmount: as the card says. 15 ml is one tablespoon (service manuals; others
// say a teaspoon); too much locks the engine.
func oilAmount(c *court) verdict {
	card := c.in.Card
	return c.eachWet(
		func(s Seen) bool { return s.OilML >= card.OilMLMin-oilSlack && s.OilML <= card.OilMLMax+oilSlack },
		func(s Seen) []Fact {
			return []Fact{fact("oil", s.OilML, "ml"), fact("least", card.OilMLMin, "ml"), fact("most", card.OilMLMax, "ml")}
		})
}

// wetStrokes: the same strokes again, or the gain is not the oil's.
func wetStrokes(c *court) verdict {
	return c.eachWet(
		func(s Seen) bool { return s.Valid && s.WetStrokes == s.Strokes },
		func(s Seen) []Fact {
			return []Fact{count("wet_strokes", s.WetStrokes), count("strokes", s.Strokes)}
		})
}

// wetSameWay: throttle, plugs, zero and speed as in the dry test.
func wetSameWay(c *court) verdict {
	return c.eachWet(
		func(s Seen) bool { return s.Valid && !spoiled(c.all.faults[s.WetRun-1]) },
		func(Seen) []Fact { return nil })
}
