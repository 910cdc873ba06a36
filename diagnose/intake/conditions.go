package intake

import (
	"slices"
	"strings"
)

// conditions takes a line that says in words how it was measured: "throttle not open",
// "engine cold, all plugs out". It reports whether the whole line was that.
func (p *parser) conditions(line string, n int) (bool, *Error) {
	var found []raw
	for _, part := range strings.FieldsFunc(line, func(c rune) bool { return c == ',' || c == ';' || c == '.' }) {
		for _, s := range strings.Split(strings.ReplaceAll(plain(part), " y ", " and "), " and ") {
			x, ok := conditionOf(s)
			if !ok {
				return false, nil
			}
			x.at = place{line: n, col: 1}
			found = append(found, x)
		}
	}
	if len(found) == 0 {
		return false, nil
	}
	if err := p.flush(); err != nil {
		return true, err
	}
	for _, x := range found {
		if err := p.add(x); err != nil {
			return true, err
		}
	}
	return true, nil
}

// conditionOf reads one condition: the name of a field and one of its answers, in either
// order. An engine that is said to be cold or warm needs no name.
func conditionOf(s string) (raw, bool) {
	var all []string
	for _, w := range strings.Fields(s) {
		if !slices.Contains(fillers, w) {
			all = append(all, w)
		}
	}
	for k := 1; k < len(all); k++ {
		for _, x := range [2][2]string{{strings.Join(all[:k], " "), strings.Join(all[k:], " ")}, {strings.Join(all[k:], " "), strings.Join(all[:k], " ")}} {
			name := x[0]
			if name == "engine" || name == "motor" {
				name = "warm"
			}
			f := named(name, true)
			if f == nil || f.kind != kindAnswer {
				continue
			}
			if a := answerOf(f, x[1]); a != "" {
				return raw{f: f, text: a}, true
			}
		}
	}
	return raw{}, false
}

// fillers are words that say nothing.
var fillers = []string{"the", "was", "were", "is", "are", "been", "all", "spark", "el", "la", "las", "los", "estaba", "estaban", "todas", "con"}

// answerOf returns what a text answers to the question of a field, empty for nothing.
func answerOf(f *field, s string) string {
	for _, a := range answers {
		if a.name != f.name {
			continue
		}
		for _, c := range a.said {
			for _, w := range strings.Split(c.said, "|") {
				if s == w {
					return c.value
				}
				if s == "not "+w || s == "no "+w { // said of what is as it should be, and of what isn't
					return map[string]string{Yes: No, No: Yes}[c.value]
				}
			}
		}
	}
	return ""
}
