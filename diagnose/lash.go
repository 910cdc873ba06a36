package diagnose

// Lash is what the page of an engine asks for between cam and valve [mm], at the
// temperature its service information names. It is data of the engine, as its limits are.
type Lash struct {
	IntakeMM  float64 `json:"intake_mm"`  // [0.05, 0.9]
	ExhaustMM float64 `json:"exhaust_mm"` // [0.05, 0.9]
	WithinMM  float64 `json:"within_mm"`  // that much over or under is still right, [0.01, 0.1]
}

// FeelerStepMM is what the feelers of a set differ by, as on the bench: a gap lies
// within half a step of what drags.
const FeelerStepMM = 0.05

// DefaultLash stands in for a card that says no more than that there is lash to
// measure: figures of an ordinary engine with shims (common practice, no source).
func DefaultLash() Lash { return Lash{0.20, 0.30, 0.05} }

// IsZero reports whether a card need not say it, because it says what a card without it
// means: so a card that was written before it could be said is the same card.
func (l Lash) IsZero() bool { return l == Lash{} || l == DefaultLash() }

// Validate reports every figure that no page would print, by its path in the card; nil
// when all is well.
func (l Lash) Validate() error {
	var f faults
	f.inside("lash.intake_mm", l.IntakeMM, 0.05, 0.9)
	f.inside("lash.exhaust_mm", l.ExhaustMM, 0.05, 0.9)
	f.inside("lash.within_mm", l.WithinMM, 0.01, 0.1)
	return f.join()
}

// Asked returns what is asked of the valve that a fact of the feelers is about [mm].
func (l Lash) Asked(fact string) float64 {
	switch fact {
	case "lash_exhaust", "lash_exhaust_none", "lash_exhaust_wide":
		return l.ExhaustMM
	}
	return l.IntakeMM
}

// Tight reports whether the feeler that drags is too thin for what is asked. The gap
// may be half a step wider than it.
func (l Lash) Tight(fact string, feelerMM float64) bool {
	return feelerMM < l.Asked(fact)-l.WithinMM-FeelerStepMM/2
}

// Wide reports whether the feeler that drags is too thick for what is asked.
func (l Lash) Wide(fact string, feelerMM float64) bool {
	return feelerMM > l.Asked(fact)+l.WithinMM+FeelerStepMM/2
}
