package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

func TestImpossibleActionsSayWhy(t *testing.T) {
	act := func(kind, choice string, cylinder int, number float64) record.Action {
		return record.Action{Kind: kind, Choice: choice, Cylinder: cylinder, Number: number}
	}
	fresh := func(s shop) {}
	tools := func(s shop) { s.do(bench.KindGauge, "good"); s.do(bench.KindAdapter, "m14") }
	out := func(s shop) { tools(s); s.on(bench.KindPlugOut, 1, "ordered"); s.on(bench.KindPlugOut, 2, "ordered") }
	hose := func(s shop) { out(s); s.on(bench.KindHoseOn, 1, "") }
	held := func(s shop) { hose(s); s.do(bench.KindStarter, "on") }
	tester := func(s shop) { out(s); s.on(bench.KindTesterOn, 1, "") }
	air := func(s shop) { tester(s); s.act(act(bench.KindAir, "on", 0, 550)) }
	ready1 := func(s shop) {
		hose(s)
		s.on(bench.KindPlugIn, 2, "hand")
		s.on(bench.KindDisableOne, 1, "disabled")
		s.do(bench.KindLeads, "")
	}
	coasting := func(s shop) { held(s); s.Advance(600); s.do(bench.KindStarter, "off") }
	for _, c := range []struct {
		name string
		when func(shop)
		a    record.Action
		key  string
	}{
		{"no such kind", fresh, act("sing", "", 0, 0), "unknown_kind"},
		{"no such choice", fresh, act(bench.KindGear, "reverse", 0, 0), "unknown_choice"},
		{"a choice where none is wanted", fresh, act(bench.KindBelts, "on", 0, 0), "unknown_choice"},
		{"no cylinder 5", fresh, act(bench.KindPlugOut, "ordered", 5, 0), "cylinder"},
		{"no cylinder 0", fresh, act(bench.KindPlugOut, "ordered", 0, 0), "cylinder"},
		{"no cylinder wanted", fresh, act(bench.KindBrake, "on", 1, 0), "cylinder"},
		{"a plug at a time", fresh, act(bench.KindHoseOn, "", 1, 0), "no_gauge"},
		{"plug still in", tools, act(bench.KindHoseOn, "", 1, 0), "plug_still_in"},
		{"no adapter", func(s shop) { s.do(bench.KindGauge, "good") }, act(bench.KindHoseOn, "", 1, 0), "no_adapter"},
		{"wrong thread", func(s shop) { out(s); s.do(bench.KindAdapter, "m12") }, act(bench.KindHoseOn, "", 1, 0), "wrong_thread"},
		{"one hose", hose, act(bench.KindHoseOn, "", 2, 0), "hose_on_elsewhere"},
		{"hose in the hole", hose, act(bench.KindPlugIn, "hand", 1, 0), "hose_on"},
		{"oil past the hose", hose, act(bench.KindOil, "", 1, 10), "hose_on"},
		{"oil past the plug", fresh, act(bench.KindOil, "", 1, 10), "plug_still_in"},
		{"no oil", out, act(bench.KindOil, "", 1, 0), "number"},
		{"a can of oil", out, act(bench.KindOil, "", 1, 50.5), "number"},
		{"another gauge on a fitted hose", hose, act(bench.KindGauge, "off", 0, 0), "hose_on"},
		{"another adapter on a fitted hose", hose, act(bench.KindAdapter, "bare", 0, 0), "hose_on"},
		{"hose off twice", out, act(bench.KindHoseOff, "", 0, 0), "hose_not_on"},
		{"plug out twice", out, act(bench.KindPlugOut, "ordered", 1, 0), "plug_already_out"},
		{"plug in twice", out, act(bench.KindPlugIn, "hand", 3, 0), "plug_still_in"},
		{"torque what is tight", out, act(bench.KindPlugTorque, "", 0, 0), "already_so"},
		{"look at a plug in its hole", fresh, act(bench.KindPlugLook, "", 1, 0), "plug_not_out"},
		{"leads on missing plugs", out, act(bench.KindLeads, "", 0, 0), "plug_missing"},
		{"no such page", fresh, act(bench.KindSpec, "another", 0, 0), "no_such_page"},
		{"no such gauge", fresh, act(bench.KindGauge, "another", 0, 0), "no_such_gauge"},
		{"no such adapter", fresh, act(bench.KindAdapter, "another", 0, 0), "no_such_adapter"},
		{"prove no gauge", fresh, act(bench.KindProve, "", 0, 0), "no_gauge"},
		{"release no gauge", fresh, act(bench.KindRelease, "", 0, 0), "no_gauge"},
		{"fuel twice", fresh, act(bench.KindFuel, "enabled", 0, 0), "already_so"},
		{"run without plugs", out, act(bench.KindWarmUp, "", 0, 5), "plug_missing"},
		{"run into a gauge", func(s shop) { hose(s); s.on(bench.KindPlugIn, 2, "hand") }, act(bench.KindWarmUp, "", 0, 5), "hose_on"},
		{"run without fuel", func(s shop) { s.do(bench.KindFuel, "disabled") }, act(bench.KindWarmUp, "", 0, 5), "fuel_disabled"},
		{"run without spark", func(s shop) { s.do(bench.KindIgnition, "disabled") }, act(bench.KindWarmUp, "", 0, 5), "ignition_disabled"},
		{"run without leads", func(s shop) { out(s); s.on(bench.KindPlugIn, 1, "hand"); s.on(bench.KindPlugIn, 2, "hand") }, act(bench.KindWarmUp, "", 0, 5), "leads_off"},
		{"run in drive", func(s shop) { s.do(bench.KindGear, "drive") }, act(bench.KindWarmUp, "", 0, 5), "engaged"},
		{"run for no time", fresh, act(bench.KindWarmUp, "", 0, 0), "number"},
		{"run for an hour", fresh, act(bench.KindWarmUp, "", 0, 60), "number"},
		{"start into a gauge", hose, act(bench.KindEngineStart, "", 0, 0), "hose_on"},
		{"the key in drive", func(s shop) { s.do(bench.KindGear, "drive") }, act(bench.KindStarter, "on", 0, 0), "not_in_park"},
		{"hands on a cranking engine", held, act(bench.KindHoseOff, "", 0, 0), "starter_on"},
		{"hands on a turning engine", coasting, act(bench.KindHoseOff, "", 0, 0), "engine_turning"},
		{"switch held already", held, act(bench.KindStarter, "on", 0, 0), "already_so"},
		{"switch not held", fresh, act(bench.KindStarter, "off", 0, 0), "starter_not_on"},
		{"tester in a plugged hole", fresh, act(bench.KindTesterOn, "", 1, 0), "plug_still_in"},
		{"tester beside the gauge", hose, act(bench.KindTesterOn, "", 2, 0), "hose_on"},
		{"two testers", tester, act(bench.KindTesterOn, "", 2, 0), "tester_on_elsewhere"},
		{"no tester to take off", out, act(bench.KindTesterOff, "", 0, 0), "tester_not_on"},
		{"gauge on the tester", tester, act(bench.KindHoseOn, "", 1, 0), "tester_on"},
		{"gauge beside the tester", tester, act(bench.KindHoseOn, "", 2, 0), "tester_on"},
		{"plug on the tester", tester, act(bench.KindPlugIn, "hand", 1, 0), "tester_on"},
		{"oil past the tester", tester, act(bench.KindOil, "", 1, 5), "tester_on"},
		{"leads with the tester on", func(s shop) { tester(s); s.on(bench.KindPlugIn, 2, "hand") }, act(bench.KindLeads, "", 0, 0), "tester_on"},
		{"run with the tester on", func(s shop) { tester(s); s.on(bench.KindPlugIn, 2, "hand") }, act(bench.KindWarmUp, "", 0, 5), "tester_on"},
		{"start with the tester on", tester, act(bench.KindEngineStart, "", 0, 0), "tester_on"},
		{"air without a tester", out, act(bench.KindAir, "on", 0, 500), "tester_not_on"},
		{"no pressure", tester, act(bench.KindAir, "on", 0, 0), "number"},
		{"more than the line gives", tester, act(bench.KindAir, "on", 0, 1001), "number"},
		{"air off at a pressure", air, act(bench.KindAir, "off", 0, 100), "number"},
		{"air off twice", tester, act(bench.KindAir, "off", 0, 0), "already_so"},
		{"turn against air", air, act(bench.KindTurn, "tdc", 1, 0), "air_on"},
		{"turn to nowhere", fresh, act(bench.KindTurn, "up", 1, 0), "unknown_choice"},
		{"listen without a tester", out, act(bench.KindListen, "throttle", 0, 0), "tester_not_on"},
		{"listen without air", tester, act(bench.KindListen, "throttle", 0, 0), "no_air"},
		{"listen at a plug", air, act(bench.KindListen, "plug_hole", 3, 0), "plug_still_in"},
		{"listen at the tester", air, act(bench.KindListen, "plug_hole", 1, 0), "tester_on"},
		{"listen at no plug hole", air, act(bench.KindListen, "plug_hole", 0, 0), "cylinder"},
		{"listen at a cylinder's throttle", air, act(bench.KindListen, "throttle", 2, 0), "cylinder"},
		{"listen nowhere", air, act(bench.KindListen, "radio", 0, 0), "unknown_choice"},
		{"disable two", func(s shop) { s.on(bench.KindDisableOne, 1, "disabled") }, act(bench.KindDisableOne, "disabled", 2, 0), "disabled_elsewhere"},
		{"disable twice", func(s shop) { s.on(bench.KindDisableOne, 1, "disabled") }, act(bench.KindDisableOne, "disabled", 1, 0), "already_so"},
		{"enable what is live", fresh, act(bench.KindDisableOne, "enabled", 1, 0), "already_so"},
		{"run without a gauge", fresh, act(bench.KindEngineRun, "on", 0, 0), "hose_not_on"},
		{"run on the gauged cylinder", func(s shop) { tools(s); s.on(bench.KindPlugOut, 1, "ordered"); s.on(bench.KindHoseOn, 1, "") }, act(bench.KindEngineRun, "on", 0, 0), "cylinder_live"},
		{"run with a plug out", func(s shop) { hose(s); s.on(bench.KindDisableOne, 1, "disabled") }, act(bench.KindEngineRun, "on", 0, 0), "plug_missing"},
		{"run with the leads off", func(s shop) {
			hose(s)
			s.on(bench.KindPlugIn, 2, "hand")
			s.on(bench.KindDisableOne, 1, "disabled")
		}, act(bench.KindEngineRun, "on", 0, 0), "leads_off"},
		{"run with the throttle held", func(s shop) { ready1(s); s.do(bench.KindThrottle, "open") }, act(bench.KindEngineRun, "on", 0, 0), "throttle_held"},
		{"run without fuel to the rest", func(s shop) { ready1(s); s.do(bench.KindFuel, "disabled") }, act(bench.KindEngineRun, "on", 0, 0), "fuel_disabled"},
		{"start what cranks", func(s shop) { ready1(s); s.do(bench.KindStarter, "on") }, act(bench.KindEngineRun, "on", 0, 0), "starter_on"},
		{"stop what stands", fresh, act(bench.KindEngineRun, "off", 0, 0), "already_so"},
		{"snap what stands", fresh, act(bench.KindSnap, "", 0, 0), "not_running"},
		{"snap twice", func(s shop) { ready1(s); s.do(bench.KindEngineRun, "on"); s.Advance(600); s.do(bench.KindSnap, "") }, act(bench.KindSnap, "", 0, 0), "already_so"},
		{"lash of hydraulic tappets", func(s shop) {}, act(bench.KindLash, "", 1, 0), "no_lash"},
		{"borescope past the plug", fresh, act(bench.KindBorescope, "", 1, 0), "plug_still_in"},
		{"borescope past the hose", hose, act(bench.KindBorescope, "", 1, 0), "hose_on"},
		{"borescope past the tester", tester, act(bench.KindBorescope, "", 1, 0), "tester_on"},
		{"timing of one cylinder", fresh, act(bench.KindTiming, "", 1, 0), "cylinder"},
		{"watch no more", fresh, act(bench.KindCoolantWatch, "off", 0, 0), "already_so"},
		{"no clamp to take off", fresh, act(bench.KindClamp, "off", 0, 0), "already_so"},
		{"two vacuum gauges", func(s shop) { s.do(bench.KindVacuumGauge, "on") }, act(bench.KindVacuumGauge, "on", 0, 0), "already_so"},
		{"no wrench to take off", fresh, act(bench.KindWrench, "off", 0, 0), "already_so"},
		{"turn for no time", fresh, act(bench.KindWait, "", 0, -1), "number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t, tray())
			c.when(s)
			if !s.State().Starter && s.Engine().AtRest() {
				s.Settle()
			}
			before, log, events := s.Digest(), len(s.Log()), len(s.Record().Events)
			assert.Equal(t, "refusal."+c.key, s.key(c.a))
			assert.Equal(t, before, s.Digest(), "a refusal leaves no trace")
			assert.Len(t, s.Log(), log)
			assert.Len(t, s.Record().Events, events)
			assert.Contains(t, bench.Refusals(), "refusal."+c.key)
		})
	}
}

func TestDangerousActionsAreDoneAndCount(t *testing.T) {
	warm := func(s shop) {}
	for _, c := range []struct {
		name    string
		do      func(shop)
		kind    string
		key     string
		without bool // must not happen
	}{
		{"air into the wells without glasses", func(s shop) { s.do(bench.KindWells, "") }, bench.EventCaution, "no_glasses", false},
		{"plug out of a dirty well", func(s shop) { s.on(bench.KindPlugOut, 1, "ordered") }, bench.EventCaution, "no_wells_blown", false},
		{"plug out of a clean well", func(s shop) { s.do(bench.KindWells, ""); s.on(bench.KindPlugOut, 1, "ordered") }, bench.EventCaution, "no_wells_blown", true},
		{"throttle with fuel live", func(s shop) { s.do(bench.KindThrottle, "open") }, bench.EventCaution, "throttle_before_disabled", false},
		{"cranked without glasses", func(s shop) { s.do(bench.KindStarter, "on") }, bench.EventCaution, "no_glasses", false},
		{"cranked unblocked", func(s shop) { s.do(bench.KindStarter, "on") }, bench.EventCaution, "not_blocked", false},
		{"cranked with the brake on", func(s shop) { s.do(bench.KindBrake, "on"); s.do(bench.KindStarter, "on") }, bench.EventCaution, "not_blocked", true},
		{"cranked ready to fire", func(s shop) { s.do(bench.KindStarter, "on") }, bench.EventCaution, "could_start", false},
		{"remote switch in drive", func(s shop) {
			s.do(bench.KindSwitch, "remote")
			s.do(bench.KindGear, "drive")
			s.do(bench.KindStarter, "on")
		}, bench.EventHazard, "gear_engaged", false},
		{"remote switch in neutral", func(s shop) {
			s.do(bench.KindSwitch, "remote")
			s.do(bench.KindGear, "neutral")
			s.do(bench.KindStarter, "on")
		}, bench.EventHazard, "gear_engaged", true},
		{"fuel and spark at open holes", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.do(bench.KindStarter, "on")
			s.Advance(1200)
		}, bench.EventHazard, "vapour_ignition", false},
		{"fuel at open holes, no spark", func(s shop) {
			s.do(bench.KindIgnition, "disabled")
			s.on(bench.KindPlugOut, 1, "ordered")
			s.do(bench.KindStarter, "on")
			s.Advance(1200)
		}, bench.EventHazard, "vapour_ignition", true},
		{"spark at open holes, no fuel", func(s shop) {
			s.do(bench.KindFuel, "disabled")
			s.on(bench.KindPlugOut, 1, "ordered")
			s.do(bench.KindStarter, "on")
			s.Advance(1200)
		}, bench.EventHazard, "vapour_ignition", true},
		{"fuel and spark, plugs in", func(s shop) { s.do(bench.KindStarter, "on"); s.Advance(1200) }, bench.EventHazard, "vapour_ignition", true},
		{"plug by the wrench", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindPlugIn, 1, "wrench")
		}, bench.EventCaution, "plug_by_wrench", false},
		{"cranked under air", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindTesterOn, 1, "")
			s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: 100})
			s.do(bench.KindStarter, "on")
		}, bench.EventCaution, "tester_under_air", false},
		{"cranked with the tester on", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindTesterOn, 1, "")
			s.do(bench.KindStarter, "on")
		}, bench.EventCaution, "tester_under_air", true},
		{"tester off under air", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindTesterOn, 1, "")
			s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: 100})
			s.do(bench.KindTesterOff, "")
		}, bench.EventCaution, "tester_under_air", false},
		{"more air than a tester takes", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindTesterOn, 1, "")
			s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: 800})
		}, bench.EventCaution, "much_air", false},
		{"air with the wrench on", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.on(bench.KindTesterOn, 1, "")
			s.on(bench.KindTurn, 1, "tdc")
			s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: 550})
		}, bench.EventCaution, "wrench_left_on", false},
		{"too much oil", func(s shop) {
			s.on(bench.KindPlugOut, 1, "ordered")
			s.act(record.Action{Kind: bench.KindOil, Cylinder: 1, Number: 30})
		}, bench.EventCaution, "much_oil", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t, tray())
			warm(s)
			c.do(s)
			if c.without {
				assert.Zero(t, s.count(c.kind, c.key))
			} else {
				assert.NotZero(t, s.count(c.kind, c.key))
			}
			assert.Contains(t, append(bench.Cautions(), bench.Hazards()...), c.key)
		})
	}
}
