package coach_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/coach"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// at is a situation in which everything is ready and nothing is measured.
func at(change func(*coach.Situation)) coach.Situation {
	c := diagnose.DefaultCard()
	c.Limits.Standard, c.Limits.Minimum = 1.3e6, 1.0e6
	warm := 90.0
	s := coach.Situation{
		Card: c, Cylinders: 2, Banks: [][]int{{1, 2}}, RightPage: "right", AtBottom: true,
		Tools: scenarios.Tools{
			Gauges:   []scenarios.Gauge{{ID: "g"}},
			Adapters: []scenarios.Adapter{{ID: "short", ThreadMM: 14, ReachMM: 12, ORing: true}, {ID: "fits", ThreadMM: 14, ReachMM: 19, ORing: true}},
		},
		State: bench.State{
			Glasses: true, Gear: "park", Brake: true, Chocks: true, Belts: true, Fluids: true, Page: "right", CoolantC: &warm,
			Fuel: "disabled", Ignition: "disabled", Wells: true, Adapter: "fits", Gauge: "g", Proved: true,
			Switch: "remote", Voltmeter: true, Tachometer: true, Throttle: "open", Torqued: true, OilML: []float64{0, 0},
			Plugs: []bench.PlugPlace{{Cylinder: 1, State: "out"}, {Cylinder: 2, State: "out"}},
		},
	}
	change(&s)
	return s
}

// run is a test of one cylinder by the card.
func run(cylinder int, oil float64) record.Run {
	return reads(cylinder, oil, 1.29e6)
}

// reads is such a run that shows a pressure [Pa].
func reads(cylinder int, oil, shown float64) record.Run {
	r := record.Run{
		Cylinder: cylinder, ThrottleOpen: true, PlugsOut: 2, GaugeAtZero: true, OilML: oil, SpeedRPM: 260, CoolantC: 90,
		FuelDisabled: true, IgnitionDisabled: true,
	}
	for range 6 {
		r.Strokes = append(r.Strokes, record.Stroke{Full: true, Shown: shown})
	}
	return r
}

// written fills the sheet with both cylinders' dry numbers and all conditions.
func written(s *coach.Situation, first, second float64) {
	s.Record.Runs = []record.Run{reads(1, 0, first), reads(2, 0, second)}
	put := func(field string, cyl int, n float64) {
		s.Sheet.Entries = append(s.Sheet.Entries, diagnose.Entry{Field: field, Cylinder: cyl, Number: n})
	}
	for cyl, p := range map[int]float64{1: first, 2: second} {
		put(diagnose.FieldDryFirst, cyl, 0.6*p)
		put(diagnose.FieldDryLast, cyl, p)
		put(diagnose.FieldStrokes, cyl, 6)
	}
	for _, f := range []string{
		diagnose.FieldRPM, diagnose.FieldBatteryV, diagnose.FieldCoolantC, diagnose.FieldThrottle,
		diagnose.FieldSpecStandard, diagnose.FieldSpecMinimum,
	} {
		put(f, 0, 1)
	}
}

// low is one that reads low and was read twice.
func low(s *coach.Situation) {
	written(s, 1.3e6, 0.8e6)
	s.Record.Runs = append(s.Record.Runs, reads(2, 0, 0.8e6))
}

// air is air on the low one, listened at some places.
func air(s *coach.Situation, percent float64, places ...string) {
	low(s)
	s.State.Tester, s.AtTop, s.State.AirKPa = 2, true, 690
	l := record.Leak{Cylinder: 2, Percent: percent, SupplyPa: 690e3}
	for _, p := range places {
		h := record.Heard{Place: p}
		if p == bench.PlaceHole {
			h.Cylinder = 1
		}
		l.Heard = append(l.Heard, h)
	}
	s.Record.Leaks = []record.Leak{l}
}

func TestNext(t *testing.T) {
	for _, x := range []struct {
		name     string
		change   func(*coach.Situation)
		key      string
		cylinder int
		choice   string // of the action offered
	}{
		{"glasses before all", func(s *coach.Situation) { s.State.Glasses, s.State.Gear = false, "drive" }, "glasses", 0, "on"},
		{"in gear", func(s *coach.Situation) { s.State.Gear = "drive" }, "gear", 0, "park"},
		{"neutral will do", func(s *coach.Situation) { s.State.Gear = "neutral" }, "hose_on", 1, ""},
		{"page not looked up", func(s *coach.Situation) { s.State.Page = "" }, "spec", 0, ""},
		{"another engine's page", func(s *coach.Situation) { s.State.Page = "other" }, "spec_other_page", 0, ""},
		{"cold, plugs in", func(s *coach.Situation) {
			cold := 20.0
			s.State.CoolantC = &cold
			s.State.Plugs[0].State, s.State.Plugs[1].State = "in", "in"
		}, "warm_up", 0, ""},
		{"cold, but open: too late to warm it", func(s *coach.Situation) { cold := 20.0; s.State.CoolantC = &cold }, "hose_on", 1, ""},
		{"fuel live", func(s *coach.Situation) { s.State.Fuel = "enabled" }, "fuel", 0, "disabled"},
		{"this engine's fuel stays on", func(s *coach.Situation) { s.State.Fuel = "enabled"; s.Card.FuelDisable = false }, "hose_on", 1, ""},
		{"one plug still in", func(s *coach.Situation) { s.State.Plugs[1].State = "in" }, "plug_out", 2, "ordered"},
		{"adapter too short", func(s *coach.Situation) { s.State.Adapter = "short" }, "adapter", 0, "fits"},
		{"key, but the card says remote", func(s *coach.Situation) { s.State.Switch = "key" }, "switch", 0, "remote"},
		{"throttle shut", func(s *coach.Situation) { s.State.Throttle = "shut" }, "throttle", 0, "open"},
		{"starter turning", func(s *coach.Situation) { s.State.Starter = true }, "count_then_stop", 0, "off"},
		{"first cylinder", func(s *coach.Situation) {}, "hose_on", 1, ""},
		{"hose on it, crank anywhere", func(s *coach.Situation) { s.State.HoseOn, s.AtBottom = 1, false }, "turn", 1, "bdc"},
		{"wrench left on", func(s *coach.Situation) { s.State.HoseOn, s.State.Wrench = 1, true }, "wrench", 0, "off"},
		{"at the bottom", func(s *coach.Situation) { s.State.HoseOn = 1 }, "crank", 1, "on"},
		{"needle not at zero", func(s *coach.Situation) { s.State.HoseOn, s.NeedleUp = 1, true }, "release", 0, ""},
		{"cranked, not written", func(s *coach.Situation) { s.Record.Runs = []record.Run{run(1, 0)} }, "write", 1, ""},
		{"too few strokes don't count", func(s *coach.Situation) {
			r := run(1, 0)
			r.Strokes = r.Strokes[:2]
			s.Record.Runs, s.State.HoseOn = []record.Run{r}, 1
		}, "crank", 1, "on"},
		{"shut throttle doesn't count", func(s *coach.Situation) {
			r := run(1, 0)
			r.ThrottleOpen = false
			s.Record.Runs, s.State.HoseOn = []record.Run{r}, 1
		}, "crank", 1, "on"},
		{"even and within: conclude", func(s *coach.Situation) { written(s, 1.3e6, 1.28e6) }, "conclude", 0, ""},
		{"one low: repeat it", func(s *coach.Situation) { written(s, 1.3e6, 0.8e6) }, "repeat", 2, ""},
		{"all high: repeat the lowest", func(s *coach.Situation) { written(s, 1.48e6, 1.5e6) }, "repeat", 1, ""},
		{"one low, repeated: air, it costs no more than oil", func(s *coach.Situation) { low(s) }, "tester_on", 2, ""},
		{"the air line is far away: oil", func(s *coach.Situation) { low(s); s.Card.Minutes.LeakageSetup = 45 }, "oil", 2, ""},
		{"no wet test either: the air line after all", func(s *coach.Situation) {
			low(s)
			s.Card.Minutes.LeakageSetup, s.Card.OilML = 45, 0
		}, "tester_on", 2, ""},
		{"oil in, not cranked yet", func(s *coach.Situation) {
			low(s)
			s.Card.Minutes.LeakageSetup, s.State.OilML = 45, []float64{0, 10}
		}, "hose_on", 2, ""},
		{"the student's own choice", func(s *coach.Situation) { low(s); s.Sheet.NextTest = "borescope" }, "borescope", 2, ""},
		{"and even where all is well", func(s *coach.Situation) { written(s, 1.3e6, 1.28e6); s.Sheet.NextTest = "vacuum" }, "plug_in", 1, "hand"},
		{"a test the bench can't make", func(s *coach.Situation) { written(s, 1.3e6, 1.28e6); s.Sheet.NextTest = "back_pressure" }, "conclude", 0, ""},
		{"tester on, piston anywhere", func(s *coach.Situation) { low(s); s.State.Tester = 2 }, "turn_top", 2, "tdc"},
		{"the walls have drained while it was fitted", func(s *coach.Situation) {
			low(s)
			s.State.Tester = 2
			s.Record.Events = []record.Event{{Kind: bench.EventCrankStop}, {Kind: bench.KindTesterOn, Cylinder: 2}}
		}, "crank_walls", 0, "on"},
		{"wrench on before air", func(s *coach.Situation) {
			low(s)
			s.State.Tester, s.AtTop, s.State.Wrench = 2, true, true
		}, "wrench", 0, "off"},
		{"at the top: air", func(s *coach.Situation) { low(s); s.State.Tester, s.AtTop = 2, true }, "air_on", 2, "on"},
		{"under air: listen", func(s *coach.Situation) { air(s, 60) }, "listen_throttle", 0, "throttle"},
		{"further round", func(s *coach.Situation) { air(s, 60, "throttle", "tailpipe") }, "listen_oil_filler", 0, "oil_filler"},
		{"at the neighbour's hole", func(s *coach.Situation) { air(s, 60, "throttle", "tailpipe", "oil_filler", "gasket_edge") }, "listen_plug_hole", 1, "plug_hole"},
		{"the cap of a warm engine stays on", func(s *coach.Situation) {
			air(s, 60, "throttle", "tailpipe", "oil_filler", "gasket_edge", "plug_hole")
		}, "neck_cool", 0, ""},
		{"cool enough", func(s *coach.Situation) {
			air(s, 60, "throttle", "tailpipe", "oil_filler", "gasket_edge", "plug_hole")
			cool := 40.0
			s.State.CoolantC = &cool
		}, "listen_coolant_neck", 0, "coolant_neck"},
		{"heard, not written", func(s *coach.Situation) {
			air(s, 8, "throttle", "tailpipe", "oil_filler", "gasket_edge", "plug_hole")
		}, "write", 2, ""},
		{"the engine runs: bleed", func(s *coach.Situation) { low(s); s.State.Running, s.State.HoseOn = true, 2 }, "bleed", 2, ""},
		{"decided: how sure", func(s *coach.Situation) { s.Sheet.Findings = []diagnose.Finding{{Family: "sound"}} }, "sure", 0, ""},
		{"handed in: silence", func(s *coach.Situation) { s.Sheet.HandedIn = true }, "", 0, ""},
	} {
		t.Run(x.name, func(t *testing.T) {
			got := coach.Next(at(x.change))
			assert.Equal(t, x.key, got.Key)
			assert.Equal(t, x.cylinder, got.Cylinder)
			if x.choice != "" {
				require.NotNil(t, got.Action)
				assert.Equal(t, x.choice, got.Action.Choice)
			}
			if got.Key != "" {
				assert.Contains(t, coach.Keys(), got.Key)
			}
		})
	}
}

// Putting back goes from the hose to the codes, and then it is time to hand in.
func TestPuttingBack(t *testing.T) {
	s := at(func(s *coach.Situation) {
		s.Sheet = diagnose.Sheet{Findings: []diagnose.Finding{{Family: "sound"}}, Sure: "likely", Evidence: []string{"dry"}, NextTest: "none"}
		s.State.HoseOn, s.State.Codes, s.State.Leads, s.State.Torqued = 1, true, false, false
	})
	var keys []string
	for _, undo := range []func(){
		func() {}, func() { s.State.HoseOn = 0 }, func() { s.State.Throttle = "shut" },
		func() { s.State.Plugs[0].State = "in" }, func() { s.State.Plugs[1].State = "in" }, func() { s.State.Torqued = true },
		func() { s.State.Leads = true }, func() { s.State.Ignition = "enabled" }, func() { s.State.Fuel = "enabled" },
		func() { s.State.Started = "runs" }, func() { s.State.Codes = false },
	} {
		undo()
		keys = append(keys, coach.Next(s).Key)
	}
	assert.Equal(t, []string{
		"hose_off", "throttle_shut", "plug_in", "plug_in", "plug_torque", "plug_leads", "ignition_on", "fuel_on",
		"engine_start", "codes_clear", "hand_in",
	}, keys)
}

// After a hazard the coach says what keeps people safe, before anything else, and
// then goes on with the work.
func TestAfterAHazard(t *testing.T) {
	for _, x := range []struct {
		name   string
		start  func(*coach.Situation)
		follow []func(*coach.Situation)
		keys   []string
	}{
		{"the car moved", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "gear_engaged"}}
			s.State.Glasses, s.State.Gear, s.State.Brake, s.State.Chocks, s.State.Starter = false, "drive", false, false, true
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.Starter = false },
			func(s *coach.Situation) { s.State.Gear = "park" },
			func(s *coach.Situation) { s.State.Brake = true },
			func(s *coach.Situation) { s.State.Chocks = true },
			func(s *coach.Situation) { s.State.Glasses = true },
		}, []string{"let_go_moved", "gear_moved", "brake", "chocks", "glasses", "hose_on"}},
		{"a flash", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "vapour_ignition"}}
			s.State.Glasses, s.State.Fuel, s.State.Ignition, s.State.Starter = false, "enabled", "enabled", true
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.Starter = false },
			func(s *coach.Situation) { s.State.Ignition = "disabled" },
			func(s *coach.Situation) { s.State.Fuel = "disabled" },
			func(s *coach.Situation) { s.Dangers[0].Aired = true },
		}, []string{"let_go_flash", "ignition", "fuel", "air_out", "glasses"}},
		{"locked under the gauge", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "hydrolock", Cylinder: 2}}
			s.State.HoseOn, s.State.Starter, s.NeedleUp = 2, true, true
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.Starter = false },
			func(s *coach.Situation) { s.NeedleUp = false },
			func(s *coach.Situation) { s.State.HoseOn, s.Dangers[0].Opened = 0, true },
		}, []string{"let_go_locked", "release", "hose_off_locked", "hose_on"}},
		{"a sleeve in the belt", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "belt_caught"}}
			s.State.Running, s.State.Belts = true, false
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.Running = false },
			func(s *coach.Situation) { s.State.Belts = true },
		}, []string{"engine_off_caught", "belts", "hose_on"}},
		{"air turned the crank", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "air_turned_crank", Cylinder: 2}}
			s.State.Tester, s.State.AirKPa = 2, 690
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.AirKPa = 0 },
			func(s *coach.Situation) { s.State.Tester = 0 },
		}, []string{"air_off_moved", "tester_off", "hose_on"}},
		{"locked behind a plug", func(s *coach.Situation) {
			s.Dangers = []coach.Danger{{Key: "hydrolock", Cylinder: 2}}
			s.State.Plugs[1].State = "in"
		}, []func(*coach.Situation){
			func(s *coach.Situation) { s.State.Plugs[1].State, s.Dangers[0].Opened = "out", true },
		}, []string{"plug_out_locked", "hose_on"}},
	} {
		s := at(x.start)
		keys := []string{coach.Next(s).Key}
		for _, f := range x.follow {
			f(&s)
			keys = append(keys, coach.Next(s).Key)
		}
		assert.Equal(t, x.keys, keys, x.name)
		for _, k := range keys {
			assert.Contains(t, coach.Keys(), k)
		}
	}
}
