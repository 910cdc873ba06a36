package debrief

import (
	"math"
	"slices"
	"strings"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Tests a plan can choose from, by the words of diagnose.NextTests; TestDry is what
// the dry test shows besides its last readings, and costs nothing more.
const (
	TestDry     = "dry"
	TestWet     = "wet"
	TestLeakage = "leakage"
	TestCurrent = "current"
	TestRunning = "running"
	TestVacuum  = "vacuum" // never part of a plan, see wanted
	TestLash    = "lash"
	TestTiming  = "timing_marks"
	TestScope   = "borescope"
	TestCooling = "cooling_pressure"
	TestSecond  = "second_gauge"
	TestBalance = "power_balance" // which cylinder is dead, not why: part of a plan only where nothing reads low
)

// Bands, each with a strip between in which nothing is said. Those of wet test and
// leakage are the grader's; the others are common practice without a source.
const (
	firstLike, firstBuilds = 5.0, 8.0   // first stroke under a healthy one's, both in percent of the last
	rpmSlow, rpmFair       = 190, 210   // [rpm]
	gainLike, gainClear    = 5.0, 6.5   // beyond the healthy cylinder's [%]
	gainAllUsual, gainAll  = 25.0, 27.5 // of an engine without a healthy cylinder [%]
	leakSmall, leakLarge   = 15.5, 22.5 // [%]
	humpLow, humpHigh      = 80.0, 120.0
	humpSlack              = 3.0
	gaugeAgrees, gaugeOff  = 8.0, 12.0  // [psi]; hoses of other volumes alone make some psi
	idleLow, idleFair      = 25.0, 30.0 // in percent of cranking
	snapLow, snapFair      = 60.0, 70.0
	snapBehind, snapBeside = 81.0, 87.0 // in percent of the best of all
)

// run does one test on an engine by the book, on some cylinders, and returns what it
// shows; nil when it can't be done on this engine.
func (p *prober) run(test string, s *scenarios.Scenario, on []int) ([]Shown, error) {
	switch test {
	case TestDry:
		return p.runDry(s, on)
	case TestWet:
		return p.runWet(s, on)
	case TestLeakage:
		return runLeakage(s, on)
	case TestCurrent:
		return runCurrent(s)
	case TestRunning:
		return runRunning(s, on)
	case TestBalance:
		return runBalance(s, on)
	case TestSecond:
		return p.runSecond(s, on)
	case TestLash:
		return p.runLash(s, on)
	}
	return p.runLook(test, s, on)
}

func (p *prober) runDry(s *scenarios.Scenario, on []int) ([]Shown, error) {
	c := control(s, p.suspects)
	list, err := p.dry(s, append(slices.Clone(on), c)[:len(on)+min(c, 1)])
	if err != nil {
		return nil, err
	}
	var out []Shown
	share := func(d dryness) float64 { return 100 * d.first / math.Max(d.last, 1) }
	for i, cyl := range on {
		if c > 0 {
			less := share(list[len(on)]) - share(list[i])
			out = append(out, Shown{"first", cyl, share(list[i]), "%", band(less, firstLike, firstBuilds, "like", "builds")})
		}
	}
	return append(out, Shown{"rpm", 0, list[0].rpm, "rpm", band(list[0].rpm, rpmSlow, rpmFair, "slow", "fair")}), nil
}

// control returns a cylinder that is none of the suspects, 0 when there is none.
func control(s *scenarios.Scenario, suspects []int) int {
	for c := 1; c <= s.Engine.Cylinders; c++ {
		if !slices.Contains(suspects, c) {
			return c
		}
	}
	return 0
}

// runWet compares what oil does to a suspect with what it does to a healthy cylinder.
func (p *prober) runWet(s *scenarios.Scenario, on []int) ([]Shown, error) {
	if s.Card.OilML == 0 {
		return nil, nil
	}
	e, err := p.open(s)
	if err != nil {
		return nil, err
	}
	gain := func(c int) float64 {
		dry := e.test(c, 0)
		wet := e.test(c, s.Card.OilML)
		return 100 * (wet.last/math.Max(dry.last, 5) - 1)
	}
	var out []Shown
	healthy, like, clear := 0.0, gainAllUsual, gainAll
	if c := control(s, p.suspects); c > 0 {
		healthy, like, clear = gain(c), gainLike, gainClear
		out = append(out, Shown{"control", c, healthy, "%", "like"})
	}
	for _, c := range on {
		g := gain(c)
		out = append(out, Shown{"gain", c, g, "%", band(g-healthy, like, clear, "like", "clear")})
	}
	return out, nil
}

func runLeakage(s *scenarios.Scenario, on []int) ([]Shown, error) {
	r, err := book.Leakage(s, book.LeakageOptions{AsRead: true})
	if err != nil {
		return nil, err
	}
	var out []Shown
	for _, l := range r.Cylinders {
		if !slices.Contains(on, l.Cylinder) {
			continue
		}
		x := Shown{"leakage", l.Cylinder, l.Percent, "%", band(l.Percent, leakSmall, leakLarge, "small", "large")}
		if x.Means == "large" && len(l.Air) > 0 {
			x.Means = l.Air[0].Path
		}
		out = append(out, x)
	}
	return out, nil
}

func runCurrent(s *scenarios.Scenario) ([]Shown, error) {
	r, err := book.Current(s, true, nil)
	if err != nil {
		return nil, err
	}
	if r.Stalled || r.Hydrolocked {
		return []Shown{{Name: "stalled", Means: "stalled"}}, nil
	}
	if !record.Comparable(r.Compare) {
		return []Shown{{"tower", r.Tower, 0, "", towerWord(r.Tower)}}, nil
	}
	var out []Shown
	for _, h := range r.Humps {
		x := Shown{"hump", h.Cylinder, h.Percent, "%", band(h.Percent, humpLow-humpSlack, humpLow+humpSlack, "weak", "even")}
		if high := band(h.Percent, humpHigh-humpSlack, humpHigh+humpSlack, "even", "extra"); high != "even" {
			x.Means = high
		}
		out = append(out, x)
	}
	return out, nil
}

// towerWord says whether a hump stands over all others where they can't be compared.
func towerWord(cylinder int) string {
	if cylinder > 0 {
		return "extra"
	}
	return "none"
}

func runRunning(s *scenarios.Scenario, on []int) ([]Shown, error) {
	r, err := book.RunningTest(s, true, nil)
	if err != nil {
		return nil, err
	}
	var out []Shown
	best := 1.0
	for _, c := range r.Cylinders {
		best = max(best, c.SnapPercent)
	}
	for _, c := range r.Cylinders {
		if slices.Contains(on, c.Cylinder) {
			snap := band(c.SnapPercent, snapLow, snapFair, "weak", "fair")
			if beside := band(100*c.SnapPercent/best, snapBehind, snapBeside, "weak", "fair"); beside != "fair" && snap != "weak" {
				snap = beside
			}
			out = append(out, Shown{"idle", c.Cylinder, c.IdlePercent, "%", band(c.IdlePercent, idleLow, idleFair, "weak", "fair")},
				Shown{"snap", c.Cylinder, c.SnapPercent, "%", snap})
		}
	}
	return out, nil
}

// missedLittle and missed are how far the speed falls without a cylinder, in percent of
// the cylinder that is missed most.
const missedLittle, missed = 45.0, 55.0

// runBalance takes the idling engine's cylinders away one by one, before anything comes
// off; nil for one that doesn't run.
func runBalance(s *scenarios.Scenario, on []int) ([]Shown, error) {
	b, err := bench.New(s.Setup())
	if err != nil {
		return nil, err
	}
	p := &probe{s, b}
	p.do(bench.KindBelts, "", 0)
	p.do(bench.KindPowerBalance, "", 0)
	list := b.Record().Balances
	if len(list) == 0 {
		return nil, nil
	}
	r, most := list[0], 0.0
	for _, rpm := range r.Without {
		most = max(most, r.RPM-rpm)
	}
	var out []Shown
	for _, c := range on {
		drop := 100 * (r.RPM - r.Without[c-1]) / max(most, 1)
		out = append(out, Shown{"balance", c, drop, "%", band(drop, missedLittle, missed, "dead", "works")})
	}
	return out, nil
}

// runSecond reads a cylinder with the other gauge of the tray: what it says less what
// the first one says.
func (p *prober) runSecond(s *scenarios.Scenario, on []int) ([]Shown, error) {
	if len(s.Tools.Gauges) < 2 {
		return nil, nil
	}
	on = on[:1]
	a, err := p.dry(s, on)
	if err != nil {
		return nil, err
	}
	e, err := p.open(s)
	if err != nil {
		return nil, err
	}
	e.do(bench.KindGauge, s.Tools.Gauges[1].ID, 0)
	b := e.test(on[0], 0)
	less := b.needle - a[0].needle
	return []Shown{{"second", on[0], less, "psi", band(math.Abs(less), gaugeAgrees, gaugeOff, "agrees", "differs")}}, nil
}

// runLash feels the valve clearances.
func (p *prober) runLash(s *scenarios.Scenario, on []int) ([]Shown, error) {
	if !s.Card.LashCheck {
		return nil, nil
	}
	e, err := p.open(s)
	if err != nil {
		return nil, err
	}
	var out []Shown
	for _, c := range on {
		for _, f := range e.look(bench.KindLash, c) {
			name, means := "lash_intake", "right"
			if strings.HasPrefix(f.Choice, "lash_exhaust") {
				name = "lash_exhaust"
			}
			if s.Card.Lash.Tight(name, f.Number) {
				means = "tight"
			} else if s.Card.Lash.Wide(name, f.Number) {
				means = "wide"
			}
			out = append(out, Shown{name, c, to(100, f.Number), "mm", means})
		}
	}
	return out, nil
}

// runLook is a look that gives facts and no number.
func (p *prober) runLook(test string, s *scenarios.Scenario, on []int) ([]Shown, error) {
	kind := map[string]string{
		TestTiming: bench.KindTiming, TestScope: bench.KindBorescope, TestCooling: bench.KindCoolingPressure,
	}[test]
	e, err := p.open(s)
	if err != nil {
		return nil, err
	}
	if test == TestTiming || test == TestCooling {
		return []Shown{{Name: test, Means: words(e.look(kind, 0))}}, nil
	}
	var out []Shown
	for _, c := range on {
		if test == TestScope && !s.Card.PlugsOut {
			e.do(bench.KindPlugOut, "ordered", c)
		}
		out = append(out, Shown{Name: test, Cylinder: c, Means: words(e.look(kind, c))})
	}
	return out, nil
}

// words joins the keys of facts.
func words(facts []record.Event) string {
	var keys []string
	for _, f := range facts {
		keys = append(keys, f.Choice)
	}
	return strings.Join(keys, " ")
}
