package desk

import (
	"encoding/hex"

	"crankbay/scenarios/class"
	"crankbay/scenarios/code/qr"
)

// Keys of errors of classes.
const (
	ErrRoster = "bad_roster" // text
	ErrClass  = "bad_class"  // text
)

// rosterRequest is what an instructor pasted or dropped.
type rosterRequest struct {
	Do   string `json:"do"`
	Text string `json:"text"`
	File []byte `json:"file"` // instead, in base64: its encoding is worked out
}

// rosterCommand reads the students out of it.
func rosterCommand(request []byte, _ Progress) (any, error) {
	var r rosterRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	data := r.File
	if len(data) == 0 {
		data = []byte(r.Text)
	}
	students, err := class.ReadRoster(data)
	if err != nil {
		return nil, trouble(ErrRoster, "text", err.Error())
	}
	return struct {
		Students []class.Student `json:"students"`
	}{students}, nil
}

// classRequest asks for a class set: a new one, or the one of a class file again.
type classRequest struct {
	Do       string          `json:"do"`
	Class    string          `json:"class"` // text of a class file; then only base counts besides, and students when there are any
	Scenario string          `json:"scenario"`
	Students []class.Student `json:"students"` // extra_time is percent beyond the job's minutes
	Tags     []string        `json:"tags"`     // the instructor's own names of the tasks
	Name     string          `json:"name"`
	Mode     string          `json:"mode"`
	Seal     string          `json:"seal"`
	Secret   string          `json:"secret"` // hexadecimal, made by chance in the page
	Base     string          `json:"base"`   // address of the site, for the QR codes
}

// handedOut is one student's line, with the QR code of the link.
type handedOut struct {
	class.Answer
	Square []string `json:"square"`
}

// setMade is a class set.
type setMade struct {
	Class     string      `json:"class"` // text of the class file, to be kept by the instructor
	Name      string      `json:"name"`
	Pattern   string      `json:"pattern"`
	Supported bool        `json:"supported"` // dry and wet readings support the answer
	Open      bool        `json:"open"`      // they leave it open
	Answers   []handedOut `json:"answers"`
}

// classCommand makes the variants, trying each by the book.
func classCommand(request []byte, tell Progress) (any, error) {
	var r classRequest
	if err := decode(request, &r); err != nil {
		return nil, err
	}
	c, err := r.group()
	if err != nil {
		return nil, err
	}
	if r.Class != "" && len(r.Students) > 0 {
		if err := c.Change(r.Students, nil); err != nil {
			return nil, trouble(ErrClass, "text", err.Error())
		}
	}
	set, err := c.HandOut(tell)
	if err != nil {
		return nil, trouble(ErrClass, "text", err.Error())
	}
	answers, err := c.Answers(set)
	if err != nil {
		return nil, trouble(ErrLink, "text", err.Error())
	}
	l, err := class.LessonOf(c.Scenario)
	if err != nil {
		return nil, trouble(ErrClass, "text", err.Error())
	}
	file, err := c.Encode()
	if err != nil {
		return nil, trouble(ErrClass, "text", err.Error())
	}
	out := setMade{Class: string(file), Name: c.Name, Pattern: l.Pattern(), Answers: []handedOut{}}
	out.Supported, out.Open = l.Settled()
	for _, a := range answers {
		h := handedOut{Answer: a}
		if s, err := qr.Draw(r.Base + "#" + a.Link); err == nil {
			h.Square = s.Rows()
		}
		out.Answers = append(out.Answers, h)
	}
	return out, nil
}

func (r *classRequest) group() (*class.Class, error) {
	if r.Class != "" {
		c, err := class.Decode([]byte(r.Class))
		if err != nil {
			return nil, trouble(ErrClass, "text", err.Error())
		}
		return c, nil
	}
	s, err := readScenario(r.Scenario)
	if err != nil {
		return nil, err
	}
	secret, err := hex.DecodeString(r.Secret)
	if err != nil {
		return nil, trouble(ErrClass, "text", "secret: not hexadecimal")
	}
	c := &class.Class{Name: r.Name, Secret: secret, Mode: r.Mode, Seal: r.Seal, Tags: r.Tags, Scenario: s, Students: r.Students}
	data, err := c.Encode()
	if err == nil {
		c, err = class.Decode(data) // held against the same bounds as a file
	}
	if err != nil {
		return nil, trouble(ErrClass, "text", err.Error())
	}
	return c, nil
}
