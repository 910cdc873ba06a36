package attempt

import (
	"fmt"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// Lookup finds a scenario by its id, or gives nil. scenarios.Find is one.
type Lookup func(id string) *scenarios.Scenario

// A Report is what a verified attempt comes to.
type Report struct {
	Session    *Session
	HandedIn   bool
	Minutes    float64 // bench minutes
	Grade      diagnose.Result
	GraderThen int // version of the grader at the time; Grade is by GraderVersion
}

// A VersionError says that a file was made under another version. That is no
// forgery: the program or the scenario has moved on.
type VersionError struct {
	What string // model, scenario or seed
	Then string // in the file
	Now  string // here
}

// Error names both versions.
func (e *VersionError) Error() string {
	return fmt.Sprintf("attempt: recorded under %s %s, this is %s %s", e.What, e.Then, e.What, e.Now)
}

// Verify plays a file again with the scenario it names, compares every mark and
// grades what then stands on the sheet. The error is one sentence: an unknown
// scenario, a *VersionError, an action that can't have been done, or the tick
// from which the replay differs.
func Verify(f *File, find Lookup) (Report, error) {
	s := find(f.Scenario)
	if s == nil {
		return Report{}, fmt.Errorf("attempt: scenario: %q is not known here", f.Scenario)
	}
	a, err := replay(f, s)
	if err != nil {
		return Report{}, err
	}
	return a.report(f.Grader), nil
}

func (s *Session) report(graderThen int) Report {
	return Report{Session: s, HandedIn: s.sheet.HandedIn, Minutes: s.bench.Minutes(), Grade: s.Grade(), GraderThen: graderThen}
}

// Resume takes an attempt up where it was saved, by playing its log again. A
// starter that was held then is let go, and everything comes to rest.
func Resume(f *File, s *scenarios.Scenario) (*Session, error) {
	a, err := replay(f, s)
	if err != nil {
		return nil, err
	}
	return a.rest()
}

// rest lets go of a starter that was held and brings everything to rest.
func (s *Session) rest() (*Session, error) {
	if s.bench.State().Starter {
		if err := s.Do(record.Action{Kind: bench.KindStarter, Choice: "off"}); err != nil {
			return nil, err
		}
	}
	s.Settle()
	return s, nil
}

// current reports a version of the file that is not the present one.
func (f *File) current(s *scenarios.Scenario) error {
	switch {
	case f.Model != sim.ModelVersion:
		return &VersionError{"model", fmt.Sprint(f.Model), fmt.Sprint(sim.ModelVersion)}
	case f.Scenario != s.ID:
		return fmt.Errorf("attempt: scenario: %q, but this is %q", f.Scenario, s.ID)
	case f.ScenarioDigest != s.Digest():
		return &VersionError{"scenario digest", f.ScenarioDigest, s.Digest()}
	case f.Seed != s.Seed:
		return &VersionError{"seed", fmt.Sprint(f.Seed), fmt.Sprint(s.Seed)}
	}
	return nil
}

// replay plays a file again; every mark must come out as recorded.
func replay(f *File, s *scenarios.Scenario) (*Session, error) {
	if err := f.current(s); err != nil {
		return nil, err
	}
	a, err := blank(s, Header{Mode: f.Mode, Who: f.Who})
	if err != nil {
		return nil, err
	}
	if len(f.Marks) == 0 {
		return nil, fmt.Errorf("attempt: marks: none, want one at the end at least")
	}
	last := f.Marks[len(f.Marks)-1]
	b, err := bench.Replay(s.Setup(), f.Actions, f.Marks[:len(f.Marks)-1], f.Tick, func(b *bench.Bench, x record.Action) error {
		a.bench = b
		return a.Do(x)
	})
	if err != nil {
		return nil, fmt.Errorf("attempt: %w", err)
	}
	a.bench = b
	if last.Tick != b.Tick() || last.Digest != b.Digest() {
		return nil, fmt.Errorf("attempt: %w", &bench.Diverged{Tick: last.Tick, Mark: len(f.Marks) - 1})
	}
	return a, nil
}
