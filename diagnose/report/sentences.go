package report

import (
	"slices"

	"crankbay/diagnose"
)

// Sentence says what a line has to say: with its facts, why it earns less than its share
// where it does, and when it was.
func (p *Printer) Sentence(l diagnose.Line) string {
	if !p.w.Has("rule." + l.Rule + ".passed") {
		return l.Rule
	}
	if l.Never {
		return p.w.Say("line.never", "list", p.w.Say("rule."+l.Rule+".name"))
	}
	facts := slices.Clone(l.Facts)
	if l.Cylinder > 0 && !slices.ContainsFunc(facts, func(f diagnose.Fact) bool { return f.Name == "cylinder" }) {
		facts = append(facts, diagnose.Fact{Name: "cylinder", Value: float64(l.Cylinder)})
	}
	how := ".failed"
	if l.Passed {
		how = ".passed"
	}
	s := p.Fill(p.w.Say("rule."+l.Rule+how), facts)
	switch read := value("read", l.Facts); {
	case read != nil:
		s += " " + p.w.Say("line.read", "read", tenth(read.Value), "all", tenth(value("all", l.Facts).Value))
	case value("noted", l.Facts) != nil:
		s += " " + p.w.Say("line.noted", "noted", tenth(value("noted", l.Facts).Value), "all", tenth(value("all", l.Facts).Value))
	case l.Passed && l.OutOf > 0 && l.Points < l.OutOf:
		s += " " + p.w.Say("line.nearly")
	}
	if l.Minutes > 0 {
		s += " (" + p.w.Say("debrief.when", "time", p.Duration(l.Minutes)) + ")"
	}
	return s
}

// value finds a fact by its name, nil for none.
func value(name string, facts []diagnose.Fact) *diagnose.Fact {
	for i := range facts {
		if facts[i].Name == name {
			return &facts[i]
		}
	}
	return nil
}
