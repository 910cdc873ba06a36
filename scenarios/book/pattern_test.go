package book_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
)

// pick returns a copy of a scenario that may be changed.
func pick(t *testing.T, id string) *scenarios.Scenario {
	t.Helper()
	found := scenarios.Find(id)
	require.NotNil(t, found, id)
	s := *found
	s.Faults = append([]scenarios.Fault{}, found.Faults...)
	return &s
}

// without returns the same engine on the same day with nothing wrong: no faults, a
// test by the card, a battery that is large and full.
func without(s *scenarios.Scenario) *scenarios.Scenario {
	s.Faults, s.Method = nil, nil
	s.Battery.CapacityAh, s.Battery.Charge = max(s.Battery.CapacityAh, 50), 0.97
	return s
}

func run(t *testing.T, s *scenarios.Scenario, kind string) book.Result {
	t.Helper()
	r, err := book.Run(s, book.Options{Kind: kind})
	require.NoError(t, err, s.ID)
	require.Len(t, r.Readings, s.Engine.Cylinders)
	return r
}

func dry(t *testing.T, s *scenarios.Scenario) []book.Reading { return run(t, s, book.Dry).Readings }

// gains returns what oil does to each cylinder, in percent of its dry reading.
func gains(t *testing.T, s *scenarios.Scenario) []float64 {
	r := run(t, s, book.Wet)
	out := make([]float64, len(r.Readings))
	for i := range out {
		out[i] = 100 * (r.Readings[i].FinalPSI/r.Dry[i].FinalPSI - 1)
	}
	return out
}

// share returns first over final in percent.
func share(r book.Reading) float64 { return 100 * r.FirstPSI / r.FinalPSI }

func low(rs []book.Reading) float64 {
	v := math.Inf(1)
	for _, r := range rs {
		v = min(v, r.FinalPSI)
	}
	return v
}

func high(rs []book.Reading) float64 {
	v := 0.0
	for _, r := range rs {
		v = max(v, r.FinalPSI)
	}
	return v
}

// even asserts that all finals lie within 5 % of the highest.
func even(t *testing.T, rs []book.Reading) {
	t.Helper()
	assert.Greater(t, low(rs), 0.95*high(rs))
}

// leakOf returns the test of one cylinder with a leak of constant area past one
// of its valves, sized so that the final equals want.
func leakOf(t *testing.T, kind string, cylinder int, want float64) book.Reading {
	t.Helper()
	s := pick(t, "sound-inline-four")
	lo, hi := 0.0, 20.0
	var r book.Reading
	for range 12 {
		area := (lo + hi) / 2
		s.Faults = []scenarios.Fault{{Kind: kind, Cylinder: cylinder, AreaMM2: area}}
		r = dry(t, s)[cylinder-1]
		if r.FinalPSI > want {
			lo = area
		} else {
			hi = area
		}
	}
	require.InDelta(t, want, r.FinalPSI, 0.5)
	return r
}

func TestSoundEngines(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "sound-v6", "sound-v8"} {
		rs := dry(t, pick(t, id))
		even(t, rs)
		for _, r := range rs {
			assert.InDelta(t, 190, r.FinalPSI, 25, "%s %d", id, r.Cylinder)
			assert.InDelta(t, 70, share(r), 15, "%s %d", id, r.Cylinder)
			assert.InDelta(t, 265, r.RPM, 65, "%s %d", id, r.Cylinder)
			assert.GreaterOrEqual(t, r.BatteryMinV, 9.6, "%s %d", id, r.Cylinder)
		}
	}
}

// One low that does not build up and does not gain from oil.
func TestLeakingValves(t *testing.T) {
	for _, c := range []struct {
		id       string
		cylinder int
		as       string // the other valve, with a constant area
	}{
		{"burnt-exhaust-inline-four", 3, scenarios.IntakeSeatLeak},
		{"leaking-intake-inline-four", 2, scenarios.ExhaustSeatLeak},
	} {
		s := pick(t, c.id)
		rs, gain := dry(t, s), gains(t, s)
		bad, healthy := rs[c.cylinder-1], c.cylinder%4
		assert.Less(t, bad.FinalPSI, 0.75*high(rs), c.id)
		assert.InDelta(t, share(leakOf(t, c.as, c.cylinder, bad.FinalPSI)), share(bad), 3, c.id)
		assert.LessOrEqual(t, gain[c.cylinder-1], gain[healthy]+3, c.id)
	}
	s := pick(t, "burnt-exhaust-v6")
	rs, gain := dry(t, s), gains(t, s)
	assert.Less(t, rs[4].FinalPSI, 0.75*high(rs))
	assert.LessOrEqual(t, gain[4], gain[2]+3)
}

// One low that starts lower than a valve leak of the same final, builds up, and
// gains from oil.
func TestWornRings(t *testing.T) {
	s := pick(t, "worn-rings-inline-four")
	rs, gain := dry(t, s), gains(t, s)
	assert.Less(t, rs[1].FinalPSI, 0.80*high(rs))
	assert.LessOrEqual(t, share(rs[1]), share(leakOf(t, scenarios.ExhaustSeatLeak, 2, rs[1].FinalPSI))-5)
	assert.GreaterOrEqual(t, gain[1], gain[2]+10)
}

func TestAllRingsWorn(t *testing.T) {
	s := pick(t, "all-rings-worn-inline-four")
	rs, sound := dry(t, s), dry(t, pick(t, "sound-inline-four"))
	even(t, rs)
	assert.Less(t, high(rs), 0.85*low(sound))
	assert.LessOrEqual(t, share(rs[0]), share(sound[0])-5)
	gain, control := gains(t, s), gains(t, pick(t, "sound-inline-four"))
	for i := range gain {
		assert.GreaterOrEqual(t, gain[i], control[i]+10)
	}
}

func TestGasketBetweenNeighbours(t *testing.T) {
	for _, c := range []struct {
		id   string
		a, b int
	}{{"gasket-inline-four", 2, 3}, {"gasket-neighbors-v8", 5, 7}} {
		rs := dry(t, pick(t, c.id))
		a, b := rs[c.a-1].FinalPSI, rs[c.b-1].FinalPSI
		assert.Less(t, a, 0.75*high(rs), c.id)
		assert.Less(t, b, 0.75*high(rs), c.id)
		assert.InDelta(t, 1, a/b, 0.05, c.id)
		for _, r := range rs {
			if r.Cylinder != c.a && r.Cylinder != c.b {
				assert.Greater(t, r.FinalPSI, 0.95*high(rs), c.id)
			}
		}
	}
}

func TestCamTiming(t *testing.T) {
	sound := dry(t, pick(t, "sound-inline-four"))
	late, early := dry(t, pick(t, "timing-late-inline-four")), dry(t, pick(t, "timing-early-inline-four"))
	even(t, late)
	even(t, early)
	for i := range sound {
		assert.InDelta(t, -17.5, 100*(late[i].FinalPSI/sound[i].FinalPSI-1), 7.5)
		assert.InDelta(t, 13, 100*(early[i].FinalPSI/sound[i].FinalPSI-1), 6)
	}
	v6, bank := dry(t, pick(t, "sound-v6")), dry(t, pick(t, "bank-two-late-v6"))
	for i := range v6 {
		change := 100 * (bank[i].FinalPSI/v6[i].FinalPSI - 1)
		if i%2 == 0 {
			assert.InDelta(t, 0, change, 1, "bank 1")
		} else {
			assert.InDelta(t, -17.5, change, 7.5, "bank 2")
		}
	}
}

func TestWeakBattery(t *testing.T) {
	sound, weak := dry(t, pick(t, "sound-inline-four")), dry(t, pick(t, "weak-battery-inline-four"))
	for i, r := range weak {
		assert.LessOrEqual(t, r.RPM, 190.0)
		assert.InDelta(t, 8, r.BatteryMinV, 1)
		assert.InDelta(t, -12.5, 100*(r.FinalPSI/sound[i].FinalPSI-1), 7.5)
	}
}

func TestThrottleShut(t *testing.T) {
	for _, id := range []string{
		"throttle-closed-inline-four", "throttle-closed-plugs-in-inline-four", "throttle-shut-over-burnt-inline-four",
	} {
		s := pick(t, id)
		shut := run(t, s, book.Dry)
		assert.Equal(t, "shut", shut.Throttle)
		open, err := book.Run(s, book.Options{ByCard: true})
		require.NoError(t, err)
		assert.Equal(t, "open", open.Throttle)
		for i, r := range shut.Readings {
			assert.Less(t, r.FinalPSI, open.Readings[i].FinalPSI, "%s %d", id, r.Cylinder)
			if s.Method.Plugs == "in" {
				assert.Less(t, r.FinalPSI, 0.75*open.Readings[i].FinalPSI)
				assert.GreaterOrEqual(t, share(r), 80.0)
			}
		}
	}
	rs := dry(t, pick(t, "throttle-shut-over-burnt-inline-four"))
	assert.Less(t, rs[3].FinalPSI, 0.75*high(rs), "what is wrong still shows")
}

func TestCarbon(t *testing.T) {
	rs := dry(t, pick(t, "carbon-inline-four"))
	assert.Greater(t, rs[0].FinalPSI, 1.08*rs[1].FinalPSI)
	even(t, rs[1:])
}

// A fault moved to another cylinder takes its pattern along.
func TestMovedFaultMovesThePattern(t *testing.T) {
	for _, id := range []string{"burnt-exhaust-inline-four", "worn-rings-inline-four"} {
		s := pick(t, id)
		from := s.Faults[0].Cylinder
		there := dry(t, s)[from-1]
		for to := 1; to <= 4; to++ {
			s.Faults[0].Cylinder = to
			rs := dry(t, s)
			assert.Equal(t, rs[to-1].FinalPSI, low(rs), "%s on %d", id, to)
			assert.InDelta(t, there.FinalPSI, rs[to-1].FinalPSI, 0.03*there.FinalPSI, "%s on %d", id, to)
			// The first cylinder tested has stood longer, its film has drained further.
			assert.InDelta(t, share(there), share(rs[to-1]), 3, "%s on %d", id, to)
		}
	}
	s := pick(t, "gasket-inline-four")
	for _, pair := range [][]int{{1, 2}, {2, 3}, {3, 4}} {
		s.Faults[0].Cylinders = pair
		for _, r := range dry(t, s) {
			hit := r.Cylinder == pair[0] || r.Cylinder == pair[1]
			assert.Equal(t, hit, r.FinalPSI < 0.75*196, "%v, cylinder %d reads %.0f", pair, r.Cylinder, r.FinalPSI)
		}
	}
}

// Half the area does about half the damage.
func TestHalfTheAreaHalfTheDamage(t *testing.T) {
	sound := dry(t, pick(t, "sound-inline-four"))
	for _, id := range []string{
		"burnt-exhaust-inline-four", "leaking-intake-inline-four", "worn-rings-inline-four", "gasket-inline-four",
	} {
		s := pick(t, id)
		at := s.Faults[0].Cylinder
		if at == 0 {
			at = s.Faults[0].Cylinders[0]
		}
		whole := sound[at-1].FinalPSI - dry(t, s)[at-1].FinalPSI
		s.Faults[0].AreaMM2 /= 2
		half := sound[at-1].FinalPSI - dry(t, s)[at-1].FinalPSI
		assert.InDelta(t, 0.55, half/whole, 0.12, id)
	}
}
