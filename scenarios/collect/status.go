package collect

// What a hand-in turned out to be. The texts are the page's: hand.<status>.
const (
	StatusOK           = "ok"            // handed in, holds, and is the student's own
	StatusOpen         = "open"          // holds, but was not handed in: graded as it stands
	StatusUnreadable   = "unreadable"    // no hand-in, damaged, or cut short
	StatusSealed       = "sealed"        // sealed, and the key is missing or another one
	StatusDiffers      = "differs"       // the replay differs from the record, from Tick on
	StatusImpossible   = "impossible"    // an action that can't have been done at Tick
	StatusVersion      = "version"       // made under another version of the program: What, Then, Now
	StatusChanged      = "changed"       // the scenario was another one under the same name: Then, Now
	StatusUnknown      = "unknown"       // a scenario that is not known here
	StatusWrongVariant = "wrong_variant" // holds, but is not of this class's set
	StatusWrongMode    = "wrong_mode"    // holds, but was worked in another way than asked for: Then, Now
	StatusOther        = "other_student" // holds, but on the variant of Owner
	StatusNotOnRoster  = "not_on_roster" // holds, on the variant of Owner, under a name that nobody has
)

// Statuses lists every status.
func Statuses() []string {
	return []string{
		StatusOK, StatusOpen, StatusUnreadable, StatusSealed, StatusDiffers, StatusImpossible, StatusVersion, StatusChanged,
		StatusUnknown, StatusWrongVariant, StatusWrongMode, StatusOther, StatusNotOnRoster,
	}
}

// Counts tells whether a hand-in of this status is graded: its replay holds.
func Counts(status string) bool {
	switch status {
	case StatusOK, StatusOpen, StatusWrongVariant, StatusWrongMode, StatusOther, StatusNotOnRoster:
		return true
	}
	return false
}

// Fits tells whether a hand-in of this status is what it should be.
func Fits(status string) bool { return status == StatusOK || status == StatusOpen }
