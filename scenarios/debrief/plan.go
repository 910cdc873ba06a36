package debrief

import (
	"math"
	"slices"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
)

// A Plan is the cheapest way to tell what was wrong from everything that gives the
// same dry readings. It knows the answer, which no student does: it is what hindsight
// would have chosen, not what a careful plan had to begin with.
type Plan struct {
	Shape    string  `json:"shape"`
	Suspects []int   `json:"suspects"`
	Rivals   []Rival `json:"rivals"`
	Steps    []Step  `json:"steps"`
	Minutes  float64 `json:"minutes"` // of all steps
	Left     []int   `json:"left"`    // rivals, by index, that nothing on this list tells apart
	// Elsewhere are tests that the job calls for and no bench here has, where something is left.
	Elsewhere []string `json:"elsewhere"`
	Table     []Step   `json:"table"` // every test by itself
	Yours     Yours    `json:"yours"`
}

// A Step is one test: what it costs, what it shows on this engine, and which rivals
// it rules out that nothing before it had.
type Step struct {
	Test     string  `json:"test"`
	Minutes  float64 `json:"minutes"`
	Shows    []Shown `json:"shows"`
	RulesOut []int   `json:"rules_out"`
}

// testBackPressure needs a hole in the exhaust that this bench has not got.
const testBackPressure = "back_pressure"

// PlanOf works out a plan for a verified attempt. tell, which may be nil, hears how far
// it is.
func PlanOf(v attempt.Report, tell func(done, of int)) (Plan, error) {
	s := v.Session.Scenario()
	w := &worker{tell: tell}
	p, err := newProber(s)
	if err != nil {
		return Plan{}, err
	}
	x, err := p.shapeOf()
	if err != nil {
		return Plan{}, err
	}
	plan := Plan{Shape: x.shape, Suspects: x.suspects, Steps: []Step{}, Left: []int{}, Table: []Step{}}
	all, err := p.rivals(x, w.step)
	if err != nil {
		return Plan{}, err
	}
	plan.Rivals = others(all, s.Key)
	w.of = w.done + len(wanted(x.shape))*(len(plan.Rivals)+1)
	if len(plan.Rivals) > 0 {
		if err := plan.measure(p, x, done(v), w); err != nil {
			return Plan{}, err
		}
	}
	plan.choose()
	plan.Elsewhere = []string{}
	if len(plan.Left) > 0 && slices.Contains(s.Key.NextTests, testBackPressure) {
		plan.Elsewhere = append(plan.Elsewhere, testBackPressure)
	}
	plan.Yours = plan.yours(v)
	return plan, nil
}

// worker counts what is done.
type worker struct {
	done, of int
	tell     func(done, of int)
}

func (w *worker) step() {
	w.done++
	if w.tell != nil {
		w.tell(w.done, max(w.of, w.done+1))
	}
}

// others returns the rivals that are another answer than the key.
func others(all []Rival, key diagnose.Key) []Rival {
	out := []Rival{}
	for _, r := range all {
		same := r.Family == key.Family
		for _, a := range key.Accept {
			same = same || r.Family == a.Family
		}
		if !same {
			out = append(out, r)
		}
	}
	return out
}

// representatives is how many of many suspects are tested.
const representatives = 2

// measure does every test by the book on the engine and on its rivals. What takes
// longest to work out comes last, and only where the others leave something open or the
// student did it.
func (p *Plan) measure(b *prober, x shapes, mine []doing, w *worker) error {
	on := x.suspects[:min(len(x.suspects), representatives)]
	told := make([]bool, len(p.Rivals))
	for _, test := range wanted(x.shape) {
		if test == TestCurrent && !clamped(b.s) {
			continue
		}
		own := slices.ContainsFunc(mine, func(d doing) bool { return d.test == TestRunning })
		if test == TestRunning && x.shape != ShapeNone && all(told) && !own {
			continue
		}
		shows, err := b.run(test, b.s, on)
		if err != nil {
			return err
		}
		w.step()
		if shows == nil {
			continue
		}
		for i := range shows {
			shows[i].Value = to(100, shows[i].Value)
		}
		step := Step{Test: test, Minutes: b.s.Card.Minutes.Of(test, cylinders(test, len(on))), Shows: shows, RulesOut: []int{}}
		for i, r := range p.Rivals {
			other, err := b.run(test, b.with(r.Faults), on)
			if err != nil {
				return err
			}
			w.step()
			if differs(shows, other) {
				step.RulesOut = append(step.RulesOut, i)
				told[i] = true
			}
		}
		p.Table = append(p.Table, step)
	}
	return nil
}

// clamped reports whether the starter's current is worth a look: where humps can be
// compared, or where the job calls for it because one too many is to be seen.
func clamped(s *scenarios.Scenario) bool {
	return diagnose.HumpsCompare(s.Engine.Cylinders) || slices.Contains(s.Key.NextTests, TestCurrent)
}

func all(list []bool) bool {
	for _, is := range list {
		if !is {
			return false
		}
	}
	return true
}

// cylinders is how many have to be tested: oil goes into a healthy one too.
func cylinders(test string, suspects int) int {
	if test == TestWet {
		return suspects + 1
	}
	return suspects
}

// choose takes the cheapest set of tests that rules out every rival that can be ruled
// out, and puts them in the order that rules out most per minute.
func (p *Plan) choose() {
	every, can := uint64(0), uint64(0)
	for i := range p.Rivals {
		every |= 1 << i
	}
	for _, s := range p.Table {
		can |= bits(s.RulesOut)
	}
	best, cost := uint64(0), math.Inf(1)
	for set := uint64(0); set < 1<<len(p.Table); set++ {
		out, minutes, n := p.set(set)
		if out&can == can && (minutes < cost || minutes == cost && n < count(best)) {
			best, cost = set, minutes
		}
	}
	left := every &^ can
	for i := range p.Rivals {
		if left&(1<<i) != 0 {
			p.Left = append(p.Left, i)
		}
	}
	p.order(best, can)
}

// set returns what a set of tests rules out, its minutes and its size.
func (p *Plan) set(set uint64) (out uint64, minutes float64, n int) {
	for i, s := range p.Table {
		if set&(1<<i) != 0 {
			out |= bits(s.RulesOut)
			minutes += s.Minutes
			n++
		}
	}
	return out, minutes, n
}

// order puts a set of tests in order and fills in what each rules out.
func (p *Plan) order(set, can uint64) {
	known := uint64(0)
	for known != can {
		best, worth := -1, -1.0
		for i, s := range p.Table {
			gain := float64(count(bits(s.RulesOut) &^ known))
			if set&(1<<i) == 0 || gain == 0 {
				continue
			}
			if w := gain / (s.Minutes + 0.5); w > worth {
				best, worth = i, w
			}
		}
		if best < 0 {
			return
		}
		s := p.Table[best]
		now := bits(s.RulesOut) &^ known
		s.RulesOut = listed(now)
		known |= now
		p.Steps = append(p.Steps, s)
		p.Minutes += s.Minutes
	}
}

func bits(list []int) uint64 {
	b := uint64(0)
	for _, i := range list {
		b |= 1 << i
	}
	return b
}

func listed(b uint64) []int {
	out := []int{}
	for i := range 64 {
		if b&(1<<i) != 0 {
			out = append(out, i)
		}
	}
	return out
}

func count(b uint64) int { return len(listed(b)) }
