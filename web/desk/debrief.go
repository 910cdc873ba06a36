package desk

import (
	"errors"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/debrief"
)

// attemptRequest is what every command about one attempt takes.
type attemptRequest struct {
	Do       string `json:"do"`
	Attempt  string `json:"attempt"`  // text of the file
	Scenario string `json:"scenario"` // text of the scenario when the catalogue doesn't carry it, else empty
}

// debriefCommand grades an attempt that was handed in and tells what was inside,
// what was done when, and every run.
func debriefCommand(request []byte, _ Progress) (any, error) {
	return about(request, ErrScenario, func(v attempt.Report) (any, error) {
		v.Grade = v.Session.GradeBy(judge)
		return debrief.Of(v)
	})
}

// mistakesCommand tells which mistake changed which reading by how much, by playing
// the attempt again without it. It takes a few replays for each mistake.
func mistakesCommand(request []byte, tell Progress) (any, error) {
	return about(request, ErrAttempt, func(v attempt.Report) (any, error) {
		v.Grade = v.Session.GradeBy(judge) // what matters most comes out of both
		return debrief.MistakesOf(v, tell)
	})
}

// planCommand works out the cheapest way to have told what was wrong. It takes some
// seconds: every test by the book, on the engine and on all that reads the same.
func planCommand(request []byte, tell Progress) (any, error) {
	return about(request, ErrScenario, func(v attempt.Report) (any, error) { return debrief.PlanOf(v, tell) })
}

// about does some work on the attempt that a request is about; key names what its
// error is about.
func about(request []byte, key string, work func(attempt.Report) (any, error)) (any, error) {
	var r attemptRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	v, err := verified(r)
	if err != nil {
		return nil, err
	}
	answer, err := work(v)
	if err != nil {
		return nil, trouble(key, "text", err.Error())
	}
	return answer, nil
}

// insideRequest asks for a look into one cylinder.
type insideRequest struct {
	attemptRequest
	Cylinder int `json:"cylinder"`
	Run      int `json:"run"` // of the attempt; 0 the test by the book
}

// insideCommand answers with one working cycle of one cylinder.
func insideCommand(request []byte, _ Progress) (any, error) {
	var r insideRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	v, err := verified(r.attemptRequest)
	if err != nil {
		return nil, err
	}
	seen, err := debrief.InsideOf(v, r.Cylinder, r.Run)
	switch {
	case errors.Is(err, debrief.ErrNoTurn):
		return nil, trouble(ErrNoTurn)
	case err != nil:
		return nil, trouble(ErrRequest, "text", err.Error())
	}
	return seen, nil
}

// verified plays an attempt again that was handed in.
func verified(r attemptRequest) (attempt.Report, error) {
	f, err := attempt.Decode([]byte(r.Attempt))
	if err != nil {
		return attempt.Report{}, trouble(ErrAttempt, "text", err.Error())
	}
	s, err := scenarioOf(f.Scenario, r.Scenario)
	if err != nil {
		return attempt.Report{}, err
	}
	v, err := attempt.Verify(f, func(string) *scenarios.Scenario { return s })
	if err != nil {
		return attempt.Report{}, trouble(ErrAttempt, "text", err.Error())
	}
	if !v.HandedIn {
		return attempt.Report{}, trouble(ErrNotHandedIn)
	}
	return v, nil
}

// scenarioOf reads a scenario's text, or finds it in the catalogue by its id when
// there is none.
func scenarioOf(id, text string) (*scenarios.Scenario, error) {
	if text != "" {
		s, err := scenarios.Decode([]byte(text))
		if err != nil {
			return nil, trouble(ErrScenario, "text", err.Error())
		}
		return s, nil
	}
	if s := scenarios.Find(id); s != nil {
		return s, nil
	}
	return nil, trouble(ErrUnknown, "id", id)
}
