package collect

import (
	"slices"

	"crankbay/diagnose"
)

// A misstep is one thing that students get wrong and a class can talk about. It is
// taken from the grade and the sheet alone.
type misstep struct {
	key  string
	seen func(failed func(rules ...string) bool, s diagnose.Sheet) bool
}

func rule(names ...string) func(func(...string) bool, diagnose.Sheet) bool {
	return func(failed func(...string) bool, _ diagnose.Sheet) bool { return failed(names...) }
}

// table lists them, the costly ones first. The texts are misstep.<key>.
var table = []misstep{
	{"unsafe", rule("gate_transmission", "gate_fuel_ignition", "gate_belts", "gate_liquid_lock", "gate_air", "gate_other")},
	{"rings_from_gain_alone", func(failed func(...string) bool, s diagnose.Sheet) bool {
		return claims(s, diagnose.FamilyRingOrBore) && failed("wet_control")
	}},
	{"against_readings", rule("conclusion_fits_readings")},
	{"not_confirmed", rule("confirmed_when_called", "evidence_enough")},
	{"throttle_shut", rule("throttle_held")},
	{"plugs_in", rule("plugs_all_out")},
	{"part_stroke", rule("first_stroke_whole")},
	{"strokes_unequal", rule("strokes_equal", "strokes_enough")},
	{"not_released", rule("gauge_released")},
	{"gauge_not_proved", rule("gauge_proved")},
	{"wrong_temperature", rule("temperature_right")},
	{"too_slow", rule("speed_enough")},
	{"method_kept", rule("method_first")},
	{"surprise_believed", rule("surprise_repeated")},
	{"oil_too_soon", rule("dry_before_oil")},
	{"oil_needless", rule("no_needless_oil")},
	{"no_control", func(failed func(...string) bool, s diagnose.Sheet) bool {
		return failed("wet_control") && !claims(s, diagnose.FamilyRingOrBore)
	}},
	{"no_limits", rule("spec_looked_up")},
	{"number_invented", rule("no_number_invented")},
	{"leak_not_at_top", rule("leak_at_top")},
	{"leak_not_listened", rule("leak_listened")},
	{"dear_test", rule("tests_by_cost", "next_test")},
	{"sureness_off", rule("sureness")},
	{"fuel_or_spark_live", rule("fuel_disabled", "ignition_disabled")},
	{"not_put_back", rule("reconnected", "plugs_by_hand", "plugs_torqued")},
	{"false_tick", rule("ticks_true")},
	{"customer_not_told", rule("customer_told")},
}

// Missteps lists the keys of all missteps.
func Missteps() []string {
	keys := make([]string, len(table))
	for i, m := range table {
		keys[i] = m.key
	}
	return keys
}

// Rules lists the rules that missteps are taken from.
func Rules() []string {
	var all []string
	for _, m := range table {
		m.seen(func(names ...string) bool { all = append(all, names...); return false }, diagnose.Sheet{
			Findings: []diagnose.Finding{{Family: diagnose.FamilyRingOrBore}},
		})
		m.seen(func(names ...string) bool { all = append(all, names...); return false }, diagnose.Sheet{})
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func missteps(r diagnose.Result, s diagnose.Sheet) []string {
	failed := func(names ...string) bool {
		for _, row := range r.Rows {
			for _, l := range row.Lines {
				if !l.Passed && slices.Contains(names, l.Rule) {
					return true
				}
			}
		}
		for _, l := range r.Gates {
			if !l.Passed && slices.Contains(names, l.Rule) {
				return true
			}
		}
		return false
	}
	var keys []string
	for _, m := range table {
		if m.seen(failed, s) {
			keys = append(keys, m.key)
		}
	}
	return keys
}

func claims(s diagnose.Sheet, family string) bool {
	for _, f := range s.Findings {
		if f.Family == family {
			return true
		}
	}
	return false
}
