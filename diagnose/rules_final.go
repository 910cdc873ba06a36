package diagnose

import "slices"

const (
	// finalMost is what the row keeps of its points when a wrong name is put down as the
	// last word: less than a pass needs of a row, for somebody pays for what is named
	// (common practice, no source).
	finalMost = 0.35
	// nearEnough is the share of what was named that has to be so. Of two cylinders or
	// causes one is enough; one of three, or the whole engine for one cylinder, opens what
	// is well.
	nearEnough = 0.5
)

// wrongAsFinal: an answer that is not what was inside, with no test named that would show
// it. What the readings allowed has lines of its own; this one asks what becomes of the
// car. Wrong and to be looked at again costs nothing more: that is how a shop finds out.
func wrongAsFinal(c *court) verdict {
	share, named := c.named()
	if !named || c.j.Pattern == PatternNothing {
		return skip()
	}
	next := c.in.Sheet.NextTest
	further := next != "none" && c.goodNext() && !c.known.Did(next, c.j)
	if share >= nearEnough || further {
		return yes(true, c.concluded())
	}
	v := verdict{at: c.concluded(), most: finalMost, facts: c.claimedFacts()}
	v.facts = append(v.facts, word("answer", c.in.Key.Family))
	for i, n := range c.in.Key.Cylinders {
		if i == 0 {
			v.cyl = n
		}
		v.facts = append(v.facts, count("answer_cylinder", n))
	}
	for _, n := range c.in.Key.NextTests {
		if n != "none" && !c.known.Did(n, c.j) {
			v.facts = append(v.facts, word("good_test", n))
		}
	}
	return v
}

// named returns which share of what was named is so, and whether anything was. Where
// nothing is to be opened and all reads within limits, any word that leaves the engine
// closed is near enough.
func (c *court) named() (float64, bool) {
	sum, n := 0.0, 0
	for _, cl := range c.weighed() {
		if cl.Family == FamilyUndecided {
			continue
		}
		n++
		if key := cl.key; c.j.Pattern == PatternWithin && c.clears() && leavesClosed(cl.Family) {
			sum += max(key, nearEnough)
		} else {
			sum += key
		}
	}
	return sum / float64(max(n, 1)), n > 0
}

// clears reports whether the engine is one that is to be left closed.
func (c *court) clears() bool {
	k := c.in.Key
	ok := k.Family == FamilySound || k.Family == FamilyNormalByDesign
	for _, a := range k.Accept {
		ok = ok || a.Family == FamilySound
	}
	return ok
}

// leavesClosed reports whether a family says that the engine seals as it should.
func leavesClosed(family string) bool {
	return slices.Contains([]string{FamilySound, FamilyNormalByDesign, FamilyNotCompression, FamilyAltitude}, family)
}

// claimedFacts names what was concluded.
func (c *court) claimedFacts() []Fact {
	var out []Fact
	for _, cl := range c.claim {
		out = append(out, word("claimed", cl.Family))
	}
	if len(c.claim) == 1 {
		for _, n := range c.claim[0].Cylinders {
			out = append(out, count("claimed_cylinder", n))
		}
	}
	return out
}
