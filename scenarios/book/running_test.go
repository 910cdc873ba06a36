package book_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

func running(t *testing.T, s *scenarios.Scenario) book.RunningResult {
	t.Helper()
	r, err := book.RunningTest(s, false, nil)
	require.NoError(t, err, s.ID)
	require.Len(t, r.Cylinders, s.Engine.Cylinders)
	return r
}

func vacuum(t *testing.T, s *scenarios.Scenario) book.VacuumResult {
	t.Helper()
	r, err := book.Vacuum(s, false, nil)
	require.NoError(t, err, s.ID)
	return r
}

// Common practice, no source: 30 to 50 % of cranking at idle, 70 to 105 % when
// snapped.
func TestRunningCompressionOfSoundEngines(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "sound-v6", "sound-v8"} {
		all := running(t, scenarios.Find(id)).Cylinders
		snap := 0.0
		for _, c := range all {
			assert.GreaterOrEqual(t, c.IdlePercent, 30.0, "%s %d", id, c.Cylinder)
			assert.LessOrEqual(t, c.IdlePercent, 50.0, "%s %d", id, c.Cylinder)
			snap += c.SnapPercent / float64(len(all)) // where its stroke falls in the snap makes 3 points
		}
		assert.GreaterOrEqual(t, snap, 70.0, id)
		assert.LessOrEqual(t, snap, 105.0, id)
	}
	r := running(t, scenarios.Find("sound-inline-four"))
	assert.InDelta(t, book.IdlePlenumKPa, r.PlenumKPa, 1)
	assert.Greater(t, r.Throttle, 0.0)
}

// These read normal at cranking speed and show when running: an exhaust that
// can't get rid of its gas, a broken spring, a valve that opens too little to
// breathe at speed, an intake that lets too little in.
func TestSeenRunningAndNotCranking(t *testing.T) {
	sound := running(t, with(t, ""))
	cranking := func(r book.RunningResult) {
		t.Helper()
		for i, c := range r.Cylinders {
			assert.InEpsilon(t, sound.Cylinders[i].CrankingPSI, c.CrankingPSI, 0.02)
		}
	}
	blocked := running(t, with(t, `{"kind": "restricted_exhaust", "area_mm2": 5}`))
	cranking(blocked)
	assert.Greater(t, blocked.Cylinders[1].IdlePSI, 1.2*sound.Cylinders[1].IdlePSI)

	spring := running(t, with(t, `{"kind": "weak_spring", "cylinder": 2, "share": 0.05}`))
	cranking(spring)
	assert.Greater(t, spring.PlenumKPa, 1.5*sound.PlenumKPa, "the manifold can't be pumped down")
	assert.Greater(t, spring.Cylinders[1].IdlePSI, 1.5*sound.Cylinders[1].IdlePSI)

	intake := running(t, with(t, `{"kind": "restricted_intake", "area_mm2": 60}`))
	cranking(intake)
	for i, c := range intake.Cylinders {
		assert.Less(t, c.SnapPSI, 0.8*sound.Cylinders[i].SnapPSI)
	}

	lobe := running(t, with(t, `{"kind": "intake_lift", "cylinder": 2, "share": 0.05}`))
	assert.Greater(t, lobe.Cylinders[1].CrankingPSI, 0.95*sound.Cylinders[1].CrankingPSI)
	assert.Less(t, lobe.Cylinders[1].SnapPSI, 0.85*sound.Cylinders[1].SnapPSI)
	assert.InEpsilon(t, sound.Cylinders[2].SnapPSI, lobe.Cylinders[2].SnapPSI, 0.03)
}

// A leak loses less the faster the crank turns: a burnt valve is worse at
// cranking speed than at idle.
func TestLeaksMatterLessAtSpeed(t *testing.T) {
	sound, burnt := running(t, with(t, "")).Cylinders[1], running(t, with(t, `{"kind": "exhaust_seat_leak", "cylinder": 2, "area_mm2": 2.5}`)).Cylinders[1]
	at := func(a, b float64) float64 { return a / b }
	assert.Less(t, at(burnt.CrankingPSI, sound.CrankingPSI), at(burnt.IdlePSI, sound.IdlePSI)-0.1)
	assert.Less(t, burnt.SnapPSI, sound.SnapPSI)
}

// The throttle shut, all plugs in: the manifold is pumped down, unless air gets
// in behind the plate, the crank turns slowly or the pistons don't pump.
func TestCrankingVacuum(t *testing.T) {
	sound := vacuum(t, with(t, ""))
	assert.InDelta(t, 35, sound.MeanKPa, 10)
	assert.InDelta(t, sound.MeanKPa/3.386389, sound.MeanInHg, 1e-6)
	assert.Greater(t, sound.Cycles, 5)
	for fault, less := range map[string]float64{
		`{"kind": "vacuum_leak", "area_mm2": 20}`:                                                    0.3,
		`{"kind": "weak_battery", "charge": 0.2, "age_factor": 3}`:                                   0.9,
		`{"kind": "worn_rings", "area_mm2": 1.2}`:                                                    0.9,
		`{"kind": "release_cam", "lift_mm": 0.5, "from_deg": -160, "to_deg": -70, "below_rpm": 400}`: 0.8,
	} {
		assert.Less(t, vacuum(t, with(t, fault)).MeanKPa, less*sound.MeanKPa, fault)
	}
}

// One cylinder that leaks back or doesn't draw makes the vacuum pulse.
func TestVacuumPulsesWithOneBadCylinder(t *testing.T) {
	sound := vacuum(t, with(t, ""))
	for _, fault := range []string{
		`{"kind": "exhaust_seat_leak", "cylinder": 2, "area_mm2": 2.5}`,
		`{"kind": "intake_lift", "cylinder": 2, "share": 0}`,
		`{"kind": "exhaust_lift", "cylinder": 2, "share": 0}`,
		`{"kind": "bent_valve", "cylinder": 2, "valve": "intake", "gap_mm": 0.1}`,
	} {
		r := vacuum(t, with(t, fault))
		assert.Greater(t, r.RippleKPa, 1.25*sound.RippleKPa, fault)
		assert.Less(t, r.MeanKPa, sound.MeanKPa, fault)
	}
}

// Every kind of test gives the same bits each time.
func TestKindsGiveTheSameBits(t *testing.T) {
	for _, kind := range []string{book.LeakageKind, book.CurrentKind, book.RunningKind, book.VacuumKind} {
		assert.Equal(t, result(t, scenarios.Find("gasket-inline-four"), kind), result(t, scenarios.Find("gasket-inline-four"), kind), kind)
	}
}

// What liquid has locked can't be run and is not cranked on.
func TestLockedEngine(t *testing.T) {
	s := with(t, `{"kind": "liquid_in_cylinder", "cylinder": 2, "volume_ml": 300}`)
	assert.True(t, running(t, s).Hydrolocked)
	assert.True(t, vacuum(t, s).Hydrolocked)
}

// A person reads half graduations of the gauge and half a kilopascal of vacuum.
func TestFurtherKindsAsRead(t *testing.T) {
	s := scenarios.Find("sound-inline-four")
	r, err := book.RunningTest(s, true, nil)
	require.NoError(t, err)
	for _, c := range r.Cylinders {
		for _, psi := range []float64{c.CrankingPSI, c.IdlePSI, c.SnapPSI} {
			assert.InDelta(t, float64(int(psi/2.5+0.5)), psi/2.5, 1e-6)
		}
	}
	v, err := book.Vacuum(s, true, nil)
	require.NoError(t, err)
	assert.InDelta(t, float64(int(2*v.MeanKPa+0.5)), 2*v.MeanKPa, 1e-9)
}

func BenchmarkKinds(b *testing.B) {
	s := scenarios.Find("sound-inline-four")
	b.Run("leakage", func(b *testing.B) {
		for b.Loop() {
			_, _ = book.Leakage(s, book.LeakageOptions{})
		}
	})
	b.Run("current", func(b *testing.B) {
		for b.Loop() {
			_, _ = book.Current(s, false, nil)
		}
	})
	b.Run("running", func(b *testing.B) {
		for b.Loop() {
			_, _ = book.RunningTest(s, false, nil)
		}
	})
	b.Run("vacuum", func(b *testing.B) {
		for b.Loop() {
			_, _ = book.Vacuum(s, false, nil)
		}
	})
}
