package book

// Kinds lists the kinds of test, in the order a shop would do them.
func Kinds() []string {
	return []string{Dry, Wet, LeakageKind, CurrentKind, RunningKind, VacuumKind}
}
