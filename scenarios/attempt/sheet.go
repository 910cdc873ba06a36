package attempt

import (
	"slices"
	"unicode/utf8"

	"crankbay/diagnose"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// maxText is the longest remark, in characters.
const maxText = 400

func refuse(key string, cylinder int) error {
	return &bench.Refusal{Key: "refusal." + key, Cylinder: cylinder}
}

// court is what judges sheet actions: what the card offers, and the engine's size.
type court struct {
	items            []string
	cylinders, banks int
}

// admit says whether a sheet action makes sense, before it is logged. Whether a
// number is right is not asked here: that is the student's work.
func (c court) admit(s *diagnose.Sheet, a record.Action) error {
	switch {
	case a.Kind != KindRemark && a.Text != "":
		return refuse("text_too_long", 0)
	case a.Kind != KindWrite && a.Kind != KindTick && a.Number != 0:
		return refuse("number", a.Cylinder)
	case a.Cylinder < 0 || a.Cylinder > c.cylinders:
		return refuse("cylinder", 0)
	}
	switch a.Kind {
	case KindWrite, KindErase:
		return c.admitField(s, a)
	case KindHeard:
		if a.Cylinder == 0 {
			return refuse("cylinder", 0)
		}
		return among(diagnose.HeardPlaces(), a.Choice, "unknown_choice")
	case KindFinding:
		return among(diagnose.Families(), a.Choice, "no_such_family")
	}
	if a.Cylinder != 0 {
		return refuse("cylinder", 0)
	}
	switch a.Kind {
	case KindTick:
		if a.Number != 0 && a.Number != 1 {
			return refuse("number", 0)
		}
		return among(c.items, a.Choice, "no_such_item")
	case KindSure:
		return among(diagnose.Sureness(), a.Choice, "unknown_choice")
	case KindEvidence:
		return among(diagnose.EvidenceKinds(), a.Choice, "unknown_choice")
	case KindNextTest:
		return among(diagnose.NextTests(), a.Choice, "unknown_choice")
	case KindRemark:
		return admitText(a)
	}
	return among([]string{""}, a.Choice, "unknown_choice") // finding-clear, hand-in
}

func among(list []string, choice, key string) error {
	if !slices.Contains(list, choice) {
		return refuse(key, 0)
	}
	return nil
}

func admitText(a record.Action) error {
	switch {
	case a.Choice != "":
		return refuse("unknown_choice", 0)
	case !utf8.ValidString(a.Text):
		return refuse("not_text", 0)
	case utf8.RuneCountInString(a.Text) > maxText:
		return &bench.Refusal{Key: "refusal.text_too_long", Number: maxText}
	}
	return nil
}

// admitField checks the place of a number, and of one to take away.
func (c court) admitField(s *diagnose.Sheet, a record.Action) error {
	f, ok := diagnose.FieldOf(a.Choice)
	switch {
	case !ok:
		return refuse("no_such_field", 0)
	case f.Of == diagnose.Each && a.Cylinder == 0, f.Of == diagnose.Whole && a.Cylinder != 0,
		f.Of == diagnose.Bank && a.Cylinder > c.banks:
		return refuse("cylinder", a.Cylinder)
	case a.Kind == KindErase && entry(s, a) < 0:
		return refuse("nothing_written", a.Cylinder)
	case a.Number < f.Low:
		return &bench.Refusal{Key: "refusal.number", Cylinder: a.Cylinder, Number: f.Low}
	case a.Number > f.High:
		return &bench.Refusal{Key: "refusal.number", Cylinder: a.Cylinder, Number: f.High}
	case a.Choice == diagnose.FieldThrottle && a.Number != 0 && a.Number != 1:
		return refuse("number", a.Cylinder)
	}
	return nil
}

// entry returns the index of the entry an action is about, -1 when there is none.
func entry(s *diagnose.Sheet, a record.Action) int {
	for i, e := range s.Entries {
		if e.Field == a.Choice && e.Cylinder == a.Cylinder {
			return i
		}
	}
	return -1
}

// apply puts an admitted action on the sheet. a carries the tick it was logged at.
func apply(s *diagnose.Sheet, a record.Action) {
	switch a.Kind {
	case KindTick:
		s.Ticks = without(s.Ticks, a.Choice)
		if a.Number == 1 {
			s.Ticks = append(s.Ticks, a.Choice)
		}
	case KindWrite:
		e := diagnose.Entry{Field: a.Choice, Cylinder: a.Cylinder, Number: a.Number, Tick: a.Tick}
		if i := entry(s, a); i >= 0 {
			s.Entries[i] = e
		} else {
			s.Entries = append(s.Entries, e)
		}
	case KindErase:
		if i := entry(s, a); i >= 0 {
			s.Entries = slices.Delete(s.Entries, i, i+1)
		}
	case KindHeard:
		n := len(s.Heard)
		s.Heard = slices.DeleteFunc(s.Heard, func(h diagnose.Air) bool { return h.Cylinder == a.Cylinder && h.Place == a.Choice })
		if len(s.Heard) == n {
			s.Heard = append(s.Heard, diagnose.Air{Cylinder: a.Cylinder, Place: a.Choice, Tick: a.Tick})
		}
	case KindFinding:
		find(s, a)
	case KindFindingClear:
		s.Findings = []diagnose.Finding{}
		s.ConcludedTick = a.Tick
	case KindSure:
		s.Sure = a.Choice
	case KindEvidence:
		n := len(s.Evidence)
		if s.Evidence = without(s.Evidence, a.Choice); len(s.Evidence) == n {
			s.Evidence = append(s.Evidence, a.Choice)
		}
	case KindNextTest:
		s.NextTest = a.Choice
	case KindRemark:
		s.Remark = a.Text
	case KindHandIn:
		s.HandedIn = true
	}
}

// find adds a family, and the cylinder when one is named.
func find(s *diagnose.Sheet, a record.Action) {
	s.ConcludedTick = a.Tick
	at := -1
	for i := range s.Findings {
		if s.Findings[i].Family == a.Choice {
			at = i
		}
	}
	if at < 0 {
		s.Findings = append(s.Findings, diagnose.Finding{Family: a.Choice})
		at = len(s.Findings) - 1
	}
	f := &s.Findings[at]
	if a.Cylinder == 0 || slices.Contains(f.Cylinders, a.Cylinder) {
		return
	}
	f.Cylinders = append(f.Cylinders, a.Cylinder)
	slices.Sort(f.Cylinders)
}

// without returns list less s.
func without(list []string, s string) []string {
	return slices.DeleteFunc(list, func(x string) bool { return x == s })
}

// empty returns a sheet nobody has written on. Its lists are never nil, so that
// they are lists in JSON too.
func empty() diagnose.Sheet {
	return diagnose.Sheet{
		Ticks: []string{}, Entries: []diagnose.Entry{}, Heard: []diagnose.Air{}, Findings: []diagnose.Finding{}, Evidence: []string{},
	}
}

// SheetOf derives a job sheet from accepted actions; bench actions leave it as it
// is.
func SheetOf(log []record.Action) diagnose.Sheet {
	s := empty()
	for _, a := range log {
		apply(&s, a)
	}
	return s
}

// clone returns a sheet that shares no memory with s.
func clone(s diagnose.Sheet) diagnose.Sheet {
	s.Ticks, s.Evidence = copied(s.Ticks), copied(s.Evidence)
	s.Entries, s.Heard, s.Findings = copied(s.Entries), copied(s.Heard), copied(s.Findings)
	for i := range s.Findings {
		s.Findings[i].Cylinders = slices.Clone(s.Findings[i].Cylinders)
	}
	return s
}

func copied[T any](list []T) []T { return append([]T{}, list...) }
