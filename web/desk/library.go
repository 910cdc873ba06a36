package desk

import (
	"fmt"

	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
	"crankbay/scenarios/attempt"
)

// judge adds to a grade what the evidence allowed to be said, once somebody has handed
// the likelihood library over. It is the same for every request, so that answers still
// depend on the request alone.
var judge attempt.Judge

// weights is the library itself; nil until it is handed over.
var weights *library.Library

// UseLibrary hands over the bytes of the likelihood library, which is a file of its own
// beside the program. Only the one that belongs to this grader will do.
func UseLibrary(data []byte) error {
	l, err := library.Open(data)
	if err != nil {
		return err
	}
	if l.Digest != attempt.GraderLibrary {
		return fmt.Errorf("library %s, but grader %d belongs with %s", l.Digest, attempt.GraderVersion, attempt.GraderLibrary)
	}
	weights = l
	judge = reason.NewJudge(l, reason.Priors{})
	return nil
}
