package book_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/simtest"
)

func leakage(t *testing.T, s *scenarios.Scenario) []book.Leak {
	t.Helper()
	r, err := book.Leakage(s, book.LeakageOptions{})
	require.NoError(t, err, s.ID)
	require.Len(t, r.Cylinders, s.Engine.Cylinders)
	return r.Cylinders
}

// airShare returns how much of the air of a cylinder goes one way, in percent.
func airShare(l book.Leak, path string) float64 {
	for _, a := range l.Air {
		if a.Path == path {
			return a.SharePercent
		}
	}
	return 0
}

// Two orifices in a row, by the whole procedure: with rings that don't leak and
// everything at one temperature, the reading follows the ratio of areas: 61.8 of
// 80 at equal ones, 60 at 1.06, 44 at 1.58.
func TestTwoOrificesDerived(t *testing.T) {
	for _, row := range simtest.Derived(t, "two-orifice.csv").Rows {
		s := with(t, "")
		s.Engine.RingMM2, s.Engine.CylinderRingMM2 = 0, nil
		s.Conditions.CoolantC = s.Conditions.AmbientC
		r, err := book.Leakage(s, book.LeakageOptions{})
		require.NoError(t, err)
		assert.InDelta(t, 80, r.Cylinders[0].HeldPSI, 0.1, "tight")
		s.Faults = []scenarios.Fault{{Kind: scenarios.GasketToOutside, Cylinder: 1, AreaMM2: row["leak_over_restrictor"] * r.EffectiveMM2}}
		l := leakage(t, s)[0]
		assert.InDelta(t, row["reading_psi"], l.HeldPSI, 0.3, "area ratio %g", row["leak_over_restrictor"])
		assert.InDelta(t, 100*(1-row["reading_psi"]/80), l.Percent, 0.4)
	}
}

// A sound cylinder loses less than the 25 % that printed limits call excessive,
// a modern one far less, all of it past its rings.
func TestSoundEnginesLeakLittle(t *testing.T) {
	for _, l := range leakage(t, pick(t, "sound-inline-four")) {
		assert.Less(t, l.Percent, 12.0)
	}
	for _, s := range scenarios.Catalogue() {
		if s.Key.Family != "sound" {
			continue
		}
		for _, l := range leakage(t, s) {
			assert.Greater(t, l.Percent, 1.0, "%s %d", s.ID, l.Cylinder)
			assert.Less(t, l.Percent, 25.0, "%s %d", s.ID, l.Cylinder)
			assert.InDelta(t, 100, airShare(l, book.AirCrankcase), 1e-6, "%s %d", s.ID, l.Cylinder)
			assert.False(t, l.TurnedAway)
		}
	}
}

// The air is heard where the fault is, and only that cylinder is excessive, at
// more than the 25 % of most printed limits.
func TestAirIsHeardWhereTheFaultIs(t *testing.T) {
	for _, c := range []struct {
		fault, path string
		cylinders   []int
	}{
		{`"kind": "exhaust_seat_leak", "cylinder": 3, "area_mm2": 1`, book.AirExhaust, []int{3}},
		{`"kind": "carbon_flake", "cylinder": 3, "area_mm2": 1`, book.AirExhaust, []int{3}},
		{`"kind": "exhaust_lash", "cylinder": 3, "lash_mm": -0.12`, book.AirExhaust, []int{3}},
		{`"kind": "intake_seat_leak", "cylinder": 1, "area_mm2": 1`, book.AirIntake, []int{1}},
		{`"kind": "bent_valve", "cylinder": 1, "valve": "intake", "gap_mm": 0.05`, book.AirIntake, []int{1}},
		{`"kind": "worn_rings", "cylinder": 4, "area_mm2": 1.2`, book.AirCrankcase, []int{4}},
		{`"kind": "holed_piston", "cylinder": 4, "diameter_mm": 3`, book.AirCrankcase, []int{4}},
		{`"kind": "gasket_between", "cylinders": [2, 3], "area_mm2": 2`, book.AirNeighbour, []int{2, 3}},
		{`"kind": "gasket_to_coolant", "cylinder": 2, "area_mm2": 1`, book.AirCoolant, []int{2}},
		{`"kind": "cracked_head", "cylinder": 2, "to": "coolant", "area_mm2": 1`, book.AirCoolant, []int{2}},
		{`"kind": "gasket_to_outside", "cylinder": 2, "area_mm2": 1`, book.AirOutside, []int{2}},
	} {
		hit := map[int]bool{}
		for _, cyl := range c.cylinders {
			hit[cyl] = true
		}
		for _, l := range leakage(t, with(t, "{"+c.fault+"}")) {
			if !hit[l.Cylinder] {
				assert.Less(t, l.Percent, 20.0, "%s: cylinder %d", c.fault, l.Cylinder)
				assert.Zero(t, airShare(l, c.path)-airShare(l, book.AirCrankcase)*same(c.path), c.fault)
				continue
			}
			assert.Greater(t, l.Percent, 25.0, c.fault)
			require.NotEmpty(t, l.Air)
			assert.Equal(t, c.path, l.Air[0].Path, "%s: loudest", c.fault)
			assert.Greater(t, airShare(l, c.path), 60.0, c.fault)
			if c.path == book.AirNeighbour {
				assert.Equal(t, 5-l.Cylinder, l.Air[0].Cylinder, "2 puffs at 3 and 3 at 2")
			}
		}
	}
}

// same is 1 for the path that a sound cylinder has too.
func same(path string) float64 {
	if path == book.AirCrankcase {
		return 1
	}
	return 0
}

// Low readings with small leakage are not a leak: late timing, a dead intake
// valve. A bank's tight lash reads low as well, but leaks.
func TestSmallLeakageTellsTimingFromLeaks(t *testing.T) {
	sound := leakage(t, with(t, ""))
	for _, fault := range []string{
		`{"kind": "cam_timing", "cam": "both", "bank": 0, "teeth_late": 1, "wheel_teeth": 40}`,
		`{"kind": "intake_lift", "cylinder": 2, "share": 0}`,
		`{"kind": "weak_battery", "charge": 0.2, "age_factor": 3}`,
	} {
		s := with(t, fault)
		assert.Less(t, low(dry(t, s)), 0.93*195, fault)
		for i, l := range leakage(t, s) {
			assert.InDelta(t, sound[i].Percent, l.Percent, 3, fault)
		}
	}
	for _, l := range leakage(t, with(t, `{"kind": "exhaust_lash", "lash_mm": -0.12}`)) {
		assert.Greater(t, l.Percent, 25.0)
		assert.Equal(t, book.AirExhaust, l.Air[0].Path)
	}
}

// A holed piston stands apart from rings: its size, and oil doesn't help it.
func TestHoledPistonStandsApart(t *testing.T) {
	hole, rings := with(t, `{"kind": "holed_piston", "cylinder": 2, "diameter_mm": 5}`), with(t, `{"kind": "worn_rings", "cylinder": 2, "area_mm2": 1.2}`)
	assert.Greater(t, leakage(t, hole)[1].Percent, 95.0)
	h, r := gains(t, hole), gains(t, rings)
	assert.LessOrEqual(t, h[1], h[0]+5)
	assert.Greater(t, r[1], r[0]+10)
}

// One turn of the crank away, at the top between exhaust and intake, both
// valves pass the air: the classic error.
func TestOverlapIsTheClassicError(t *testing.T) {
	s := with(t, "")
	s.Engine.Valves.Intake.OpensDegBTDC, s.Engine.Valves.Exhaust.ClosesDegATDC = 15, 18
	r, err := book.Leakage(s, book.LeakageOptions{AfterDeg: 360})
	require.NoError(t, err)
	for _, l := range r.Cylinders {
		assert.Greater(t, l.Percent, 95.0)
		assert.Greater(t, airShare(l, book.AirIntake), 20.0)
		assert.Greater(t, airShare(l, book.AirExhaust), 20.0)
	}
}

// Off the top the air turns the crank; within a degree friction holds it.
func TestAirTurnsTheCrank(t *testing.T) {
	for _, c := range []struct {
		after float64
		away  bool
	}{{0, false}, {1, false}, {20, true}, {-20, true}} {
		r, err := book.Leakage(with(t, ""), book.LeakageOptions{AfterDeg: c.after})
		require.NoError(t, err)
		for _, l := range r.Cylinders {
			assert.Equal(t, c.away, l.TurnedAway, "%g°: %g°", c.after, l.TurnedDeg)
			if c.away {
				assert.Greater(t, l.TurnedDeg*c.after, 0.0, "away from the top")
			}
		}
	}
}

// A bigger leak never shows less, whatever the path.
func TestBiggerLeakShowsMore(t *testing.T) {
	for _, kind := range []string{
		scenarios.ExhaustSeatLeak, scenarios.IntakeSeatLeak, scenarios.WornRings, scenarios.BrokenLand, scenarios.GasketToCoolant,
		scenarios.GasketToOutside, scenarios.CarbonFlake,
	} {
		before := 0.0
		for _, area := range []float64{0, 0.1, 0.3, 1, 3, 10, 50} {
			now := leakage(t, with(t, fmt.Sprintf(`{"kind": %q, "cylinder": 2, "area_mm2": %g}`, kind, area)))[1].Percent
			assert.Greater(t, now, before, "%s at %g mm²", kind, area)
			before = now
		}
	}
}

// A person reads whole psi.
func TestLeakageAsRead(t *testing.T) {
	s := scenarios.Find("gasket-inline-four")
	exact, err := book.Leakage(s, book.LeakageOptions{})
	require.NoError(t, err)
	read, err := book.Leakage(s, book.LeakageOptions{AsRead: true})
	require.NoError(t, err)
	for i, l := range read.Cylinders {
		assert.InDelta(t, float64(int(l.HeldPSI+0.5)), l.HeldPSI, 1e-9)
		assert.InDelta(t, exact.Cylinders[i].HeldPSI, l.HeldPSI, 0.5)
	}
}
