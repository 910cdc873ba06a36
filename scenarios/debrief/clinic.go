package debrief

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A clinic holds everything that is asked about one attempt.
type clinic struct {
	v    attempt.Report
	s    *scenarios.Scenario
	card diagnose.Card
	rec  record.Record
	tape tape
	base take   // the tape played as it is
	runs []site // by run
	air  []airing
}

// A site is how one run stood: what the record of the run does not say.
type site struct {
	run       record.Run
	step      int    // that closed the switch
	gauge     string // id in hand
	adapter   string // id in hand
	in        []int  // cylinders with their plugs in
	sensed    bool   // no gauge reading was wanted: clamp or vacuum gauge were on
	refitting bool   // a neighbour's plug was put back on purpose
}

// An airing is one time that air was put on a cylinder and its reading.
type airing struct {
	step int // that put it on
	leak record.Leak
}

// newClinic plays an attempt again and looks at it. tap, which may be nil, sees
// every tick.
func newClinic(v attempt.Report, tap func(*bench.Bench)) (*clinic, error) {
	t, err := recordTape(v, tap)
	if err != nil {
		return nil, err
	}
	s := v.Session.Scenario()
	c := &clinic{v: v, s: s, card: s.Card, rec: v.Session.Record(), tape: t}
	if c.base, err = t.play(s, t.edit()); err != nil {
		return nil, err
	}
	c.walk()
	return c, nil
}

// walk follows the tools through the log.
func (c *clinic) walk() {
	h := hold{plugs: make([]bool, c.s.Engine.Cylinders)}
	next := 0
	for i, st := range c.tape.steps {
		if next < len(c.tape.starts) && c.tape.starts[next] == i && next < len(c.rec.Runs) {
			c.runs = append(c.runs, h.site(i, c.rec.Runs[next]))
			next++
		}
		if n := c.base.leaks[i]; n > 0 {
			c.air = append(c.air, airing{i, c.rec.Leaks[n-1]})
		}
		h.follow(st.act)
	}
	for i := range c.runs {
		c.runs[i].refitting = c.refitted(i)
	}
}

// hold is where tools and plugs are.
type hold struct {
	gauge, adapter string
	clamp, vacuum  bool
	plugs          []bool // out
}

func (h *hold) follow(a record.Action) {
	switch a.Kind {
	case bench.KindGauge:
		h.gauge = a.Choice
	case bench.KindAdapter:
		h.adapter = a.Choice
	case bench.KindClamp:
		h.clamp = a.Choice == "on"
	case bench.KindVacuumGauge:
		h.vacuum = a.Choice == "on"
	case bench.KindPlugOut, bench.KindPlugIn:
		h.plugs[a.Cylinder-1] = a.Kind == bench.KindPlugOut
	}
}

func (h *hold) site(step int, r record.Run) site {
	s := site{run: r, step: step, gauge: h.gauge, adapter: h.adapter, sensed: h.clamp || h.vacuum}
	for i, out := range h.plugs {
		if !out {
			s.in = append(s.in, i+1)
		}
	}
	return s
}

// gauged says whether a run is a compression test: a gauge on and something read.
func (s site) gauged() bool { return s.run.Cylinder > 0 && len(s.run.Strokes) > 0 }

func (s site) wet() bool { return s.run.OilML > 0 }

// refitted says whether run i is the test with a neighbour's plug refitted: one
// neighbour's plug in, after the same cylinder was tested with all of them out.
func (c *clinic) refitted(i int) bool {
	s := c.runs[i]
	if len(s.in) != 1 || !slices.Contains(c.neighbours(s.run.Cylinder), s.in[0]) {
		return false
	}
	for _, before := range c.runs[:i] {
		if before.gauged() && before.run.Cylinder == s.run.Cylinder && len(before.in) == 0 {
			return true
		}
	}
	return false
}

// neighbours returns the cylinders beside one in its bank.
func (c *clinic) neighbours(cylinder int) []int { return neighbours(c.s.Engine, cylinder) }

func neighbours(e scenarios.Engine, cylinder int) []int {
	for _, bank := range e.Banks {
		i := slices.Index(bank, cylinder)
		if i < 0 {
			continue
		}
		var list []int
		if i > 0 {
			list = append(list, bank[i-1])
		}
		if i+1 < len(bank) {
			list = append(list, bank[i+1])
		}
		return list
	}
	return nil
}
