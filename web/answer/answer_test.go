package answer_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/web/answer"
)

var table = answer.Table{
	{Name: "echo", Run: func(request []byte, tell answer.Progress) (any, error) {
		var r struct {
			Do   string `json:"do"`
			Text string `json:"text"`
		}
		if err := answer.Decode(request, &r); err != nil {
			return nil, err
		}
		tell(1, 1)
		return r.Text, nil
	}},
	{Name: "panic", Run: func([]byte, answer.Progress) (any, error) { panic("no such thing") }},
	{Name: "known", Run: func([]byte, answer.Progress) (any, error) { return nil, answer.New("lost", "id", 7) }},
	{Name: "other", Run: func([]byte, answer.Progress) (any, error) { return nil, errors.New("plain") }},
}

func TestWork(t *testing.T) {
	for _, x := range []struct{ request, want string }{
		{`{"do":"echo","text":"a"}`, `{"ok":"a"}`},
		{`{"do":"echo","text":"a","more":1}`, `{"error":{"key":"bad_request","params":{"text":"json: unknown field \"more\""}}}`},
		{`{"do":"echo"} {}`, `{"error":{"key":"bad_request","params":{"text":"invalid character '{' after top-level value"}}}`},
		{`{"do":"nothing"}`, `{"error":{"key":"unknown_command","params":{"name":"nothing"}}}`},
		{`[]`, `{"error":{"key":"bad_request","params":{"text":"json: cannot unmarshal array into Go value of type struct { Do string \"json:\\\"do\\\"\" }"}}}`},
		{`{"do":"panic"}`, `{"error":{"key":"desk_panic","params":{"text":"no such thing"}}}`},
		{`{"do":"known"}`, `{"error":{"key":"lost","params":{"id":7}}}`},
		{`{"do":"other"}`, `{"error":{"key":"bad_request","params":{"text":"plain"}}}`},
	} {
		assert.JSONEq(t, x.want, string(table.Work([]byte(x.request), nil)), x.request)
	}
	told := 0
	table.Work([]byte(`{"do":"echo"}`), func(int, int) { told++ })
	assert.Equal(t, 1, told)
	assert.Equal(t, []string{"echo", "panic", "known", "other"}, table.Names())
	assert.Contains(t, string(table.Work(make([]byte, answer.MaxRequest+1), nil)), "bad_request")
	assert.EqualError(t, answer.New("lost", "text", "why"), "lost: why")
}
