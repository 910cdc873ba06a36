// Package strings holds every sentence of the page, in English and Spanish, by
// key. Facts leave the other packages, sentences live here.
//
// A text is a string, or an object {"one","other"} of which the parameter n
// chooses: one for exactly 1, other for the rest. `{name}` is replaced by a
// parameter. There is nothing else.
package strings

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
)

// Files are the texts as the page fetches them: en.json and es.json.
//
//go:embed en.json es.json
var Files embed.FS

// Model are the texts of the page about the model, which is written when the site
// is built and fetches nothing: model/en.json and model/es.json.
//
//go:embed model
var Model embed.FS

// Guide are the texts of the teacher's guide, written when the site is built:
// guide/en.json and guide/es.json.
//
//go:embed guide
var Guide embed.FS

// Languages lists the languages there are texts in.
func Languages() []string { return []string{"en", "es"} }

// A Text is one entry of a table. Other alone is a text without a plural.
type Text struct {
	One   string
	Other string
}

// UnmarshalJSON reads a string or {"one","other"}.
func (t *Text) UnmarshalJSON(data []byte) error {
	if bytes.HasPrefix(bytes.TrimSpace(data), []byte(`"`)) {
		return json.Unmarshal(data, &t.Other)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var forms struct {
		One   *string `json:"one"`
		Other *string `json:"other"`
	}
	if err := d.Decode(&forms); err != nil {
		return err
	}
	if forms.One == nil || forms.Other == nil {
		return fmt.Errorf("a plural text needs one and other")
	}
	t.One, t.Other = *forms.One, *forms.Other
	return nil
}

// Table returns the texts of a language by key.
func Table(language string) (map[string]Text, error) {
	data, err := Files.ReadFile(language + ".json")
	if err != nil {
		return nil, fmt.Errorf("no texts in %q", language)
	}
	var table map[string]Text
	if err := json.Unmarshal(data, &table); err != nil {
		return nil, fmt.Errorf("%s.json: %w", language, err)
	}
	return table, nil
}

var placeholder = regexp.MustCompile(`\{([a-z_]+)\}`)

// Fill puts parameters into the text: `{name}` becomes params["name"], a name
// without a parameter stays as it stands. Params "n" chooses the form.
func (t Text) Fill(params map[string]string) string {
	text := t.Other
	if t.One != "" && params["n"] == "1" {
		text = t.One
	}
	return placeholder.ReplaceAllStringFunc(text, func(whole string) string {
		if value, ok := params[whole[1:len(whole)-1]]; ok {
			return value
		}
		return whole
	})
}

// Unbroken takes out the soft hyphens, at which only a browser breaks a word.
func Unbroken(text string) string { return strings.ReplaceAll(text, "\u00ad", "") }

// Placeholders returns the names in a text, in order, both forms.
func (t Text) Placeholders() []string {
	var names []string
	for _, form := range []string{t.One, t.Other} {
		for _, m := range placeholder.FindAllStringSubmatch(form, -1) {
			names = append(names, m[1])
		}
	}
	return names
}
