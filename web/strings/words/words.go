// Package words gives the texts of one language to a program that prints them.
package words

import (
	"fmt"

	"crankbay/web/strings"
)

// Words are the texts of one language.
type Words struct {
	table    map[string]strings.Text
	fallback map[string]strings.Text
}

// For returns the texts of a language: en or es.
func For(language string) (Words, error) {
	t, err := strings.Table(language)
	if err != nil {
		return Words{}, err
	}
	if language == "en" { // a table takes some milliseconds
		return Words{t, t}, nil
	}
	en, err := strings.Table("en")
	return Words{t, en}, err
}

// Say returns a text with its parameters filled in: name, value, name, value. A key
// that no language has is a bug.
func (w Words) Say(key string, params ...any) string {
	t, ok := w.table[key]
	if !ok {
		if t, ok = w.fallback[key]; !ok {
			panic(fmt.Sprintf("words: no text %q", key))
		}
	}
	filled := map[string]string{}
	for i := 0; i+1 < len(params); i += 2 {
		filled[fmt.Sprint(params[i])] = fmt.Sprint(params[i+1])
	}
	return strings.Unbroken(t.Fill(filled))
}

// Has reports whether a key has a text.
func (w Words) Has(key string) bool {
	_, ok := w.table[key]
	if !ok {
		_, ok = w.fallback[key]
	}
	return ok
}
