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

// MostInSource is how many hand-ins are taken out of one source: ten times the largest
// class. What follows comes back as one of form none.
const MostInSource = 6000

// Find takes the hand-ins out of a source: a file of an attempt, or every code in a
// text, however it is wrapped and quoted: a mail, the table of a form, a list. What
// holds none comes back as one of form none, so that nothing is lost unseen.
func Find(s Source) []HandIn {
	data := bytes.TrimPrefix(s.Data, []byte("\ufeff"))
	if t := bytes.TrimSpace(data); len(t) > 0 && t[0] == '{' {
		return []HandIn{{Source: s.Name, Form: FormFile, Data: data}}
	}
	r := reading{text: string(data)}
	var all []HandIn
	for at := 0; at < len(r.text); {
		i, form, end := r.next(at)
		if i < 0 {
			break
		}
		if len(all) == MostInSource {
			form, end = FormNone, len(r.text)
		}
		all = append(all, HandIn{Source: s.Name, Number: len(all) + 1, Form: form, Data: []byte(r.text[i:end])})
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

// kinds are the codes that a text can hold.
var kinds = [...]struct {
	prefix, form string
	length       func(string) int
}{
	{code.Prefix, FormCode, code.Span}, {code.PrefixQR, FormCode, code.SpanQR}, {code.Sealed, FormSealed, code.SpanSealed},
}

// reading is a text on the way from its beginning to its end. It notes where the next
// code of each kind begins, so that a text is gone through once and not once for each
// code.
type reading struct {
	text  string
	known [len(kinds)]bool
	begin [len(kinds)]int // len(text) when there is none any more
}

// next finds the first code at or after at: where it begins and ends; from is -1 when
// there is none. at never goes back.
func (r *reading) next(at int) (from int, form string, end int) {
	best := -1
	for k, p := range kinds {
		switch {
		case strings.HasPrefix(r.text[at:], p.prefix):
			r.begin[k], r.known[k] = at, true // right behind another code
		case !r.known[k] || r.begin[k] < at:
			r.begin[k], r.known[k] = at+1+first(r.text[at:], p.prefix), true
		}
		if r.begin[k] < len(r.text) && (best < 0 || r.begin[k] < r.begin[best]) {
			best = k
		}
	}
	if best < 0 {
		return -1, "", 0
	}
	from = r.begin[best]
	end = from + len(kinds[best].prefix)
	return from, kinds[best].form, end + kinds[best].length(r.text[end:])
}

// first returns how far behind the first character of a text a prefix stands that is not
// within something else; the length of the text when none does.
func first(text, prefix string) int {
	for i := 1; i < len(text); i++ {
		k := strings.Index(text[i:], prefix)
		if k < 0 {
			break
		}
		if i += k; !isLetter(text[i-1]) {
			return i - 1
		}
	}
	return len(text)
}

func isLetter(b byte) bool {
	return b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b == '-' || b == '_'
}
