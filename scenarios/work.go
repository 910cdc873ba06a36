package scenarios

import (
	"crankbay/diagnose"
	"crankbay/scenarios/strict"
)

// Work is how an instructor wants a job to be worked. It may be absent, and so may
// each of its fields: then everything is allowed, time is free, and the rows weigh what
// they usually do.
type Work struct {
	Modes   []string          `json:"modes,omitempty"`   // ways of working that are allowed
	Tests   *[]string         `json:"tests,omitempty"`   // of Tests: what is allowed beyond the dry test
	Hide    []string          `json:"hide,omitempty"`    // of Hidden: what is kept from students who could ask for it
	Minutes float64           `json:"minutes,omitempty"` // of the bench; after that no hand moves but to let go of the starter
	Weights *diagnose.Weights `json:"weights,omitempty"` // points of the five rows
}

// Tests lists what can be allowed beyond the dry test.
func Tests() []string {
	return []string{
		"wet", "leakage", "current", "running", "vacuum", "lash", "timing_marks", "borescope", "cooling_pressure", "power_balance",
	}
}

// Hidden lists what can be kept from a student.
func Hidden() []string { return []string{"section", "hints"} }

// MaxWorkMinutes is the most time a job can have at the bench [min]: a day.
const MaxWorkMinutes = 1440

// work reads how a job is to be worked; modes are those of package attempt.
func work(v strict.Value) *Work {
	if !v.Present() {
		return nil
	}
	w := &Work{}
	o := v.Object()
	w.Modes = some(o.May("modes"), 1, "reasons", "alone", "grade")
	if t := o.May("tests"); t.Present() {
		list := some(t, 0, Tests()...)
		if list == nil {
			list = []string{}
		}
		w.Tests = &list
	}
	w.Hide = some(o.May("hide"), 1, Hidden()...)
	if m := o.May("minutes"); m.Present() {
		w.Minutes = m.Float(1, MaxWorkMinutes)
	}
	if r := o.May("weights"); r.Present() {
		w.Weights = weights(r)
	}
	o.Close()
	return w
}

// some reads a list of different words, each one of those given.
func some(v strict.Value, least int, words ...string) []string {
	if !v.Present() {
		return nil
	}
	var out []string
	for _, item := range v.List(least, len(words)) {
		s := item.OneOf(words...)
		for _, other := range out {
			if s != "" && s == other {
				item.Fail("%q stands there twice", s)
			}
		}
		out = append(out, s)
	}
	return out
}

func weights(v strict.Value) *diagnose.Weights {
	o := v.Object()
	points := func(name string) float64 { return o.Need(name).Float(0, 1000) }
	w := &diagnose.Weights{
		Prepare: points("prepare"), Measure: points("measure"), Record: points("record"), Choose: points("choose"), Conclude: points("conclude"),
	}
	o.Close()
	if w.Prepare+w.Measure+w.Record+w.Choose+w.Conclude == 0 {
		v.Fail("no points at all, want more than 0 in some row")
	}
	return w
}

// Allows tells whether a job may be worked in a mode.
func (w *Work) Allows(mode string) bool { return w == nil || len(w.Modes) == 0 || among(w.Modes, mode) }

// May tells whether a test beyond the dry one is allowed.
func (w *Work) May(test string) bool { return w == nil || w.Tests == nil || among(*w.Tests, test) }

// Hides tells whether something is kept from students.
func (w *Work) Hides(what string) bool { return w != nil && among(w.Hide, what) }

func among(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
