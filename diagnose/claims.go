package diagnose

import "slices"

// A claim is one finding of the conclusion with how it stands.
type claim struct {
	Finding
	standing Standing
	fit      float64 // share of its cylinders that the readings bear out
	key      float64 // share of its cylinders that the scenario's answer has, 0 for another family
}

// claimsOf merges the findings by family and holds each against readings and key.
func (c *court) claimsOf() []claim {
	var merged []Finding
	for _, f := range c.in.Sheet.Findings {
		if !slices.Contains(Families(), f.Family) {
			continue
		}
		at := -1
		for i, m := range merged {
			if m.Family == f.Family {
				at = i
			}
		}
		if at < 0 {
			merged = append(merged, Finding{Family: f.Family})
			at = len(merged) - 1
		}
		for _, n := range f.Cylinders {
			if n >= 1 && n <= c.n && !slices.Contains(merged[at].Cylinders, n) {
				merged[at].Cylinders = append(merged[at].Cylinders, n)
			}
		}
	}
	out := make([]claim, 0, len(merged))
	for _, f := range merged {
		f.Cylinders = sorted(f.Cylinders)
		cl := claim{Finding: f}
		cl.standing, cl.fit = c.j.Standing(f, c.n)
		if cl.standing == Contradicted && c.tellsMethod(f.Family) {
			cl.standing, cl.fit = Supported, 1
		}
		answers := append([]Finding{{c.in.Key.Family, c.in.Key.Cylinders}}, c.in.Key.Accept...)
		cl.key = bestFit(answers, f, c.n)
		out = append(out, cl)
	}
	return out
}

// tellsMethod reports whether readings taken the right way, beside earlier ones
// that were not, bear out that the method was at fault: the student's own earlier
// runs, or the readings that were handed over with the job.
func (c *court) tellsMethod(family string) bool {
	if !c.j.Complete {
		return false
	}
	// The job came with readings, or a test, that somebody else had spoiled.
	handed := c.in.Key.MethodFault != "" || c.in.Key.Family == FamilyMethodOrGauge
	switch family {
	case FamilyMethodOrGauge:
		if handed {
			return true
		}
		for _, f := range c.known.faults {
			if spoiled(f) && !onlySlow(f) {
				return true
			}
		}
	case FamilySlowCranking:
		for _, f := range c.known.faults {
			if slices.Contains(f, MethodSlowCranking) {
				return true
			}
		}
	}
	return false
}

// claims reports whether the conclusion names a family.
func (c *court) claims(family string) bool {
	for _, f := range c.in.Sheet.Findings {
		if f.Family == family {
			return true
		}
	}
	return false
}

// weighed returns the claims that count. Naming a method fault beside a real one
// is right where there was one, so it does not dilute the other claim.
func (c *court) weighed() []claim {
	var out []claim
	for _, cl := range c.claim {
		beside := cl.Family == FamilyMethodOrGauge && len(c.claim) > 1 &&
			(cl.standing == Supported || c.in.Key.MethodFault != "")
		if !beside {
			out = append(out, cl)
		}
	}
	return out
}

// coverage is the share of cylinders that had been read when it was concluded.
func (c *court) coverage() float64 {
	n := 0
	for _, s := range c.known.Seen {
		if s.Valid {
			n++
		}
	}
	return share(n, c.n)
}

// scores returns what the conclusion earns against the readings and against the
// engine, each in [0, 1]: the mean over its claims, so that naming everything
// earns little.
func (c *court) scores() (readings, engine float64) {
	list := c.weighed()
	for _, cl := range list {
		r, e := c.score(cl)
		readings += float64(r)
		engine += float64(e)
	}
	if n := float64(len(list)); n > 0 {
		k := c.coverage()
		return readings / n * k, engine / n
	}
	return 0, 0
}

func (c *court) score(cl claim) (readings, engine float64) {
	if cl.Family == FamilyUndecided {
		return c.undecided(cl)
	}
	switch cl.standing {
	case Supported:
		return cl.fit, cl.key
	case Open:
		if !c.fit() {
			return c.onSpoiled(cl)
		}
		if sure := c.in.Sheet.Sure; sure == SureLikely || sure == SureGuess {
			return 0.6 * cl.fit, 0.6 * cl.key
		}
		return 0.4 * cl.fit, 0.5 * cl.key
	}
	return 0, 0.2 * cl.key // a right guess without evidence
}

// onSpoiled: what a cylinder shows under a method fault is a hint at most, and no
// ground for certainty.
func (c *court) onSpoiled(cl claim) (readings, engine float64) {
	if sure := c.in.Sheet.Sure; sure == SureLikely || sure == SureGuess {
		return 0.3 * cl.fit, 0.3 * cl.key
	}
	return 0, 0.2 * cl.key
}

// undecided: 'cannot tell yet' is worth most where the readings had not told it,
// and only with a test that would.
func (c *court) undecided(cl claim) (readings, engine float64) {
	k := c.coverage()
	switch good := c.goodNext() && c.in.Sheet.NextTest != "none"; {
	case c.j.Pattern == PatternNothing:
		return 0, 0
	case !good:
		return 0.4, 0.2 * k
	case cl.key > 0:
		return 1, k
	case c.j.Decided:
		return 0.5, 0.5 * k
	}
	return 1, 0.8 * k
}

// baseless reports whether no claim has anything to stand on.
func (c *court) baseless() bool {
	if c.j.Pattern == PatternNothing {
		return true
	}
	for _, cl := range c.claim {
		if cl.Family == FamilyUndecided || cl.standing == Supported || cl.standing == Open {
			return false
		}
	}
	return true
}
