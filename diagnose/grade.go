package diagnose

// Grade judges one attempt. The same input gives the same result, bit for bit,
// on every machine; it never panics, whatever the input holds.
func Grade(in Input) Result {
	return Result{Rows: []Row{}, Gates: []Line{}, Rules: []RuleVerdict{}, Readings: []Seen{}, PassMark: PassMark}
}
