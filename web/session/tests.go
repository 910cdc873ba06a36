package session

import (
	"math"
	"slices"

	"crankbay/sim/bench"
	"crankbay/sim/instrument"
	"crankbay/sim/record"
	"crankbay/web/wire"
)

// testsView is what the confirming tests have left to look at. Numbers that are read
// off a scale are not in it: the instruments show them.
type testsView struct {
	Heard  []heard            `json:"heard"`  // where the air that is on was listened for
	Steady bool               `json:"steady"` // the leakage tester has come to rest
	Strip  int                `json:"strip"`  // ticks of the starter-current strip, 0 none
	Found  []found            `json:"found"`  // what looking found, in that order
	Costs  map[string]float64 `json:"costs"`  // bench minutes of each kind of action, as things stand

	Lash    *lashView    `json:"lash"`    // what the page asks for; null where it can't be measured
	Set     []lashSet    `json:"set"`     // clearances as they were set, the last of each valve
	Compare compareView  `json:"compare"` // whether the strip tells the cylinders apart
	Teeth   int          `json:"teeth"`   // of a cam wheel
	Cooling coolingView  `json:"cooling"` // how the cooling system is tried
	Balance *balanceView `json:"balance"` // the last power balance, null for none
}

type lashView struct {
	IntakeMM  float64 `json:"intake_mm"`
	ExhaustMM float64 `json:"exhaust_mm"`
	WithinMM  float64 `json:"within_mm"`
}

// compareView says how the humps of this engine's strip can be compared.
type compareView struct {
	How     string  `json:"how"`     // see record.CompareAll
	Groups  [][]int `json:"groups"`  // those that can be compared with each other, where all can't
	Release bool    `json:"release"` // a compression release: it reads low when cranked, not when it runs
}

// lashSet is one setting of a valve clearance.
type lashSet struct {
	Cylinder int     `json:"cylinder"`
	Valve    string  `json:"valve"` // intake, exhaust
	MM       float64 `json:"mm"`
}

type coolingView struct {
	StartPa float64 `json:"start_pa"`
	Minutes float64 `json:"minutes"`
}

// balanceView is what the tachometer showed, rpm.
type balanceView struct {
	RPM     float64   `json:"rpm"`
	Without []float64 `json:"without"` // by cylinder; 0 where the engine died
}

type heard struct {
	Place    string `json:"place"`
	Cylinder int    `json:"cylinder"` // whose plug hole, else 0
	Air      bool   `json:"air"`
}

// found is one fact with the action that found it.
type found struct {
	Kind     string  `json:"kind"`
	Key      string  `json:"key"`
	Cylinder int     `json:"cylinder"`
	Number   float64 `json:"number"`
	Tick     int64   `json:"tick"`
}

// looking lists the kinds of action whose facts are kept in sight.
func looking() []string {
	return []string{bench.KindPlugLook, bench.KindBorescope, bench.KindLash, bench.KindTiming, bench.KindCoolingPressure}
}

func (c *Core) tests() testsView {
	b := c.s.Bench()
	v := testsView{Heard: []heard{}, Found: []found{}, Costs: costs(b)}
	rec := b.Record()
	if n := len(rec.Leaks); n > 0 && b.Steady() {
		v.Steady = true
		for _, h := range rec.Leaks[n-1].Heard {
			v.Heard = append(v.Heard, heard(h))
		}
	}
	amps, _ := b.Trace()
	v.Strip = len(amps)
	v.Found, v.Set = finds(rec.Events), settings(rec.Events)
	v.Compare = c.compare()
	v.Teeth, v.Cooling = c.teeth, coolingView{bench.CoolingPumped, bench.CoolingWatch}
	if c.scenario.Card.LashCheck {
		v.Lash = (*lashView)(&c.scenario.Card.Lash)
	}
	if n := len(rec.Balances); n > 0 {
		v.Balance = &balanceView{rec.Balances[n-1].RPM, rec.Balances[n-1].Without}
	}
	return v
}

func (c *Core) compare() compareView {
	p := c.scenario.Params()
	order := instrument.Firings(p)
	v := compareView{How: instrument.Likeness(order), Groups: [][]int{}, Release: p.Release.Lift > 0}
	if v.How == record.CompareGroups {
		v.Groups = instrument.Groups(order)
	}
	return v
}

// finds keeps the facts that looking found, each with the action before it. What the
// coolant neck showed is found by a crank.
func finds(events []record.Event) []found {
	out := []found{}
	last := ""
	for _, e := range events {
		if e.Kind != bench.EventFact {
			if e.Kind == bench.KindSetLash { // what was measured there is no more so
				out = slices.DeleteFunc(out, func(f found) bool { return f.Kind == bench.KindLash && f.Cylinder == e.Cylinder })
			}
			if bench.Knows(e.Kind) {
				last = e.Kind
			}
			continue
		}
		switch {
		case e.Choice == "bubbles_cranked" || e.Choice == "no_bubbles":
			out = append(out, found{bench.KindCoolantWatch, e.Choice, e.Cylinder, e.Number, e.Tick})
		case listed(looking(), last):
			out = append(out, found{last, e.Choice, e.Cylinder, e.Number, e.Tick})
		}
	}
	return out
}

// settings keeps the last setting of every valve, in the order they were done.
func settings(events []record.Event) []lashSet {
	out := []lashSet{}
	for _, e := range events {
		if e.Kind == bench.KindSetLash {
			out = slices.DeleteFunc(out, func(s lashSet) bool { return s.Cylinder == e.Cylinder && s.Valve == e.Choice })
			out = append(out, lashSet{e.Cylinder, e.Choice, e.Number})
		}
	}
	return out
}

func listed(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// costs is what each kind of action takes when it is pressed to be on.
func costs(b *bench.Bench) map[string]float64 {
	out := map[string]float64{}
	for _, kind := range bench.Kinds() {
		a := record.Action{Kind: kind, Choice: "on"}
		if kind == bench.KindDisableOne {
			a.Choice = "disabled"
		}
		if m := b.Cost(a); m > 0 {
			out[kind] = m
		}
	}
	return out
}

// vacuumTime is what damps the vacuum gauge [s]: its throttling screw is turned in
// until the needle can be read (judgement).
const vacuumTime = 0.25

// damp moves the needle of the vacuum gauge by a tick.
func (c *Core) damp(b *bench.Bench) {
	if c.state.Vacuum {
		c.vacuum += (b.Below() - c.vacuum) / (vacuumTime * record.TicksPerSecond)
	}
}

// tools fills what the tools of the confirming tests show.
func (c *Core) tools(b *bench.Bench) wire.Tests {
	st := &c.state
	return wire.Tests{
		Tester: st.Tester, Supply: st.AirKPa * 1e3, Held: b.Held(), Vacuum: shown(st.Vacuum, c.vacuum), Clamp: st.Clamp,
		Wrench: st.Wrench, Running: st.Running, Neck: st.Neck, Bubbles: b.Bubbling(),
	}
}

// stripStep is how many ticks one point of the strip stands for: 300 points a second.
const stripStep = 4

// Strip answers with the starter current of the last press with the clamp on: points
// of 1 A, and when which piston stood at the top of its compression.
func (c *Core) Strip() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	type top struct {
		At       float64 `json:"at"` // points from the start
		Cylinder int     `json:"cylinder"`
	}
	var out struct {
		Rate float64 `json:"rate"` // points in a second
		Amps []int   `json:"amps"`
		Tops []top   `json:"tops"`
	}
	amps, tops := c.s.Bench().Trace()
	out.Rate, out.Amps, out.Tops = record.TicksPerSecond/stripStep, []int{}, []top{}
	for i := 0; i+stripStep <= len(amps); i += stripStep {
		sum := 0.0
		for _, a := range amps[i : i+stripStep] {
			sum += a
		}
		out.Amps = append(out.Amps, int(math.Floor(min(max(sum/stripStep, 0), 1e5)+0.5)))
	}
	for _, t := range tops {
		out.Tops = append(out.Tops, top{float64(t.Tick) / stripStep, t.Cylinder})
	}
	return encode(out)
}

// words of the strip: what its paper says of each cylinder.
type stripWords struct {
	InrushA float64    `json:"inrush_a"`
	MeanA   float64    `json:"mean_a"`
	Humps   []humpView `json:"humps"` // in firing order; none when they can't be told apart
	Tower   int        `json:"tower"` // one that stands over all others where they can't be compared, else 0
}

type humpView struct {
	Cylinder int     `json:"cylinder"`
	HeightA  float64 `json:"height_a"`
}

// Words puts an instrument into words' worth of numbers; asking is part of the log.
// What is one of the choices of needle-words: tester [%], vacuum [Pa below ambient],
// clamp.
func (c *Core) Words(what string) string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	if err := c.do(record.Action{Kind: bench.KindNeedleWords, Choice: what}); err != nil {
		return c.answer(err)
	}
	b := c.s.Bench()
	if what == bench.WordsClamp {
		return encode(c.stripWords())
	}
	needle := b.Lost()
	if what == bench.WordsVacuum {
		needle = math.Floor(c.vacuum/100+0.5) * 100
	}
	return encode(struct {
		Value float64 `json:"value"`
	}{needle})
}

func (c *Core) stripWords() stripWords {
	out := stripWords{Humps: []humpView{}}
	b := c.s.Bench()
	amps, _ := b.Trace()
	list := b.Record().Currents
	if len(list) == 0 {
		return out
	}
	last := list[len(list)-1]
	if int(last.Seconds*record.TicksPerSecond+0.5) != len(amps) {
		return out // the strip is of a press too short to say anything
	}
	out.InrushA, out.MeanA, out.Tower = last.PeakA, last.MeanA, last.Tower
	for _, h := range last.Humps {
		out.Humps = append(out.Humps, humpView{h.Cylinder, h.HeightA})
	}
	return out
}
