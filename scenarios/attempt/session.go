package attempt

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// maxWho is the longest name of a student, in characters.
const maxWho = 100

// A Header says how the attempt is worked and by whom. Who is a claim.
type Header struct {
	Mode string // one of Modes
	Who  string // at most 100 characters, may be empty
}

// A Session is one attempt in progress, or one handed in. It is not safe for
// concurrent use.
type Session struct {
	scenario *scenarios.Scenario
	header   Header
	bench    *bench.Bench
	court    court
	sheet    diagnose.Sheet
	hints    int
	section  bool
}

// New begins an attempt at s.
func New(s *scenarios.Scenario, h Header) (*Session, error) {
	a, err := blank(s, h)
	if err != nil {
		return nil, err
	}
	if a.bench, err = bench.New(s.Setup()); err != nil {
		return nil, fmt.Errorf("attempt: scenario %s: %w", s.ID, err)
	}
	return a, nil
}

// blank returns a session without its bench.
func blank(s *scenarios.Scenario, h Header) (*Session, error) {
	switch {
	case !slices.Contains(Modes(), h.Mode):
		return nil, fmt.Errorf("attempt: mode: %q, want one of reasons, alone, grade", h.Mode)
	case !s.Work.Allows(h.Mode):
		return nil, fmt.Errorf("attempt: mode: %q, but this job is worked %s", h.Mode, strings.Join(s.Work.Modes, " or "))
	case !utf8.ValidString(h.Who):
		return nil, fmt.Errorf("attempt: who: not a text")
	case utf8.RuneCountInString(h.Who) > maxWho:
		return nil, fmt.Errorf("attempt: who: %d characters, at most %d", utf8.RuneCountInString(h.Who), maxWho)
	}
	return &Session{
		scenario: s, header: h, sheet: empty(),
		court: court{items: s.Card.Items, cylinders: s.Engine.Cylinders, banks: len(s.Engine.Banks)},
	}, nil
}

// Do applies an action of the bench or of the job sheet now, and logs it. The
// error is a *bench.Refusal and leaves no trace.
func (s *Session) Do(a record.Action) error {
	if s.sheet.HandedIn {
		return refuse("handed_in", 0)
	}
	if !slices.Contains(SheetKinds(), a.Kind) {
		return s.doBench(a)
	}
	if err := s.court.admit(&s.sheet, a); err != nil {
		return err
	}
	final := a.Kind == KindHandIn
	if final {
		if s.bench.State().Starter {
			return refuse("starter_on", 0)
		}
		s.bench.Settle()
	}
	if err := s.bench.Note(a, final); err != nil {
		return err
	}
	log := s.bench.Log()
	apply(&s.sheet, log[len(log)-1])
	return nil
}

// doBench passes an action on to the bench.
func (s *Session) doBench(a record.Action) error {
	if err := s.allowed(a); err != nil {
		return err
	}
	if err := s.bench.Do(a); err != nil {
		return err
	}
	switch {
	case a.Kind == bench.KindHint:
		s.hints++
	case a.Kind == bench.KindSection && !s.section:
		s.section = true
		s.hints++
	}
	return nil
}

// Advance lets up to n ticks pass. Nothing moves once the sheet is handed in.
func (s *Session) Advance(n int) {
	if !s.sheet.HandedIn {
		s.bench.Advance(n)
	}
}

// StrokeStep lets one compression stroke pass and returns the ticks.
func (s *Session) StrokeStep() int {
	if s.sheet.HandedIn {
		return 0
	}
	return s.bench.StrokeStep()
}

// Settle lets crank and needle come to rest.
func (s *Session) Settle() {
	if !s.sheet.HandedIn {
		s.bench.Settle()
	}
}

// Bench returns the bench, for looking only: an action goes through Do.
func (s *Session) Bench() *bench.Bench { return s.bench }

// Scenario returns what is being attempted.
func (s *Session) Scenario() *scenarios.Scenario { return s.scenario }

// Header returns mode and name.
func (s *Session) Header() Header { return s.header }

// State returns where everything on the bench is, and whether the sheet is
// handed in.
func (s *Session) State() bench.State {
	st := s.bench.State()
	st.HandedIn = s.sheet.HandedIn
	return st
}

// Sheet returns a copy of the job sheet as it stands.
func (s *Session) Sheet() diagnose.Sheet { return clone(s.sheet) }

// Record returns what happened so far.
func (s *Session) Record() record.Record { return s.bench.Record() }

// Log returns every accepted action. It shares memory with the session.
func (s *Session) Log() []record.Action { return s.bench.Log() }

// Hints returns how many hints were asked for, the section view counted once.
func (s *Session) Hints() int { return s.hints }

// Digest folds bench, log and with it the sheet into 64 bits.
func (s *Session) Digest() uint64 { return s.bench.Digest() }

// A Judge adds lines of its own to a grade: what the student's evidence allowed to be
// said, say. It sees what the grader sees.
type Judge interface {
	Judge(in diagnose.Input) []diagnose.Opinion
	Library() string // digest of what it judges by
}

// Grade judges the attempt as it stands, by the rules alone.
func (s *Session) Grade() diagnose.Result { return s.GradeBy(nil) }

// GradeBy judges the attempt as it stands, by the rules and by a judge, if there is one.
func (s *Session) GradeBy(j Judge) diagnose.Result {
	in := diagnose.Input{
		Card: s.scenario.Card, Key: s.scenario.Key, Banks: s.scenario.Engine.Banks,
		Cylinders: s.scenario.Engine.Cylinders, Record: s.Record(), Sheet: s.Sheet(), Mode: s.header.Mode, Hints: s.hints,
		Ambient: unit.Pressure(s.scenario.Conditions.AmbientKPa * 1e3),
	}
	if w := s.scenario.Work; w != nil {
		if w.Weights != nil {
			in.Weights = *w.Weights
		}
		if !w.May("wet") {
			in.Card.OilML = 0 // nobody is asked for a test that wasn't allowed
		}
	}
	if j == nil {
		return diagnose.Grade(in)
	}
	in.Opinion = j.Judge(in)
	g := diagnose.Grade(in)
	g.Library = j.Library()
	return g
}
