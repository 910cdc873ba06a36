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
		Card: c, Cylinders: 2, RightPage: "right", AtBottom: true,
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
	r := record.Run{Cylinder: cylinder, ThrottleOpen: true, PlugsOut: 2, GaugeAtZero: true, OilML: oil}
	for range 6 {
		r.Strokes = append(r.Strokes, record.Stroke{Full: true})
	}
	return r
}

// written fills the sheet with both cylinders' dry numbers and all conditions.
func written(s *coach.Situation, first, second float64) {
	s.Runs = []record.Run{run(1, 0), run(2, 0)}
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
		{"cranked, not written", func(s *coach.Situation) { s.Runs = []record.Run{run(1, 0)} }, "write", 1, ""},
		{"too few strokes don't count", func(s *coach.Situation) {
			r := run(1, 0)
			r.Strokes = r.Strokes[:2]
			s.Runs, s.State.HoseOn = []record.Run{r}, 1
		}, "crank", 1, "on"},
		{"shut throttle doesn't count", func(s *coach.Situation) {
			r := run(1, 0)
			r.ThrottleOpen = false
			s.Runs, s.State.HoseOn = []record.Run{r}, 1
		}, "crank", 1, "on"},
		{"even and within: conclude", func(s *coach.Situation) { written(s, 1.3e6, 1.28e6) }, "conclude", 0, ""},
		{"one low: repeat it", func(s *coach.Situation) { written(s, 1.3e6, 0.8e6) }, "repeat", 2, ""},
		{"one high: repeat it", func(s *coach.Situation) { written(s, 1.3e6, 1.5e6) }, "repeat", 2, ""},
		{"one low, repeated: oil", func(s *coach.Situation) {
			written(s, 1.3e6, 0.8e6)
			s.Runs = append(s.Runs, run(2, 0))
		}, "oil", 2, ""},
		{"this engine has no wet test", func(s *coach.Situation) {
			written(s, 1.3e6, 0.8e6)
			s.Runs, s.Card.OilML = append(s.Runs, run(2, 0)), 0
		}, "conclude", 0, ""},
		{"oil in, not cranked yet", func(s *coach.Situation) {
			written(s, 1.3e6, 0.8e6)
			s.Runs, s.State.OilML = append(s.Runs, run(2, 0)), []float64{0, 10}
		}, "hose_on", 2, ""},
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
