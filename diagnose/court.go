package diagnose

import (
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// Names of the five rows.
const (
	RowPrepare  = "prepare"
	RowMeasure  = "measure"
	RowRecord   = "record"
	RowChoose   = "choose"
	RowConclude = "conclude"
)

// RowNames lists the rows in order.
func RowNames() []string {
	return []string{RowPrepare, RowMeasure, RowRecord, RowChoose, RowConclude}
}

// A rule is one thing the trade asks for: a pure function of what was seen. With a share
// of 0 it earns nothing, and takes off its whole row what its verdict says.
type rule struct {
	name  string   // stable; also the key of its two sentences
	row   string   // one of RowNames
	share float64  // weight inside its row; shares of rules that apply are scaled to the row's points
	facts []string // names of the facts its sentences may use
	judge func(*court) verdict
}

// A verdict is what one rule found.
type verdict struct {
	na    bool    // does not apply to this engine or this attempt
	kept  bool    // nothing spoke against it, though part may be less where not all was tested
	never bool    // the step it is about was never begun: nothing was done wrong, and nothing earned
	part  float64 // share of the points earned, [0, 1]
	lost  float64 // share of the whole row that it takes off, [0, 1]
	most  float64 // share of its points that the row keeps at most, 0 for all
	at    moment  // when it happened, nothing when it never did
	cyl   int
	facts []Fact
}

// court holds what the rules look at, gathered once.
type court struct {
	in    Input
	n     int          // cylinders
	t     timeline     //
	page  Limits       // as printed; the card holds them corrected for the pressure of the day
	runs  []record.Run // every run, readable, gauge or not
	all   Evidence     // what the whole record shows
	known Evidence     // what was known when the conclusion was put down
	j     Judgement    // of known
	dry   Judgement    // of known, as if no oil had been used
	claim []claim      // the conclusion, claim by claim
	entry []Entry      // the sheet without unreadable numbers
}

// ruleTable returns every rule in the order in which it is shown.
func ruleTable() []rule {
	var out []rule
	out = append(out, prepareRules()...)
	out = append(out, careRules()...)
	out = append(out, putBackRules()...)
	out = append(out, measureRules()...)
	out = append(out, wetRules()...)
	out = append(out, confirmRules()...)
	out = append(out, recordRules()...)
	out = append(out, chooseRules()...)
	out = append(out, concludeRules()...)
	return out
}

// RuleNames lists every name a Line can carry, gates included. For each, the
// page holds a text rule.<name>.passed and one rule.<name>.failed.
func RuleNames() []string {
	var out []string
	for _, g := range gateTable() {
		out = append(out, g.name)
	}
	for _, r := range ruleTable() {
		out = append(out, r.name)
	}
	return out
}

// RuleFacts lists the names of the facts that the sentences of a rule may use;
// nil for a name that is no rule.
func RuleFacts(name string) []string {
	for _, g := range gateTable() {
		if g.name == name {
			return []string{"times"}
		}
	}
	for _, r := range ruleTable() {
		if r.name == name {
			return r.facts
		}
	}
	return nil
}

// Fact constructors. An unreadable number becomes 0 rather than reach a result.

func fact(name string, v float64, u string) Fact { return Fact{Name: name, Value: clean(v), Unit: u} }
func count(name string, n int) Fact              { return Fact{Name: name, Value: float64(n)} }
func pressure(name string, p unit.Gauge) Fact    { return fact(name, float64(p), "Pa") }
func percent(name string, share float64) Fact    { return fact(name, share*100, "%") }

// word makes a fact of a key; what was never said has a key of its own.
func word(name, key string) Fact {
	if key == "" {
		key = "not_said"
	}
	return Fact{Name: name, Key: key}
}

// Verdict constructors.

func skip() verdict { return verdict{na: true} }

// unbegun judges what was never begun.
func unbegun(facts ...Fact) verdict { return verdict{never: true, facts: facts} }

func yes(ok bool, at moment, facts ...Fact) verdict {
	v := verdict{at: at, facts: facts}
	if ok {
		v.part = 1
	}
	return v
}

// share earns good of many; it earns nothing when there are none.
func share(good, many int) float64 {
	if many <= 0 || good <= 0 {
		return 0
	}
	return min(1, float64(good)/float64(many))
}

// tally counts cylinders that kept a rule and remembers the first that did not.
type tally struct {
	good, many int
	v          verdict
	began      moment // of the first, kept or not
}

func (t *tally) add(ok bool, cylinder int, at moment, facts ...Fact) {
	t.many++
	if t.began == (moment{}) {
		t.began = at
	}
	if ok {
		t.good++
		return
	}
	if t.v.cyl == 0 && t.v.at == (moment{}) {
		t.v.cyl, t.v.at = cylinder, at
	}
	t.v.facts = append(t.v.facts, count("cylinder", cylinder))
	t.v.facts = append(t.v.facts, facts...)
}

// verdict closes the tally; out of nothing comes nothing.
func (t *tally) verdict() verdict {
	t.v.part = share(t.good, t.many)
	if t.many > 0 && t.good == t.many {
		t.v.at = t.began
	}
	t.v.facts = append(t.v.facts, count("good", t.good), count("of", t.many))
	return t.v
}
