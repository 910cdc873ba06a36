package diagnose

import (
	"slices"

	"crankbay/sim/record"
)

// deed returns how a card item is found true in the record, nil for one that leaves no
// trace there. What was done late was done: when is another rule's.
func (c *court) deed(item string) func() bool {
	ever := func(kind, choice string) func() bool { return func() bool { return c.t.first(kind, choice) >= 0 } }
	kept := func(rules ...func(*court) verdict) func() bool { return func() bool { return c.allKept(rules) } }
	switch item {
	case "glasses":
		return ever(kindGlasses, "on")
	case "gear":
		return c.outOfGear
	case "brake":
		return ever(kindBrake, "on")
	case "chocks":
		return ever(kindChocks, "on")
	case "belts":
		return ever(kindBelts, "")
	case "fluids":
		return ever(kindFluids, "")
	case "spec":
		return ever(kindSpec, "")
	case "warm":
		return c.everWarm
	case "charger":
		return ever(kindCharger, "on")
	case "fuel":
		return ever(kindFuel, "disabled")
	case "ignition":
		return ever(kindIgnition, "disabled")
	case "plugs_out":
		return kept(plugsInOrder)
	case "wells":
		return ever(kindWells, "")
	case "adapter":
		return ever(kindAdapter, "")
	case "gauge_prove":
		return ever(kindProve, "")
	case "throttle":
		return func() bool { return c.t.opened() >= 0 }
	case "switch":
		return kept(switchAsCard)
	case "release":
		return ever(kindRelease, "")
	case "plugs_back":
		return func() bool { return c.plugsMissing() == 0 && c.torqued() }
	case "reconnect":
		return kept(reconnected)
	case "codes":
		return kept(codesCleared, engineStarted)
	}
	return nil
}

// outOfGear reports whether the selector was out of gear when the crank last turned. One
// that stood in park needs no deed, only a look.
func (c *court) outOfGear() bool {
	last := len(c.t.events)
	if n := len(c.t.start); n > 0 {
		last = c.t.start[n-1]
	}
	if at := c.t.state(kindGear, last); at != "" {
		return at != "drive"
	}
	return !c.cautioned("gear")
}

// allKept reports whether rules that apply were kept in full.
func (c *court) allKept(rules []func(*court) verdict) bool {
	for _, judge := range rules {
		if v := judge(c); !v.na && v.part < 1 {
			return false
		}
	}
	return true
}

// everWarm reports whether a cylinder was tested at the temperature of the card.
func (c *court) everWarm() bool {
	return slices.ContainsFunc(c.all.Runs, func(r record.Run) bool {
		return r.CoolantC >= c.in.Card.CoolantMinC-slackC && r.CoolantC <= c.in.Card.CoolantMaxC+slackC
	})
}
