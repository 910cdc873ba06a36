package desk

import (
	"errors"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/code"
	"crankbay/scenarios/code/qr"
	"crankbay/scenarios/compose"
)

// Keys of errors of what travels.
const (
	ErrLink    = "bad_link"      // text
	ErrCode    = "bad_code"      // text
	ErrTooLong = "code_too_long" // have, max: hand in the file
	ErrSquare  = "no_square"     // text
)

// bookRequest asks what a scenario reads by the book.
type bookRequest struct {
	Do       string `json:"do"`
	Scenario string `json:"scenario"` // text of the file
	Quick    bool   `json:"quick"`    // the dry test alone, to follow a slider
}

// looked is the answer. Text is the scenario in its usual form.
type looked struct {
	ID     string       `json:"id"`
	Digest string       `json:"digest"`
	Text   string       `json:"text"`
	Look   compose.Look `json:"look"`
}

// lookCommand says what a scenario reads, and whether that can settle it.
func lookCommand(request []byte, _ Progress) (any, error) {
	var r bookRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	s, err := readScenario(r.Scenario)
	if err != nil {
		return nil, err
	}
	var l compose.Look
	if r.Quick {
		l, err = compose.Quick(s)
	} else {
		l, err = compose.Whole(s, weights)
	}
	if err != nil {
		return nil, trouble(ErrScenario, "text", err.Error())
	}
	text, err := s.Encode()
	if err != nil {
		return nil, trouble(ErrScenario, "text", err.Error())
	}
	return looked{s.ID, s.Digest(), string(text) + "\n", l}, nil
}

func readScenario(text string) (*scenarios.Scenario, error) {
	s, err := scenarios.Decode([]byte(text))
	if err != nil {
		return nil, trouble(ErrScenario, "text", err.Error())
	}
	return s, nil
}

// linkRequest asks for a link.
type linkRequest struct {
	Do       string `json:"do"`
	Scenario string `json:"scenario"`
	Mode     string `json:"mode"`
	Who      string `json:"who"`
	Class    string `json:"class"`
	Seal     string `json:"seal"`
	Base     string `json:"base"` // address of the site, for the QR code
}

// linked is a link, and the QR code of the whole address when one holds it.
type linked struct {
	Link   string   `json:"link"` // fragment, without the #
	Square []string `json:"square"`
}

// linkCommand packs a scenario into a link.
func linkCommand(request []byte, _ Progress) (any, error) {
	var r linkRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	s, err := readScenario(r.Scenario)
	if err != nil {
		return nil, err
	}
	link, err := (&code.Assignment{Scenario: s, Mode: r.Mode, Who: r.Who, Class: r.Class, Seal: r.Seal}).Link()
	if err != nil {
		return nil, trouble(ErrLink, "text", err.Error())
	}
	out := linked{Link: link}
	if square, err := qr.Draw(r.Base + "#" + link); err == nil {
		out.Square = square.Rows()
	}
	return out, nil
}

// squareRequest asks for any text as a QR code.
type squareRequest struct {
	Do   string `json:"do"`
	Text string `json:"text"`
}

// squareCommand draws a QR code: rows of 0 and 1.
func squareCommand(request []byte, _ Progress) (any, error) {
	var r squareRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	s, err := qr.Draw(r.Text)
	if err != nil {
		return nil, trouble(ErrSquare, "text", err.Error())
	}
	return struct {
		Square []string `json:"square"`
	}{s.Rows()}, nil
}

// coded is an attempt as a short code, with a QR code when it is short enough.
type coded struct {
	Code   string   `json:"code"`
	QR     string   `json:"qr"` // text of the QR code, empty when it is too long for one
	Square []string `json:"square"`
}

// codeCommand packs an attempt into a short code.
func codeCommand(request []byte, _ Progress) (any, error) {
	var r attemptRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	f, err := attempt.Decode([]byte(r.Attempt))
	if err != nil {
		return nil, trouble(ErrAttempt, "text", err.Error())
	}
	text, err := code.Encode(f)
	if long := (*code.TooLong)(nil); errors.As(err, &long) {
		return nil, trouble(ErrTooLong, "have", long.Have, "max", long.Max)
	}
	if err != nil {
		return nil, trouble(ErrCode, "text", err.Error())
	}
	out := coded{Code: text}
	if out.QR, err = code.QR(text); err != nil {
		return out, nil // too long for one, not for a code
	}
	if square, err := qr.Draw(out.QR); err == nil {
		out.Square = square.Rows()
	}
	return out, nil
}

// unpackRequest is a short code, and the scenario when the catalogue doesn't carry it.
type unpackRequest struct {
	Do       string `json:"do"`
	Code     string `json:"code"`
	Scenario string `json:"scenario"`
}

// unpackCommand turns a short code back into the file of the attempt, by playing it
// again: then it can be resumed, graded and debriefed like any other.
func unpackCommand(request []byte, _ Progress) (any, error) {
	var r unpackRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	b, err := code.Decode(r.Code)
	if err != nil {
		return nil, trouble(ErrCode, "text", err.Error())
	}
	s, err := scenarioOf(b.File.Scenario, r.Scenario)
	if err != nil {
		return nil, err
	}
	report, err := b.Verify(func(string) *scenarios.Scenario { return s })
	if err != nil {
		return nil, trouble(ErrAttempt, "text", err.Error())
	}
	text, err := report.Session.Encode()
	if err != nil {
		return nil, trouble(ErrAttempt, "text", err.Error())
	}
	return struct {
		Attempt  string `json:"attempt"`
		HandedIn bool   `json:"handed_in"`
	}{string(text), report.HandedIn}, nil
}
