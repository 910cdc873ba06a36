// Package opinion answers the Second opinion: what readings of a real engine allow to
// be said. The page runs it in a program of its own, which it fetches when the place
// is asked, so that a technician's phone loads nothing else. It knows no browser;
// web/jsapi/desk hands it to one. How it is asked: package answer.
package opinion

import (
	"errors"

	"crankbay/diagnose/intake"
	"crankbay/diagnose/library"
	"crankbay/diagnose/opinion"
	"crankbay/diagnose/reason"
	"crankbay/web/answer"
)

// ErrLibrary is the key of the error of a question that comes before the library.
const ErrLibrary = "no_library"

var commands = answer.Table{{Name: "opinion", Run: opinionCommand}}

// Work answers one request; tell may be nil.
func Work(request []byte, tell answer.Progress) []byte { return commands.Work(request, tell) }

// examples is the likelihood library, once somebody has handed it over. It is the same
// for every question, so the answers still depend on the request alone.
var examples *library.Library

// UseLibrary hands over the bytes of the likelihood library, which is a file of its own
// beside the program.
func UseLibrary(data []byte) error {
	l, err := library.Open(data)
	if err != nil {
		return err
	}
	examples = l
	return nil
}

// request holds readings of a real engine as they were written, and what was said
// beside them.
type request struct {
	Do   string `json:"do"`
	Text string `json:"text"`
	Said []struct {
		Name  string `json:"name"`
		Value string `json:"value"`
		As    string `json:"as"`
	} `json:"said"`
}

// given is an opinion, or what keeps the readings from being read: that is no error of
// the request.
type given struct {
	Opinion *opinion.Opinion `json:"opinion,omitempty"`
	Trouble *unread          `json:"trouble,omitempty"`
}

// unread says what can't be read and where, see intake.Error.
type unread struct {
	Key    string  `json:"key"`
	Line   int     `json:"line,omitempty"`
	Column int     `json:"column,omitempty"`
	Name   string  `json:"name,omitempty"`
	Text   string  `json:"text,omitempty"`
	Unit   string  `json:"unit,omitempty"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

// mostSaid bounds what a form can hold.
const mostSaid = 60

func opinionCommand(text []byte, _ answer.Progress) (any, error) {
	var r request
	if err := answer.Decode(text, &r); err != nil {
		return nil, err
	}
	if examples == nil {
		return nil, answer.New(ErrLibrary)
	}
	if len(r.Said) > mostSaid {
		return nil, answer.New(answer.ErrRequest, "text", "too much said beside the readings")
	}
	var said []intake.Said
	for _, s := range r.Said {
		said = append(said, intake.Said{Name: s.Name, Value: s.Value, As: s.As})
	}
	readings, err := intake.Parse(r.Text, said...)
	var e *intake.Error
	switch {
	case errors.As(err, &e):
		return given{Trouble: &unread{e.Key, e.Line, e.Column, e.Name, e.Text, e.Unit, e.Low, e.High}}, nil
	case err != nil:
		return nil, err
	}
	o := opinion.Of(examples, readings, reason.Priors{})
	return given{Opinion: &o}, nil
}
