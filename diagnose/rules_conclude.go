package diagnose

import "slices"

// concludeRules: what the readings allow comes first, what was inside second. A
// right guess without evidence earns little; a careful 'not decided yet' with a
// good next test earns most of it; wrong against plain evidence earns nothing.
func concludeRules() []rule {
	r := func(name string, share float64, judge func(*court) verdict, facts ...string) rule {
		return rule{name, RowConclude, share, facts, judge}
	}
	return []rule{
		r("conclusion_fits_readings", 6, fitsReadings,
			"claimed", "claimed_cylinder", "standing", "pattern", "lowest", "share", "own_gain", "control_gain", "points_to"),
		r("conclusion_fits_engine", 9, fitsEngine, "claimed", "claimed_cylinder", "answer", "answer_cylinder", "standing", "match"),
		r("evidence_backed", 4, evidenceBacked, "why", "cited", "missing", "spoiled", "good", "of"),
		r("evidence_enough", 3, evidenceEnough, "why", "missing", "spoiled", "good", "of"),
		r("sureness", 3, sureness, "sure", "standing"),
		r("wrong_as_final", 0, wrongAsFinal, "claimed", "claimed_cylinder", "answer", "answer_cylinder", "good_test"),
	}
}

// fitsReadings: the conclusion held against what the student's own readings,
// taken before it, allow to be said.
func fitsReadings(c *court) verdict {
	if len(c.claim) == 0 {
		return yes(false, moment{}, word("claimed", ""))
	}
	part, _ := c.scores()
	v := verdict{part: part, at: c.concluded()}
	v.facts = c.claimFacts()
	v.facts = append(v.facts, word("pattern", c.j.Pattern))
	lo, hi, _, n := extremes(c.known.Seen)
	if len(c.j.Suspects) > 0 && n > 0 {
		v.cyl = lo.Cylinder
	}
	if n > 1 && ratio(lo.DryLast, hi.DryLast) < evenShare {
		v.facts = append(v.facts, count("lowest", lo.Cylinder), percent("share", ratio(lo.DryLast, hi.DryLast)))
	}
	if c.j.HasOwn {
		v.facts = append(v.facts, percent("own_gain", c.j.OwnGain))
	}
	if c.j.HasCtl {
		v.facts = append(v.facts, percent("control_gain", c.j.Control))
	}
	for _, f := range c.j.Supported {
		v.facts = append(v.facts, word("points_to", f.Family))
	}
	return v
}

// How 'not decided yet' stands: keys of the fact 'standing' beside those of Standing.
const (
	standsOpen    Standing = "left_open" // the readings leave it open too
	standsDecided Standing = "decided"   // they don't
)

// StandingKeys lists every key that the fact 'standing' can carry.
func StandingKeys() []string {
	var out []string
	for _, s := range []Standing{Supported, Open, Contradicted, Baseless, standsOpen, standsDecided} {
		out = append(out, string(s))
	}
	return out
}

// claimFacts names the claims and how each stands.
func (c *court) claimFacts() []Fact {
	if len(c.claim) == 0 {
		return []Fact{word("claimed", "")}
	}
	var out []Fact
	for _, cl := range c.claim {
		s := cl.standing
		if cl.Family == FamilyUndecided && s != Baseless {
			s = standsOpen
			if c.j.Decided {
				s = standsDecided
			}
		}
		out = append(out, word("claimed", cl.Family), word("standing", string(s)))
	}
	if len(c.claim) == 1 { // of several, nobody could tell which is whose
		for _, n := range c.claim[0].Cylinders {
			out = append(out, count("claimed_cylinder", n))
		}
	}
	return out
}

// fitsEngine: the conclusion held against what was inside.
func fitsEngine(c *court) verdict {
	if len(c.claim) == 0 {
		return unbegun()
	}
	_, part := c.scores()
	v := verdict{part: part, at: c.concluded(), facts: append(c.claimFacts(), word("match", c.match()))}
	v.facts = append(v.facts, word("answer", c.in.Key.Family))
	for i, n := range c.in.Key.Cylinders {
		if i == 0 {
			v.cyl = n
		}
		v.facts = append(v.facts, count("answer_cylinder", n))
	}
	return v
}

// How a conclusion stands beside what was inside: keys of the fact 'match'.
const (
	matchRight     = "right"
	matchWrong     = "wrong"
	matchUndecided = "undecided"
)

// Matches lists every key that the fact 'match' can carry.
func Matches() []string { return []string{matchRight, matchWrong, matchUndecided} }

// match says whether any claim was what was inside.
func (c *court) match() string {
	open := true
	for _, cl := range c.weighed() {
		if cl.Family != FamilyUndecided {
			open = false
			if cl.key > 0 {
				return matchRight
			}
		}
	}
	if open {
		return matchUndecided
	}
	return matchWrong
}

// evidenceBacked: what the conclusion is said to rest on was really there, and
// done so that it can carry something.
func evidenceBacked(c *court) verdict {
	if len(c.claim) == 0 {
		return unbegun()
	}
	v := verdict{at: c.concluded()}
	good, many := 0, 0
	for _, k := range c.in.Sheet.Evidence {
		if !slices.Contains(EvidenceKinds(), k) {
			continue
		}
		many++
		if c.inRecord(k) && c.usable(k) {
			good++
		} else if len(v.facts) < 8 {
			v.facts = append(v.facts, c.lack(k))
			if k == "wet" && c.inRecord(k) {
				v.facts = append(v.facts, word("why", whyNoControl))
			}
		}
	}
	if many == 0 {
		v.facts = []Fact{word("why", whyNoneCited)}
		return v
	}
	v.facts = append(v.facts, count("good", good), count("of", many))
	if !c.baseless() {
		v.part = share(good, many)
	} else if good == many {
		v.facts = []Fact{word("why", whyAgainst)}
	}
	return v
}

// evidenceEnough: the evidence this conclusion cannot do without is cited.
func evidenceEnough(c *court) verdict {
	if len(c.claim) == 0 {
		return unbegun()
	}
	v := verdict{at: c.concluded()}
	need := append([]string{"dry"}, c.pointers()...)
	if len(need) == 1 && c.oilIn(c.j.Suspects) {
		need = append(need, "wet")
	}
	if n := c.untold(); n != "" {
		need = append(need, n)
	}
	switch {
	case c.claims(FamilySlowCranking):
		need = append(need, "speed")
	case c.claims(FamilySound), c.claims(FamilyNotCompression), c.claims(FamilyNormalByDesign):
		need = append(need, "spec")
	}
	good := 0
	for _, k := range need {
		switch {
		case !slices.Contains(c.in.Sheet.Evidence, k):
			v.facts = append(v.facts, word("missing", k))
		case c.inRecord(k) && c.usable(k):
			good++
		default:
			v.facts = append(v.facts, c.lack(k))
		}
	}
	v.facts = append(v.facts, count("good", good), count("of", len(need)))
	if !c.baseless() {
		v.part = share(good, len(need))
	} else if good == len(need) {
		v.facts = []Fact{word("why", whyAgainst)}
	}
	return v
}

// untold returns the test that a claim still needs which the readings leave open among
// others; empty for one they point to, for 'not decided yet', and for one that is said
// with care and names a test that would tell.
func (c *court) untold() string {
	if s := c.in.Sheet.Sure; (s == SureLikely || s == SureGuess) && c.goodNext() {
		return ""
	}
	open := false
	for _, cl := range c.weighed() {
		switch {
		case cl.standing == Supported || cl.Family == FamilyUndecided:
			return ""
		case cl.standing == Open:
			open = true
		}
	}
	for _, n := range c.j.Next {
		if open && slices.Contains(EvidenceKinds(), n) && worth(c.j.Pattern, n) >= 2 && !slices.Contains(c.known.Tests(), n) {
			return n
		}
	}
	return ""
}

// pointers lists the confirming tests that point to what was concluded, each once.
func (c *court) pointers() []string {
	var out []string
	for _, h := range c.known.hints(&c.j) {
		if h.speaksFor && c.claims(h.family) && !slices.Contains(out, h.test) {
			out = append(out, h.test)
		}
	}
	return out
}

// sureness: as sure as the readings allow, no surer. One kind of test seldom makes
// certain, and spoiled readings never do.
func sureness(c *court) verdict {
	sure := c.in.Sheet.Sure
	best := Contradicted
	list := c.weighed()
	switch {
	case len(c.claim) == 0:
		return unbegun()
	case c.j.Pattern == PatternNothing:
		best = Baseless
	}
	for _, cl := range list {
		if cl.standing == Supported || cl.standing == Open && best != Supported {
			best = cl.standing
		}
		if cl.Family == FamilyUndecided && best == Contradicted && !c.j.Decided {
			best = Open // and where it is decided, to doubt it is less sure than the readings allow
		}
	}
	v := verdict{at: c.concluded(), facts: []Fact{word("sure", sure)}}
	switch how := best; {
	case len(list) == 0:
	case c.match() == matchUndecided && best != Baseless:
		how = standsOpen
		if c.j.Decided {
			how = standsDecided
		}
		fallthrough
	default:
		v.facts = append(v.facts, word("standing", string(how)))
	}
	if c.baseless() || len(list) == 0 || !slices.Contains(Sureness(), sure) {
		return v
	}
	switch {
	case !c.fit():
		v.part = surenessOnSpoiled(sure, best)
	case best == Supported && sure == SureLikely, best == Open && sure != SureCertain:
		v.part = 1
	case best == Supported && sure == SureCertain:
		v.part = 0.5
		if c.j.Decided {
			v.part = 1
		}
	case best == Supported:
		v.part = 0.5
	}
	return v
}

// surenessOnSpoiled: under a method fault a guess is all there is.
func surenessOnSpoiled(sure string, best Standing) float64 {
	switch {
	case sure == SureCertain || best == Contradicted:
		return 0
	case sure == SureLikely:
		return 0.5
	}
	return 1
}
