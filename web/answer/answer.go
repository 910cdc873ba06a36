// Package answer is how the programs beside the core are asked: one request, one
// answer, nothing kept in between.
//
// A request is one JSON object whose member "do" names the command; the other
// members are the command's own. An answer is one JSON object: {"ok": …} or
// {"error": {"key", "params"}}. Facts leave the programs, sentences do not.
package answer

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// MaxRequest is the longest request [bytes]: an attempt and a scenario, each at
// its largest, with room for quoting.
const MaxRequest = 20 << 20

// Progress is told, now and then during long work, how many of the steps are done.
// The caller may use the moment to let others work.
type Progress func(done, of int)

// A Command answers one kind of request. It gets the whole request, "do"
// included, and returns what goes out under "ok". A *Trouble leaves by its key;
// any other error leaves as bad_request.
type Command struct {
	Name string
	Run  func(request []byte, tell Progress) (any, error)
}

// A Table lists what one program can be asked.
type Table []Command

// Names lists the names of all commands.
func (t Table) Names() []string {
	var names []string
	for _, c := range t {
		names = append(names, c.Name)
	}
	return names
}

// Work answers one request, with news of its progress; tell may be nil. The same
// request gets the same answer, byte by byte. It never panics: a panic inside is
// our bug and leaves as desk_panic.
func (t Table) Work(request []byte, tell Progress) []byte {
	if tell == nil {
		tell = func(int, int) {}
	}
	return Guarded(func() []byte {
		answer, err := t.run(request, tell)
		if err != nil {
			return failed(err)
		}
		return encode(struct {
			OK any `json:"ok"`
		}{answer})
	})
}

// Guarded makes an error answer of a panic.
func Guarded(work func() []byte) (out []byte) {
	defer func() {
		if r := recover(); r != nil {
			out = failed(New(ErrPanic, "text", fmt.Sprint(r)))
		}
	}()
	return work()
}

func (t Table) run(request []byte, tell Progress) (any, error) {
	if len(request) > MaxRequest {
		return nil, New(ErrRequest, "text", fmt.Sprintf("longer than %d bytes", MaxRequest))
	}
	var head struct {
		Do string `json:"do"`
	}
	if err := json.Unmarshal(request, &head); err != nil {
		return nil, New(ErrRequest, "text", err.Error())
	}
	for _, c := range t {
		if c.Name == head.Do {
			return c.Run(request, tell)
		}
	}
	return nil, New(ErrCommand, "name", head.Do)
}

// Decode reads a request strictly: unknown members and anything after it are
// errors. v must have a member for "do".
func Decode(request []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(request))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return New(ErrRequest, "text", err.Error())
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return New(ErrRequest, "text", "more than one JSON value")
	}
	return nil
}

// encode writes JSON. Everything passed to it is made of plain finite values, so
// a failure is a bug here.
func encode(v any) []byte {
	data, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("answer: %T: %v", v, err))
	}
	return data
}
