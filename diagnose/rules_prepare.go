package diagnose

import (
	"slices"
	"strings"

	"crankbay/sim/record"
)

// prepareRules: before the crank turns. Common practice and the cautions of
// service documents unless a comment says otherwise.
func prepareRules() []rule {
	p := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowPrepare, share, facts, judge}
	}
	return []rule{
		p("glasses_on", 2, glassesOn),
		p("vehicle_held", 2, vehicleHeld, "item"),
		p("belts_clear", 1, beltsClear),
		p("fluids_checked", 1, fluidsChecked),
		p("fuel_disabled", 2, fuelDisabled, "runs", "of"),
		p("ignition_disabled", 2, ignitionDisabled, "runs", "of"),
		p("disabled_before_throttle", 1, disabledBeforeThrottle),
		p("switch_as_card", 1, switchAsCard, "wanted", "used"),
		p("charger_on", 1, chargerOn, "runs", "of"),
		p("wells_blown", 1, wellsBlown),
		p("plugs_in_order", 1, plugsInOrder, "loose", "of"),
		p("adapter_fits", 1, adapterFits, "thread", "reach"),
		p("starter_spared", 1, starterSpared, "longest", "limit", "rested"),
		p("no_cautions", 2, noCautions, "times", "caution"),
	}
}

// glassesOn: eye protection before plugs are touched, air is blown or the crank
// turns, and kept on while it does.
func glassesOn(c *court) verdict {
	begin := c.t.firstOf(c.t.first(kindWells, ""), c.t.first(kindPlugOut, ""), c.t.crank)
	if begin == len(c.t.events) {
		return unbegun()
	}
	if c.t.state(kindGlasses, begin) != "on" {
		return yes(false, c.t.at(begin))
	}
	for _, i := range c.t.start {
		if c.t.state(kindGlasses, i) != "on" {
			return yes(false, c.t.at(i))
		}
	}
	return yes(true, c.t.at(c.t.first(kindGlasses, "on")))
}

// vehicleHeld: park or neutral, brake on, wheels chocked; a remote switch does
// not ask the transmission.
func vehicleHeld(c *court) verdict {
	gear := c.t.state(kindGear, c.t.crank)
	bad := gear == "drive" || c.cautioned("gear")
	brake := c.t.state(kindBrake, c.t.crank) == "on"
	chocks := c.t.state(kindChocks, c.t.crank) == "on"
	v := verdict{at: c.t.at(c.t.crank), never: len(c.t.start) == 0}
	for _, x := range []struct {
		what string
		ok   bool
	}{{"gear", !bad}, {"brake", brake}, {"chocks", chocks}} {
		if !x.ok {
			v.facts = append(v.facts, word("item", x.what))
		}
	}
	switch {
	case bad:
	case brake && chocks:
		v.part, v.at = 1, c.t.at(max(c.t.first(kindBrake, "on"), c.t.first(kindChocks, "on")))
	case brake || chocks:
		v.part = 0.5
	}
	return v
}

// cautioned reports whether a caution or hazard with part in its key happened.
func (c *court) cautioned(part string) bool {
	for _, e := range c.t.events {
		if (e.Kind == kindCaution || e.Kind == kindHazard) && strings.Contains(e.Choice, part) {
			return true
		}
	}
	return false
}

// beltsClear: hands, hair and sleeves away from belts and fan, looked at first.
func beltsClear(c *court) verdict {
	return c.beforeCranking(kindBelts)
}

// fluidsChecked: oil and coolant looked at before the engine is turned.
func fluidsChecked(c *court) verdict {
	return c.beforeCranking(kindFluids)
}

// beforeCranking: something that is done before the crank turns, and is no less done
// where it never does.
func (c *court) beforeCranking(kind string) verdict {
	if c.t.did(kind, c.t.crank) {
		return yes(true, c.t.at(c.t.first(kind, "")))
	}
	v := yes(false, c.t.at(c.t.crank))
	v.never = len(c.t.start) == 0
	return v
}

// fuelDisabled: by the card, for every cranking.
func fuelDisabled(c *court) verdict {
	return inEveryRun(c, c.in.Card.FuelDisable, func(r record.Run) bool { return r.FuelDisabled })
}

// ignitionDisabled: by the card, for every cranking.
func ignitionDisabled(c *court) verdict {
	return inEveryRun(c, c.in.Card.IgnitionDisable, func(r record.Run) bool { return r.IgnitionDisabled })
}

// inEveryRun is the share of crankings that were good, with the tick of the
// first that was not, where the card asks for it.
func inEveryRun(c *court, asked bool, good func(record.Run) bool) verdict {
	switch {
	case !asked:
		return skip()
	case len(c.runs) == 0:
		return unbegun()
	}
	v, n := verdict{}, 0
	for _, r := range c.runs {
		if good(r) {
			n++
		} else if v.at == (moment{}) {
			v.at = began(r)
		}
	}
	v.part = share(n, len(c.runs))
	if n == len(c.runs) {
		v.at = began(c.runs[0])
	}
	v.facts = []Fact{count("runs", n), count("of", len(c.runs))}
	return v
}

// disabledBeforeThrottle: fuel and ignition off before the throttle is held; on a
// drive-by-wire engine the pedal works only with the key on.
func disabledBeforeThrottle(c *court) verdict {
	open := c.t.opened()
	if open < 0 {
		return skip() // whether it should have been is another rule's
	}
	fuel := !c.in.Card.FuelDisable || c.t.state(kindFuel, open) == "disabled"
	ignition := !c.in.Card.IgnitionDisable || c.t.state(kindIgnition, open) == "disabled"
	return yes(fuel && ignition, c.t.at(open))
}

// switchAsCard: remote switch or key, as this engine needs it. On one engine
// cranking with the key fires the injectors, on another only the key opens the
// valves (both read in service documents).
func switchAsCard(c *court) verdict {
	if len(c.t.start) == 0 {
		return unbegun(word("wanted", c.in.Card.Switch))
	}
	if c.in.Card.Switch == SwitchEither {
		return skip()
	}
	for _, i := range c.t.start {
		used := c.t.state(kindSwitch, i)
		if used == "" {
			used = SwitchKey // nothing connected: the key is what there is
		}
		if used != c.in.Card.Switch {
			return yes(false, c.t.at(i), word("wanted", c.in.Card.Switch), word("used", used))
		}
	}
	return yes(true, c.t.at(c.t.first(kindSwitch, "")), word("wanted", c.in.Card.Switch), word("used", c.in.Card.Switch))
}

// chargerOn: only where the card asks for it; a battery that sags makes the last
// cylinders read lower than the first.
func chargerOn(c *court) verdict {
	return inEveryRun(c, c.in.Card.Charger, func(r record.Run) bool { return r.Charger })
}

// wellsBlown: dirt beside a plug falls into the cylinder when the plug comes out.
func wellsBlown(c *court) verdict {
	out := c.t.first(kindPlugOut, "")
	if out < 0 {
		return unbegun()
	}
	if c.t.did(kindWells, out) {
		out = c.t.first(kindWells, "")
		return yes(true, c.t.at(out))
	}
	return yes(false, c.t.at(out))
}

// plugsInOrder: a plug tells about its cylinder only while you know which one it
// came from.
func plugsInOrder(c *court) verdict {
	loose, many, at := 0, 0, -1
	for i, e := range c.t.events {
		if e.Kind != kindPlugOut {
			continue
		}
		many++
		if e.Choice != "ordered" {
			loose++
			at = i
		}
	}
	if many == 0 {
		return unbegun()
	}
	return verdict{part: share(many-loose, many), at: c.t.at(at), facts: []Fact{count("loose", loose), count("of", many)}}
}

// adapterFits: thread, reach and O-ring of this plug hole, chosen before the hose
// went on.
func adapterFits(c *court) verdict {
	hose := c.t.first(kindHoseOn, "")
	facts := []Fact{fact("thread", c.in.Card.ThreadMM, "mm"), fact("reach", c.in.Card.ReachMM, "mm")}
	if hose < 0 {
		return unbegun(facts...)
	}
	wrong := c.cautioned("adapter") || c.cautioned("reach") || c.cautioned("o_ring")
	return yes(c.t.did(kindAdapter, hose) && !wrong, c.t.at(hose), facts...)
}

// longestCrank is how long a starter is turned in one go [s]. Source: service
// documents print 10 s and 15 s; the longer one, and half a second of grace.
const longestCrank = 15.5

// starterSpared: no cranking longer than a starter can bear, from the switch
// pressed to the last time it was let go, and rests that let it cool.
func starterSpared(c *court) verdict {
	if len(c.runs) == 0 {
		return skip()
	}
	var longest float64
	var at moment
	for i, r := range c.runs {
		end := r.EndTick
		for k := c.t.start[i]; k < len(c.t.events) && c.t.events[k].Tick <= r.EndTick; k++ {
			if e := c.t.events[k]; e.Kind == kindStarter && e.Choice == "off" {
				end = e.Tick
			}
		}
		if s := float64(end-r.StartTick) / ticksPerSecond; s > longest {
			longest, at = s, began(r)
		}
	}
	if hot := c.cautions("starter_hot"); hot.at != (moment{}) && longest <= longestCrank {
		return yes(false, hot.at, fact("rested", 0, "min"))
	}
	return yes(longest <= longestCrank, at, fact("longest", longest, "s"), fact("limit", 15, "s"))
}

// judgedElsewhere lists cautions that have a rule of their own; nobody pays twice.
// A part stroke is no danger, it only doesn't count as a reading.
func judgedElsewhere() []string {
	return []string{
		"no_glasses", "not_blocked", "belts_unchecked", "fuel_live", "ignition_live", "no_wells_blown",
		"throttle_before_disabled", "part_stroke", "plug_by_wrench", "plug_not_torqued", "reach_too_long",
		"reach_too_short", "no_o_ring", "gear_engaged", "starter_hot", "injectors_fire", "plate_forced", "hot_engine", "hot_cap",
		"hot_threads", "gauge_under_pressure", "wrench_left_on", "wrench_on_crank", "tester_under_air", "much_air",
		"air_turned_crank",
	}
}

// noCautions: a caution is a warning that came true in a small way; four that no
// other rule counts cost the line, and two hazards.
func noCautions(c *court) verdict {
	v := verdict{}
	n := 0
	for _, e := range c.t.events {
		if e.Kind != kindCaution && e.Kind != kindHazard || slices.Contains(judgedElsewhere(), e.Choice) {
			continue
		}
		n++
		if e.Kind == kindHazard {
			n++ // it came true in a large way
		}
		if v.at == (moment{}) {
			v.at, v.cyl = c.clock(e.Tick), e.Cylinder
		}
		if n <= 8 {
			v.facts = append(v.facts, Fact{Name: "caution", Value: float64(e.Cylinder), Key: e.Choice})
		}
	}
	if n == 0 && len(c.runs) == 0 {
		return unbegun()
	}
	v.part = max(0, 1-float64(float64(n)/4))
	v.facts = append(v.facts, count("times", n))
	return v
}
