package debrief

import (
	"math"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A prober does single tests by the book on copies of one scenario, without the rest
// of the book's round. What it prepares once it uses for all of them.
type prober struct {
	s    *scenarios.Scenario
	prep []record.Action // by the card, up to the first hose

	suspects []int // cylinders that stand out
}

func newProber(s *scenarios.Scenario) (*prober, error) {
	r, err := book.Run(s, book.Options{Kind: book.Dry, ByCard: true})
	if err != nil {
		return nil, err
	}
	p := &prober{s: s}
	for _, a := range r.Log {
		if a.Kind == bench.KindHoseOn {
			break
		}
		p.prep = append(p.prep, a)
	}
	return p, nil
}

// with returns the scenario with other faults.
func (p *prober) with(faults []scenarios.Fault) *scenarios.Scenario {
	s := *p.s
	s.Faults = faults
	return &s
}

// A probe is one engine, prepared.
type probe struct {
	s *scenarios.Scenario
	b *bench.Bench
}

// open prepares an engine. What it refuses, as one that liquid stops refuses to be
// warmed, is left out.
func (p *prober) open(s *scenarios.Scenario) (*probe, error) {
	b, err := bench.New(s.Setup())
	if err != nil {
		return nil, err
	}
	for _, a := range p.prep {
		_ = b.Do(a) // a refusal shows in what is read
	}
	return &probe{s, b}, nil
}

func (p *probe) do(kind, choice string, cylinder int) bool {
	return p.b.Do(record.Action{Kind: kind, Choice: choice, Cylinder: cylinder}) == nil
}

// A dry reading by the book. Pressures are psi gauge.
type dryness struct {
	first, last float64
	needle      float64 // what the dial says of the last
	rpm         float64
}

// test tests one cylinder, with oil when ml is above 0.
func (p *probe) test(cylinder int, ml float64) dryness {
	if p.b.State().Plugs[cylinder-1].State == "in" {
		p.do(bench.KindPlugOut, "ordered", cylinder)
	}
	if ml > 0 {
		_ = p.b.Do(record.Action{Kind: bench.KindOil, Cylinder: cylinder, Number: ml})
	}
	p.do(bench.KindHoseOn, "", cylinder)
	p.do(bench.KindTurn, "bdc", cylinder)
	p.do(bench.KindWrench, "off", 0)
	p.do(bench.KindStarter, "on", 0)
	for range book.Strokes(p.s.Card) {
		p.b.StrokeStep()
	}
	p.do(bench.KindStarter, "off", 0)
	p.b.Settle()
	p.do(bench.KindRelease, "", 0)
	p.do(bench.KindHoseOff, "", 0)
	if !p.s.Card.PlugsOut {
		p.do(bench.KindPlugIn, "hand", cylinder)
	}
	runs := p.b.Record().Runs
	if len(runs) == 0 || len(runs[len(runs)-1].Strokes) == 0 {
		return dryness{}
	}
	run := runs[len(runs)-1]
	e := ends(run)
	return dryness{
		unit.Gauge(e.first.True).PSI(), unit.Gauge(e.last.True).PSI(), unit.Gauge(e.last.Needle).PSI(), run.SpeedRPM,
	}
}

// dry tests some cylinders of an engine with other faults, in order.
func (p *prober) dry(s *scenarios.Scenario, cylinders []int) ([]dryness, error) {
	e, err := p.open(s)
	if err != nil {
		return nil, err
	}
	var out []dryness
	for _, c := range cylinders {
		out = append(out, e.test(c, 0))
	}
	return out, nil
}

// look does one look and returns the facts it gave, in order.
func (p *probe) look(kind string, cylinder int) []record.Event {
	from := len(p.b.Record().Events)
	p.do(kind, "", cylinder)
	var facts []record.Event
	for _, e := range p.b.Record().Events[from:] {
		if e.Kind == bench.EventFact {
			facts = append(facts, e)
		}
	}
	return facts
}

// needleMean is the mean of what the dial says [psi].
func needleMean(list []dryness) float64 {
	sum := 0.0
	for _, d := range list {
		sum += d.needle
	}
	return sum / math.Max(1, float64(len(list)))
}
