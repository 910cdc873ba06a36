package script

import (
	"fmt"
	"strconv"
	"strings"
)

// A Script is parsed lines with their numbers.
type Script struct {
	Scenario string
	Mode     string
	Who      string
	lines    []line
}

type line struct {
	number int
	words  []string
	rest   string // everything after the first word
}

// Parse reads a script. The error is one sentence with the line.
func Parse(text string) (Script, error) {
	var s Script
	for i, raw := range strings.Split(text, "\n") {
		clean, _, _ := strings.Cut(raw, "#")
		words := strings.Fields(clean)
		if len(words) == 0 {
			continue
		}
		rest := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(clean), words[0]))
		switch words[0] {
		case "scenario":
			s.Scenario = rest
		case "mode":
			s.Mode = rest
		case "who":
			s.Who = rest
		default:
			s.lines = append(s.lines, line{i + 1, words, rest})
		}
	}
	if s.Scenario == "" || s.Mode == "" {
		return s, fmt.Errorf("script: it begins with a line \"scenario ID\" and a line \"mode MODE\"")
	}
	return s, nil
}

var small = []string{
	"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
}

// count reads a whole number in digits or as a word.
func count(word string) (int, error) {
	for i, w := range small {
		if w == word {
			return i, nil
		}
	}
	n, err := strconv.Atoi(word)
	if err != nil || n < 0 || n > 1000 {
		return 0, fmt.Errorf("%q is no number", word)
	}
	return n, nil
}

func number(word string) (float64, error) {
	n, err := strconv.ParseFloat(word, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no number", word)
	}
	return n, nil
}

// words is a line being read from the left.
type words struct {
	left []string
	err  error
}

func (w *words) next() string {
	if len(w.left) == 0 {
		if w.err == nil {
			w.err = fmt.Errorf("something is missing at the end")
		}
		return ""
	}
	first := w.left[0]
	w.left = w.left[1:]
	return first
}

// take reads a word if it comes next.
func (w *words) take(word string) bool {
	if len(w.left) > 0 && w.left[0] == word {
		w.left = w.left[1:]
		return true
	}
	return false
}

// want reads words that must come next.
func (w *words) want(list ...string) {
	for _, word := range list {
		if got := w.next(); w.err == nil && got != word {
			w.err = fmt.Errorf("%q where %q was expected", got, word)
		}
	}
}

func (w *words) count() int {
	word := w.next()
	if w.err != nil {
		return 0
	}
	n, err := count(word)
	w.err = err
	return n
}

func (w *words) number() float64 {
	word := w.next()
	if w.err != nil {
		return 0
	}
	n, err := number(word)
	w.err = err
	return n
}

// end complains about words nobody read.
func (w *words) end() error {
	if w.err == nil && len(w.left) > 0 {
		w.err = fmt.Errorf("%q is not understood", strings.Join(w.left, " "))
	}
	return w.err
}
