package attempt_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt/script"
)

// faultless is an attempt with an air test in it that loses nothing; @ are the places
// where a mistake can come in.
const faultless = `scenario burnt-exhaust-inline-four
mode grade
prepare@without
@prepared
write spec
@tests
@first
write dry 1
six strokes on 2
write dry 2
six strokes on 3
write dry 3
six strokes on 4
write dry 4
write speed
write voltage
write temperature
write throttle
@again
write repeat 3
@air
write leakage 3
conclude valve_leak 3
sure likely
because dry repeat leakage spec
next lash
tick all
@back
hand in
`

// with fills the places of faultless: what stands there unless a mistake says else.
func with(places map[string]string) string {
	out := faultless
	for place, usual := range map[string]string{
		"@without": "", "@prepared": "", "@tests": "", "@first": "six strokes on 1", "@again": "six strokes on 3", "@air": "leakage on 3", "@back": "put back",
	} {
		text, ok := places[place]
		if !ok {
			text = usual
		}
		out = strings.Replace(out, place, text, 1)
	}
	return out
}

// TestEveryMistakeHasItsConsequence does one thing wrong at a time, on the bench, and
// names the rules that then say so. All else stays as it was, so that nobody pays for
// what he did right.
func TestEveryMistakeHasItsConsequence(t *testing.T) {
	for _, x := range []struct {
		name   string
		places map[string]string
		missed []string
		gates  []string
	}{
		{"nothing wrong", nil, nil, nil},
		{"no glasses", map[string]string{"@without": " without glasses"}, []string{"glasses_on"}, nil},
		{"in gear by a remote switch", map[string]string{"@tests": "do gear drive", "@back": "do gear park\nput back"},
			[]string{"vehicle_held"}, []string{"gate_transmission"}},
		{"throttle forgotten", map[string]string{"@without": " without throttle"}, []string{"throttle_held"}, nil},
		{"plugs left in", map[string]string{"@first": "do plug-in hand on 3\ndo plug-in hand on 4\nsix strokes on 1\nplugs out"},
			[]string{"plugs_all_out"}, nil},
		{"unequal strokes", map[string]string{"@again": "eight strokes on 3"}, []string{"strokes_equal"}, nil},
		{"fuel live", map[string]string{"@without": " without fuel"}, []string{"fuel_disabled"}, nil},
		{"ignition live", map[string]string{"@without": " without ignition"}, []string{"ignition_disabled"}, nil},
		{"both live", map[string]string{"@without": " without fuel ignition"},
			[]string{"fuel_disabled", "ignition_disabled"}, []string{"gate_fuel_ignition"}},
		{"cold", map[string]string{"@without": " without warm"}, []string{"temperature_right"}, nil},
		{"no charger", map[string]string{"@without": " without charger"}, []string{"charger_on"}, nil},
		{"reach too short", map[string]string{"@prepared": "do adapter m14-12.7-ring"}, []string{"adapter_fits"}, nil},
		{"no O-ring", map[string]string{"@prepared": "do adapter m14-19-bare"}, []string{"adapter_fits"}, nil},
		{"gauge not released", map[string]string{"@tests": "six strokes on 4 and stay\ndo hose-off", "@again": "six strokes on 3"},
			[]string{"hose_empty"}, nil},
		{"plugs in a heap", map[string]string{"@without": " without order"}, []string{"plugs_in_order"}, nil},
		{"too much oil", map[string]string{"@air": "leakage on 3\n40 ml in 3\nsix strokes on 3\nwrite wet 3\nwrite oil 3"},
			[]string{"oil_amount", "customer_told"}, nil},
		{"so much that it locks", map[string]string{"@air": "leakage on 3\n50 ml in 3\n50 ml in 3\ndo hose-on on 3\ncrank 1 s\nleakage on 3"},
			[]string{"no_cautions"}, []string{"gate_liquid_lock"}},
		{"at overlap", map[string]string{"@air": "leakage on 3 at overlap"}, []string{"leak_at_top"}, nil},
		{"only one ear", map[string]string{"@air": "leakage on 3 by ear oil_filler"}, []string{"leak_listened"}, nil},
		{"tester unscrewed under air", map[string]string{
			"@air": "leakage on 3\ndo tester-on on 3\ndo turn-by-hand tdc on 3\ndo wrench off\ndo air on number 690\ndo tester-off",
		}, []string{"air_in_order"}, nil},
		{"the cap of a hot engine", map[string]string{"@air": "leakage on 3 by ear throttle tailpipe oil_filler coolant_neck"},
			[]string{"hot_parts_left"}, nil},
		{"plugs by the wrench", map[string]string{"@back": "do plug-in wrench on 1\nput back"}, []string{"plugs_by_hand"}, nil},
		{"nothing put back", map[string]string{"@back": ""},
			[]string{"plugs_by_hand", "plugs_torqued", "reconnected", "codes_cleared", "engine_started", "left_apart", "ticks_true"}, nil},
		{"the starter held too long", map[string]string{"@tests": "crank 17 s"}, []string{"starter_spared"}, nil},
		{"an engine run with belts nobody looked at", map[string]string{
			"@without": " without belts",
			"@air":     "leakage on 3\ndo throttle shut\nplugs in but 1\ndo plug-torque\nconnect\nrunning on 1\nwrite running 1",
		}, []string{"belts_clear"}, []string{"gate_belts"}},
		{"gauge not proved", map[string]string{"@without": " without gauge_prove"}, []string{"gauge_proved"}, nil},
		{"wells full of dirt", map[string]string{"@without": " without wells"}, []string{"wells_blown"}, nil},
		{"by the key", map[string]string{"@without": " without switch"}, []string{"switch_as_card"}, nil},
		{"a surprise believed", map[string]string{"@again": "six strokes on 4"}, []string{"surprise_repeated"}, nil},
		{"the clamp on open holes", map[string]string{"@air": "leakage on 3\ncurrent for 5 s"}, []string{"current_compares"}, nil},
		{"hours before minutes", map[string]string{"@air": "do lash-check on 3\nleakage on 3"}, []string{"tests_by_cost"}, nil},
		{"air nobody wrote down", map[string]string{"@air": "leakage on 2\nleakage on 3"}, []string{"tests_written", "heard_written"}, nil},
		{"an ear that made it up", map[string]string{"@air": "leakage on 3\nheard gasket_edge 3"}, []string{"heard_written"}, nil},
	} {
		t.Run(x.name, func(t *testing.T) {
			s, err := script.Compile(with(x.places), scenarios.Find)
			require.NoError(t, err)
			g := s.Grade()
			var gates []string
			for _, l := range g.Gates {
				if !l.Passed {
					gates = append(gates, l.Rule)
					assert.True(t, l.Tick > 0 || l.Minutes > 0, l.Rule)
				}
			}
			assert.ElementsMatch(t, x.gates, gates)
			assert.Equal(t, len(x.gates) == 0 && g.Points >= 70 && len(g.Low) == 0, g.Pass)
			missed := map[string]diagnose.Line{}
			for _, row := range g.Rows {
				for _, l := range row.Lines {
					if !l.Passed {
						missed[l.Rule] = l
					}
				}
			}
			if len(x.missed) == 0 {
				assert.Empty(t, missed)
			}
			for _, rule := range x.missed {
				l, ok := missed[rule]
				if !assert.True(t, ok, "%s was kept; missed: %v", rule, keysOf(missed)) {
					continue
				}
				assert.Less(t, l.Points, l.OutOf, rule)
			}
		})
	}
}

// On a V6, with the piston that fires before it at the top, a piston stands two thirds
// up or a third down: air drives it, and its first stroke is a part of one.
func TestAPistonBetweenItsPlaces(t *testing.T) {
	prepared := "scenario sound-v6\nmode grade\nprepare\nwrite spec\n"
	air, err := script.Compile(prepared+"do tester-on on 1\ndo turn-by-hand tdc on 2\ndo air on number 690\ndo air off", scenarios.Find)
	require.NoError(t, err)
	g := air.Grade()
	assert.False(t, lineOf(t, g, "gate_air").Passed)
	assert.False(t, lineOf(t, g, "leak_at_top").Passed)
	assert.False(t, lineOf(t, g, "wrench_off").Passed)
	part, err := script.Compile(prepared+"do turn-by-hand tdc on 1\ndo wrench off\nsix strokes on 2 as parked\nwrite dry 2", scenarios.Find)
	require.NoError(t, err)
	l := lineOf(t, part.Grade(), "first_stroke_whole")
	assert.False(t, l.Passed)
	assert.Equal(t, 2, l.Cylinder)
	assert.Positive(t, l.Minutes)
}

func lineOf(t *testing.T, r diagnose.Result, rule string) diagnose.Line {
	t.Helper()
	for _, row := range append([]diagnose.Row{{Lines: r.Gates}}, r.Rows...) {
		for _, l := range row.Lines {
			if l.Rule == rule {
				return l
			}
		}
	}
	t.Fatalf("no line %s", rule)
	return diagnose.Line{}
}

func keysOf(m map[string]diagnose.Line) []string {
	var out []string
	for _, row := range diagnose.RuleNames() {
		if _, ok := m[row]; ok {
			out = append(out, row)
		}
	}
	return out
}

// A deduction says when. What never happened has no moment; everything that did has
// its minute.
func TestEveryDeductionOfADeedHasItsMinute(t *testing.T) {
	never := map[string]bool{ // what was left undone, or is about the sheet as a whole
		"plugs_by_hand": true, "plugs_torqued": true, "codes_cleared": true, "engine_started": true, "gauge_proved": true,
		"wells_blown": true, "all_cylinders_dry": true, "dry_last_written": true, "dry_first_written": true, "strokes_written": true,
		"tests_written": true, "spec_written": true, "ticks_true": true, "spec_looked_up": true, "charger_on": true,
		"disabled_before_throttle": true, "reconnected": true, "adapter_fits": true, "switch_as_card": true, "glasses_on": true,
		"vehicle_held": true, "belts_clear": true, "fluids_checked": true, "fuel_disabled": true, "ignition_disabled": true,
		"plugs_in_order": true, "no_cautions": true, "speed_written": true, "battery_written": true, "temperature_written": true,
		"throttle_written": true, "heard_written": true, "surprise_repeated": true, "conclusion_fits_readings": true,
	}
	seen := 0
	for _, name := range some(t) {
		s := compiled(t, name)
		if len(s.Record().Runs) == 0 {
			continue
		}
		for _, row := range s.Grade().Rows {
			for _, l := range row.Lines {
				if !l.Passed && !l.Never && !never[l.Rule] {
					seen++
					assert.True(t, l.Minutes > 0 || l.Tick > 0, "%s: %s", name, l.Rule)
				}
			}
		}
	}
	assert.Greater(t, seen, 5)
}
