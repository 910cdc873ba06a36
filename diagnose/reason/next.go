package reason

import (
	"crankbay/diagnose"
	"crankbay/sim/num"
)

// A Shop is what tests cost here and which of them can be done.
type Shop struct {
	Minutes   diagnose.TestMinutes
	LashCheck bool // clearances can be measured on this engine
	Oil       bool // its card knows a wet test
	Runs      bool // it runs well enough for tests that want it running
	All       bool // what tells next to nothing is listed too, and what the bench has no judge for
}

// A TestValue is what a test would be worth.
type TestValue struct {
	Test      string  `json:"test"`      // as package diagnose names it
	Cylinders []int   `json:"cylinders"` // none for the whole engine
	Bits      float64 `json:"bits"`      // expected information about what is the matter [bits]
	Minutes   float64 `json:"minutes"`
	Risk      float64 `json:"risk"`  // share by which danger and mess raise its price
	Worth     float64 `json:"worth"` // bits per minute, risk taken into account
	// Apart is how well it would tell the two most probable labels from each other, 0 not
	// at all, 1 for certain.
	Apart float64 `json:"apart"`
}

// A Plan is the tests that can still be done, best first, and what they would have to
// tell apart.
type Plan struct {
	Tests   []TestValue `json:"tests"`
	Between []Label     `json:"between"` // the most probable labels, two of them at most
}

// What danger and mess add to the price of a test (judgement): a running engine and its
// hot parts, air that can turn the crank, a cooling system under pressure, oil that
// smokes for an hour.
var riskTable = []struct {
	test string
	risk float64
}{
	{"running", 0.3}, {"power_balance", 0.3}, {"cooling_pressure", 0.15}, {"leakage", 0.15}, {"wet", 0.1}, {"lash", 0.05}, {"timing_marks", 0.05},
}

// leastWorth is the least expected information a test is offered for [bits].
const leastWorth = 0.02

// NextTests weighs every test that can still be done on up to two suspects.
func (o *Opinion) NextTests(shop Shop) Plan {
	var p Plan
	if o.state == nil {
		return p
	}
	heads := o.state.headings()
	for i := range heads[:min(2, len(heads))] {
		p.Between = append(p.Between, heads[i].label)
	}
	for _, t := range o.state.candidates(shop, heads) {
		v := t.value
		v.Bits, v.Apart = o.state.information(heads, t)
		if v.Bits < leastWorth && !shop.All {
			continue
		}
		for _, r := range riskTable {
			if r.test == v.Test {
				v.Risk = r.risk
			}
		}
		v.Worth = v.Bits / (max(v.Minutes, 0.5) * (1 + v.Risk))
		p.Tests = append(p.Tests, v)
	}
	sortBy(p.Tests, func(t *TestValue) float64 { return t.Worth })
	p.Tests = once(p.Tests)
	return p
}

// once keeps the best of tests that are the same to whoever does them.
func once(list []TestValue) []TestValue {
	var out []TestValue
	for _, t := range list {
		seen := false
		for _, u := range out {
			seen = seen || u.Test == t.Test && sameInts(u.Cylinders, t.Cylinders)
		}
		if !seen {
			out = append(out, t)
		}
	}
	return out
}

// A candidate is a test that can still be done.
type candidate struct {
	value TestValue
	probe probe
	at    int
}

// suspects lists up to two cylinders that the headings name most, else the lowest one.
func (s *state) suspects(heads []heading) []int {
	var weight [mostCylinders]float64
	for _, h := range heads {
		for _, c := range h.label.Cylinders {
			weight[c-1] += h.label.Probability / float64(len(h.label.Cylinders))
		}
	}
	var out []int
	for range 2 {
		best := -1
		for i := range s.v.cyl {
			if weight[i] > 0.02 && (best < 0 || weight[i] > weight[best]) {
				best = i
			}
		}
		if best >= 0 {
			out = append(out, best)
			weight[best] = 0
		}
	}
	if order := s.v.byDry(false); len(out) == 0 && len(order) > 0 {
		out = append(out, order[0])
	}
	return out
}

// candidates lists what can still be done.
func (s *state) candidates(shop Shop, heads []heading) []candidate {
	var out []candidate
	m := shop.Minutes
	e := &s.v.e
	add := func(can bool, test string, minutes float64, p probe, at int, cylinders ...int) {
		if can {
			out = append(out, candidate{TestValue{Test: test, Minutes: minutes, Cylinders: cylinders}, p, at})
		}
	}
	suspects := s.suspects(heads)
	oiled, aired := false, false
	for i := range s.v.cyl {
		oiled = oiled || known(s.v.cyl[i].wet)
		aired = aired || known(s.v.cyl[i].leak)
	}
	for _, i := range suspects {
		c := &s.v.cyl[i]
		cyl := i + 1
		wet, air := m.Of("wet", 1), m.LeakageEach
		if !oiled {
			wet = m.Of("wet", min(2, len(s.v.cyl))) // a healthy one beside it
		}
		if !aired {
			air += m.LeakageSetup
		}
		add(shop.Oil && !known(c.wet), "wet", wet, probeWet, i, cyl)
		add(!known(c.leak), "leakage", air, probeLeakage, i, cyl)
		add(len(c.again) == 0 && known(c.dry), "repeat", m.Repeat, probeRepeat, i, cyl)
		add(!known(c.second) && known(c.dry), "second_gauge", m.Of("second_gauge", 1), probeSecond, i, cyl)
		add(shop.All && !known(c.refit) && known(c.dry), "refit", m.Of("refit", 1)+m.Repeat, probeRefit, i, cyl)
		add(shop.LashCheck && !known(c.lashIn) && !known(c.lashEx), "lash", m.Lash, probeLash, i, cyl)
		add(c.bore < 0, "borescope", m.BorescopeEach, probeBore, i, cyl)
		add(shop.Runs && !known(c.idle) && !known(c.snap), "running", m.Of("running", min(2, len(s.v.cyl))), probeRunning, i, cyl)
		add(shop.Runs && c.dead == NotKnown, "power_balance", m.PowerBalance, probeBalance, i)
		add(!known(c.hump) && diagnose.HumpsCompare(len(s.v.cyl)), "current", m.Current, probeHump, i)
	}
	add(!e.Vacuum.Is, "vacuum", m.Vacuum, probeVacuum, 0)
	add(!known(s.v.late()), "timing_marks", m.TimingMarks, probeTiming, 0)
	add(e.Cooling == NotKnown, "cooling_pressure", m.CoolingPressure, probeCooling, 0)
	again := m.Of("repeat", max(1, len(s.v.cyl)))
	add(e.Throttle != Yes, "open_throttle", again, probeThrottle, 0)
	add(!e.Speed.Is, "charge_battery", again, probeBattery, 0)
	return out
}

// information returns what a test is expected to tell about the headings: the mutual
// information of label and outcome [bits], and the divergence between the outcomes of
// the first two (Jensen and Shannon's, 1 when they never look the same).
func (s *state) information(heads []heading, t candidate) (bits, apart float64) {
	var by []outcome
	total := 0.0
	for _, h := range heads {
		var sum outcome
		w := 0.0
		for i := range h.samples {
			x := &h.samples[i]
			o := t.probe(s, x, t.at)
			if sum == nil {
				sum = make(outcome, len(o))
			}
			for b, p := range o {
				sum[b] += float64(x.weight * p)
			}
			w += x.weight
		}
		for b := range sum {
			sum[b] /= w
		}
		by = append(by, sum)
		total += h.label.Probability
	}
	weights := make([]float64, len(heads))
	for i, h := range heads {
		weights[i] = h.label.Probability / total
	}
	bits = divergence(by, weights)
	if len(by) > 1 {
		apart = divergence(by[:2], []float64{0.5, 0.5})
	}
	return bits, apart
}

// divergence returns the mean divergence of distributions from their weighted mean [bits].
func divergence(by []outcome, weights []float64) float64 {
	if len(by) == 0 {
		return 0
	}
	sum := 0.0
	for b := range by[0] {
		mean := 0.0
		for i := range by {
			mean += float64(weights[i] * by[i][b])
		}
		for i := range by {
			if p := by[i][b]; p > 1e-12 && mean > 1e-12 {
				sum += float64(weights[i] * p * num.Log(p/mean))
			}
		}
	}
	return max(0, sum/ln2)
}

const ln2 = 0.6931471805599453
