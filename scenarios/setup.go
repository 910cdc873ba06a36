package scenarios

import (
	"crankbay/sim/bench"
	"crankbay/sim/instrument"
	"crankbay/sim/unit"
)

const percent = 0.01

// Setup returns the bench as the student finds it: the engine with its faults,
// cold or warm as it came in, and the tray. A decoded scenario gives a set-up
// that bench.New takes.
func (s *Scenario) Setup() bench.Setup {
	p := s.Params()
	b := bench.Setup{
		Engine:      p,
		Plug:        bench.PlugSpec{ThreadMM: s.Engine.Plug.ThreadMM, ReachMM: s.Engine.Plug.ReachMM},
		RightPage:   s.RightPage,
		Gear:        s.Conditions.Gear,
		IdleWarmC:   s.Conditions.WarmC,
		Seed:        s.Seed,
		LashCheck:   s.Card.LashCheck,
		Lash:        bench.Lash(s.Card.Lash),
		Key:         bench.Key(s.Engine.Key),
		DriveByWire: s.Engine.DriveByWire,
		ThreadsMaxC: s.Engine.ThreadsMaxC,
		NoStart:     s.Conditions.NoStart,
		Minutes:     bench.TestMinutes(s.Card.Minutes),
		Seen:        make([]bench.Visible, s.Engine.Cylinders),
	}
	for _, g := range s.Tools.Gauges {
		plumbing := p.Gauge
		plumbing.HoseVolume = g.HoseML * ml
		plumbing.AdapterVolume = g.AdapterML * ml
		b.Gauges = append(b.Gauges, bench.GaugeTool{ID: g.ID, Spec: g.spec(), Plumbing: plumbing})
	}
	for _, a := range s.Tools.Adapters {
		b.Adapters = append(b.Adapters, bench.AdapterTool{ID: a.ID, ThreadMM: a.ThreadMM, ReachMM: a.ReachMM, ORing: a.ORing})
	}
	for _, page := range s.SpecPages {
		b.Pages = append(b.Pages, page.ID)
	}
	for _, f := range s.Faults {
		f.spoil(&b)
		f.show(&b)
	}
	return b
}

func (g Gauge) spec() instrument.GaugeSpec {
	return instrument.GaugeSpec{
		Range:      unit.PSI(g.RangePSI),
		Graduation: unit.PSI(g.GraduationPSI),
		Zero:       unit.PSI(g.ZeroErrorPSI),
		Span:       g.SpanErrorPercent * percent,
		Friction:   unit.PSI(g.FrictionPSI),
	}
}
