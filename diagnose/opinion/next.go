package opinion

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/diagnose/reason"
	"crankbay/sim/num"
)

// A Next is a test that would tell more.
type Next struct {
	reason.TestValue
	// Settles is the part of what is open that it is expected to settle, [0, 1]: its bits
	// of those of all explanations.
	Settles float64 `json:"settles"`
}

// How a test stands to the two first explanations.
const (
	Apart  = "apart"  // it would tell them from each other
	Partly = "partly" // not always
	Hardly = "hardly"
)

// Separates says whether a test would tell the first two explanations from each other.
func (n Next) Separates() string {
	switch {
	case n.Apart >= 0.5:
		return Apart
	case n.Apart >= 0.2:
		return Partly
	}
	return Hardly
}

// shop is what tests cost in an ordinary engine bay, since nobody says which engine it
// is. An engine that won't start can't be run.
func shop(e reason.Evidence) reason.Shop {
	s := reason.Shop{Minutes: diagnose.DefaultMinutes(), LashCheck: !e.TwoStroke, Oil: true, Runs: true, All: true}
	for _, h := range e.History {
		s.Runs = s.Runs && h != "no_start"
	}
	return s
}

const (
	mostNext    = 4    // tests that are offered
	leastSettle = 0.03 // and how much of what is open each has to settle (judgement)
)

func (o *Opinion) next(e reason.Evidence) {
	plan := o.NextTests(shop(e))
	o.Next, o.Between = []Next{}, o.between(plan.Between)
	if bound := o.bound(e); bound != "" {
		for _, t := range plan.Tests {
			if t.Test == bound && !o.offers(bound) {
				o.offer(t)
			}
		}
	}
	for _, t := range plan.Tests {
		if len(o.Next) < mostNext && o.settles(t) >= leastSettle && !o.offers(t.Test) && t.Bits >= leastBits {
			o.offer(t) // on the cylinder where it tells most
		}
	}
	o.Idle = o.idle(plan.Tests)
}

// leastBits is the least a test is offered for, unless it is bound to be done [bits].
const leastBits = 0.02

func (o *Opinion) offer(t reason.TestValue) {
	if t.Cylinders == nil {
		t.Cylinders = []int{}
	}
	o.Next = append(o.Next, Next{t, o.settles(t)})
}

func (o *Opinion) settles(t reason.TestValue) float64 { return min(1, t.Bits/max(o.open(), 1e-6)) }

// bound names the test that comes first whatever it is expected to tell; empty when none
// does. Common practice, no source: before an engine is opened for a leak that gauges
// alone show, air says where it goes; a cylinder that does not pull and reads as its
// neighbours do is tested running, for only that shows a valve that does not open; and
// where the method is the likeliest, it is mended before anything else is tried.
func (o *Opinion) bound(e reason.Evidence) string {
	if len(o.Causes) == 0 {
		return ""
	}
	top := o.Causes[0]
	switch top.Group {
	case diagnose.FamilyNotCompression, diagnose.FamilySound, diagnose.FamilyValveNotOpening:
		for _, h := range e.History {
			if h == "misfire" || h == "misfire_under_load" || h == "valve_noise" {
				return "running"
			}
		}
		for _, c := range e.Cylinders {
			if c.Dead == reason.Yes {
				return "running"
			}
		}
	case diagnose.FamilyMethodOrGauge, diagnose.FamilySlowCranking:
		if e.Throttle == reason.No {
			return "open_throttle" // what is known to be wrong
		}
		return methodFirst(top)
	case diagnose.FamilyHeadGasket, diagnose.FamilyValveLeak, diagnose.FamilyRingOrBore:
		for _, c := range top.Cylinders {
			if e.Cylinders[c-1].Leakage.Is {
				return ""
			}
		}
		if top.Probability >= sureByGauge {
			return "leakage"
		}
	}
	return ""
}

// methodFirst names what mends the likeliest flaw of the test.
func methodFirst(c Cause) string {
	if len(c.Families) == 0 {
		return ""
	}
	switch c.Families[0].Family {
	case reason.GaugeLeaks, reason.GaugeShifted:
		return "second_gauge"
	case reason.ThrottleShut:
		return "open_throttle"
	case reason.OneOff:
		return "repeat"
	case reason.SlowCranking:
		return "charge_battery"
	}
	return ""
}

// sureByGauge is how sure a leak may look by pressures alone before only where the air
// goes counts.
const sureByGauge = 0.8

// between names what the tests would have to tell apart as the causes are named: what no
// test tells apart counts as one there, and goes by the most probable of its names.
func (o *Opinion) between(labels []reason.Label) []reason.Label {
	out := []reason.Label{}
	for _, l := range labels {
		for _, c := range o.Causes {
			if reason.Merged(c.Group) == l.Group && slices.Equal(c.Cylinders, l.Cylinders) {
				l.Group = c.Group
				out = append(out, l)
				break
			}
		}
	}
	return out
}

func (o *Opinion) offers(test string) bool {
	for _, n := range o.Next {
		if n.Test == test {
			return true
		}
	}
	return false
}

// open is how much isn't known: the entropy of what one could conclude [bits].
func (o *Opinion) open() float64 {
	bits := 0.0
	for _, l := range o.Labels() {
		if l.Probability > 1e-9 {
			bits -= float64(l.Probability * num.Log(l.Probability))
		}
	}
	return bits / num.Log(2)
}

// apartLittle is how well a test may tell the two first explanations apart and still be
// said not to (judgement).
const apartLittle = 0.12

// idle names a common test that would not tell the first two explanations apart, so that
// nobody spends minutes on it; empty when there is none.
func (o *Opinion) idle(tests []reason.TestValue) string {
	for _, name := range []string{"wet", "repeat", "leakage", "running"} {
		if o.offers(name) {
			continue // for what else it tells
		}
		found, best := false, 0.0
		for _, t := range tests {
			if t.Test == name {
				found, best = true, max(best, t.Apart)
			}
		}
		if found && best < apartLittle {
			return name
		}
	}
	return ""
}

// Cautions that apply here.
const (
	CareCrank   = "crank"   // belts, gear, fuel and ignition, glasses
	CareAir     = "air"     // compressed air turns the crank
	CareOil     = "oil"     // too much locks the engine
	CareRunning = "running" // hot and moving parts, fumes
	CareCooling = "cooling" // hot coolant under pressure
	CareLiquid  = "liquid"  // in a cylinder: it doesn't give
	CareTiming  = "timing"  // valves can meet pistons
	CareService = "service" // service information, high voltage, licensed practice
)

// Cares lists them.
func Cares() []string {
	return []string{CareCrank, CareAir, CareOil, CareRunning, CareCooling, CareLiquid, CareTiming, CareService}
}

const (
	mindLiquid = 0.05 // from this probability one minds liquid in a cylinder (judgement)
	mindTiming = 0.10 // and valves that can meet pistons
)

// cautions lists what to mind before the tests that are offered, and always that the
// service information goes first.
func (o *Opinion) cautions() []string {
	var tests []string
	for _, t := range o.Next[:min(3, len(o.Next))] {
		tests = append(tests, t.Test)
	}
	out := []string{}
	add := func(key string, so bool) {
		if so {
			out = append(out, key)
		}
	}
	any := func(names ...string) bool {
		for _, a := range tests {
			for _, b := range names {
				if a == b {
					return true
				}
			}
		}
		return false
	}
	liquid, timing := 0.0, 0.0
	for _, x := range o.Explanations {
		switch x.Family {
		case reason.LiquidOne, reason.GasketCoolant:
			liquid += x.Probability
		case reason.TimingFar, reason.TimingLate, reason.BankTiming, reason.BankBent:
			timing += x.Probability
		}
	}
	add(CareLiquid, liquid >= mindLiquid)
	add(CareTiming, timing >= mindTiming)
	add(CareCrank, any("wet", "repeat", "second_gauge", "open_throttle", "charge_battery", "current", "vacuum", "refit") || len(tests) == 0)
	add(CareAir, any("leakage"))
	add(CareOil, any("wet"))
	add(CareRunning, any("running", "power_balance", "back_pressure"))
	add(CareCooling, any("cooling_pressure"))
	return append(out, CareService)
}
