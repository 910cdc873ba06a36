package bench_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// session is a whole short test with a repeat.
func session(t testing.TB) shop {
	s := prepared(t, tray())
	for _, c := range []int{1, 3} {
		s.crank(c, 4)
		s.undo()
	}
	s.putBack()
	s.do(bench.KindEngineStart, "")
	return s
}

func TestReplayReproducesEveryMark(t *testing.T) {
	s := session(t)
	r, err := bench.Replay(tray(), s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), r.Digest())
	assert.Equal(t, s.Marks(), r.Marks())
	assert.Equal(t, s.Record(), r.Record())
	assert.Equal(t, s.State(), r.State())
}

func TestReplayNamesTheTickWhereALogWasTouched(t *testing.T) {
	s := session(t)
	end, marks := s.Tick(), s.Marks()
	find := func(kind string, nth int) int {
		for i, a := range s.Log() {
			if a.Kind == kind {
				if nth--; nth < 0 {
					return i
				}
			}
		}
		t.Fatal(kind)
		return 0
	}
	touch := func(change func([]record.Action) []record.Action) error {
		_, err := bench.Replay(tray(), change(slices.Clone(s.Log())), marks, end, nil)
		return err
	}
	off := find(bench.KindStarter, 1)
	err := touch(func(l []record.Action) []record.Action { l[off].Tick++; return l })
	var d *bench.Diverged
	require.ErrorAs(t, err, &d)
	assert.Equal(t, s.Log()[off].Tick, d.Tick, "the mark of the shifted action")

	hose := find(bench.KindHoseOn, 1)
	err = touch(func(l []record.Action) []record.Action { l[hose].Cylinder = 4; return l })
	require.ErrorAs(t, err, &d)
	assert.Equal(t, s.Log()[hose].Tick, d.Tick)

	err = touch(func(l []record.Action) []record.Action { return slices.Delete(l, hose, hose+1) })
	require.ErrorAs(t, err, &d)

	err = touch(func(l []record.Action) []record.Action { l[off].Tick += 1 << 20; return l })
	require.ErrorAs(t, err, &d)
	assert.Less(t, d.Tick, s.Log()[off].Tick+2*record.TicksPerSecond, "held on to, at the next second's mark")

	err = touch(func(l []record.Action) []record.Action { l[hose].Tick = 3; return l })
	assert.ErrorContains(t, err, "tick 3 lies before tick")

	last := len(s.Log()) - 1
	err = touch(func(l []record.Action) []record.Action { l[last].Tick += 100; return l })
	assert.ErrorContains(t, err, "can't be reached: everything is at rest")

	require.Greater(t, s.Log()[hose-1].Tick, s.Log()[hose-2].Tick+100, "the needle was waited for after the release")
	err = touch(func(l []record.Action) []record.Action { l[hose-1].Tick = l[hose-2].Tick + 60; return l })
	assert.ErrorContains(t, err, "the needle came to rest at tick")

	_, err = bench.Replay(tray(), s.Log(), marks, end+5000, nil)
	assert.ErrorContains(t, err, "can't be reached")
	_, err = bench.Replay(tray(), s.Log()[:5], marks, 0, nil)
	require.ErrorAs(t, err, &d, "marks left over")
	_, err = bench.Replay(tray(), s.Log(), marks[:5], end, nil)
	require.ErrorAs(t, err, &d, "more marks than recorded")

	other := tray()
	other.Engine.Cylinder[2].RingArea *= 1.01
	_, err = bench.Replay(other, s.Log(), marks, end, nil)
	require.ErrorAs(t, err, &d, "another engine")
	other = tray()
	other.Seed++
	_, err = bench.Replay(other, s.Log(), marks, end, nil)
	require.ErrorAs(t, err, &d)
	assert.Zero(t, d.Mark, "another seed")
}

func TestMarksComeOnceASecondAndAtEveryAction(t *testing.T) {
	s := prepared(t, tray())
	n := len(s.Marks())
	assert.Equal(t, len(s.Log()), n)
	s.do(bench.KindStarter, "on")
	s.Advance(3 * record.TicksPerSecond)
	assert.Len(t, s.Marks(), n+1+3)
	for i, m := range s.Marks()[n+1:] {
		assert.EqualValues(t, (i+1)*record.TicksPerSecond, m.Tick)
	}
}

// TestRandomHandsNeverBreakTheBench does things in no order at all, many times:
// no panic, no action half done, always a way back to rest, and the log rebuilds
// the same bits.
func TestRandomHandsNeverBreakTheBench(t *testing.T) {
	n := 1000
	if os.Getenv("SOAK") != "" {
		n = 10_000
	}
	if testing.Short() {
		n = 100
	}
	cranked, gauged := 0, 0
	var confirmed [6]int
	set := tray()
	set.LashCheck = true
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		b, err := bench.New(set)
		require.NoError(t, err)
		if seed%2 == 1 { // from where the tools are in hand
			for _, a := range []record.Action{
				{Kind: bench.KindGauge, Choice: "good"}, {Kind: bench.KindAdapter, Choice: "m14"},
				{Kind: bench.KindPlugOut, Choice: "loose", Cylinder: 1}, {Kind: bench.KindPlugOut, Choice: "loose", Cylinder: 2},
				{Kind: bench.KindHoseOn, Cylinder: 1 + seed/2%2},
			} {
				require.NoError(t, b.Do(a))
			}
		}
		if seed%24 == 6 { // from where a running compression test begins
			for _, a := range []record.Action{
				{Kind: bench.KindGauge, Choice: "good"}, {Kind: bench.KindAdapter, Choice: "m14"},
				{Kind: bench.KindPlugOut, Choice: "loose", Cylinder: 2}, {Kind: bench.KindHoseOn, Cylinder: 2},
				{Kind: bench.KindDisableOne, Cylinder: 2, Choice: "disabled"}, {Kind: bench.KindLeads},
				{Kind: bench.KindEngineRun, Choice: "on"}, {Kind: bench.KindSnap},
			} {
				require.NoError(t, b.Do(a))
			}
			b.Advance(record.TicksPerSecond)
		}
		if seed%24 == 14 { // from where air is on, wherever the piston stands
			for _, a := range []record.Action{
				{Kind: bench.KindPlugOut, Choice: "loose", Cylinder: 1 + r.IntN(4)}, {Kind: bench.KindPlugOut, Choice: "loose", Cylinder: 2},
				{Kind: bench.KindTurn, Choice: "tdc", Cylinder: 1 + r.IntN(4)}, {Kind: bench.KindTesterOn, Cylinder: 2},
				{Kind: bench.KindAir, Choice: "on", Number: float64(1 + r.IntN(1000))},
			} {
				_ = b.Do(a) // the second plug may be out already
			}
		}
		if seed%24 == 10 { // from where current and vacuum are watched
			for _, a := range []record.Action{
				{Kind: bench.KindClamp, Choice: "on"}, {Kind: bench.KindVacuumGauge, Choice: "on"},
				{Kind: bench.KindCoolantWatch, Choice: "on"}, {Kind: bench.KindStarter, Choice: "on"},
			} {
				require.NoError(t, b.Do(a))
			}
			b.Advance(2.5 * record.TicksPerSecond)
		}
		most := b.Tick() + crankingMost
		for range 25 {
			hand(b, r, most)
		}
		undo(t, b, seed)
		again, err := bench.Replay(set, b.Log(), b.Marks(), b.Tick(), nil)
		require.NoError(t, err, "seed %d", seed)
		require.Equal(t, b.Digest(), again.Digest(), "seed %d", seed)
		rec := b.Record()
		for i, n := range []int{len(rec.Leaks), len(rec.Currents), len(rec.Vacuums), len(rec.Pumped)} {
			confirmed[i] += n
		}
		for _, l := range rec.Leaks {
			confirmed[4] += len(l.Heard)
		}
		for _, a := range b.Log() {
			if a.Kind == bench.KindSetLash {
				confirmed[5]++
			}
		}
		for _, run := range rec.Runs {
			cranked++
			gauged += min(1, len(run.Strokes))
		}
	}
	t.Logf("%d runs in %d sequences, %d with strokes on the gauge; leaks, currents, vacuums, pumped, heard, lash set: %v", cranked, n, gauged, confirmed)
	if !testing.Short() {
		for i, c := range confirmed {
			assert.NotZero(t, c, "confirming test %d", i)
		}
	}
	assert.Greater(t, cranked, n/2, "the hands do get something done")
	assert.Greater(t, gauged, n/8)
}

// crankingMost bounds what one sequence turns: 2 s.
const crankingMost = 2 * record.TicksPerSecond

// undo finds the way back from wherever random hands have left the bench: to rest, and
// to an engine with all its plugs in and no tool on it. There is none that hands can't
// find, so that nobody is ever stuck.
func undo(t *testing.T, b *bench.Bench, seed int) {
	t.Helper()
	do := func(needed bool, kind, choice string, cylinder int) {
		if needed {
			require.NoError(t, b.Do(record.Action{Kind: kind, Choice: choice, Cylinder: cylinder}), "seed %d: %s", seed, kind)
		}
	}
	do(b.State().Running, bench.KindEngineRun, "off", 0)
	do(b.State().Starter, bench.KindStarter, "off", 0)
	b.Settle()
	require.True(t, b.AtRest(), "seed %d", seed)
	do(b.State().AirKPa > 0, bench.KindAir, "off", 0)
	b.Settle() // a crank that crept under the air comes to rest without it
	do(b.State().Tester != 0, bench.KindTesterOff, "", 0)
	do(b.State().HoseOn != 0, bench.KindRelease, "", 0)
	do(b.State().HoseOn != 0, bench.KindHoseOff, "", 0)
	for _, p := range b.State().Plugs {
		do(p.State == "out", bench.KindPlugIn, "hand", p.Cylinder)
	}
	do(!b.State().Torqued, bench.KindPlugTorque, "", 0)
	do(!b.State().Leads, bench.KindLeads, "", 0)
	b.Settle()
	require.True(t, b.AtRest(), "seed %d", seed)
	for _, p := range b.State().Plugs {
		require.Equal(t, "in", p.State, "seed %d: plug %d", seed, p.Cylinder)
	}
}

// hand does one random thing: mostly one that makes sense of its kind, now and
// then one that doesn't. Nothing turns after tick most.
func hand(b *bench.Bench, r *rand.Rand, most int64) {
	switch r.IntN(8) {
	case 0:
		if b.Tick() < most {
			b.Advance(min(r.IntN(600), int(most-b.Tick())))
		}
		return
	case 1:
		if b.Tick() < most {
			b.StrokeStep()
		}
		return
	}
	kinds := bench.Kinds()
	if r.IntN(3) > 0 { // the kinds that lead somewhere
		kinds = []string{
			bench.KindStarter, bench.KindStarter, bench.KindStarter, bench.KindPlugOut, bench.KindPlugOut, bench.KindHoseOn,
			bench.KindGauge, bench.KindAdapter, bench.KindOil, bench.KindRelease, bench.KindHoseOff, bench.KindTurn,
			bench.KindThrottle, bench.KindTesterOn, bench.KindTesterOff, bench.KindAir, bench.KindAir, bench.KindListen,
			bench.KindLash, bench.KindSetLash, bench.KindWrench, bench.KindClamp, bench.KindVacuumGauge, bench.KindSnap, bench.KindEngineRun,
		}
	}
	a := record.Action{Kind: kinds[r.IntN(len(kinds))], Number: float64(r.IntN(60) - 2)}
	if r.IntN(8) == 0 {
		a.Cylinder = r.IntN(6)
		a.Choice = []string{"", "on", "open", "good"}[r.IntN(4)]
	} else {
		a.Choice = sensible(a.Kind, r)
		if a.Kind == bench.KindAir && a.Choice == "on" {
			a.Number = float64(1 + r.IntN(1000))
		}
		if a.Kind == bench.KindSetLash {
			a.Number = float64(1+r.IntN(20)) / 20
		}
		if perCylinder[a.Kind] || a.Choice == bench.PlaceHole {
			a.Cylinder = 1 + r.IntN(4)
		}
	}
	before := fmt.Sprint(b.State().Plugs)
	if b.Do(a) != nil && before != fmt.Sprint(b.State().Plugs) {
		panic("a refused action moved a plug")
	}
}

var perCylinder = map[string]bool{
	bench.KindPlugOut: true, bench.KindPlugIn: true, bench.KindPlugLook: true, bench.KindHoseOn: true,
	bench.KindTurn: true, bench.KindOil: true, bench.KindTesterOn: true, bench.KindDisableOne: true,
	bench.KindLash: true, bench.KindBorescope: true, bench.KindSetLash: true,
}

// sensible returns a choice that its kind knows.
func sensible(kind string, r *rand.Rand) string {
	var list []string
	switch kind {
	case bench.KindGlasses, bench.KindBrake, bench.KindChocks, bench.KindCharger, bench.KindVoltmeter,
		bench.KindTachometer, bench.KindStarter, bench.KindAir, bench.KindWrench,
		bench.KindClamp, bench.KindVacuumGauge,
		bench.KindEngineRun, bench.KindCoolantWatch:
		list = []string{"on", "off"}
	case bench.KindGear:
		list = []string{"park", "neutral", "drive"}
	case bench.KindFuel, bench.KindIgnition, bench.KindDisableOne:
		list = []string{"disabled", "enabled"}
	case bench.KindPlugOut:
		list = []string{"ordered", "loose"}
	case bench.KindPlugIn:
		list = []string{"hand", "wrench"}
	case bench.KindAdapter:
		list = []string{"m14", "bare", "short", "long", "m12"}
	case bench.KindGauge:
		list = []string{"good", "leaky", "off"}
	case bench.KindThrottle:
		list = []string{"open", "shut"}
	case bench.KindSwitch:
		list = []string{"remote", "key"}
	case bench.KindTurn:
		list = []string{"bdc", "tdc", "overlap"}
	case bench.KindListen:
		list = bench.Places()
	case bench.KindSetLash:
		list = []string{"intake", "exhaust"}
	case bench.KindSpec:
		list = []string{"right", "wrong"}
	default:
		return ""
	}
	return list[r.IntN(len(list))]
}
