//go:build !js

package model

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"regexp"
	"strconv"

	texts "crankbay/web/strings"
)

// Words are the sentences of the page in one language.
type words struct {
	language string
	table    map[string]texts.Text
	facts    map[string]string // numbers that any sentence may name
	used     map[string]bool   // keys asked for so far
}

func newWords(language string) (words, error) {
	data, err := texts.Model.ReadFile("model/" + language + ".json")
	if err != nil {
		return words{}, fmt.Errorf("model: no texts in %q", language)
	}
	w := words{language: language, facts: facts(), used: map[string]bool{}}
	if err := json.Unmarshal(data, &w.table); err != nil {
		return words{}, fmt.Errorf("model/%s.json: %w", language, err)
	}
	return w, nil
}

// say returns a sentence with its parameters, given as name, value, name, value.
// A missing key is a mistake that a test finds before a reader does.
func (w words) say(key string, params ...any) string {
	text, ok := w.table[key]
	if !ok {
		panic(fmt.Sprintf("model: no text %q in %s", key, w.language))
	}
	w.used[key] = true
	fill := maps.Clone(w.facts)
	for i := 0; i+1 < len(params); i += 2 {
		fill[fmt.Sprint(params[i])] = fmt.Sprint(params[i+1])
	}
	return unbroken.ReplaceAllString(text.Fill(fill), "$1\u00a0$2$3")
}

// or returns a sentence, or what it would stand for where nobody wrote it.
func (w words) or(key, otherwise string) string {
	if _, ok := w.table[key]; !ok {
		return otherwise
	}
	return w.say(key)
}

// unbroken finds the space between a number and its unit, where no line may end.
var unbroken = regexp.MustCompile(`([0-9½]) (%|psi|kPa|bar|mm²|mm|ml|rpm|ft|s|A|V)($|[^\pL])`)

// number writes a number with so many decimals; both languages write a point.
func number(v float64, decimals int) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && math.Abs(v) >= 0.5*math.Pow(10, float64(-decimals)) {
		return "−" + text
	}
	return text
}

// change writes a difference with its sign.
func change(v float64, decimals int) string {
	text := number(v, decimals)
	if v > 0 && text != number(0, decimals) {
		return "+" + text
	}
	return text
}
