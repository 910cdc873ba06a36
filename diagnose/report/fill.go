package report

import (
	"strings"

	"crankbay/diagnose"
)

// fill puts facts in the place of {name}; a name that came several times gives a
// list. A part of the text, cut off by bars, is left out when it has a name
// without a fact, and said once for each cylinder when it tells what was found
// there.
func fill(text string, facts []diagnose.Fact) string {
	var b strings.Builder
	for _, part := range strings.Split(text, "|") {
		b.WriteString(fillEach(part, facts))
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// ofOne lists facts that are about the cylinder named before them; the others are
// about the whole rule.
var ofOne = map[string]bool{
	"field": true, "written": true, "other": true, "strokes": true, "wet_strokes": true, "temperature": true,
	"speed": true, "oil": true, "out": true, "fault": true, "reading": true, "share": true,
	"why": true, "leak": true, "where": true, "wanted": true,
}

// found is what was found on some cylinders, the same on each.
type found struct {
	facts []diagnose.Fact // cylinders first
	says  string          // the facts without the cylinders, as they would be said
}

// fillEach fills one part: once for each finding where there are several.
func fillEach(part string, facts []diagnose.Fact) string {
	shared, list := findings(part, facts)
	if len(list) < 2 {
		s, whole := fillPart(part, facts)
		if !whole {
			return ""
		}
		return s
	}
	var out []string
	for _, f := range list {
		if s, whole := fillPart(part, append(append([]diagnose.Fact{}, shared...), f.facts...)); whole {
			out = append(out, s)
		}
	}
	return strings.Join(out, " ")
}

// findings parts the facts that a text uses into those of the whole rule and what
// was found on which cylinders; none when the text tells of no single cylinder.
func findings(part string, facts []diagnose.Fact) (shared []diagnose.Fact, list []found) {
	var open *found
	settle := func() {
		if open == nil {
			return
		}
		for i := range list {
			if list[i].says == open.says {
				list[i].facts = append(append([]diagnose.Fact{}, open.facts[0]), list[i].facts...)
				return
			}
		}
		list = append(list, *open)
	}
	for _, f := range facts {
		switch {
		case f.Name == "cylinder":
			settle()
			open = &found{facts: []diagnose.Fact{f}}
		case open != nil && ofOne[f.Name]:
			if strings.Contains(part, "{"+f.Name+"}") {
				open.facts = append(open.facts, f)
				open.says += f.Name + "=" + value(f) + ";"
			}
		default:
			shared = append(shared, f)
		}
	}
	settle()
	if !strings.Contains(part, "{cylinder}") {
		return shared, nil
	}
	for i := range list {
		sortCylinders(list[i].facts)
	}
	return shared, list
}

// sortCylinders brings the cylinders at the head of a finding into order.
func sortCylinders(facts []diagnose.Fact) {
	for i := 1; i < len(facts) && facts[i].Name == "cylinder"; i++ {
		for k := i; k > 0 && facts[k].Value < facts[k-1].Value; k-- {
			facts[k], facts[k-1] = facts[k-1], facts[k]
		}
	}
}

func fillPart(text string, facts []diagnose.Fact) (string, bool) {
	var b strings.Builder
	whole := true
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			break
		}
		k := strings.IndexByte(text[i:], '}')
		if k < 0 {
			break
		}
		name := text[i+1 : i+k]
		list := values(name, facts)
		whole = whole && len(list) > 0
		before := text[:i]
		switch lower := strings.ToLower(before); {
		case !strings.HasSuffix(name, "cylinder") && name != "lowest" || !strings.HasSuffix(lower, "cylinder "):
		case len(list) > 1:
			before = before[:len(before)-1] + "s "
		case len(list) == 1 && list[0] == "0":
			before, list = before[:len(before)-len("cylinder ")], []string{"the whole engine"}
			if strings.TrimSpace(before) == "" {
				list[0] = "The whole engine"
			}
		}
		b.WriteString(before)
		b.WriteString(and(list))
		text = text[i+k+1:]
	}
	b.WriteString(text)
	return b.String(), whole
}

// values lists all facts of one name, each once.
func values(name string, facts []diagnose.Fact) []string {
	var list []string
	for _, f := range facts {
		if f.Name != name {
			continue
		}
		v := value(f)
		known := false
		for _, x := range list {
			known = known || x == v
		}
		if !known {
			list = append(list, v)
		}
	}
	return list
}

// and makes 'a, b and c'.
func and(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}
