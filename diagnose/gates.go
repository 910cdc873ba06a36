package diagnose

import "strings"

// gate is a safety rule that no number of points outweighs.
type gate struct {
	name string
	hits []string // parts of hazard keys that belong to it; none: all the rest

	tried func(*court) bool // something was done that it guards: a gate that nobody came near was not kept either
}

// gateTable lists the gates. Source: cautions of service documents and course
// rubrics where safety rows mean "fail = redo".
func gateTable() []gate {
	return []gate{
		{"gate_transmission", []string{"gear"}, turned},
		{"gate_fuel_ignition", []string{"fuel", "ignition", "vapor", "vapour", "fire"}, turned},
		{"gate_liquid_lock", []string{"hydro", "liquid", "oil"}, turned},
		{"gate_air", []string{"air_", "wrench"}, func(c *court) bool { return c.did(kindAir, kindTurn, kindWrench) }},
		{"gate_belts", []string{"belt", "fan", "sleeve"}, turned},
		{"gate_other", nil, func(c *court) bool { return turned(c) || c.did(kindPlugOut, kindAir, kindTurn) }},
	}
}

// turned reports whether the starter or the engine itself turned the crank.
func turned(c *court) bool {
	return len(c.runs) > 0 || c.did(kindCrankStart, kindStarter, kindStart, kindRunIt, kindBalance)
}

// gates says for each gate whether a hazard of its kind happened. A record whose
// own runs show fuel and ignition live with plug holes open fails the second
// gate even without such an event.
func (c *court) gates() []Line {
	table := gateTable()
	out := make([]Line, len(table))
	times := make([]int, len(table))
	hit := func(i int, at moment, cylinder int) {
		if times[i] == 0 {
			out[i].Tick, out[i].Minutes, out[i].Cylinder = at.tick, clean(at.minutes), cylinder
		}
		times[i]++
	}
	for _, e := range c.t.events {
		if e.Kind == kindHazard {
			hit(gateOf(table, e.Choice), moment{e.Tick, e.Minutes}, e.Cylinder)
		}
	}
	for _, r := range c.runs {
		if times[1] == 0 && c.in.Card.FuelDisable && c.in.Card.IgnitionDisable &&
			!r.FuelDisabled && !r.IgnitionDisabled && r.PlugsOut > 0 {
			hit(1, began(r), 0)
		}
	}
	for i, g := range table {
		out[i].Rule, out[i].Passed, out[i].Never = g.name, times[i] == 0, times[i] == 0 && !g.tried(c)
		out[i].Facts = []Fact{count("times", times[i])}
	}
	return out
}

func gateOf(table []gate, key string) int {
	for i, g := range table {
		for _, part := range g.hits {
			if strings.Contains(key, part) {
				return i
			}
		}
	}
	return len(table) - 1
}
