//go:build !js

package model

import (
	"maps"

	"crankbay/cmd/crankbay/internal/pagewords"
	texts "crankbay/web/strings"
)

// Words are the sentences of the page in one language.
type words struct{ pagewords.Words }

func newWords(language string) (words, error) {
	w, err := pagewords.New(texts.Model, "model", language)
	if err != nil {
		return words{}, err
	}
	maps.Copy(w.Facts, facts())
	return words{w}, nil
}

func (w words) say(key string, params ...any) string { return w.Say(key, params...) }

func (w words) or(key, otherwise string) string { return w.Or(key, otherwise) }

// number writes a number with so many decimals.
func number(v float64, decimals int) string { return pagewords.Number(v, decimals) }

// change writes a difference with its sign.
func change(v float64, decimals int) string {
	text := number(v, decimals)
	if v > 0 && text != number(0, decimals) {
		return "+" + text
	}
	return text
}
