package book_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// asRead is a dry test as a person reads it.
const asRead = "as read"

// with returns the sound inline-four, warm and to be tested as it stands, with
// faults as a file has them.
func with(t *testing.T, faults string) *scenarios.Scenario {
	t.Helper()
	s := pick(t, "sound-inline-four")
	s.Conditions.CoolantC, s.Card.CoolantMinC = 88, 0
	data, err := s.Encode()
	require.NoError(t, err)
	require.Contains(t, string(data), `"faults": []`)
	s, err = scenarios.Decode([]byte(strings.Replace(string(data), `"faults": []`, `"faults": [`+faults+`]`, 1)))
	require.NoError(t, err, faults)
	return s
}

// result does one kind of test.
func result(t *testing.T, s *scenarios.Scenario, kind string) any {
	t.Helper()
	var r any
	var err error
	switch kind {
	case book.LeakageKind:
		r, err = book.Leakage(s, book.LeakageOptions{})
	case book.CurrentKind:
		r, err = book.Current(s, false, nil)
	case book.RunningKind:
		r, err = book.RunningTest(s, false, nil)
	case book.VacuumKind:
		r, err = book.Vacuum(s, false, nil)
	case asRead:
		r, err = book.Run(s, book.Options{Kind: book.Dry, AsRead: true})
	default:
		r, err = book.Run(s, book.Options{Kind: kind})
	}
	require.NoError(t, err, kind)
	return r
}

// value finds a number of a result by its path: readings.2.final_psi.
func value(t *testing.T, r any, path string) float64 {
	t.Helper()
	data, err := json.Marshal(r)
	require.NoError(t, err)
	var at any
	require.NoError(t, json.Unmarshal(data, &at))
	for _, step := range strings.Split(path, ".") {
		switch x := at.(type) {
		case map[string]any:
			at = x[step]
		case []any:
			var n int
			_, err := fmt.Sscan(step, &n)
			require.NoError(t, err)
			at = x[n-1]
		}
	}
	require.IsType(t, 0.0, at, path)
	return at.(float64)
}

// effects lists for each kind of fault one reading of one kind of test that it
// changes, by at least so many percent of the same engine without it.
var effects = []struct {
	fault, kind, path string
	percent           float64
}{
	{`"kind": "exhaust_seat_leak", "cylinder": 2, "area_mm2": 2.5`, book.Dry, "readings.2.final_psi", -30},
	{`"kind": "intake_seat_leak", "cylinder": 2, "area_mm2": 2.5`, book.Dry, "readings.2.final_psi", -30},
	{`"kind": "bent_valve", "cylinder": 2, "valve": "intake", "gap_mm": 0.05`, book.LeakageKind, "cylinders.2.leakage_percent", 500},
	{`"kind": "exhaust_lash", "cylinder": 2, "lash_mm": -0.12`, book.Dry, "readings.2.final_psi", -20},
	{`"kind": "intake_lash", "cylinder": 2, "lash_mm": -0.12`, book.Dry, "readings.2.final_psi", -20},
	{`"kind": "weak_spring", "cylinder": 2, "share": 0.05`, book.RunningKind, "cylinders.2.idle_psi", 50},
	{`"kind": "intake_lift", "cylinder": 2, "share": 0`, book.Dry, "readings.2.final_psi", -15},
	{`"kind": "exhaust_lift", "cylinder": 2, "share": 0`, book.CurrentKind, "humps.2.percent_of_mean", 30},
	{`"kind": "cam_timing", "cam": "both", "bank": 0, "teeth_late": 1, "wheel_teeth": 40`, book.Dry, "readings.1.final_psi", -13},
	{`"kind": "stuck_phaser", "cam": "intake", "bank": 0, "deg_late": 20`, book.Dry, "readings.1.final_psi", -13},
	{`"kind": "interference", "recess_mm": 2`, book.Dry, "readings.1.final_psi", -50},
	{`"kind": "release_cam", "lift_mm": 0.5, "from_deg": -160, "to_deg": -70, "below_rpm": 400`, book.Dry, "readings.1.final_psi", -30},
	{`"kind": "worn_rings", "cylinder": 2, "area_mm2": 1.2`, book.Dry, "readings.2.final_psi", -20},
	{`"kind": "stuck_ring", "cylinder": 2, "area_mm2": 1.2`, book.Dry, "readings.2.final_psi", -20},
	{`"kind": "broken_ring", "cylinder": 2, "area_mm2": 0.6`, book.LeakageKind, "cylinders.2.leakage_percent", 200},
	{`"kind": "broken_land", "cylinder": 2, "area_mm2": 0.6`, book.Dry, "readings.2.final_psi", -10},
	{`"kind": "scored_bore", "cylinder": 2, "depth_mm": 0.1, "width_mm": 10`, book.Dry, "readings.2.final_psi", -10},
	{`"kind": "holed_piston", "cylinder": 2, "diameter_mm": 5`, book.Dry, "readings.2.final_psi", -60},
	{`"kind": "dry_bore", "share": 1`, book.Dry, "readings.1.final_psi", -8},
	{`"kind": "washed_bore", "cylinder": 2, "share": 1`, book.LeakageKind, "cylinders.2.leakage_percent", 200},
	{`"kind": "gasket_between", "cylinders": [2, 3], "area_mm2": 4`, book.Dry, "readings.3.final_psi", -30},
	{`"kind": "gasket_to_coolant", "cylinder": 2, "area_mm2": 1`, book.Dry, "readings.2.final_psi", -15},
	{`"kind": "gasket_to_outside", "cylinder": 2, "area_mm2": 1`, book.Dry, "readings.2.final_psi", -15},
	{`"kind": "cracked_head", "cylinder": 2, "to": "coolant", "area_mm2": 0.3`, book.LeakageKind, "cylinders.2.leakage_percent", 100},
	{`"kind": "carbon", "cylinder": 2, "volume_ml": 6`, book.Dry, "readings.2.final_psi", 8},
	{`"kind": "carbon_flake", "cylinder": 2, "area_mm2": 2`, book.Dry, "readings.2.final_psi", -25},
	{`"kind": "liquid_in_cylinder", "cylinder": 1, "volume_ml": 15`, book.Dry, "readings.1.final_psi", 25},
	{`"kind": "restricted_exhaust", "area_mm2": 5`, book.RunningKind, "cylinders.2.idle_psi", 25},
	{`"kind": "restricted_intake", "area_mm2": 60`, book.RunningKind, "cylinders.2.snap_psi", -25},
	{`"kind": "vacuum_leak", "area_mm2": 20`, book.VacuumKind, "mean_kpa", -50},
	{`"kind": "weak_battery", "charge": 0.2, "age_factor": 3`, book.Dry, "readings.1.rpm", -15},
	{`"kind": "discharged_battery", "charge": 0`, book.Dry, "readings.1.battery_min_v", -5},
	{`"kind": "cold", "ambient_c": -20`, book.Dry, "readings.1.rpm", -20},
	{`"kind": "cable_resistance", "resistance_mohm": 10`, book.Dry, "readings.1.rpm", -8},
	{`"kind": "ground_resistance", "resistance_mohm": 10`, book.Dry, "readings.1.rpm", -8},
	{`"kind": "dragging_starter", "drag_nm": 8`, book.Dry, "readings.1.rpm", -8},
	{`"kind": "tight_engine", "friction_kpa": 300`, book.CurrentKind, "mean_a", 30},
	{`"kind": "thick_oil", "kv40_mm2_s": 220, "kv100_mm2_s": 20`, book.CurrentKind, "mean_a", 4},
	{`"kind": "altitude", "altitude_m": 2000`, book.Dry, "readings.1.final_psi", -15},
	{`"kind": "tip_valve_leak", "gauge": "gauge-a", "area_mm2": 0.001`, book.Dry, "readings.1.final_psi", -8},
	{`"kind": "tip_valve_at_gauge_end", "gauge": "gauge-a", "volume_ml": 1`, book.Dry, "readings.1.final_psi", -4},
	{`"kind": "release_leak", "gauge": "gauge-a", "area_mm2": 0.001`, book.Dry, "readings.1.final_psi", -8},
	{`"kind": "missing_o_ring", "adapter": "m14-19-ring", "area_mm2": 0.5`, book.Dry, "readings.1.final_psi", -8},
	{`"kind": "wrong_reach", "adapter": "m14-19-ring", "reach_mm": 10`, book.Dry, "readings.1.final_psi", -1.5},
	{`"kind": "zero_error", "gauge": "gauge-a", "error_psi": 10`, asRead, "readings.1.final_psi", 4},
	{`"kind": "span_error", "gauge": "gauge-a", "error_percent": -6`, asRead, "readings.1.final_psi", -4},
	{`"kind": "sticky_needle", "gauge": "gauge-a", "friction_psi": 10`, asRead, "readings.1.first_psi", 5},
}

// Each kind of fault changes at least one reading of at least one kind of test.
func TestEachKindOfFaultShows(t *testing.T) {
	const jumped = `{"kind": "cam_timing", "cam": "both", "bank": 0, "teeth_late": -4, "wheel_teeth": 40}`
	sound := map[string]any{}
	seen := map[string]bool{}
	for _, e := range effects {
		fault, before := "{"+e.fault+"}", ""
		if strings.Contains(fault, scenarios.Interference) { // bends nothing until timing jumps
			fault, before = jumped+","+fault, jumped
		}
		key := before + e.kind
		if sound[key] == nil {
			sound[key] = result(t, with(t, before), e.kind)
		}
		s := with(t, fault)
		kind := s.Faults[len(s.Faults)-1].Kind
		seen[kind] = true
		was, is := value(t, sound[key], e.path), value(t, result(t, s, e.kind), e.path)
		change := 100 * (is/was - 1)
		if e.percent < 0 {
			assert.LessOrEqual(t, change, e.percent, "%s, %s %s", kind, e.kind, e.path)
		} else {
			assert.GreaterOrEqual(t, change, e.percent, "%s, %s %s", kind, e.kind, e.path)
		}
	}
	for _, kind := range scenarios.Kinds() {
		assert.True(t, seen[kind], "%s is missing in the table", kind)
	}
}

// Whatever is wrong at once and however badly: every kind of test comes to its
// end, and says so when the engine doesn't turn.
func TestAnyFaultsTogether(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 14))
	done := 0
	for range 24 {
		var faults []string
		for _, i := range r.Perm(len(effects))[:6] {
			one := "{" + effects[i].fault + "}"
			for _, k := range scenarios.FaultKinds() {
				if strings.Contains(one, `"`+k.Name+`"`) && !k.Numbers[0].Whole() {
					at := strings.Index(one, `"`+k.Numbers[0].Name+`"`)
					end := at + strings.IndexAny(one[at:], ",}")
					edge := []float64{k.Numbers[0].Lo, k.Numbers[0].Hi}[r.IntN(2)]
					one = fmt.Sprintf(`%s"%s": %g%s`, one[:at], k.Numbers[0].Name, edge, one[end:])
				}
			}
			faults = append(faults, one)
		}
		s := pick(t, "sound-inline-four")
		data, err := s.Encode()
		require.NoError(t, err)
		s, err = scenarios.Decode([]byte(strings.Replace(string(data), `"faults": []`, `"faults": [`+strings.Join(faults, ",")+`]`, 1)))
		if err != nil {
			assert.Contains(t, err.Error(), "together")
			continue
		}
		done++
		assert.NotPanics(t, func() {
			for _, kind := range []string{book.Wet, book.LeakageKind, book.CurrentKind, book.RunningKind, book.VacuumKind} {
				_, err := json.Marshal(result(t, s, kind)) // refuses what is not a number
				assert.NoError(t, err, "%s: %v", kind, faults)
			}
		}, "%v", faults)
	}
	assert.Greater(t, done, 10)
}
