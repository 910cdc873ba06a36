package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

func small(t *testing.T) *Bench {
	p := sim.Reference()
	b, err := New(Setup{
		Engine: p, Plug: PlugSpec{14, 19}, Gear: GearPark, IdleWarmC: 90,
		Gauges:   []GaugeTool{{"g", instrument.GaugeSpec{Range: unit.PSI(300), Graduation: unit.PSI(5)}, p.Gauge}},
		Adapters: []AdapterTool{{ID: "a", ThreadMM: 14, ReachMM: 19, ORing: true}},
	})
	require.NoError(t, err)
	return b
}

func TestAnAttemptEndsWithItsTicks(t *testing.T) {
	b := small(t)
	b.rec.Tick = MaxTicks - 500
	require.NoError(t, b.Do(record.Action{Kind: KindStarter, Choice: "on"}))
	b.Advance(100_000)
	assert.EqualValues(t, MaxTicks, b.Tick())
	assert.False(t, b.State().Starter, "the switch is let go")
	assert.Len(t, b.Record().Runs, 1, "the run is closed")
	b.Advance(100)
	assert.EqualValues(t, MaxTicks, b.Tick())
	assert.Equal(t, &Refusal{Key: "refusal.time_up"}, b.Do(record.Action{Kind: KindGlasses, Choice: "on"}))
	assert.NoError(t, b.Note(record.Action{Kind: "hand-in"}, true))
}

func TestARunningEngineEndsWithTheTicks(t *testing.T) {
	b := small(t)
	b.tests.pump.on = true
	b.rec.Tick = MaxTicks - 500
	b.Advance(100_000)
	assert.EqualValues(t, MaxTicks, b.Tick())
	assert.False(t, b.State().Running)
}

func TestTheLastPlaceInTheLogIsKept(t *testing.T) {
	b := small(t)
	for range MaxActions - 1 {
		require.NoError(t, b.Do(record.Action{Kind: KindGlasses, Choice: "on"}))
	}
	full := &Refusal{Key: "refusal.too_many_actions"}
	assert.Equal(t, full, b.Do(record.Action{Kind: KindGlasses, Choice: "on"}))
	assert.Equal(t, full, b.Note(record.Action{Kind: "write"}, false))
	assert.NoError(t, b.Note(record.Action{Kind: "hand-in"}, true))
	assert.Equal(t, full, b.Note(record.Action{Kind: "hand-in"}, true))
}

func TestNoticesStayInsideTheirCaps(t *testing.T) {
	b := small(t)
	inf := math.Inf(1)
	for _, a := range []record.Action{
		{Kind: "write", Number: inf}, {Kind: "write", Number: inf - inf}, {Kind: "write", Number: -2e9},
		{Kind: "write", Cylinder: 5}, {Kind: "write", Cylinder: -1},
		{Kind: "remark", Text: string(make([]rune, 401))}, {Kind: "write", Choice: string(make([]byte, 65))},
	} {
		assert.Error(t, b.Note(a, false), "%+v", a)
	}
	assert.Empty(t, b.Log())
	for _, a := range []record.Action{{Kind: KindWait, Number: inf}, {Kind: KindWait, Number: inf - inf}} {
		assert.Error(t, b.Do(a))
	}
}

func TestEveryKindIsKnownOnceAndCostsWhatItSays(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range acts {
		assert.False(t, seen[k.kind], k.kind)
		seen[k.kind] = true
		assert.False(t, k.turning && k.minutes > 0, "%s: minutes can't pass while the crank turns", k.kind)
	}
	assert.Len(t, seen, 54)
}

// Whatever a later tick or action can depend on is part of the digest.
func TestTheDigestSeesEveryPart(t *testing.T) {
	for name, change := range map[string]func(*Bench){
		"engine": func(b *Bench) { b.engine.SetThrottle(0.5) },
		"needle": func(b *Bench) { b.needle.Step(5e5) },
		"hands":  func(b *Bench) { b.hands.glasses = true },
		"jammed": func(b *Bench) { b.hands.jammed = true },
		"gear":   func(b *Bench) { b.hands.gear = GearDrive },
		"gauge":  func(b *Bench) { b.hands.gauge = 0 },
		"plug":   func(b *Bench) { b.cyl[2].loose = true },
		"order":  func(b *Bench) { b.cyl[2].order = "loose" },
		"oil":    func(b *Bench) { b.cyl[1].oil = 1 },
		"washed": func(b *Bench) { b.cyl[1].washed = 1 },
		"press":  func(b *Bench) { b.press.turned = 1 },
		"still":  func(b *Bench) { b.press.still = 1 },
		"run":    func(b *Bench) { b.run.speed = 1 },
		"vented": func(b *Bench) { b.run.vented = true },
		"floor":  func(b *Bench) { b.run.floor = 9 },
		"meters": func(b *Bench) { b.meters.rpm = 9 },
		"hold":   func(b *Bench) { b.release = 9 },
		"quiet":  func(b *Bench) { b.quiet = 9 },
		"stated": func(b *Bench) { b.stated = 9 },
		"heat":   func(b *Bench) { b.heat = 9 },
		"told":   func(b *Bench) { b.told = 1 },
		"tester": func(b *Bench) { b.tests.tester = 1 },
		"supply": func(b *Bench) { b.tests.supply = 1 },
		"clamp":  func(b *Bench) { b.tests.clamp = true },
		"vacuum": func(b *Bench) { b.tests.vacuumGauge = true },
		"sense":  func(b *Bench) { b.tests.sense.ticks = 1 },
		"trace":  func(b *Bench) { b.tests.sense.folded = 1 },
		"dead":   func(b *Bench) { b.tests.dead = 1 },
		"pump":   func(b *Bench) { b.tests.pump.on = true },
		"due":    func(b *Bench) { b.tests.pump.due = 1 },
		"neck":   func(b *Bench) { b.tests.neck = true },
		"air":    func(b *Bench) { b.tests.air.on = true },
		"aired":  func(b *Bench) { b.tests.air.turned = 1 },
		"tick":   func(b *Bench) { b.rec.Tick++ },
		"events": func(b *Bench) { b.caution("no_glasses", 0) },
		"log":    func(b *Bench) { b.logHash++ },
	} {
		b := small(t)
		before := b.Digest()
		assert.Equal(t, before, small(t).Digest())
		change(b)
		assert.NotEqual(t, before, b.Digest(), name)
	}
}
