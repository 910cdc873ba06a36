package report

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"crankbay/diagnose"
)

var (
	placeholder = regexp.MustCompile(`\{([a-z_]+)\}`)
	aside       = regexp.MustCompile(` ?\([^()]*\)`)
)

// Fill puts facts into the sentences of a rule, as the page does: facts of one name
// become a list, a sentence (or an aside in brackets) that asks for a fact that isn't
// there is left out, and what was found on a cylinder is said once for each.
func (p *Printer) Fill(text string, facts []diagnose.Fact) string {
	shared, records := p.splitRecords(facts)
	own := map[string]bool{}
	for _, r := range records {
		for _, f := range r {
			own[f.Name] = f.Name != "cylinder"
		}
	}
	all := p.valuesOf(facts)
	var out, group []string
	flush := func() {
		for _, r := range records {
			if len(group) == 0 {
				break
			}
			values := p.valuesOf(append(slices.Clone(shared), r...))
			for _, s := range group {
				if whole(s, values) {
					out = append(out, p.put(s, values))
				}
			}
		}
		group = nil
	}
	text = aside.ReplaceAllStringFunc(text, func(s string) string {
		if whole(s, all) {
			return s
		}
		return ""
	})
	for _, s := range sentences(text) {
		if len(records) > 1 && slices.ContainsFunc(names(s), func(n string) bool { return own[n] }) {
			group = append(group, s)
			continue
		}
		flush()
		if whole(s, all) {
			out = append(out, p.put(s, all))
		}
	}
	flush()
	if len(out) == 0 {
		return p.put(text, all)
	}
	return strings.Join(out, " ")
}

// sentences cuts a text after each end of a sentence.
func sentences(text string) []string {
	var out []string
	from := 0
	for i := 1; i < len(text); i++ {
		if text[i] == ' ' && strings.IndexByte(".?!", text[i-1]) >= 0 {
			out = append(out, text[from:i])
			for i < len(text) && text[i] == ' ' {
				i++
			}
			from = i
		}
	}
	return append(out, text[from:])
}

func names(s string) []string {
	var out []string
	for _, m := range placeholder.FindAllStringSubmatch(s, -1) {
		out = append(out, m[1])
	}
	return out
}

// whole reports whether all facts that a sentence asks for are there.
func whole(s string, values map[string][]string) bool {
	return !slices.ContainsFunc(names(s), func(n string) bool { return len(values[n]) == 0 })
}

func (p *Printer) put(s string, values map[string][]string) string {
	s = placeholder.ReplaceAllStringFunc(s, func(m string) string {
		list := values[m[1:len(m)-1]]
		if len(list) == 0 {
			return "–"
		}
		return p.listed(list)
	})
	return capital(s)
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// listed makes a list of words; whole sentences follow one another.
func (p *Printer) listed(list []string) string {
	for _, s := range list {
		if s == "" || strings.IndexByte(".?!", s[len(s)-1]) < 0 {
			return p.And(list)
		}
	}
	return strings.Join(list, " ")
}

// And makes 'a, b and c' in the reader's language.
func (p *Printer) And(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return p.w.Say("list.and", "first", strings.Join(list[:len(list)-1], ", "), "last", list[len(list)-1])
}

// valuesOf gives facts by name as texts, each once; cylinders say their place too.
func (p *Printer) valuesOf(facts []diagnose.Fact) map[string][]string {
	out := map[string][]string{}
	places := map[string][]int{}
	for _, f := range facts {
		if s := p.value(f); !slices.Contains(out[f.Name], s) {
			out[f.Name] = append(out[f.Name], s)
		}
		place := placeOf(f.Name)
		if n := int(min(max(f.Value, 0), 99)); place != "" && !slices.Contains(places[place], n) {
			places[place] = append(places[place], n)
			out[place] = []string{p.Place(places[place])}
			out[strings.TrimSuffix(place, "place")+"there"] = []string{p.There(places[place])}
		}
	}
	return out
}

// placeOf names the place that facts about cylinders make together: of claimed_cylinder
// it is claimed_place.
func placeOf(name string) string {
	if name == "cylinder" {
		return "place"
	}
	if who, ok := strings.CutSuffix(name, "_cylinder"); ok {
		return who + "_place"
	}
	return ""
}

// ofOne lists facts that are about the cylinder named before them; the others are about
// the whole rule.
func ofOne() []string {
	return []string{
		"field", "written", "other", "strokes", "wet_strokes", "temperature", "speed", "oil", "out", "fault", "reading", "share",
		"why", "leak", "where", "wanted",
	}
}

// splitRecords parts the facts into those of the rule and those of each cylinder, with
// one record for all cylinders of which the same is to be said.
func (p *Printer) splitRecords(facts []diagnose.Fact) (shared []diagnose.Fact, records [][]diagnose.Fact) {
	for _, f := range facts {
		switch n := len(records); {
		case f.Name == "cylinder":
			records = append(records, []diagnose.Fact{f})
		case n > 0 && slices.Contains(ofOne(), f.Name):
			records[n-1] = append(records[n-1], f)
		default:
			shared = append(shared, f)
		}
	}
	var joined [][]diagnose.Fact
	at := map[string]int{}
	for _, r := range records {
		says := ""
		for _, f := range r[1:] {
			says += f.Name + "=" + p.value(f) + ";"
		}
		if i, known := at[says]; known {
			joined[i] = slices.Insert(slices.Clone(joined[i]), 0, r[0])
			continue
		}
		at[says] = len(joined)
		joined = append(joined, r)
	}
	for _, r := range joined { // the cylinders in the order they came
		n := 0
		for n < len(r) && r[n].Name == "cylinder" {
			n++
		}
		slices.Reverse(r[:n])
	}
	return shared, joined
}
