package coach_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/record"
)

// likely bounds the numbers of a random fault to what an engine that still turns can
// have.
var likely = map[string][2]float64{
	"area_mm2": {0.2, 4}, "gap_mm": {0.05, 0.5}, "lash_mm": {-0.13, 0.6}, "share": {0.02, 1}, "teeth_late": {-1, 2},
	"wheel_teeth": {38, 46}, "deg_late": {-15, 25}, "recess_mm": {4, 10}, "lift_mm": {0.2, 1}, "from_deg": {-170, -150},
	"to_deg": {-80, -60}, "below_rpm": {300, 500}, "depth_mm": {0.05, 0.3}, "width_mm": {2, 10}, "diameter_mm": {1, 8},
	"volume_ml": {1, 6}, "charge": {0.4, 1}, "age_factor": {1, 2.5}, "ambient_c": {0, 15}, "resistance_mohm": {0, 4},
	"drag_nm": {0, 0.2}, "friction_kpa": {0, 60}, "kv40_mm2_s": {50, 120}, "kv100_mm2_s": {8, 14}, "altitude_m": {0, 3000},
	"reach_mm": {12, 19}, "error_psi": {-5, 5}, "error_percent": {-10, 10}, "friction_psi": {0, 4},
}

// fault makes a random fault of any kind of the table.
func fault(t *testing.T, r *rand.Rand, s *scenarios.Scenario) map[string]any {
	t.Helper()
	kinds := scenarios.FaultKinds()
	k := kinds[r.IntN(len(kinds))]
	f := map[string]any{"kind": k.Name}
	switch k.Place {
	case scenarios.PlaceCylinder, scenarios.PlaceCylinders:
		f["cylinder"] = 1 + r.IntN(s.Engine.Cylinders)
	case scenarios.PlaceNeighbours:
		bank := s.Engine.Banks[r.IntN(len(s.Engine.Banks))]
		if len(bank) < 2 {
			return nil
		}
		at := 1 + r.IntN(len(bank)-1)
		f["cylinders"] = []int{bank[at-1], bank[at]}
	case scenarios.PlaceCams:
		f["cam"], f["bank"] = []string{"intake", "exhaust", "both"}[r.IntN(3)], r.IntN(len(s.Engine.Banks)+1)
	case scenarios.PlaceGauge:
		f["gauge"] = s.Tools.Gauges[0].ID
	case scenarios.PlaceAdapter:
		f["adapter"] = s.Tools.Adapters[0].ID
	}
	if k.Which != "" {
		f[k.Which] = k.Choice[r.IntN(len(k.Choice))]
	}
	for _, n := range k.Numbers {
		b, ok := likely[n.Name]
		require.True(t, ok, n.Name)
		low, high := max(n.Lo, b[0]), min(n.Hi, b[1])
		v := low + r.Float64()*(high-low)
		if n.Whole() {
			v = float64(int(v))
		}
		f[n.Name] = v
	}
	return f
}

// changeCard changes some of what the card asks for.
func changeCard(r *rand.Rand, card map[string]any) {
	for range r.IntN(4) {
		switch r.IntN(9) {
		case 0:
			card["switch"] = []string{"remote", "key", "either"}[r.IntN(3)]
		case 1:
			card["strokes_min"], card["strokes_max"] = 3+r.IntN(3), 7+r.IntN(3)
		case 2:
			card["charger"] = r.IntN(2) == 0
		case 3:
			card["fuel_disable"] = true
		case 4:
			card["coolant_min_c"], card["coolant_max_c"] = 10, 60
		case 5:
			card["oil_ml"], card["oil_ml_min"], card["oil_ml_max"] = 0, 0, 0
		case 6:
			card["lash_check"] = r.IntN(2) == 0
		case 7:
			m := card["minutes"].(map[string]any)
			for _, name := range []string{"leakage_setup", "wet", "lash", "timing_marks", "borescope_each", "second_gauge"} {
				m[name] = 1 + r.IntN(60)
			}
		case 8:
			card["plugs_out"] = true
		}
	}
}

// random makes a scenario that nobody has thought of: an engine of the catalogue,
// faults out of the table, a card of its own.
func random(t *testing.T, seed uint64) *scenarios.Scenario {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 4))
	for range 20 {
		list := scenarios.Catalogue()
		data, err := list[r.IntN(len(list))].Encode()
		require.NoError(t, err)
		base, err := scenarios.Decode(data)
		require.NoError(t, err)
		var raw map[string]any
		require.NoError(t, json.Unmarshal(data, &raw))
		faults := []any{}
		for range 1 + r.IntN(2) {
			if f := fault(t, r, base); f != nil {
				faults = append(faults, f)
			}
		}
		raw["faults"], raw["id"] = faults, fmt.Sprintf("random-%d", seed)
		delete(raw, "method")
		changeCard(r, raw["card"].(map[string]any))
		data, err = json.Marshal(raw)
		require.NoError(t, err)
		if s, err := scenarios.Decode(data); err == nil {
			for _, f := range diagnose.Families() { // whether it hits the engine is not asked here
				s.Key.Accept = append(s.Key.Accept, diagnose.Finding{Family: f})
				for c := 1; c <= s.Engine.Cylinders; c++ {
					s.Key.Accept = append(s.Key.Accept, diagnose.Finding{Family: f, Cylinders: []int{c}})
				}
			}
			return s
		}
	}
	t.Fatalf("seed %d: no scenario that can be read", seed)
	return nil
}

// honest concludes what the readings allow: what they point to, or that it is not
// decided yet with the test that would tell.
func (p *apprentice) honest() {
	p.t.Helper()
	s := p.a.Scenario()
	e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, p.a.Record(), p.a.Bench().Tick())
	j := diagnose.Judge(e, s.Card.Limits, s.Card.OilML > 0)
	f := diagnose.Finding{Family: diagnose.FamilyUndecided}
	if len(j.Supported) > 0 {
		f = j.Supported[0]
	}
	p.next1 = "none"
	if len(j.Next) > 0 {
		p.next1 = j.Next[0]
	}
	for _, c := range append([]int{0}, f.Cylinders...) {
		p.do(record.Action{Kind: attempt.KindFinding, Choice: f.Family, Cylinder: c})
	}
}

// The advice knows no engine and no fault: on fifty that it has never met it leads to
// an attempt that passes, prepared and put back as the card says, and without a hazard.
func TestAdviceForEnginesNobodyForesaw(t *testing.T) {
	tested := map[string]int{}
	n := uint64(50)
	if testing.Short() {
		n = 10
	}
	for seed := range n {
		s := random(t, seed)
		a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
		require.NoError(t, err, seed)
		p := &apprentice{t: t, a: a, own: true}
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			p.t = t
			p.follow()
			require.True(t, a.Sheet().HandedIn)
			passes(t, a)
		})
		e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, a.Record(), a.Bench().Tick())
		for _, test := range e.Tests() {
			tested[test]++
		}
		if !ok {
			t.Logf("seed %d: %s %+v", seed, s.Engine.ID, s.Faults)
		}
	}
	for _, test := range []string{"repeat", "leakage"} {
		assert.Positive(t, tested[test], test)
	}
	t.Log(tested)
}

// Whatever test the student names as the next one, the advice leads through it.
func TestAdviceForEveryTest(t *testing.T) {
	for _, x := range []struct{ scenario, test string }{
		{"burnt-exhaust-inline-four", "wet"}, {"burnt-exhaust-inline-four", "leakage"}, {"sound-v6", "leakage"},
		{"burnt-exhaust-inline-four", "current"}, {"sound-v8", "current"}, {"sound-inline-four", "running"},
		{"burnt-exhaust-inline-four", "running"}, {"sound-inline-three", "vacuum"}, {"burnt-exhaust-inline-four", "lash"},
		{"timing-late-inline-four", "timing_marks"}, {"carbon-inline-four", "borescope"}, {"sound-inline-four", "cooling_pressure"},
		{"sound-inline-four", "second_gauge"}, {"gasket-neighbors-v8", "refit"},
		{"sound-inline-four", "power_balance"}, {"tight-lash-mountain", "lash"},
	} {
		t.Run(x.scenario+" "+x.test, func(t *testing.T) {
			s := scenarios.Find(x.scenario)
			a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
			require.NoError(t, err)
			p := &apprentice{t: t, a: a, own: true}
			p.do(record.Action{Kind: attempt.KindNextTest, Choice: x.test})
			p.follow()
			e := diagnose.Gather(s.Card, s.Engine.Cylinders, s.Engine.Banks, a.Record(), a.Bench().Tick())
			assert.True(t, slices.Contains(e.Tests(), x.test), "%v", e.Tests())
			passes(t, a)
		})
	}
}

// A starter that can't turn the engine won't by being asked again: the advice stops
// asking, has it written down and puts everything back.
func TestAdviceForAnEngineThatWillNotTurn(t *testing.T) {
	data, err := scenarios.Find("sound-inline-four").Encode()
	require.NoError(t, err)
	var raw map[string]any
	require.NoError(t, json.Unmarshal(data, &raw))
	raw["faults"] = []any{map[string]any{"kind": "cable_resistance", "resistance_mohm": 120}}
	data, err = json.Marshal(raw)
	require.NoError(t, err)
	s, err := scenarios.Decode(data)
	require.NoError(t, err)
	a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeReasons})
	require.NoError(t, err)
	p := &apprentice{t: t, a: a, own: true}
	p.follow()
	assert.True(t, a.Sheet().HandedIn)
	assert.Less(t, len(a.Record().Runs), 3*s.Engine.Cylinders)
	for _, e := range a.Record().Events {
		assert.NotEqual(t, "hazard", e.Kind, e.Choice)
	}
}
