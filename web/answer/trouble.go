package answer

import "errors"

// Keys of errors that every program can answer with. The texts are the page's; params
// carry what they name.
const (
	ErrPanic   = "desk_panic"      // text
	ErrRequest = "bad_request"     // text
	ErrCommand = "unknown_command" // name
)

// A Trouble is an error of somebody's data, with the key of its sentence.
type Trouble struct {
	Key    string
	Params map[string]any
}

// Error names the key and, where there is one, the detail.
func (t *Trouble) Error() string {
	if text, ok := t.Params["text"].(string); ok {
		return t.Key + ": " + text
	}
	return t.Key
}

// New makes a Trouble of a key and pairs of names and values.
func New(key string, pairs ...any) *Trouble {
	t := &Trouble{key, map[string]any{}}
	for i := 0; i+1 < len(pairs); i += 2 {
		t.Params[pairs[i].(string)] = pairs[i+1]
	}
	return t
}

// failed is how an error leaves.
func failed(err error) []byte {
	var t *Trouble
	if !errors.As(err, &t) {
		t = New(ErrRequest, "text", err.Error())
	}
	var out struct {
		Error struct {
			Key    string         `json:"key"`
			Params map[string]any `json:"params"`
		} `json:"error"`
	}
	out.Error.Key, out.Error.Params = t.Key, t.Params
	return encode(out)
}
