package debrief

import (
	"math"
	"slices"

	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// before lends a hand before the runs of a flaw.
func (c *clinic) before(f flaw, h hand) edit {
	e := c.tape.edit()
	for _, k := range f.runs {
		e.lend(c.runs[k].step, h)
	}
	return e
}

// once makes a hand of one action that is done when something is so.
func once(is func(*attempt.Session) bool, a record.Action) hand {
	return func(s *attempt.Session) (record.Action, bool) { return a, is(s) }
}

func throttle(choice string) hand {
	return once(func(s *attempt.Session) bool { return s.State().Throttle != choice },
		record.Action{Kind: bench.KindThrottle, Choice: choice})
}

func word(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}

// mendThrottle holds the throttle open (or lets it be shut) in the runs of a flaw
// and leaves it as it was in all others.
func mendThrottle(open bool) func(*clinic, flaw) edit {
	return func(c *clinic, f flaw) edit {
		e := c.tape.edit()
		for k, s := range c.runs {
			if !slices.Contains(f.runs, k) {
				e.lend(s.step, throttle(word(s.run.ThrottleOpen, "open", "shut")))
				continue
			}
			e.lend(s.step, throttle(word(open, "open", "shut")))
			for i := s.step + 1; i < len(c.tape.steps) && c.tape.steps[i].act.Tick < s.run.EndTick; i++ {
				if c.tape.steps[i].act.Kind == bench.KindThrottle {
					e[i].drop = true
				}
			}
		}
		for i, st := range c.tape.steps {
			if st.act.Kind == bench.KindEngineRun && st.act.Choice == "on" {
				e.lend(i, throttle("shut")) // as it was, or it would not have started
			}
		}
		return e
	}
}

// plugsAs puts plugs in or takes them out until just those of a list are in; the
// hole with a hose in it stays as it is.
func plugsAs(in []int) hand {
	return func(s *attempt.Session) (record.Action, bool) {
		for _, p := range s.State().Plugs {
			switch wanted := slices.Contains(in, p.Cylinder); {
			case p.State == "in" && !wanted:
				return record.Action{Kind: bench.KindPlugOut, Cylinder: p.Cylinder, Choice: "ordered"}, true
			case p.State == "out" && wanted:
				return record.Action{Kind: bench.KindPlugIn, Cylinder: p.Cylinder, Choice: "hand"}, true
			}
		}
		return record.Action{}, false
	}
}

// mendPlugs has the plugs as the card wants them in the runs of a flaw, and as they
// were in all others and whenever the engine ran.
func (c *clinic) mendPlugs(f flaw) edit {
	e := c.tape.edit()
	last := c.runs[f.runs[len(f.runs)-1]].step
	for k, s := range c.runs {
		in := s.in
		if slices.Contains(f.runs, k) {
			in = nil
			for cyl := 1; cyl <= c.s.Engine.Cylinders && !c.card.PlugsOut; cyl++ {
				in = append(in, cyl)
			}
		}
		e.lend(s.step, plugsAs(in))
	}
	for i, st := range c.tape.steps {
		switch st.act.Kind {
		case bench.KindPlugIn, bench.KindPlugTorque:
			if i > c.runs[f.runs[0]].step && i < last {
				e[i].drop = true
			}
		case bench.KindLeads, bench.KindEngineStart, bench.KindEngineRun, bench.KindWarmUp:
			e.lend(i, plugsAs(c.plugsAt(i)))
		}
	}
	return e
}

// plugsAt returns the cylinders with their plugs in before a step.
func (c *clinic) plugsAt(step int) []int {
	h := hold{plugs: make([]bool, c.s.Engine.Cylinders)}
	for _, st := range c.tape.steps[:step] {
		h.follow(st.act)
	}
	return h.site(step, record.Run{}).in
}

// mendStrokes holds the switch for as many compressions as all should have had.
func (c *clinic) mendStrokes(f flaw) edit {
	e := c.tape.edit()
	for _, k := range f.runs {
		if off := c.tape.lets[k]; off >= 0 {
			e[off].strokes = c.strokesWanted() - c.runs[k].run.Full()
		}
	}
	return e
}

// mendPartStroke turns the crank by hand to before the compression, and takes the
// wrench off.
func (c *clinic) mendPartStroke(f flaw) edit {
	return c.before(f, func(s *attempt.Session) (record.Action, bool) {
		st := s.State()
		at := s.Bench().Engine().CylinderAngle(max(st.HoseOn, 1))
		switch {
		case st.HoseOn == 0:
			return record.Action{}, false
		case math.Abs(at+math.Pi) > topSlack:
			return record.Action{Kind: bench.KindTurn, Cylinder: st.HoseOn, Choice: "bdc"}, true
		}
		return wrenchOff(s)
	})
}

func wrenchOff(s *attempt.Session) (record.Action, bool) {
	return record.Action{Kind: bench.KindWrench, Choice: "off"}, s.State().Wrench
}

func coolantC(s *attempt.Session) float64 {
	return unit.Kelvin(s.Bench().Engine().Coolant()).Celsius()
}

// mendCold warms the engine up while it still can be run: before the first thing
// that stops it.
func (c *clinic) mendCold(f flaw) edit {
	at := c.runs[f.runs[0]].step
	for i, st := range c.tape.steps[:at] {
		if a := st.act; a.Kind == bench.KindPlugOut || (a.Kind == bench.KindFuel || a.Kind == bench.KindIgnition) && a.Choice == "disabled" {
			at = i
			break
		}
	}
	aim := min(c.s.Conditions.WarmC-3, c.card.CoolantMaxC)
	e := c.tape.edit()
	e.lend(at, func(s *attempt.Session) (record.Action, bool) {
		if s.State().Gear == bench.GearDrive {
			return record.Action{Kind: bench.KindGear, Choice: bench.GearPark}, true
		}
		return record.Action{Kind: bench.KindWarmUp, Number: 10}, coolantC(s) < aim
	})
	return e
}

func (c *clinic) mendHot(f flaw) edit {
	return c.before(f, once(func(s *attempt.Session) bool { return coolantC(s) > c.card.CoolantMaxC },
		record.Action{Kind: bench.KindCoolDown, Number: 10}))
}

// mendCharger puts the charger on before the plugs come out, where the book has it,
// and has it on in the runs of a flaw.
func (c *clinic) mendCharger(f flaw) edit {
	on := once(func(s *attempt.Session) bool { return !s.State().Charger },
		record.Action{Kind: bench.KindCharger, Choice: "on"})
	e := c.before(f, on)
	for i, st := range c.tape.steps[:c.runs[f.runs[0]].step] {
		if st.act.Kind == bench.KindPlugOut {
			e.lend(i, on)
			break
		}
	}
	return e
}

func fuel(choice string) hand {
	return once(func(s *attempt.Session) bool { return s.State().Fuel != choice },
		record.Action{Kind: bench.KindFuel, Choice: choice})
}

// mendFuel disables the fuel before the runs of a flaw; whenever the engine was run,
// it has it back.
func (c *clinic) mendFuel(f flaw) edit {
	e := c.before(f, fuel("disabled"))
	off := false
	for i, st := range c.tape.steps {
		switch st.act.Kind {
		case bench.KindFuel:
			off = st.act.Choice == "disabled"
		case bench.KindWarmUp, bench.KindEngineRun, bench.KindEngineStart:
			if !off {
				e.lend(i, fuel("enabled"))
			}
		}
	}
	return e
}

// emptyPa is hose pressure that no dial shows [Pa], as the bench has it.
const emptyPa = 2000

func (c *clinic) mendRelease(f flaw) edit {
	return c.before(f, once(func(s *attempt.Session) bool {
		e := s.Bench().Engine()
		return s.State().Gauge != "" && e.HosePressure()-e.Params().Ambient >= emptyPa
	}, record.Action{Kind: bench.KindRelease}))
}

// mendAdapter takes the right adapter wherever the log takes one of the flaw's.
func (c *clinic) mendAdapter(f flaw) edit {
	right := c.rightAdapter()
	return c.instead(f, bench.KindAdapter, right, func(s site) string { return s.adapter })
}

// mendGauge takes the gauge that reads best instead.
func (c *clinic) mendGauge(f flaw) edit {
	return c.instead(f, bench.KindGauge, c.rightGauge(), func(s site) string { return s.gauge })
}

// instead takes another tool wherever the log takes one that runs of a flaw had.
func (c *clinic) instead(f flaw, kind, right string, tool func(site) string) edit {
	bad := map[string]bool{}
	for _, k := range f.runs {
		bad[tool(c.runs[k])] = true
	}
	e := c.tape.edit()
	for i, st := range c.tape.steps {
		if st.act.Kind == kind && bad[st.act.Choice] {
			e[i].instead = func(a *record.Action) { a.Choice = right }
		}
	}
	return e
}

// mendOil pours the card's amount in one go.
func (c *clinic) mendOil(f flaw) edit {
	e := c.tape.edit()
	poured := map[int]bool{}
	for i, st := range c.tape.steps {
		a := st.act
		if a.Kind != bench.KindOil || !c.wetIn(f, a.Cylinder) {
			continue
		}
		if poured[a.Cylinder] {
			e[i].drop = true
			continue
		}
		poured[a.Cylinder] = true
		e[i].instead = func(a *record.Action) { a.Number = c.card.OilML }
	}
	return e
}

func (c *clinic) wetIn(f flaw, cylinder int) bool {
	for _, k := range f.runs {
		if c.runs[k].run.Cylinder == cylinder {
			return true
		}
	}
	return false
}

// mendTester has the piston at the top of its compression when air is put on: the
// crank is turned there instead of elsewhere, or turned once more; and the wrench is
// off by then.
func (c *clinic) mendTester(f flaw) edit {
	e := c.tape.edit()
	for _, k := range f.air {
		at := c.air[k].step
		if i := c.turnedBefore(at, c.air[k].leak.Cylinder); i >= 0 {
			e[i].instead = func(a *record.Action) { a.Choice = "tdc" }
		}
		e.lend(at, func(s *attempt.Session) (record.Action, bool) {
			st := s.State()
			if st.Tester > 0 && math.Abs(s.Bench().Engine().CylinderAngle(st.Tester)) > topSlack/4 {
				return record.Action{Kind: bench.KindTurn, Cylinder: st.Tester, Choice: "tdc"}, true
			}
			return wrenchOff(s)
		})
	}
	return e
}

// turnedBefore returns the step that last turned the crank by hand for a cylinder
// before another step, -1 when the starter has turned it since.
func (c *clinic) turnedBefore(step, cylinder int) int {
	for i := step - 1; i >= 0; i-- {
		switch a := c.tape.steps[i].act; {
		case a.Kind == bench.KindStarter:
			return -1
		case a.Kind == bench.KindTurn:
			if a.Cylinder == cylinder {
				return i
			}
			return -1
		}
	}
	return -1
}
