package bench_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
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
		{"turn for no time", fresh, act(bench.KindWait, "", 0, -1), "number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := open(t, tray())
			c.when(s)
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

func TestVapourWaitsForASpark(t *testing.T) {
	// Fuel disabled too late: what was injected still hangs about.
	late := func(standing float64) shop {
		s := open(t, tray())
		s.do(bench.KindIgnition, "disabled")
		for c := 1; c <= 4; c++ {
			s.on(bench.KindPlugOut, c, "ordered")
		}
		s.do(bench.KindStarter, "on")
		s.Advance(1200)
		s.do(bench.KindStarter, "off")
		s.Settle()
		s.do(bench.KindFuel, "disabled")
		s.do(bench.KindIgnition, "enabled")
		s.act(record.Action{Kind: bench.KindWait, Number: standing})
		s.do(bench.KindStarter, "on")
		s.Advance(1200)
		return s
	}
	assert.Equal(t, 1, late(1).count(bench.EventHazard, "vapour_ignition"))
	assert.Zero(t, late(15).count(bench.EventHazard, "vapour_ignition"), "aired out")
}

func TestLiveFuelWashesTheBores(t *testing.T) {
	film := func(fuel string) (float64, float64) {
		s := open(t, tray())
		s.do(bench.KindIgnition, "disabled")
		if fuel == "disabled" {
			s.do(bench.KindFuel, fuel)
		}
		s.tooled()
		r := s.crank(1, 8)
		f, _ := s.Engine().Film(1)
		return f, last(r).True
	}
	wet, low := film("enabled")
	dry, high := film("disabled")
	assert.Less(t, wet, 0.7*dry)
	assert.Less(t, low, high, "a washed bore seals worse")
}

func TestTooMuchOilLocksTheEngine(t *testing.T) {
	set := tray()
	set.Engine.Rings.PassTime = 1e5 // rings so tight that it stays on the piston
	s := prepared(t, set)
	for range 2 {
		s.act(record.Action{Kind: bench.KindOil, Cylinder: 1, Number: 50})
	}
	s.on(bench.KindHoseOn, 1, "")
	s.on(bench.KindTurn, 1, "bdc")
	s.do(bench.KindStarter, "on")
	s.Advance(2 * record.TicksPerSecond)
	require.Equal(t, 1, s.count(bench.EventHazard, "hydrolock"))
	s.do(bench.KindStarter, "off")
	s.Settle()
	i := slices.IndexFunc(s.Record().Events, func(e record.Event) bool { return e.Kind == bench.EventHazard })
	assert.Equal(t, 1, s.Record().Events[i].Cylinder)
	s.undo()
	s.putBack()
	assert.Equal(t, "refusal.hydrolocked", s.key(record.Action{Kind: bench.KindWarmUp, Number: 5}))

	modest := prepared(t, tray())
	modest.act(record.Action{Kind: bench.KindOil, Cylinder: 1, Number: 10})
	modest.crank(1, 6)
	assert.Zero(t, modest.count(bench.EventHazard, "hydrolock"))
}

func TestStarterHeatGoesByRestTimes(t *testing.T) {
	// StarterLimits1999: 15 s at a time, 30 s at the most, then 2 minutes.
	s := prepared(t, tray())
	s.do(bench.KindStarter, "on")
	s.Advance(14.9 * record.TicksPerSecond)
	assert.Zero(t, s.count(bench.EventCaution, "starter_hot"))
	s.Advance(record.TicksPerSecond)
	assert.Equal(t, 1, s.count(bench.EventCaution, "starter_hot"))
	s.Advance(16 * record.TicksPerSecond)
	assert.Equal(t, 2, s.count(bench.EventCaution, "starter_hot"), "twice the time")
	s.do(bench.KindStarter, "off")
	s.Settle()
	s.act(record.Action{Kind: bench.KindWait, Number: 4.5})
	s.do(bench.KindStarter, "on")
	s.Advance(14.5 * record.TicksPerSecond)
	assert.Equal(t, 2, s.count(bench.EventCaution, "starter_hot"), "rested")
	s.Advance(record.TicksPerSecond)
	assert.Equal(t, 3, s.count(bench.EventCaution, "starter_hot"), "and hot again")
}

func TestAdaptersLeakAndTakeRoomAsTheyAre(t *testing.T) {
	final := func(adapter string) float64 {
		s := prepared(t, tray())
		s.do(bench.KindAdapter, adapter)
		return last(s.crank(2, 6)).True
	}
	good := final("m14")
	assert.Less(t, final("bare"), 0.97*good, "no O-ring")
	assert.Less(t, final("short"), 0.995*good, "a recess in the hole takes room")
	assert.Greater(t, final("long"), good, "a thread in the chamber gives some")
	s := prepared(t, tray())
	for adapter, caution := range map[string]string{"bare": "no_o_ring", "short": "reach_too_short", "long": "reach_too_long"} {
		s.do(bench.KindAdapter, adapter)
		s.on(bench.KindHoseOn, 2, "")
		assert.Equal(t, 1, s.count(bench.EventCaution, caution))
		s.do(bench.KindHoseOff, "")
	}
}

func TestProvingTellsAGoodGaugeFromBadOnes(t *testing.T) {
	for gauge, facts := range map[string][2]string{
		"good": {"gauge_zero", "gauge_holds"}, "leaky": {"gauge_zero", "gauge_leaks"}, "off": {"gauge_off_zero", "gauge_holds"},
	} {
		s := open(t, tray())
		s.do(bench.KindGauge, gauge)
		s.do(bench.KindProve, "")
		for _, f := range facts {
			assert.Equal(t, 1, s.count(bench.EventFact, f), "%s: %s", gauge, f)
			assert.Contains(t, bench.Facts(), f)
		}
		assert.True(t, s.State().Proved)
	}
	// What proving says is what it does on the engine: a leaking release lets go
	// over a minute of standing, a good one doesn't.
	held := func(gauge string) float64 {
		s := prepared(t, tray())
		s.do(bench.KindGauge, gauge)
		r := s.crank(1, 6)
		s.act(record.Action{Kind: bench.KindWait, Number: 1})
		return float64(s.Needle().Indicated()) / last(r).Needle
	}
	assert.Greater(t, held("good"), 0.93)
	assert.Less(t, held("leaky"), 0.3)
}

func TestWarmUpAndCoolDown(t *testing.T) {
	set := tray()
	set.Engine.CoolantTemperature = float64(unit.Celsius(20))
	s := open(t, set)
	s.act(record.Action{Kind: bench.KindWarmUp, Number: 10})
	assert.InDelta(t, 80, *s.State().CoolantC, 2, "ten minutes from cold to 80 °C")
	s.act(record.Action{Kind: bench.KindWarmUp, Number: 30})
	assert.InDelta(t, 90, *s.State().CoolantC, 1, "and the thermostat holds it")
	assert.InDelta(t, 40, s.Minutes(), 1e-9)
	s.act(record.Action{Kind: bench.KindCoolDown, Number: 240})
	assert.InDelta(t, 30, *s.State().CoolantC, 3)
	film, _ := s.Engine().Film(1)
	assert.Less(t, film, 0.05, "hours of standing drain the film")
	s.act(record.Action{Kind: bench.KindWarmUp, Number: 2})
	film, excess := s.Engine().Film(1)
	assert.InDelta(t, 1, film, 1e-9)
	assert.Zero(t, excess)
}

func TestRunningBurnsTheOilOfAWetTest(t *testing.T) {
	s := prepared(t, tray())
	dry := last(s.crank(1, 6)).True
	s.undo()
	s.act(record.Action{Kind: bench.KindOil, Cylinder: 1, Number: 10})
	wet := last(s.crank(1, 6)).True
	s.undo()
	assert.Greater(t, wet, 1.02*dry)
	s.putBack()
	s.act(record.Action{Kind: bench.KindWarmUp, Number: 5})
	assert.Zero(t, s.State().OilML[0])
	s.do(bench.KindFuel, "disabled")
	s.do(bench.KindIgnition, "disabled")
	for c := 1; c <= 4; c++ {
		s.on(bench.KindPlugOut, c, "ordered")
	}
	s.do(bench.KindThrottle, "open")
	r := s.crank(1, 6)
	assert.InEpsilon(t, dry, last(r).True, 0.02, "a dry test again")
	assert.Zero(t, r.OilML)
}

func TestStartingAfterPuttingBack(t *testing.T) {
	for _, c := range []struct {
		name  string
		fault func(*sim.Params)
		do    func(shop)
		facts []string
		how   string
	}{
		{"all well", nil, shop.putBack, []string{"engine_runs"}, "runs"},
		{"fuel forgotten", nil, func(s shop) { s.putBack(); s.do(bench.KindFuel, "disabled") }, []string{"engine_refuses"}, "refuses"},
		{"ignition forgotten", nil, func(s shop) { s.putBack(); s.do(bench.KindIgnition, "disabled") }, []string{"engine_refuses"}, "refuses"},
		{"plugs forgotten", nil, func(s shop) {}, []string{"engine_refuses"}, "refuses"},
		{"a wet test", nil, func(s shop) {
			s.act(record.Action{Kind: bench.KindOil, Cylinder: 2, Number: 10})
			s.putBack()
		}, []string{"engine_smokes", "engine_runs"}, "runs"},
		{"a burnt valve", func(p *sim.Params) { p.Cylinder[2].ExhaustSeatArea = 6e-6 }, shop.putBack, []string{"engine_rough"}, "rough"},
		{"a battery at its end", func(p *sim.Params) { p.Battery.Charge, p.Battery.AgeFactor = 0.1, 15 }, shop.putBack, []string{"engine_cranks_slow"}, "slow"},
	} {
		t.Run(c.name, func(t *testing.T) {
			set := tray()
			if c.fault != nil {
				c.fault(&set.Engine)
			}
			s := prepared(t, set)
			c.do(s)
			s.do(bench.KindEngineStart, "")
			assert.Equal(t, c.how, s.State().Started)
			for _, f := range c.facts {
				assert.NotZero(t, s.count(bench.EventFact, f), f)
				assert.Contains(t, bench.Facts(), f)
			}
			assert.Empty(t, s.Record().Runs, "starting is not testing")
			assert.True(t, s.AtRest())
		})
	}
}

func TestPlugsShowWhatHappenedToThem(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[3].RingArea *= 8
	s := prepared(t, set)
	s.act(record.Action{Kind: bench.KindOil, Cylinder: 2, Number: 5})
	for c := 1; c <= 4; c++ {
		s.on(bench.KindPlugLook, c, "")
	}
	assert.Equal(t, 2, s.count(bench.EventFact, "plug_normal"))
	assert.Equal(t, 1, s.count(bench.EventFact, "plug_oiled"))
	assert.Equal(t, 1, s.count(bench.EventFact, "plug_oily"))

	wet := open(t, tray())
	wet.on(bench.KindPlugOut, 1, "ordered")
	wet.do(bench.KindStarter, "on")
	wet.Advance(1200)
	wet.do(bench.KindStarter, "off")
	wet.Settle()
	wet.on(bench.KindPlugLook, 1, "")
	assert.Equal(t, 1, wet.count(bench.EventFact, "plug_wet_fuel"))
}

func TestCodesComeBackWhileSomethingIsUnplugged(t *testing.T) {
	s := prepared(t, tray())
	s.crank(1, 2)
	s.undo()
	assert.True(t, s.State().Codes)
	s.do(bench.KindCodesClear, "")
	assert.True(t, s.State().Codes)
	s.putBack()
	s.do(bench.KindCodesClear, "")
	assert.False(t, s.State().Codes)
}

func TestTheRightPageIsInTheRecord(t *testing.T) {
	s := open(t, tray())
	s.do(bench.KindSpec, "wrong")
	s.do(bench.KindSpec, "right")
	var numbers []float64
	for _, e := range s.Record().Events {
		if e.Kind == bench.EventFact && e.Choice == "spec_page" {
			numbers = append(numbers, e.Number)
		}
	}
	assert.Equal(t, []float64{0, 1}, numbers)
	assert.Equal(t, "right", s.State().Page)
}

func TestABadSetupSaysEverythingThatIsWrong(t *testing.T) {
	s := tray()
	s.Gear, s.IdleWarmC, s.RightPage = "reverse", 500, "none"
	s.Gauges[1].ID = "good"
	s.Adapters = nil
	_, err := bench.New(s)
	require.Error(t, err)
	for _, part := range []string{"Gear", "IdleWarmC", "RightPage", "Gauges[1]", "no adapter"} {
		assert.ErrorContains(t, err, part)
	}
	s = tray()
	s.Engine.Bore = -1
	_, err = bench.New(s)
	assert.ErrorContains(t, err, "Bore")
}
