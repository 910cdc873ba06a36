package evaluate

import (
	"math"
	"slices"

	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// Sureness is how sure one wants to be before one stops testing.
const Sureness = 0.9

// A Walk is how long it took to become sure.
type Walk struct {
	Minutes float64
	Sure    bool // it was reached
	Right   bool // what was sure was true
	Tests   int
}

// mostTests bounds a walk.
const mostTests = 25

// stop says whether the evidence is sure of a label, and whether that is the true one.
func (s *Subject) stop(o *reason.Opinion) (sure, right bool) {
	labels := o.Labels()
	if len(labels) == 0 || labels[0].Probability < Sureness {
		return false, false
	}
	return true, s.is(labels[0])
}

func (s *Subject) is(l reason.Label) bool {
	want := reason.Merged(groupOf(s.Family))
	cyl := sorted(s.Slot.Cylinders)
	return l.Group == want && slices.Equal(l.Cylinders, cyl)
}

// FollowNext does the test that is worth most, again and again, until one explanation is
// sure, nothing is left worth doing, or the minutes are used up that oil and air on every
// cylinder would take.
func FollowNext(lib *library.Library, s *Subject, p reason.Priors) Walk {
	n := len(s.Tests.Dry)
	budget := s.Minutes.Of("wet", n) + s.Minutes.Of("leakage", n)
	e := s.Blank()
	s.Dry(&e)
	shop := reason.Shop{Minutes: s.Minutes, LashCheck: s.Lash, Oil: true, Runs: true}
	var w Walk
	for {
		o := reason.Weigh(lib, e, p)
		if w.Sure, w.Right = s.stop(&o); w.Sure || w.Tests >= mostTests {
			return w
		}
		plan := o.NextTests(shop)
		done := false
		for _, t := range plan.Tests {
			if w.Minutes+t.Minutes <= budget && s.perform(&e, t) {
				w.Minutes += t.Minutes
				w.Tests++
				done = true
				break
			}
		}
		if !done {
			return w
		}
	}
}

// perform does a test of the plan; false for one that a simulated engine has no answer
// to.
func (s *Subject) perform(e *reason.Evidence, t reason.TestValue) bool {
	switch t.Test {
	case "open_throttle", "charge_battery":
		return false
	case "wet":
		if !anyWet(e) {
			s.Do(e, t.Test, s.control(t.Cylinders[0], e))
		}
	case "running":
		if !anyRunning(e) {
			s.Do(e, t.Test, s.control(t.Cylinders[0], e))
		}
	}
	if len(t.Cylinders) == 0 {
		s.Do(e, t.Test, 0)
	}
	for _, c := range t.Cylinders {
		s.Do(e, t.Test, c)
	}
	return true
}

func anyWet(e *reason.Evidence) bool {
	for _, c := range e.Cylinders {
		if c.Wet.Is {
			return true
		}
	}
	return false
}

func anyRunning(e *reason.Evidence) bool {
	for _, c := range e.Cylinders {
		if c.Idle.Is {
			return true
		}
	}
	return false
}

// control is the healthiest cylinder by the dry test, other than c.
func (s *Subject) control(c int, e *reason.Evidence) int {
	best := 0
	for i, x := range e.Cylinders {
		if i+1 != c && (best == 0 || x.Dry.V > e.Cylinders[best-1].Dry.V) {
			best = i + 1
		}
	}
	return best
}

// WetThenLeakage is what is usually taught: oil into every cylinder, then air into every
// cylinder. It stops as soon as one explanation is sure, asked after each cylinder.
func WetThenLeakage(lib *library.Library, s *Subject, p reason.Priors) Walk {
	e := s.Blank()
	s.Dry(&e)
	var w Walk
	check := func() bool {
		o := reason.Weigh(lib, e, p)
		w.Sure, w.Right = s.stop(&o)
		return w.Sure
	}
	if check() {
		return w
	}
	for c := range e.Cylinders {
		s.Do(&e, "wet", c+1)
		w.Minutes += s.Minutes.Of("wet", 1)
		w.Tests++
	}
	if check() {
		return w
	}
	w.Minutes += s.Minutes.LeakageSetup
	for c := range e.Cylinders {
		s.Do(&e, "leakage", c+1)
		w.Minutes += s.Minutes.LeakageEach
		w.Tests++
	}
	check()
	return w
}

// Compare sums two ways of going about it up: minutes until sure or out of tests, over all
// subjects.
func Compare(next, taught []Walk) map[string]any {
	sum := func(w []Walk) (minutes float64, sure, right, tests int) {
		for _, x := range w {
			minutes += x.Minutes
			tests += x.Tests
			if x.Sure {
				sure++
			}
			if x.Right {
				right++
			}
		}
		return minutes, sure, right, tests
	}
	n := len(next)
	a, sureA, rightA, testsA := sum(next)
	b, sureB, rightB, testsB := sum(taught)
	// The same over those that both became sure of.
	both, c, d := 0, 0.0, 0.0
	for i := range next {
		if next[i].Sure && taught[i].Sure {
			both++
			c += next[i].Minutes
			d += taught[i].Minutes
		}
	}
	return map[string]any{
		"engines": n, "sure_at": Sureness,
		"next_minutes": mean1(a, n), "taught_minutes": mean1(b, n), "fewer": 1 - mean1(a, n)/mean1(b, n),
		"next_sure": share(sureA, n), "taught_sure": share(sureB, n), "next_right_when_sure": share(rightA, sureA), "taught_right_when_sure": share(rightB, sureB),
		"next_tests": mean1(float64(testsA), n), "taught_tests": mean1(float64(testsB), n),
		"both_sure": both, "both_next_minutes": mean1(c, both), "both_taught_minutes": mean1(d, both),
	}
}

func mean1(sum float64, n int) float64 {
	if n == 0 {
		return 0
	}
	return math.Round(10*sum/float64(n)) / 10
}
