package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// readyToCrank is a prepared engine with a gauge on cylinder 2, its fuel disabled.
func readyToCrank(t *testing.T, change func(*bench.Setup), by string) shop {
	t.Helper()
	set := tray()
	change(&set)
	s := prepared(t, set)
	if s.State().Switch != by {
		s.do(bench.KindSwitch, by)
	}
	return s
}

// Where the key fires the injectors, a few turns of fuel wash every bore although
// the pump is off, and the vapor is there for any spark; a remote switch does
// nothing of the kind.
func TestTheKeyFiresInjectors(t *testing.T) {
	fires := func(s *bench.Setup) { s.Key = bench.KeyFires }
	remote := readyToCrank(t, fires, "remote")
	dry := last(remote.crank(2, 5))
	assert.Zero(t, remote.count(bench.EventCaution, "injectors_fire"))

	key := readyToCrank(t, fires, "key")
	washed := last(key.crank(2, 5))
	assert.Equal(t, 1, key.count(bench.EventCaution, "injectors_fire"))
	assert.Less(t, washed.True, 0.985*dry.True, "washed bores seal worse")
	key.do(bench.KindRelease, "")
	key.do(bench.KindHoseOff, "")
	key.on(bench.KindPlugLook, 3, "")
	assert.Equal(t, 1, key.count(bench.EventFact, "plug_wet_fuel"))

	again := key.crank(2, 8)
	assert.Zero(t, key.count(bench.EventCaution, "injectors_fire")-1, "the rail is empty")
	assert.Greater(t, last(again).True, washed.True, "and turning rebuilds the film")

	plain := readyToCrank(t, func(*bench.Setup) {}, "key")
	assert.InEpsilon(t, dry.True, last(plain.crank(2, 5)).True, 0.001)
}

// Where valves open only with the key on, a remote switch turns an engine that
// draws no air: the charge that stood in the cylinder makes one puff, and then
// there is nothing more to come.
func TestValvesThatNeedTheKey(t *testing.T) {
	valves := func(s *bench.Setup) { s.Key = bench.KeyValves }
	key, remote := readyToCrank(t, valves, "key"), readyToCrank(t, valves, "remote")
	good := last(key.crank(2, 5))
	once := remote.crank(2, 5)
	assert.Less(t, last(once).True, 0.85*good.True)
	assert.InEpsilon(t, once.Strokes[0].True, last(once).True, 0.01, "it doesn't climb")
	remote.do(bench.KindStarter, "on")
	remote.StrokeStep()
	remote.do(bench.KindRelease, "")
	for range 4 {
		remote.StrokeStep()
	}
	remote.do(bench.KindStarter, "off")
	remote.Settle()
	runs := remote.Record().Runs
	assert.Less(t, last(runs[len(runs)-1]).True, 0.1*good.True, "emptied once while it turns, the gauge stays down")
	plain := readyToCrank(t, func(*bench.Setup) {}, "key")
	assert.Equal(t, last(plain.crank(2, 5)).True, good.True)
	remote.do(bench.KindRelease, "")
	remote.do(bench.KindHoseOff, "")
	remote.do(bench.KindSwitch, "key")
	assert.InEpsilon(t, good.True, last(remote.crank(2, 5)).True, 0.04, "the key cures it")
}

func TestServiceModeLeavesNothingForARemoteSwitch(t *testing.T) {
	s := readyToCrank(t, func(s *bench.Setup) { s.Key = bench.KeyService }, "remote")
	assert.Equal(t, "refusal.remote_dead", s.key(record.Action{Kind: bench.KindStarter, Choice: "on"}))
	s.do(bench.KindSwitch, "key")
	s.do(bench.KindStarter, "on")
}

// A drive-by-wire plate forced by hand opens, sets codes and is a caution; the pedal
// opens it without.
func TestDriveByWire(t *testing.T) {
	for _, c := range []struct {
		wire   bool
		choice string
		forced int
	}{{true, "open", 1}, {true, "pedal", 0}, {false, "open", 0}, {false, "pedal", 0}} {
		set := tray()
		set.DriveByWire = c.wire
		s := open(t, set)
		s.do(bench.KindFuel, "disabled")
		s.do(bench.KindIgnition, "disabled")
		s.do(bench.KindThrottle, c.choice)
		assert.Equal(t, c.forced, s.count(bench.EventCaution, "plate_forced"), "%+v", c)
		assert.Equal(t, c.choice, s.State().Throttle)
		assert.Equal(t, c.forced == 1, s.State().Codes)
		s.do(bench.KindThrottle, "shut")
		assert.Equal(t, "shut", s.State().Throttle)
	}
}

// A plug that comes out of a head far too warm takes thread along; the hose then
// leaks at that cylinder and at no other.
func TestWarmThreadsTear(t *testing.T) {
	warm := func(limit float64) shop {
		set := tray()
		set.ThreadsMaxC = limit
		s := prepared(t, set)
		return s
	}
	sound, torn := warm(0), warm(35)
	assert.Zero(t, sound.count(bench.EventCaution, "hot_threads"))
	assert.Positive(t, torn.count(bench.EventCaution, "hot_threads"))
	a, b := last(sound.crank(2, 6)), last(torn.crank(2, 6))
	assert.Less(t, b.True, 0.97*a.True)
	cool := warm(130)
	assert.Equal(t, a.True, last(cool.crank(2, 6)).True)
}

// An engine that doesn't start can't be warmed up, and cranks like any other.
func TestNoStart(t *testing.T) {
	set := tray()
	set.NoStart = true
	s := open(t, set)
	assert.Equal(t, "refusal.no_start", s.key(record.Action{Kind: bench.KindWarmUp, Number: 10}))
	require.NoError(t, s.Do(record.Action{Kind: bench.KindEngineStart}))
	assert.Equal(t, "refuses", s.State().Started)
	assert.Positive(t, s.Tick())
}
