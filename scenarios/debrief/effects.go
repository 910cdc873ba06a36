package debrief

import (
	"math"
	"slices"

	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// What an effect is on.
const (
	OnDry     = "dry"
	OnWet     = "wet"
	OnLeakage = "leakage" // percent
	OnVacuum  = "vacuum"  // below ambient
	OnIdle    = "idle"    // running compression
	OnSnap    = "snap"    // running compression
)

// An Effect is what one reading was and what it would have been. Readings are as a
// person reads them: in Pa, of a leakage test in percent. Delta is Before less After: what
// the mistake put on the reading, negative when it cost something.
type Effect struct {
	On       string  `json:"on"`
	Cylinder int     `json:"cylinder"` // 0 for the whole engine
	Run      int     `json:"run"`      // its ID, 0 for none
	Before   float64 `json:"before"`
	After    float64 `json:"after"`
	Delta    float64 `json:"delta"`
	Unit     string  `json:"unit"` // Pa or %

	// The first full stroke of a compression test, likewise; 0 for other tests.
	FirstBefore float64 `json:"first_before"`
	FirstAfter  float64 `json:"first_after"`
	FirstDelta  float64 `json:"first_delta"`
	// The first stroke read, whole or not: what a student writes down as the first.
	Part bool `json:"part"` // it was a part stroke
}

// size is how much an effect weighs beside others [Pa]; a percent of leakage stands
// for a percent of a healthy reading.
func (e Effect) size() float64 {
	if e.Unit == "%" {
		return math.Abs(e.Delta) * 12e3
	}
	return max(math.Abs(e.Delta), math.Abs(e.FirstDelta)/2)
}

// effects lists every reading that differs by something that can be read.
func (c *clinic) effects(t take) []Effect {
	out := []Effect{}
	after := t.session.Record()
	for k := range c.runs {
		if k >= len(t.runs) || t.runs[k] == 0 || t.runs[k] > len(after.Runs) {
			continue
		}
		if e, ok := c.pressed(c.runs[k], after.Runs[t.runs[k]-1]); ok {
			out = append(out, e)
		}
	}
	out = append(out, c.aired(t, after)...)
	out = append(out, c.piped(t, after)...)
	out = append(out, c.pumped(t, after)...)
	slices.SortStableFunc(out, func(a, b Effect) int {
		switch {
		case a.size() > b.size():
			return -1
		case a.size() < b.size():
			return 1
		}
		return 0
	})
	return out
}

// pressed compares one compression test.
func (c *clinic) pressed(s site, after record.Run) (Effect, bool) {
	if !s.gauged() || after.Cylinder != s.run.Cylinder || len(after.Strokes) == 0 {
		return Effect{}, false
	}
	a, b := ends(s.run), ends(after)
	e := Effect{
		On: OnDry, Cylinder: s.run.Cylinder, Run: s.run.ID, Unit: "Pa", Part: a.part,
		Before: a.last.Shown, After: b.last.Shown, FirstBefore: a.first.Shown, FirstAfter: b.first.Shown,
	}
	if s.wet() {
		e.On = OnWet
	}
	least := c.graduation(s.gauge) / 4
	if math.Abs(a.last.Needle-b.last.Needle) >= least {
		e.Delta = e.Before - e.After
	} else {
		e.After = e.Before
	}
	if math.Abs(a.first.Needle-b.first.Needle) >= least {
		e.FirstDelta = e.FirstBefore - e.FirstAfter
	} else {
		e.FirstAfter = e.FirstBefore
	}
	return e, e.Delta != 0 || e.FirstDelta != 0
}

// A pair is the first and the last stroke that was read of a run.
type pair struct {
	first, last record.Stroke
	part        bool // the first was not a whole one
}

func ends(r record.Run) pair {
	n := len(r.Strokes)
	return pair{r.Strokes[0], r.Strokes[n-1], !r.Strokes[0].Full}
}

// graduation returns the division of a gauge [Pa].
func (c *clinic) graduation(id string) float64 {
	for _, g := range c.s.Tools.Gauges {
		if g.ID == id {
			return float64(unit.PSI(g.GraduationPSI))
		}
	}
	return float64(unit.PSI(c.s.Tools.Gauges[0].GraduationPSI))
}

// leakageLeast and vacuumLeast are what two readings must differ by [%], [Pa].
const leakageLeast, vacuumLeast = 1.0, 500.0

// aired compares the leakage tests.
func (c *clinic) aired(t take, after record.Record) (out []Effect) {
	for _, a := range c.air {
		n := t.leaks[a.step]
		if n == 0 {
			continue
		}
		b := after.Leaks[n-1]
		if b.Cylinder != a.leak.Cylinder || math.Abs(a.leak.Percent-b.Percent) < leakageLeast {
			continue
		}
		out = append(out, Effect{
			On: OnLeakage, Cylinder: b.Cylinder, Before: a.leak.Percent, After: b.Percent, Delta: a.leak.Percent - b.Percent, Unit: "%",
		})
	}
	return out
}

// piped compares the vacuum tests.
func (c *clinic) piped(t take, after record.Record) (out []Effect) {
	for _, a := range c.rec.Vacuums {
		for k := range c.runs {
			if c.runs[k].run.ID != a.Run || k >= len(t.runs) {
				continue
			}
			for _, b := range after.Vacuums {
				if b.Run == t.runs[k] && math.Abs(a.MeanPa-b.MeanPa) >= vacuumLeast {
					out = append(out, Effect{
						On: OnVacuum, Run: a.Run, Before: a.MeanPa, After: b.MeanPa, Delta: a.MeanPa - b.MeanPa, Unit: "Pa",
					})
				}
			}
		}
	}
	return out
}

// gaugeOn returns the gauge that a running reading was taken by: the last one put on
// before it, empty for none.
func gaugeOn(rec record.Record, p record.Pumped) string {
	id := ""
	for _, e := range rec.Events {
		if e.Kind == bench.KindGauge && e.Tick <= p.Tick && e.Minutes <= p.Minutes {
			id = e.Choice
		}
	}
	return id
}

// pumped compares the readings of the running engine.
func (c *clinic) pumped(t take, after record.Record) (out []Effect) {
	for i := range c.tape.steps {
		m, n := c.base.pumps[i], t.pumps[i]
		if m == 0 || n == 0 {
			continue
		}
		a, b := c.rec.Pumped[m-1], after.Pumped[n-1]
		if a.Cylinder != b.Cylinder || a.How != b.How || math.Abs(a.Needle-b.Needle) < c.graduation(gaugeOn(c.rec, a))/4 || a.Shown == b.Shown {
			continue
		}
		on := OnIdle
		if a.How == bench.PumpedSnap {
			on = OnSnap
		}
		out = append(out, Effect{On: on, Cylinder: a.Cylinder, Before: a.Shown, After: b.Shown, Delta: a.Shown - b.Shown, Unit: "Pa"})
	}
	return out
}
