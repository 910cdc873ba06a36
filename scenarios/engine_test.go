package scenarios_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/sim"
)

const single = "sound-single"

// withOptions is a file that carries everything a file may leave out.
func withOptions(t *testing.T) string {
	t.Helper()
	data := file(t, single)
	for _, c := range [][2]string{
		{`"exhaust_l": 0.8,`, `"exhaust_l": 0.8, "exhaust_outlet_mm2": 250, "recess_mm": 1.5, "cylinder_ring_area_mm2": [0.41], "cylinder_deposit_ml": [0.7], "pin_offset_mm": 0.5, "plug_hole_area_mm2": 60,`},
		{`"inertia_kg_m2": 0.03`, `"inertia_kg_m2": 0.03, "saturation_a": 900, "windage_nm_s2": 0.00002, "pull_in_s": 0.06`},
	} {
		require.Contains(t, data, c[0])
		data = strings.Replace(data, c[0], c[1], 1)
	}
	return data
}

func TestOptionsReachTheEngine(t *testing.T) {
	s, err := scenarios.Decode([]byte(withOptions(t)))
	require.NoError(t, err)
	p := s.Params()
	const deg = 3.14159265358979 / 180
	assert.InDelta(t, 0.5e-3, p.PinOffset, 1e-12)
	assert.InDelta(t, 60e-6, p.PlugHoleArea, 1e-12)
	assert.InDelta(t, 0.8e-3, p.ExhaustVolume, 1e-12)
	assert.InDelta(t, 250e-6, p.ExhaustOutlet, 1e-12)
	assert.InDelta(t, 1.5e-3, p.Recess, 1e-12)
	assert.InDelta(t, 0.41e-6, p.Cylinder[0].RingArea, 1e-15)
	assert.InDelta(t, 0.7e-6, p.Cylinder[0].Deposit, 1e-15)
	r := s.Engine.Release
	assert.InDelta(t, r.LiftMM*1e-3, p.Release.Lift, 1e-12)
	assert.InDelta(t, r.FromDeg*deg, p.Release.From, 1e-9)
	assert.InDelta(t, r.ToDeg*deg, p.Release.To, 1e-9)
	assert.InDelta(t, r.BelowRPM*360*deg/60, p.Release.Below, 1e-9)
	assert.InDelta(t, 900, p.Starter.Saturation, 1e-9)
	assert.InDelta(t, 2e-5, p.Starter.Windage, 1e-15)
	assert.InDelta(t, 0.06, p.Starter.PullIn, 1e-12)

	data, err := s.Encode()
	require.NoError(t, err)
	back, err := scenarios.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, s, back)
	assert.True(t, accepts(t, schema(t), string(data)))
	assert.NotEqual(t, scenarios.Find(single).Digest(), s.Digest())
}

// What a file leaves out is as the reference has it, and is not written, so that
// the digest of an older file stays what it was.
func TestOptionsMayBeAbsent(t *testing.T) {
	s := scenarios.Find("sound-inline-four")
	p, ref := s.Params(), sim.Reference()
	assert.Equal(t, ref.PinOffset, p.PinOffset)
	assert.Equal(t, ref.PlugHoleArea, p.PlugHoleArea)
	assert.Equal(t, ref.ExhaustVolume, p.ExhaustVolume)
	assert.Equal(t, ref.ExhaustOutlet, p.ExhaustOutlet)
	assert.Equal(t, ref.Recess, p.Recess)
	assert.Equal(t, ref.Release, p.Release)
	assert.Equal(t, ref.Starter.Saturation, p.Starter.Saturation)
	assert.Equal(t, ref.Starter.Windage, p.Starter.Windage)
	assert.Equal(t, ref.Starter.PullIn, p.Starter.PullIn)
	plain := *s
	plain.Engine.CylinderRingMM2, plain.Engine.CylinderDepositML = nil, nil
	data, err := plain.Encode()
	require.NoError(t, err)
	for _, name := range []string{"pin_offset", "plug_hole", "exhaust_l", "exhaust_outlet", "recess", "release\"", "saturation", "windage", "pull_in", "cylinder_"} {
		assert.NotContains(t, strings.ReplaceAll(string(data), `"release",`, ""), name)
	}
}

func TestOptionsRefusedAlike(t *testing.T) {
	s := schema(t)
	whole := withOptions(t)
	for _, c := range []struct{ old, new, want string }{
		{`"recess_mm": 1.5`, `"recess_mm": -1`, "engine.recess_mm: -1, want a number from 0 to 19"},
		{`"recess_mm": 1.5`, `"Recess_mm": 1.5`, "engine.Recess_mm: unknown field, it is written recess_mm"},
		{`"plug_hole_area_mm2": 60`, `"plug_hole_area_mm2": 0`, "engine.plug_hole_area_mm2: 0, want a number from 11 to 990"},
		{`"exhaust_l": 0.8`, `"exhaust_l": "0.8"`, "engine.exhaust_l: a text, want a number"},
		{`, "below_rpm": 600`, ``, "engine.release.below_rpm: missing"},
		{`"lift_mm": 0.45, "from`, `"lift_mm": 0, "from`, "engine.release.lift_mm: 0, want a number from 0.05 to 4.9"},
		{`"cylinder_deposit_ml": [0.7]`, `"cylinder_deposit_ml": [70]`, "engine.cylinder_deposit_ml[0]: 70, want a number from 0 to 20"},
		{`"release": {`, `"release": { "on": true,`, "engine.release.on: unknown field"},
		{`"saturation_a": 900`, `"saturation_a": 5`, "starter.saturation_a: 5, want a number from 51 to 99000"},
		{`"pull_in_s": 0.06`, `"pull_in_s": 2`, "starter.pull_in_s: 2, want a number from 0 to 0.49"},
	} {
		require.Contains(t, whole, c.old)
		data := strings.Replace(whole, c.old, c.new, 1)
		_, err := scenarios.Decode([]byte(data))
		assert.EqualError(t, err, c.want)
		assert.False(t, accepts(t, s, data), "the schema takes %s", c.new)
	}
	_, err := scenarios.Decode([]byte(strings.Replace(whole, `[0.41]`, `[0.41, 0.3]`, 1)))
	assert.EqualError(t, err, "engine.cylinder_ring_area_mm2: 2 items, want 1 to 1")
	_, err = scenarios.Decode([]byte(strings.Replace(whole, `"to_deg": -70`, `"to_deg": -130`, 1)))
	assert.EqualError(t, err, "engine.release.to_deg: -130, want more than from_deg -125")
}

// The uneven V6 fires 90 and 150 degrees apart, as three pins shared by two
// banks at a right angle make it.
func TestOddFire(t *testing.T) {
	s := scenarios.Find("sound-odd-fire-v6")
	require.NotNil(t, s)
	at := map[int]float64{}
	angles := append(append([]float64{}, s.Engine.FiringAnglesDeg...), 720)
	for i, c := range s.Engine.FiringOrder {
		at[c] = angles[i]
		assert.Contains(t, []float64{90, 150}, angles[i+1]-angles[i])
	}
	for i, c := range s.Engine.Banks[0] {
		apart := at[s.Engine.Banks[1][i]] - at[c] + 720
		assert.InDelta(t, 270, float64(int(apart)%360), 0, "%d shares its pin", c)
	}
}

// ENGINES.md says where the numbers come from, so it has to hold these numbers.
func TestEnginesPageHoldsTheNumbers(t *testing.T) {
	data, err := os.ReadFile("data/ENGINES.md")
	require.NoError(t, err)
	page := string(data)
	for _, s := range scenarios.Catalogue() {
		e, l, m := s.Engine, s.Card.Limits, s.Card.Minutes
		lash := map[bool]string{true: "yes", false: "no"}[s.Card.LashCheck]
		in, ex := e.Valves.Intake, e.Valves.Exhaust
		for _, row := range []string{
			fmt.Sprintf("| %s | %s | %g × %g | ", e.ID, s.SpecPages[right(s)].EngineCode, e.BoreMM, e.StrokeMM),
			fmt.Sprintf("| %.2f | %g | %s", 2*e.RodMM/e.StrokeMM, e.Compression, strings.ReplaceAll(strings.Trim(fmt.Sprint(e.FiringOrder), "[]"), " ", "-")),
			fmt.Sprintf("| %s | %d × %g, %g | %g / %g | %d × %g, %g | %g / %g | %s, %s |", e.ID, in.Count, in.DiameterMM, in.LiftMM,
				in.OpensDegBTDC, in.ClosesDegABDC, ex.Count, ex.DiameterMM, ex.LiftMM, ex.OpensDegBBDC, ex.ClosesDegATDC, e.Cams, e.CamDrive),
			fmt.Sprintf("| %s | %g | %g / %g | %g | %g | %g | %g / %g | %g × %g, %g |", e.ID, e.PlenumL, e.ThrottleMM2, e.IdleMM2, e.RingMM2,
				e.FrictionKPa, e.InertiaKgM2, e.Oil.KV40, e.Oil.KV100, e.Plug.ThreadMM, e.Plug.ReachMM, e.Plug.TorqueNm),
			fmt.Sprintf("| %s | %s | %g | %g | %g, %g | %g | %g | %g | %g | %g | %g | %g | %g | %g | %g |", e.ID, lash, m.Wet, m.Repeat, m.LeakageSetup,
				m.LeakageEach, m.Current, m.RunningEach, m.Vacuum, m.Lash, m.TimingMarks, m.BorescopeEach, m.CoolingPressure, m.SecondGauge, m.Refit, m.PowerBalance),
			fmt.Sprintf("| %s | %g | %g |", e.ID, l.Standard.KPa(), l.Minimum.KPa()),
		} {
			assert.Contains(t, page, row, s.ID)
		}
		if g := s.Card.Lash; s.Card.LashCheck {
			assert.Contains(t, page, fmt.Sprintf("| %s | %.2f | %.2f | %.2f |", e.ID, g.IntakeMM, g.ExhaustMM, g.WithinMM))
		}
	}
}
