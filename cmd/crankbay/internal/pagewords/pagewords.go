//go:build !js

// Package pagewords reads the sentences of a page that is written when the site is
// built: one file for each language, numbers as {parameters}.
package pagewords

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"regexp"
	"strconv"

	texts "crankbay/web/strings"
)

// Words are the sentences of a page in one language.
type Words struct {
	Language string
	Table    map[string]texts.Text
	Facts    map[string]string // numbers and names that any sentence may use
	Used     map[string]bool   // keys asked for so far
}

// New reads FOLDER/LANGUAGE.json. The error names the page and the language.
func New(from fs.FS, folder, language string) (Words, error) {
	data, err := fs.ReadFile(from, folder+"/"+language+".json")
	if err != nil {
		return Words{}, fmt.Errorf("%s: no texts in %q", folder, language)
	}
	w := Words{Language: language, Facts: map[string]string{}, Used: map[string]bool{}}
	if err := json.Unmarshal(data, &w.Table); err != nil {
		return Words{}, fmt.Errorf("%s/%s.json: %w", folder, language, err)
	}
	return w, nil
}

// Say returns a sentence with its parameters, given as name, value, name, value.
// A missing key is a mistake that a test finds before a reader does.
func (w Words) Say(key string, params ...any) string {
	text, ok := w.Table[key]
	if !ok {
		panic(fmt.Sprintf("pagewords: no text %q in %s", key, w.Language))
	}
	w.Used[key] = true
	fill := maps.Clone(w.Facts)
	for i := 0; i+1 < len(params); i += 2 {
		fill[fmt.Sprint(params[i])] = fmt.Sprint(params[i+1])
	}
	return unbroken.ReplaceAllString(text.Fill(fill), "$1\u00a0$2$3")
}

// Has tells whether there is such a sentence.
func (w Words) Has(key string) bool { _, ok := w.Table[key]; return ok }

// Or returns a sentence, or what it would stand for where nobody wrote it.
func (w Words) Or(key, otherwise string) string {
	if !w.Has(key) {
		return otherwise
	}
	return w.Say(key)
}

// unbroken finds the space between a number and its unit, where no line may end.
var unbroken = regexp.MustCompile(`([0-9½]) (%|psi|kPa|bar|mm²|mm|ml|rpm|ft|s|A|V)($|[^\pL])`)

// Number writes a number with so many decimals; both languages write a point.
func Number(v float64, decimals int) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && math.Abs(v) >= 0.5*math.Pow(10, float64(-decimals)) {
		return "−" + text
	}
	return text
}
