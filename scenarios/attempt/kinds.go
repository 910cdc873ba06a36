package attempt

// Kinds of action of the job sheet.
const (
	KindTick         = "card-tick"     // choice item of the card, number 1 or 0
	KindWrite        = "write"         // choice field, cylinder (0 the whole engine), number in the field's unit
	KindErase        = "erase"         // choice field, cylinder
	KindHeard        = "heard"         // cylinder; choice of diagnose.HeardPlaces; once more takes it back
	KindFinding      = "finding"       // choice family, cylinder (0 the whole engine or not said)
	KindFindingClear = "finding-clear" // starts the conclusion again
	KindSure         = "sure"          // choice guess, likely, certain
	KindEvidence     = "evidence"      // choice of diagnose.EvidenceKinds; once more takes it back
	KindNextTest     = "next-test"     // choice of diagnose.NextTests
	KindRemark       = "remark"        // text for the customer
	KindHandIn       = "hand-in"       // ends the attempt
)

// SheetKinds lists the kinds of action of the job sheet.
func SheetKinds() []string {
	return []string{
		KindTick, KindWrite, KindErase, KindHeard, KindFinding, KindFindingClear, KindSure, KindEvidence, KindNextTest,
		KindRemark, KindHandIn,
	}
}

// Refusals lists the keys of refusals beyond those of the bench.
func Refusals() []string {
	return []string{
		"refusal.handed_in", "refusal.not_in_this_mode", "refusal.test_not_allowed", "refusal.minutes_over", "refusal.no_such_item", "refusal.no_such_field",
		"refusal.nothing_written", "refusal.no_such_family", "refusal.text_too_long", "refusal.not_text",
	}
}

// Ways of working.
const (
	ModeReasons = "reasons" // the next sensible action is offered
	ModeAlone   = "alone"   // hints and section view on request, counted
	ModeGrade   = "grade"   // neither
)

// Modes lists the ways of working.
func Modes() []string { return []string{ModeReasons, ModeAlone, ModeGrade} }
