package session

import (
	"crankbay/scenarios/attempt"
	"crankbay/sim/record"
)

// Save answers with the attempt so far as the text of its file.
func (c *Core) Save() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	data, err := c.s.Encode()
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	return string(data)
}

// HandIn ends the attempt and answers {"file"} with the text of its file. Handing
// in again answers the same. Grading it is web/desk's work.
func (c *Core) HandIn() string {
	if c.s == nil {
		return fail(ErrNothingOpen)
	}
	if !c.s.Sheet().HandedIn {
		if err := c.do(record.Action{Kind: attempt.KindHandIn}); err != nil {
			return c.answer(err)
		}
	}
	data, err := c.s.Encode()
	if err != nil {
		return fail(ErrAttempt, "text", err.Error())
	}
	return encode(struct {
		File string `json:"file"`
	}{string(data)})
}
