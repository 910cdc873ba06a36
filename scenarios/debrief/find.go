package debrief

import (
	"math"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/unit"
)

// What two figures may differ by before anybody speaks of a mistake.
const (
	slackC     = 2.5 // [°C], as the grader allows
	slackML    = 0.5 // of oil
	sameReach  = 1.5 // thread lengths of one size [mm]
	topSlack   = math.Pi / 90
	overlapFar = 2*math.Pi - 0.3 // from the top of compression: the other top [rad]
	apart      = 2               // strokes between two cylinders
)

// each returns the compression tests of which something is true.
func (c *clinic) each(is func(site) bool) []int {
	var out []int
	for i, s := range c.runs {
		if s.gauged() && is(s) {
			out = append(out, i)
		}
	}
	return out
}

// first returns the run a flaw is told by.
func (c *clinic) first(runs []int) site {
	if len(runs) == 0 {
		return site{}
	}
	return c.runs[runs[0]]
}

// number is one fact, as it would be read.
func number(name string, value float64, unit string) diagnose.Fact {
	parts := 10.0 // of the unit
	if unit == "rpm" {
		parts = 1
	}
	return diagnose.Fact{Name: name, Value: to(parts, value), Unit: unit}
}

func (c *clinic) findThrottleShut() flaw {
	return flaw{runs: c.each(func(s site) bool { return c.card.ThrottleOpen && !s.run.ThrottleOpen })}
}

func (c *clinic) findThrottleHeld() flaw {
	return flaw{runs: c.each(func(s site) bool { return !c.card.ThrottleOpen && s.run.ThrottleOpen })}
}

func (c *clinic) findPlugsIn() flaw {
	runs := c.each(func(s site) bool { return c.card.PlugsOut && len(s.in) > 0 && !s.refitting })
	return flaw{runs: runs, facts: []diagnose.Fact{number("in", float64(len(c.first(runs).in)), "")}}
}

func (c *clinic) findPlugsOut() flaw {
	runs := c.each(func(s site) bool { return !c.card.PlugsOut && len(s.in) < c.s.Engine.Cylinders-1 })
	return flaw{runs: runs}
}

// strokesWanted is how many every compression test should have had: as many as the
// most any had, inside what the card says.
func (c *clinic) strokesWanted() int {
	most := 0
	for _, s := range c.runs {
		if s.gauged() {
			most = max(most, s.run.Full())
		}
	}
	return min(max(most, c.card.StrokesMin), c.card.StrokesMax)
}

func (c *clinic) findFewStrokes() flaw {
	runs := c.each(func(s site) bool { return s.run.Full() < c.card.StrokesMin })
	return flaw{runs: runs, facts: c.strokeFacts(runs)}
}

func (c *clinic) findUnequalStrokes() flaw {
	want := c.strokesWanted()
	runs := c.each(func(s site) bool { n := s.run.Full(); return n >= c.card.StrokesMin && want-n >= apart })
	return flaw{runs: runs, facts: c.strokeFacts(runs)}
}

func (c *clinic) strokeFacts(runs []int) []diagnose.Fact {
	return []diagnose.Fact{
		number("strokes", float64(c.first(runs).run.Full()), ""), number("wanted", float64(c.strokesWanted()), ""),
	}
}

func (c *clinic) findPartStroke() flaw {
	return flaw{runs: c.each(func(s site) bool { return !s.run.Strokes[0].Full })}
}

func (c *clinic) findCold() flaw {
	runs := c.each(func(s site) bool { return s.run.CoolantC < c.card.CoolantMinC-slackC })
	return flaw{runs: runs, facts: []diagnose.Fact{
		number("temperature", c.first(runs).run.CoolantC, "°C"), number("least", c.card.CoolantMinC, "°C"),
	}}
}

func (c *clinic) findHot() flaw {
	runs := c.each(func(s site) bool { return s.run.CoolantC > c.card.CoolantMaxC+slackC })
	return flaw{runs: runs, facts: []diagnose.Fact{
		number("temperature", c.first(runs).run.CoolantC, "°C"), number("most", c.card.CoolantMaxC, "°C"),
	}}
}

func (c *clinic) findNoCharger() flaw {
	runs := c.each(func(s site) bool { return c.card.Charger && !s.run.Charger })
	return flaw{runs: runs, facts: []diagnose.Fact{
		number("volts", c.first(runs).run.BatteryMinV, "V"), number("speed", c.first(runs).run.SpeedRPM, "rpm"),
	}}
}

func (c *clinic) findFuelLive() flaw {
	return flaw{runs: c.each(func(s site) bool { return c.card.FuelDisable && !s.run.FuelDisabled })}
}

func (c *clinic) findNotReleased() flaw {
	return flaw{runs: c.each(func(s site) bool { return !s.run.GaugeAtZero })}
}

// badAdapter says what is wrong with an adapter: its reach, its missing ring.
func (c *clinic) badAdapter(id string) (reach, ring bool) {
	for _, a := range c.v.Session.Bench().Setup().Adapters {
		if a.ID == id {
			return math.Abs(a.ReachMM-c.card.ReachMM) > sameReach, c.card.ORing && !a.ORing
		}
	}
	return false, false
}

// rightAdapter returns the first on the tray that nothing is wrong with, or "".
func (c *clinic) rightAdapter() string {
	for _, a := range c.v.Session.Bench().Setup().Adapters {
		reach, ring := c.badAdapter(a.ID)
		if !reach && !ring && math.Abs(a.ThreadMM-c.card.ThreadMM) < 0.1 {
			return a.ID
		}
	}
	return ""
}

func (c *clinic) findReach() flaw {
	return flaw{runs: c.each(func(s site) bool {
		reach, _ := c.badAdapter(s.adapter)
		return reach && c.rightAdapter() != ""
	})}
}

// findRing leaves adapters of the wrong reach to findReach: the right one mends both.
func (c *clinic) findRing() flaw {
	return flaw{runs: c.each(func(s site) bool {
		reach, ring := c.badAdapter(s.adapter)
		return ring && !reach && c.rightAdapter() != ""
	})}
}

// gaugeFaults are the faults of a tool that make a gauge read wrong.
var gaugeFaults = map[string]bool{
	scenarios.TipValveLeak: true, scenarios.TipValveAway: true, scenarios.ReleaseLeak: true,
	scenarios.ZeroError: true, scenarios.SpanError: true, scenarios.StickyNeedle: true,
}

// gaugeError is how wrong a gauge reads at a usual reading [Pa], from its own
// errors; broken says that something is wrong with it beyond those of any gauge.
func (c *clinic) gaugeError(id string) (wrong float64, broken bool) {
	for _, f := range c.s.Faults {
		broken = broken || f.Tool == id && gaugeFaults[f.Kind]
	}
	const usual = 1.2e6
	for _, g := range c.v.Session.Bench().Setup().Gauges {
		if g.ID == id {
			wrong = math.Abs(float64(g.Spec.Zero)) + float64(math.Abs(g.Spec.Span)*usual)
		}
	}
	return wrong, broken || wrong > c.graduation(id)
}

// rightGauge returns the gauge of the tray that reads best, or "" when all are bad.
func (c *clinic) rightGauge() string {
	best, least := "", math.Inf(1)
	for _, g := range c.s.Tools.Gauges {
		if wrong, broken := c.gaugeError(g.ID); !broken && wrong < least {
			best, least = g.ID, wrong
		}
	}
	return best
}

func (c *clinic) findBadGauge() flaw {
	right := c.rightGauge()
	runs := c.each(func(s site) bool {
		_, broken := c.gaugeError(s.gauge)
		return broken && right != ""
	})
	f := flaw{runs: runs}
	if len(runs) > 0 {
		last := ends(c.first(runs).run).last
		f.facts = []diagnose.Fact{number("error", last.Needle-last.True, "Pa")}
	}
	return f
}

func (c *clinic) findOilMuch() flaw {
	runs := c.each(func(s site) bool { return c.card.OilML > 0 && s.run.OilML > c.card.OilMLMax+slackML })
	return flaw{runs: runs, facts: c.oilFacts(runs)}
}

func (c *clinic) findOilLittle() flaw {
	runs := c.each(func(s site) bool { return c.card.OilML > 0 && s.wet() && s.run.OilML < c.card.OilMLMin-slackML })
	return flaw{runs: runs, facts: c.oilFacts(runs)}
}

func (c *clinic) oilFacts(runs []int) []diagnose.Fact {
	return []diagnose.Fact{number("oil", c.first(runs).run.OilML, "ml"), number("wanted", c.card.OilML, "ml")}
}

// findOverlap finds air put on one turn out, where both valves are open.
func (c *clinic) findOverlap() flaw {
	return c.placed(func(at float64) bool { return math.Abs(at) >= overlapFar })
}

// findOffTop finds air put on where the piston was not at the top, or was pushed
// away from it.
func (c *clinic) findOffTop() flaw {
	return c.placed(func(at float64) bool { return math.Abs(at) < overlapFar && math.Abs(at) > topSlack })
}

func (c *clinic) placed(is func(float64) bool) flaw {
	var f flaw
	for i, a := range c.air {
		if !is(a.leak.PistonAt) {
			continue
		}
		if f.none() {
			f.facts = []diagnose.Fact{number("angle", unit.Angle(a.leak.PistonAt).Degrees(), "°")}
		}
		f.air = append(f.air, i)
	}
	return f
}

func (c *clinic) findVacuumOpen() flaw {
	var f flaw
	for _, v := range c.rec.Vacuums {
		for i, s := range c.runs {
			if s.run.ID == v.Run && s.run.ThrottleOpen {
				f.runs = append(f.runs, i)
			}
		}
	}
	return f
}
