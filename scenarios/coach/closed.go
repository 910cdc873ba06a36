package coach

import (
	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Tests of the engine with its plugs in: starter current, cranking vacuum, running
// compression.

const (
	// watchSeconds is how long the switch is held for current and vacuum [s]: the
	// inrush is over after one, the manifold pumped down after two.
	watchSeconds = 5.0
	idleSeconds  = 2.0 // until the idle is steady
	pumpSeconds  = bench.IdleBleed + bench.IdlePump + 0.5
	snapSeconds  = bench.SnapSeconds + bench.SnapFall + 0.5
)

// closeUp puts the plugs in but for one, 0 for none.
func (s Situation) closeUp(but int) (Suggestion, bool) {
	if s.State.HoseOn != 0 && s.State.HoseOn != but {
		return s.hoseAway()
	}
	for _, p := range s.State.Plugs {
		if p.State == "out" && p.Cylinder != but {
			return do("plug_in", record.Action{Kind: bench.KindPlugIn, Cylinder: p.Cylinder, Choice: "hand"})
		}
	}
	if !s.State.Torqued {
		return do("plug_torque", record.Action{Kind: bench.KindPlugTorque})
	}
	return Suggestion{}, false
}

// watch cranks with an instrument on.
func (s Situation) watch() (Suggestion, bool) {
	if s.State.Wrench {
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	}
	if out, ok := disable(s); ok {
		return out, true
	}
	return do("crank_watch", record.Action{Kind: bench.KindStarter, Choice: "on"})
}

// current compares the cylinders by what the starter draws.
func current(s Situation) (Suggestion, bool) {
	if out, ok := s.closeUp(0); ok {
		return out, true
	}
	if !s.State.Clamp {
		return do("clamp", record.Action{Kind: bench.KindClamp, Choice: "on"})
	}
	return s.watch()
}

// vacuum reads what the pistons pump the manifold down to.
func vacuum(s Situation) (Suggestion, bool) {
	if out, ok := s.closeUp(0); ok {
		return out, true
	}
	switch {
	case s.State.Throttle != "shut":
		return do("throttle_shut", record.Action{Kind: bench.KindThrottle, Choice: "shut"})
	case !s.State.Vacuum:
		return do("vacuum_gauge", record.Action{Kind: bench.KindVacuumGauge, Choice: "on"})
	}
	return s.watch()
}

// balance takes the idling engine's cylinders away one by one. Best before anything
// comes off; later it all has to go back first.
func balance(s Situation) (Suggestion, bool) {
	if out, ok := s.closeUp(0); ok {
		return out, true
	}
	if out, ok := s.alive(); ok {
		return out, true
	}
	return do("power_balance", record.Action{Kind: bench.KindPowerBalance})
}

// alive connects what an engine needs to run.
func (s Situation) alive() (Suggestion, bool) {
	st := s.State
	switch {
	case !st.Leads:
		return do("plug_leads", record.Action{Kind: bench.KindLeads})
	case st.Throttle != "shut":
		return do("throttle_shut", record.Action{Kind: bench.KindThrottle, Choice: "shut"})
	case st.Ignition == "disabled":
		return do("ignition_on", record.Action{Kind: bench.KindIgnition, Choice: "enabled"})
	case st.Fuel == "disabled":
		return do("fuel_on", record.Action{Kind: bench.KindFuel, Choice: "enabled"})
	case st.Wrench:
		return do("wrench", record.Action{Kind: bench.KindWrench, Choice: "off"})
	}
	return Suggestion{}, false
}

// runIt reads one cylinder with the engine running. running takes over once it does.
func runIt(s Situation, cyl int) (Suggestion, bool) {
	idle, snap := s.pumped(cyl)
	if idle && snap {
		if out, ok := s.written2(cyl); ok {
			return out, true
		}
		return tidy(s)
	}
	if s.State.HoseOn != 0 && s.State.HoseOn != cyl {
		return s.hoseAway()
	}
	if s.plug(cyl) == "in" {
		return do("plug_out", record.Action{Kind: bench.KindPlugOut, Cylinder: cyl, Choice: "ordered"})
	}
	if out, ok := s.closeUp(cyl); ok {
		return out, true
	}
	st := s.State
	switch {
	case st.HoseOn == 0:
		return do("hose_on", record.Action{Kind: bench.KindHoseOn, Cylinder: cyl})
	case st.Disabled != cyl:
		return do("disable_one", record.Action{Kind: bench.KindDisableOne, Cylinder: cyl, Choice: "disabled"})
	}
	if out, ok := s.alive(); ok {
		return out, true
	}
	out, _ := do("engine_run", record.Action{Kind: bench.KindEngineRun, Choice: "on"})
	out.Cylinder = cyl
	return out, true
}

// running is the only thing to see to while the engine runs: bleed, read, snap, read,
// off.
func running(s Situation) (Suggestion, bool) {
	if !s.State.Running {
		return Suggestion{}, false
	}
	after := func(seconds float64, key string, a record.Action) (Suggestion, bool) {
		out, _ := do(key, a)
		out.Seconds, out.Cylinder = seconds, s.State.HoseOn
		return out, true
	}
	idle, snap := s.pumped(s.State.HoseOn)
	switch {
	case !idle && s.last(bench.KindRelease, bench.KindEngineRun) != bench.KindRelease:
		return after(idleSeconds, "bleed", record.Action{Kind: bench.KindRelease})
	case !snap && s.last(bench.KindSnap, bench.KindEngineRun) != bench.KindSnap:
		return after(pumpSeconds, "snap", record.Action{Kind: bench.KindSnap})
	}
	return after(snapSeconds, "engine_off", record.Action{Kind: bench.KindEngineRun, Choice: "off"})
}

// pumped reports which running readings of a cylinder there are.
func (s Situation) pumped(cylinder int) (idle, snap bool) {
	for _, p := range s.Record.Pumped {
		if p.Cylinder == cylinder {
			idle, snap = idle || p.How == bench.PumpedIdle, snap || p.How == bench.PumpedSnap
		}
	}
	return idle, snap
}

// last returns which of two kinds of action came last.
func (s Situation) last(one, other string) string {
	out := ""
	for _, e := range s.Record.Events {
		if e.Kind == one || e.Kind == other {
			out = e.Kind
		}
	}
	return out
}

// written2 asks for both running readings on the sheet.
func (s Situation) written2(cyl int) (Suggestion, bool) {
	for _, f := range []string{diagnose.FieldRunningIdle, diagnose.FieldRunningSnap} {
		if _, ok := s.written(f, cyl); !ok {
			return think("write", cyl, f)
		}
	}
	return Suggestion{}, false
}

// lookFields are the fields of what a look measures.
var lookFields = map[string]string{
	"lash_intake": diagnose.FieldLashIntake, "lash_exhaust": diagnose.FieldLashExhaust,
	"cooling_falls": diagnose.FieldCoolingDrop, "timing_intake_late": diagnose.FieldTiming,
	"timing_intake_early": diagnose.FieldTiming, "timing_exhaust_late": diagnose.FieldTiming,
	"timing_exhaust_early": diagnose.FieldTiming,
}

// unwritten asks for what the tests so far have shown and the sheet does not hold.
func unwritten(s Situation, e diagnose.Evidence) (Suggestion, bool) {
	for _, l := range e.Confirmed.Leaks {
		if _, ok := s.written(diagnose.FieldLeakage, l.Cylinder); !ok {
			return think("write", l.Cylinder, diagnose.FieldLeakage)
		}
		if _, ok := s.written(diagnose.FieldLeakageSupply, 0); !ok {
			return think("write", 0, diagnose.FieldLeakageSupply)
		}
	}
	for _, c := range e.Confirmed.Currents {
		if !c.Compared() {
			continue
		}
		for _, h := range c.Humps {
			if _, ok := s.written(diagnose.FieldHump, h.Cylinder); !ok {
				return think("write", h.Cylinder, diagnose.FieldHump)
			}
		}
	}
	for _, l := range e.Confirmed.Looks {
		if field, ok := lookFields[l.Fact]; ok && l.Number > 0 {
			cyl := l.Cylinder
			if field == diagnose.FieldTiming || field == diagnose.FieldCoolingDrop {
				cyl = 0
			}
			if _, ok := s.written(field, cyl); !ok {
				return think("write", cyl, field)
			}
		}
	}
	if len(e.Confirmed.Vacuums) > 0 {
		if _, ok := s.written(diagnose.FieldVacuum, 0); !ok {
			return think("write", 0, diagnose.FieldVacuum)
		}
	}
	for _, x := range []struct {
		list  []diagnose.Second
		field string
	}{{e.Confirmed.Gauges, diagnose.FieldSecondLast}, {e.Confirmed.Refits, diagnose.FieldRefitLast}} {
		for _, two := range x.list {
			if _, ok := s.written(x.field, two.Cylinder); !ok {
				return think("write", two.Cylinder, x.field)
			}
		}
	}
	return Suggestion{}, false
}
