// Package desk answers what takes thought and no hands: the grade, the debrief,
// opinions. The page runs it beside the core, in a program of its own that it
// fetches when one of these places opens, so that the core stays small and no
// answer keeps the page waiting. It knows no browser; web/jsapi/desk is the thin
// layer that hands it to one.
//
// A request is one JSON object whose member "do" names the command; the other
// members are the command's own. An answer is one JSON object: {"ok": …} or
// {"error": {"key", "params"}}. Facts leave this package, sentences do not. No
// state stays between two requests.
package desk

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

// A command answers one kind of request. It gets the whole request, "do"
// included, and returns what goes out under "ok". A *Trouble leaves by its key;
// any other error leaves as bad_request.
type command func(request []byte, tell Progress) (any, error)

// commands lists what can be asked, by name. Each is in a file of its own.
var commands = []struct {
	name string
	run  command
}{
	{"debrief", debriefCommand},
	{"inside", insideCommand},
	{"mistakes", mistakesCommand},
	{"plan", planCommand},
	{"look", lookCommand},
	{"link", linkCommand},
	{"square", squareCommand},
	{"code", codeCommand},
	{"unpack", unpackCommand},
	{"roster", rosterCommand},
	{"class", classCommand},
	{"collect", collectCommand},
	{"table", tableCommand},
	{"report", reportCommand},
}

// Commands lists the names of all commands.
func Commands() []string {
	var names []string
	for _, c := range commands {
		names = append(names, c.name)
	}
	return names
}

// Answer answers one request. The same request gets the same answer, byte by
// byte. It never panics: a panic inside is our bug and leaves as desk_panic.
func Answer(request []byte) []byte { return Work(request, nil) }

// Work is Answer with news of its progress; tell may be nil.
func Work(request []byte, tell Progress) []byte {
	if tell == nil {
		tell = func(int, int) {}
	}
	return guarded(func() []byte {
		answer, err := run(request, tell)
		if err != nil {
			return failed(err)
		}
		return encode(struct {
			OK any `json:"ok"`
		}{answer})
	})
}

// guarded makes an error answer of a panic.
func guarded(work func() []byte) (out []byte) {
	defer func() {
		if r := recover(); r != nil {
			out = failed(trouble(ErrPanic, "text", fmt.Sprint(r)))
		}
	}()
	return work()
}

func run(request []byte, tell Progress) (any, error) {
	if len(request) > MaxRequest {
		return nil, trouble(ErrRequest, "text", fmt.Sprintf("longer than %d bytes", MaxRequest))
	}
	var head struct {
		Do string `json:"do"`
	}
	if err := json.Unmarshal(request, &head); err != nil {
		return nil, trouble(ErrRequest, "text", err.Error())
	}
	for _, c := range commands {
		if c.name == head.Do {
			return c.run(request, tell)
		}
	}
	return nil, trouble(ErrCommand, "name", head.Do)
}

// decode reads a request strictly: unknown members and anything after it are
// errors. v must have a member for "do".
func decode(request []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(request))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return trouble(ErrRequest, "text", err.Error())
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return trouble(ErrRequest, "text", "more than one JSON value")
	}
	return nil
}

// encode writes JSON. Everything passed to it is made of plain finite values, so
// a failure is a bug here.
func encode(v any) []byte {
	data, err := json.Marshal(v)
	if err != nil {
		panic(fmt.Sprintf("desk: %T: %v", v, err))
	}
	return data
}
