package collect

import (
	"bytes"
	"fmt"
	"strings"

	"crankbay/scenarios/code"
)

// A Source is what came in under one name: a file that was dropped, or a text that
// was pasted.
type Source struct {
	Name string
	Data []byte
}

// Forms of a hand-in.
const (
	FormFile   = "file"   // an attempt as JSON
	FormCode   = "code"   // a short code
	FormSealed = "sealed" // either of them, sealed
	FormNone   = "none"   // nothing that is a hand-in
)

// A HandIn is one attempt as it arrived, not yet looked into.
type HandIn struct {
	Source string
	Number int // within its source, from 1; 0 when it is the only one
	Form   string
	Data   []byte
}

// Label names where a hand-in came from.
func (h HandIn) Label() string {
	if h.Number == 0 {
		return h.Source
	}
	return fmt.Sprintf("%s (%d)", h.Source, h.Number)
}

// Find takes the hand-ins out of a source: a file of an attempt, or every code in a
// text, however it is wrapped and quoted: a mail, the table of a form, a list. What
// holds none comes back as one of form none, so that nothing is lost unseen.
func Find(s Source) []HandIn {
	data := bytes.TrimPrefix(s.Data, []byte("\ufeff"))
	if t := bytes.TrimSpace(data); len(t) > 0 && t[0] == '{' {
		return []HandIn{{Source: s.Name, Form: FormFile, Data: data}}
	}
	text := string(data)
	var all []HandIn
	for at := 0; at < len(text); {
		i, form, end := next(text, at)
		if i < 0 {
			break
		}
		all = append(all, HandIn{Source: s.Name, Number: len(all) + 1, Form: form, Data: []byte(text[i:end])})
		at = end
	}
	switch len(all) {
	case 0:
		return []HandIn{{Source: s.Name, Form: FormNone, Data: data}}
	case 1:
		all[0].Number = 0
	}
	return all
}

// next finds the first code at or after at: where it begins and ends.
func next(text string, at int) (from int, form string, end int) {
	from = -1
	for _, p := range []struct {
		prefix, form string
		length       func(string) int
	}{
		{code.Prefix, FormCode, code.Span}, {code.PrefixQR, FormCode, code.SpanQR}, {code.Sealed, FormSealed, code.SpanSealed},
	} {
		for i := at; i < len(text); {
			k := strings.Index(text[i:], p.prefix)
			if k < 0 {
				break
			}
			i += k
			if i > at && isLetter(text[i-1]) { // within something else
				i++
				continue
			}
			if from < 0 || i < from {
				from, form, end = i, p.form, i+len(p.prefix)+p.length(text[i+len(p.prefix):])
			}
			break
		}
	}
	return from, form, end
}

func isLetter(b byte) bool {
	return b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b == '-' || b == '_'
}
