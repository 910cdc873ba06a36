package desk

import "crankbay/web/answer"

// Keys of errors, besides those of every program. The texts are the page's; params
// carry what they name.
const (
	ErrPanic       = answer.ErrPanic
	ErrRequest     = answer.ErrRequest
	ErrCommand     = answer.ErrCommand
	ErrScenario    = "bad_scenario"     // text
	ErrUnknown     = "unknown_scenario" // id
	ErrAttempt     = "bad_attempt"      // text
	ErrNotHandedIn = "not_handed_in"    //
	ErrNoTurn      = "no_turn"          //
)

// A Trouble is an error of somebody's data, with the key of its sentence.
type Trouble = answer.Trouble

// trouble makes one of a key and pairs of names and values.
func trouble(key string, pairs ...any) *Trouble { return answer.New(key, pairs...) }
