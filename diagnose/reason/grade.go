package reason

import (
	"slices"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
)

// A Judge holds an attempt against what its own evidence allowed to be said at each
// moment. It sees what the grader sees and no more.
type Judge struct {
	lib    *library.Library
	priors Priors
}

// NewJudge returns a judge with a library and priors.
func NewJudge(lib *library.Library, p Priors) *Judge { return &Judge{lib, p} }

// Library names the library it judges by.
func (j *Judge) Library() string { return j.lib.Digest }

// Rules of the lines a judge adds.
const (
	RuleAllowed = "evidence_allowed" // the conclusion was probable by what was known
	RuleBest    = "tests_worth"      // each test was worth its minutes beside the best one
)

// Rules lists the rules of the lines a judge adds.
func Rules() []string { return []string{RuleAllowed, RuleBest} }

// RuleFacts lists the facts that a line can bring along.
func RuleFacts(rule string) []string {
	if rule == RuleBest {
		return []string{"test", "better", "better_minutes", "good", "of"}
	}
	return []string{"claimed", "claimed_cylinder", "probable", "first", "first_cylinder", "first_probable"}
}

// Shares of the lines in their rows, beside those of the other rules (25 and 24).
const (
	shareAllowed = 6
	shareBest    = 4
)

// Judge returns its lines.
func (j *Judge) Judge(in diagnose.Input) []diagnose.Opinion {
	out := []diagnose.Opinion{j.allowed(in)}
	if best, ok := j.best(in); ok {
		out = append(out, best)
	}
	return out
}

func (j *Judge) weigh(in diagnose.Input, known diagnose.Evidence, paged bool) Opinion {
	return Weigh(j.lib, FromBench(known, Bench{Limits: in.Card.Limits, Paged: paged, Ambient: in.Ambient, Lash: in.Card.LashCheck, Asked: in.Card.Lash}), j.priors)
}

// allowed: the conclusion held against the probability that its own evidence gave it,
// beside the best explanation there was. Right and unsupported earns little, for the
// engine has a line of its own; well-founded earns all; against plain evidence nothing.
// Who says 'not decided' is held against how much there was to decide.
func (j *Judge) allowed(in diagnose.Input) diagnose.Opinion {
	c := diagnose.Concluded(in)
	o := j.weigh(in, c.Known, c.Paged)
	labels := o.Labels()
	line := diagnose.Opinion{Row: diagnose.RowConclude, Rule: RuleAllowed, Share: shareAllowed, Tick: c.Tick, Minutes: c.Minutes}
	if len(labels) == 0 || len(c.Claims) == 0 {
		line.Facts = []diagnose.Fact{wordFact("claimed", "")}
		return line
	}
	top := labels[0]
	best := 0.0
	for _, x := range c.Claims {
		p := support(labels, x)
		part := earned(p, top.Probability)
		line.Facts = append(line.Facts, wordFact("claimed", x.Family))
		if x.Family == diagnose.FamilyUndecided {
			p, part = 0, open(top.Probability) // which has no probability of its own
		} else {
			line.Facts = append(line.Facts, percentFact("probable", p))
		}
		best = max(best, part)
		line.Part += part / float64(len(c.Claims))
	}
	line.Passed = line.Part >= 0.8
	line.Facts = append(line.Facts, wordFact("first", top.Group), percentFact("first_probable", top.Probability))
	if len(c.Claims) == 1 {
		line.Facts = append(line.Facts, cylinderFacts("claimed_cylinder", c.Claims[0].Cylinders)...)
	}
	line.Facts = append(line.Facts, cylinderFacts("first_cylinder", top.Cylinders)...)
	if len(top.Cylinders) > 0 {
		line.Cylinder = top.Cylinders[0]
	}
	return line
}

// earned is the part of the points for a claim of probability p where the best label has
// probability top: all from four fifths on, and else by how it stands beside the best,
// with less for saying anything where nothing stands out.
func earned(p, top float64) float64 {
	if p >= 0.8 {
		return 1
	}
	beside := p / max(top, 1e-9)
	return max(0, min(beside*min(1, 0.4+p), 1))
}

// open is the part of the points for leaving it open where the best label has probability
// top: all where nothing has three fifths, nothing where one is as good as certain.
func open(top float64) float64 { return max(0, min((0.97-top)/(0.97-0.6), 1)) }

// support sums the labels that a claim covers: of its family, on its cylinders. A claim
// about the whole engine covers all; one that names more or fewer cylinders than a label
// has its share.
func support(labels []Label, claim diagnose.Finding) float64 {
	sum := 0.0
	for _, l := range labels {
		if l.Group != Merged(claim.Family) {
			continue
		}
		sum += float64(l.Probability * overlap(l.Cylinders, claim.Cylinders))
	}
	return min(sum, 1)
}

// overlap is the share of cylinders two lists have in common; none stands for all.
func overlap(a, b []int) float64 {
	if len(a) == 0 || len(b) == 0 {
		return 1
	}
	var x, y set
	for _, c := range a {
		x |= setOf(c - 1)
	}
	for _, c := range b {
		y |= setOf(c - 1)
	}
	return float64(len((x & y).list())) / float64(len((x | y).list()))
}

// best: each confirming test that was begun held against the one that was worth most per
// minute at that moment. A test worth half as much as the best one is as good: nobody
// works these figures out with a hose in hand.
func (j *Judge) best(in diagnose.Input) (diagnose.Opinion, bool) {
	line := diagnose.Opinion{Row: diagnose.RowChoose, Rule: RuleBest, Share: shareBest}
	shop := Shop{Minutes: in.Card.Minutes, LashCheck: in.Card.LashCheck, Oil: in.Card.OilML > 0, Runs: true}
	n, good := 0, 0
	for _, c := range diagnose.Choices(in) {
		o := j.weigh(in, c.Known, c.Paged)
		plan := o.NextTests(shop)
		called := c.Test == "current" && !diagnose.HumpsCompare(in.Cylinders) && slices.Contains(in.Key.NextTests, c.Test)
		if len(plan.Tests) == 0 || !dryRead(c.Known) || called {
			continue // nothing was known yet, nothing was left to find out, or it is looked for what no hump's height says
		}
		n++
		own, top := 0.0, plan.Tests[0]
		for _, t := range plan.Tests {
			if t.Test == c.Test {
				own = max(own, t.Worth)
			}
		}
		part := min(1, 2*own/top.Worth)
		line.Part += part
		good += flag(part >= 0.8)
		if part < 0.8 && len(line.Facts) == 0 {
			line.Tick, line.Minutes, line.Cylinder = c.Tick, c.Minutes, c.Cylinder
			line.Facts = []diagnose.Fact{
				wordFact("test", c.Test), wordFact("better", top.Test), {Name: "better_minutes", Value: top.Minutes, Unit: "min"},
			}
		}
	}
	if n == 0 {
		return line, false
	}
	line.Part /= float64(n)
	line.Facts = append(line.Facts, diagnose.Fact{Name: "good", Value: float64(good)}, diagnose.Fact{Name: "of", Value: float64(n)})
	line.Passed = line.Part >= 0.8
	return line, true
}

// dryRead says whether the dry test was done when a test was chosen.
func dryRead(e diagnose.Evidence) bool {
	n := 0
	for _, s := range e.Seen {
		n += flag(s.Valid)
	}
	return n > 0 && n == e.Cylinders
}

func wordFact(name, key string) diagnose.Fact {
	if key == "" {
		key = "not_said"
	}
	return diagnose.Fact{Name: name, Key: key}
}

func cylinderFacts(name string, list []int) []diagnose.Fact {
	var out []diagnose.Fact
	for _, n := range list {
		out = append(out, diagnose.Fact{Name: name, Value: float64(n)})
	}
	return out
}

func percentFact(name string, share float64) diagnose.Fact {
	return diagnose.Fact{Name: name, Value: float64(int(float64(share*1000)+0.5)) / 10, Unit: "%"}
}
