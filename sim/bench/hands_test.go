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
	s.turn(1, "bdc")
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
