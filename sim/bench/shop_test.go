package bench_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// tray is a bench with the reference engine and more tools than anyone needs.
func tray() bench.Setup {
	p := sim.Reference()
	leaky := p.Gauge
	leaky.ReleaseLeak = 2e-9
	scale := instrument.GaugeSpec{Range: unit.PSI(300), Graduation: unit.PSI(5), Friction: unit.PSI(0.5)}
	off := scale
	off.Zero = unit.PSI(8)
	return bench.Setup{
		Engine: p, Plug: bench.PlugSpec{ThreadMM: 14, ReachMM: 19},
		Gauges: []bench.GaugeTool{
			{ID: "good", Spec: scale, Plumbing: p.Gauge},
			{ID: "leaky", Spec: scale, Plumbing: leaky},
			{ID: "off", Spec: off, Plumbing: p.Gauge},
		},
		Adapters: []bench.AdapterTool{
			{ID: "m14", ThreadMM: 14, ReachMM: 19, ORing: true},
			{ID: "bare", ThreadMM: 14, ReachMM: 19},
			{ID: "short", ThreadMM: 14, ReachMM: 12.7, ORing: true},
			{ID: "long", ThreadMM: 14, ReachMM: 26.5, ORing: true},
			{ID: "m12", ThreadMM: 12, ReachMM: 19, ORing: true},
		},
		Pages: []string{"right", "wrong"}, RightPage: "right", Gear: bench.GearPark, IdleWarmC: 90, Seed: 7,
	}
}

// shop is a bench in a test: what is refused without being asked for fails it.
type shop struct {
	*bench.Bench
	t testing.TB
}

func open(t testing.TB, s bench.Setup) shop {
	t.Helper()
	b, err := bench.New(s)
	require.NoError(t, err)
	return shop{b, t}
}

func (s shop) act(a record.Action) {
	s.t.Helper()
	require.NoError(s.t, s.Do(a), "%+v", a)
}

func (s shop) do(kind, choice string) { s.t.Helper(); s.act(record.Action{Kind: kind, Choice: choice}) }

func (s shop) on(kind string, cylinder int, choice string) {
	s.t.Helper()
	s.act(record.Action{Kind: kind, Cylinder: cylinder, Choice: choice})
}

// key returns the key of a refusal, empty when the action was accepted.
func (s shop) key(a record.Action) string {
	s.t.Helper()
	err := s.Do(a)
	if err == nil {
		return ""
	}
	var r *bench.Refusal
	require.True(s.t, errors.As(err, &r), "%v", err)
	return r.Key
}

// prepared is a bench with everything done up to the first hose.
func prepared(t testing.TB, s bench.Setup) shop {
	t.Helper()
	b := open(t, s)
	b.do(bench.KindGlasses, "on")
	b.do(bench.KindBrake, "on")
	b.do(bench.KindChocks, "on")
	b.do(bench.KindBelts, "")
	b.do(bench.KindFluids, "")
	b.do(bench.KindFuel, "disabled")
	b.do(bench.KindIgnition, "disabled")
	b.tooled()
	return b
}

// tooled takes the plugs out and the tools in hand.
func (s shop) tooled() {
	s.t.Helper()
	s.do(bench.KindWells, "")
	for c := 1; c <= len(s.State().Plugs); c++ {
		s.on(bench.KindPlugOut, c, "ordered")
	}
	s.do(bench.KindGauge, "good")
	s.do(bench.KindAdapter, "m14")
	s.do(bench.KindSwitch, "remote")
	s.do(bench.KindThrottle, "open")
}

// crank fits the hose, turns to BDC and cranks n strokes, then lets all settle.
func (s shop) crank(cylinder, n int) record.Run {
	s.t.Helper()
	s.on(bench.KindHoseOn, cylinder, "")
	s.turn(cylinder, "bdc")
	return s.strokes(n)
}

// turn turns the crank by hand and takes the wrench off again.
func (s shop) turn(cylinder int, where string) {
	s.t.Helper()
	s.on(bench.KindTurn, cylinder, where)
	s.do(bench.KindWrench, "off")
}

func (s shop) strokes(n int) record.Run {
	s.t.Helper()
	s.do(bench.KindStarter, "on")
	for range n {
		s.StrokeStep()
	}
	s.do(bench.KindStarter, "off")
	s.Settle()
	require.True(s.t, s.AtRest())
	runs := s.Record().Runs
	require.NotEmpty(s.t, runs)
	return runs[len(runs)-1]
}

// undo releases the gauge and takes the hose off.
func (s shop) undo() {
	s.t.Helper()
	s.do(bench.KindRelease, "")
	s.do(bench.KindHoseOff, "")
}

// count returns how often an event of a kind and choice happened.
func (s shop) count(kind, choice string) int {
	n := 0
	for _, e := range s.Record().Events {
		if e.Kind == kind && e.Choice == choice {
			n++
		}
	}
	return n
}

func last(r record.Run) record.Stroke { return r.Strokes[len(r.Strokes)-1] }

// putBack refits everything and connects it.
func (s shop) putBack() {
	s.t.Helper()
	for _, p := range s.State().Plugs {
		if p.State == "out" {
			s.on(bench.KindPlugIn, p.Cylinder, "hand")
		}
	}
	s.do(bench.KindPlugTorque, "")
	s.do(bench.KindThrottle, "shut")
	s.do(bench.KindLeads, "")
	s.do(bench.KindFuel, "enabled")
	s.do(bench.KindIgnition, "enabled")
}
