package scenarios_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/simtest"
	"crankbay/sim/unit"
)

// faultJSON writes a fault of a kind on an inline-four with one gauge and one
// adapter, every number at a share of its range.
func faultJSON(k scenarios.FaultKind, share float64) string {
	fields := []string{fmt.Sprintf(`"kind": %q`, k.Name)}
	switch k.Place {
	case scenarios.PlaceCylinder, scenarios.PlaceCylinders:
		fields = append(fields, `"cylinder": 2`)
	case scenarios.PlaceNeighbours:
		fields = append(fields, `"cylinders": [2, 3]`)
	case scenarios.PlaceCams:
		fields = append(fields, `"cam": "intake", "bank": 1`)
	case scenarios.PlaceGauge:
		fields = append(fields, `"gauge": "gauge-a"`)
	case scenarios.PlaceAdapter:
		fields = append(fields, `"adapter": "m14-19-ring"`)
	}
	if k.Which != "" {
		fields = append(fields, fmt.Sprintf(`"%s": "%s"`, k.Which, k.Choice[0]))
	}
	for _, n := range k.Numbers {
		v := n.Lo + share*(n.Hi-n.Lo)
		if n.Whole() {
			v = float64(int(v))
		}
		fields = append(fields, fmt.Sprintf(`"%s": %g`, n.Name, v))
	}
	return "{" + strings.Join(fields, ", ") + "}"
}

func withFault(t *testing.T, fault string) string {
	t.Helper()
	whole := file(t, "sound-inline-four")
	require.Contains(t, whole, `"faults": []`)
	return strings.Replace(whole, `"faults": []`, `"faults": [`+fault+`]`, 1)
}

// Every kind is read, written back and digested with all its numbers, and the
// schema takes what the reader takes.
func TestEveryKindOfFault(t *testing.T) {
	kinds := scenarios.FaultKinds()
	assert.GreaterOrEqual(t, len(kinds), 40)
	s := schema(t)
	digests := map[string]string{}
	for _, k := range kinds {
		require.NotEmpty(t, k.Numbers, "%s has a number", k.Name)
		shares := []float64{0.02, 0.05}
		if k.Place == scenarios.PlaceCams {
			shares = []float64{0.4, 0.6}
		}
		for i, share := range shares {
			data := withFault(t, faultJSON(k, share))
			sc, err := scenarios.Decode([]byte(data))
			require.NoError(t, err, "%s at %g", k.Name, share)
			assert.True(t, accepts(t, s, data), k.Name)
			again, err := json.Marshal(sc.Faults[0])
			require.NoError(t, err)
			assert.JSONEq(t, faultJSON(k, share), string(again))
			if i == 1 {
				assert.Empty(t, digests[sc.Digest()], k.Name)
			}
			digests[sc.Digest()] = k.Name
			_, err = bench.New(sc.Setup())
			assert.NoError(t, err, k.Name)
		}
	}
}

// Each number has the range the table says, in the reader and in the schema.
func TestFaultRanges(t *testing.T) {
	s := schema(t)
	for _, k := range scenarios.FaultKinds() {
		good := faultJSON(k, 0.05)
		for _, n := range k.Numbers {
			at := strings.Index(good, `"`+n.Name+`": `) + len(n.Name) + 4
			end := at + strings.IndexAny(good[at:], ",}")
			for _, wrong := range []float64{n.Lo - 1, n.Hi + 1} {
				data := withFault(t, good[:at]+fmt.Sprint(wrong)+good[end:])
				_, err := scenarios.Decode([]byte(data))
				assert.ErrorContains(t, err, "faults[0]."+n.Name+": ", "%s", k.Name)
				assert.False(t, accepts(t, s, data), "%s.%s takes %g", k.Name, n.Name, wrong)
			}
			for _, edge := range []float64{n.Lo, n.Hi} {
				data := withFault(t, good[:at]+fmt.Sprint(edge)+good[end:])
				assert.True(t, accepts(t, s, data), "%s.%s refuses %g", k.Name, n.Name, edge)
				if _, err := scenarios.Decode([]byte(data)); err != nil {
					assert.Contains(t, err.Error(), "together", "%s.%s", k.Name, n.Name)
				}
			}
		}
		missing := withFault(t, fmt.Sprintf(`{"kind": %q}`, k.Name))
		_, err := scenarios.Decode([]byte(missing))
		assert.ErrorContains(t, err, "faults[0].", k.Name)
		assert.False(t, accepts(t, s, missing), k.Name)
	}
}

func TestFaultsThatDoNotFit(t *testing.T) {
	for _, c := range []struct{ fault, want string }{
		{`{"kind": "zero_error", "gauge": "mine", "error_psi": 1}`, `faults[0].gauge: "mine" is not the id of a gauge on the tray`},
		{`{"kind": "wrong_reach", "adapter": "mine", "reach_mm": 12}`, `faults[0].adapter: "mine" is not the id of an adapter on the tray`},
		{`{"kind": "bent_valve", "cylinder": 1, "valve": "both", "gap_mm": 1}`, `faults[0].valve: "both", want one of intake, exhaust`},
	} {
		_, err := scenarios.Decode([]byte(withFault(t, c.fault)))
		assert.EqualError(t, err, c.want)
	}
	_, err := scenarios.Decode([]byte(withFault(t, `{"kind": "thick_oil", "kv40_mm2_s": 20, "kv100_mm2_s": 20}`)))
	assert.ErrorContains(t, err, "engine and faults together: Crank.OilGradeCold")
	same := `{"kind": "worn_rings", "cylinder": 1, "area_mm2": 60}`
	_, err = scenarios.Decode([]byte(withFault(t, same+","+same)))
	assert.ErrorContains(t, err, "engine and faults together: Cylinder[1].RingArea")
	hose := strings.Replace(withFault(t, `{"kind": "tip_valve_at_gauge_end", "gauge": "gauge-a", "volume_ml": 1}`), `"hose_ml": 4`, `"hose_ml": 40`, 1)
	_, err = scenarios.Decode([]byte(hose))
	assert.ErrorContains(t, err, "faults together")
}

// params returns the engine and the tray of an inline-four with one fault.
func params(t *testing.T, fault string) (sim.Params, bench.Setup) {
	t.Helper()
	s, err := scenarios.Decode([]byte(withFault(t, fault)))
	require.NoError(t, err)
	return s.Params(), s.Setup()
}

// Geometry worked out by hand: a hole of 2 mm, scores of 0.1 by 5 mm, a gap of
// 0.2 mm round a valve of 33 mm.
func TestFaultAreas(t *testing.T) {
	p, _ := params(t, `{"kind": "holed_piston", "cylinder": 2, "diameter_mm": 2}`)
	assert.InEpsilon(t, 0.62*3.14159e-6, p.Cylinder[1].PistonArea, 1e-4)
	assert.Zero(t, p.Cylinder[0].PistonArea)
	p, _ = params(t, `{"kind": "scored_bore", "cylinder": 2, "depth_mm": 0.1, "width_mm": 5}`)
	assert.InEpsilon(t, 0.31e-6, p.Cylinder[1].PistonArea, 1e-9)
	sound, _ := params(t, `{"kind": "zero_error", "gauge": "gauge-a", "error_psi": 0}`)
	p, _ = params(t, `{"kind": "bent_valve", "cylinder": 2, "valve": "intake", "gap_mm": 0.2}`)
	curtain := 0.7 * 3.14159265 * sound.Intake.Diameter * 0.2e-3
	assert.InEpsilon(t, curtain, p.Cylinder[1].IntakeSeatArea-sound.Cylinder[1].IntakeSeatArea, 0.01)
	p, _ = params(t, `{"kind": "stuck_phaser", "cam": "exhaust", "bank": 0, "deg_late": -20}`)
	assert.InEpsilon(t, -20*3.14159265/180, p.Cylinder[3].ExhaustShift, 1e-6)
	assert.Zero(t, p.Cylinder[3].IntakeShift)
}

// Air pressure by height is that of the printed table, within what it allows.
func TestAltitudePublished(t *testing.T) {
	rows := 0
	for _, row := range simtest.Published(t, "standard-atmosphere.csv").Rows {
		m := row["altitude_ft"] * 0.3048
		if m < 0 || m > 5000 {
			continue
		}
		rows++
		p, _ := params(t, fmt.Sprintf(`{"kind": "altitude", "altitude_m": %g}`, m))
		assert.InDelta(t, row["pressure_psi"], unit.Gauge(p.Ambient).PSI(), 0.02, "%g m", m)
	}
	assert.Greater(t, rows, 3)
}

// What is wrong with a tool stays with that tool.
func TestFaultsOfTools(t *testing.T) {
	_, b := params(t, `{"kind": "tip_valve_at_gauge_end", "gauge": "gauge-a", "volume_ml": 1}`)
	_, sound := params(t, `{"kind": "zero_error", "gauge": "gauge-a", "error_psi": 0}`)
	require.Greater(t, len(b.Gauges), 1)
	assert.InEpsilon(t, 1e-6, b.Gauges[0].Plumbing.HoseVolume, 1e-9)
	before := sound.Gauges[0].Plumbing
	assert.InEpsilon(t, before.AdapterVolume+before.HoseVolume, b.Gauges[0].Plumbing.AdapterVolume, 1e-9)
	assert.Equal(t, sound.Gauges[1], b.Gauges[1])

	_, b = params(t, `{"kind": "missing_o_ring", "adapter": "m14-19-ring", "area_mm2": 0.5}`)
	for _, a := range b.Adapters {
		if a.ID == "m14-19-ring" {
			assert.False(t, a.ORing)
			assert.InEpsilon(t, 0.5e-6, a.ThreadLeak, 1e-9)
		} else {
			assert.Zero(t, a.ThreadLeak)
		}
	}
}

// The air that is shown is the air the engine breathes.
func TestAir(t *testing.T) {
	for _, fault := range []string{
		`{"kind": "altitude", "altitude_m": 2500}`, `{"kind": "cold", "ambient_c": -15}`, `{"kind": "carbon", "volume_ml": 1}`,
	} {
		s, err := scenarios.Decode([]byte(withFault(t, fault)))
		require.NoError(t, err)
		kPa, celsius := s.Air()
		p := s.Params()
		assert.InDelta(t, p.Ambient/1000, kPa, 1e-9, fault)
		assert.InDelta(t, unit.Kelvin(p.AmbientTemperature).Celsius(), celsius, 1e-9, fault)
	}
}
