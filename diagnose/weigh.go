package diagnose

import "slices"

// refine lets the confirming tests have their say. What one of them points to comes
// before what the gauge alone had left, what it speaks against goes; spoiled readings
// stay spoiled, so that under a method fault a hint never decides.
func (j *Judgement) refine(e Evidence) {
	if j.Pattern == PatternNothing {
		return
	}
	j.doubted(e)
	list := explained(e.hints(j))
	if len(list) == 0 {
		return
	}
	speaks := pointed(strongest(list), j)
	for _, h := range list {
		if !h.speaksFor {
			j.Supported = against(j.Supported, h)
			j.Open = against(j.Open, h)
			speaks = against(speaks, h)
		}
	}
	switch {
	case len(speaks) == 0:
	case j.methodic():
		j.Supported = append(j.Supported, speaks...)
	default:
		j.Open = append(j.Open, notIn(j.Supported, speaks)...)
		j.Supported = speaks
	}
	j.settle(e, speaks, decides(list))
}

// doubted: a leakage test that says nothing, and was not made again, is a question
// left open.
func (j *Judgement) doubted(e Evidence) {
	if !e.unfit() {
		return
	}
	next := []string{"leakage"}
	for _, x := range j.Next {
		if x != "none" && x != "leakage" {
			next = append(next, x)
		}
	}
	j.Next = next
}

// unfit reports whether the air of some cylinder was only ever put on where it says
// nothing.
func (e Evidence) unfit() bool {
	for n := 1; n <= e.Cylinders; n++ {
		if l, ok := e.Confirmed.leak(n); ok && l.Fault != "" {
			return true
		}
	}
	return false
}

// explained drops what another hint explains: a valve that a feeler found too tight
// leaks for that reason.
func explained(list []hint) []hint {
	var out []hint
	for _, h := range list {
		cause := false
		for _, o := range list {
			cause = cause || o.family == FamilyTightLash && o.speaksFor && slices.Equal(o.cylinders, h.cylinders)
		}
		if !cause || h.family != FamilyValveLeak {
			out = append(out, h)
		}
	}
	return out
}

// methodic reports whether the readings themselves are in doubt.
func (j *Judgement) methodic() bool {
	switch j.Pattern {
	case PatternMethod, PatternMethodLo, PatternSlow, PatternWander:
		return true
	}
	return false
}

// strongest drops what merely leans where something does more than that.
func strongest(list []hint) []hint {
	if !decides(list) {
		return list
	}
	var out []hint
	for _, h := range list {
		if !h.leans {
			out = append(out, h)
		}
	}
	return out
}

// decides reports whether one of the hints does more than lean.
func decides(list []hint) bool {
	for _, h := range list {
		if h.speaksFor && !h.leans {
			return true
		}
	}
	return false
}

// pointed lists what hints speak for: by family every cylinder alone, and all of
// them together.
func pointed(list []hint, j *Judgement) []Finding {
	var out []Finding
	add := func(f Finding) {
		for _, x := range out {
			if x.Family == f.Family && slices.Equal(x.Cylinders, f.Cylinders) {
				return
			}
		}
		out = append(out, f)
	}
	for _, family := range Families() {
		var all []int
		for _, h := range list {
			if !h.speaksFor || h.family != family {
				continue
			}
			add(Finding{family, h.cylinders})
			for _, c := range h.cylinders {
				if !slices.Contains(all, c) {
					all = append(all, c)
				}
			}
		}
		if all = sorted(all); len(all) > 0 {
			add(Finding{family, all})
			switch {
			case within(all, j.Suspects): // the same fault in a row, sampled
				add(Finding{family, j.Suspects})
			case j.Pattern == PatternAllLow: // likewise, of all
				add(Finding{Family: family})
			}
		}
	}
	return out
}

// within reports whether all of list stand in the other, which is longer.
func within(list, other []int) bool {
	for _, c := range list {
		if !slices.Contains(other, c) {
			return false
		}
	}
	return len(list) < len(other)
}

// against takes what a hint speaks against out of a list: its cylinders out of each
// finding of that family, and the finding when none is left. Against a finding about
// the whole engine one cylinder is enough.
func against(list []Finding, h hint) []Finding {
	var out []Finding
	for _, f := range list {
		if f.Family != h.family {
			out = append(out, f)
			continue
		}
		if len(f.Cylinders) == 0 || len(h.cylinders) == 0 {
			continue
		}
		var left []int
		for _, c := range f.Cylinders {
			if !slices.Contains(h.cylinders, c) {
				left = append(left, c)
			}
		}
		if len(left) > 0 {
			out = append(out, Finding{f.Family, left})
		}
	}
	return out
}

// notIn returns the findings of list whose family does not stand in other.
func notIn(list, other []Finding) []Finding {
	var out []Finding
	for _, f := range list {
		if !hasFamily(other, f.Family) {
			out = append(out, f)
		}
	}
	return out
}

// open reports whether a family is pointed to or still possible.
func (j *Judgement) open(family string) bool {
	return hasFamily(j.Supported, family) || hasFamily(j.Open, family)
}

func hasFamily(list []Finding, family string) bool {
	for _, f := range list {
		if f.Family == family {
			return true
		}
	}
	return false
}

// settle says after the confirming tests what is decided and what would still tell
// more: a leaking valve may be burnt or merely tight, and a feeler gauge tells.
func (j *Judgement) settle(e Evidence, speaks []Finding, strong bool) {
	families := 0
	for _, f := range Families() {
		if hasFamily(j.Supported, f) {
			families++
		}
	}
	covered := true
	for _, c := range j.Suspects {
		known := false
		for _, f := range speaks {
			known = known || len(f.Cylinders) == 0 || slices.Contains(f.Cylinders, c)
		}
		covered = covered && known
	}
	j.WetCalled = j.WetCalled && len(speaks) == 0
	if len(speaks) == 0 || j.methodic() {
		return
	}
	j.Decided = families == 1 && covered && j.Complete && strong
	var next []string
	oil := j.open(FamilyRingOrBore) || j.open(FamilyWashedOrDry)
	for _, n := range j.Next {
		if !e.Did(n, *j) && (oil || n != "wet") {
			next = append(next, n)
		}
	}
	if j.Decided {
		next = []string{"none"}
		if hasFamily(j.Supported, FamilyValveLeak) && !e.Did("lash", *j) {
			next = append(next, "lash")
		}
	}
	j.Next = next
}
