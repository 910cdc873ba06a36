package diagnose

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wrong name that nobody is to look at again takes the pass, however careful the hands;
// with a test named that tells, it costs what a wrong guess costs and no more.
func TestAWrongLastWordIsNoPass(t *testing.T) {
	for _, c := range []struct {
		family string
		next   string
		final  bool
		where  []int
	}{
		{FamilyRingOrBore, "none", true, []int{3}},
		{FamilyRingOrBore, "", true, []int{3}},
		{FamilyRingOrBore, "vacuum", true, []int{3}}, // tells nothing here
		{FamilyRingOrBore, "repeat", true, []int{3}}, // has been done
		{FamilyValveLeak, "none", true, nil},         // the whole engine, for one cylinder
		{FamilySound, "none", true, nil},
		{FamilyRingOrBore, "leakage", false, []int{3}},
		{FamilyValveLeak, "none", false, []int{3}},
		{FamilyValveLeak, "none", false, []int{2, 3}},
	} {
		s := lowThree()
		s.conclude(c.family, SureLikely, c.next, c.where...)
		s.putBack()
		r := Grade(s.in)
		l, ok := line(r, "wrong_as_final")
		require.True(t, ok)
		assert.Equal(t, !c.final, l.Passed, "%v", c)
		assert.Equal(t, c.final, slices.Contains(r.Low, RowConclude), "%v: %g", c, r.Points)
		assert.LessOrEqual(t, l.Points, 0.0)
	}
	s := lowThree()
	s.conclude(FamilyUndecided, SureLikely, "")
	_, ok := line(Grade(s.in), "wrong_as_final")
	assert.False(t, ok, "nothing was named")
}

// All within limits, and the job calls for a test that no gauge can stand in for: the
// compression tests are over, the complaint is not.
func TestAPassIsNotAnAnswerToTheComplaint(t *testing.T) {
	made := func(key Key, family, next string) Result {
		s := soundAttempt()
		s.in.Key = key
		s.in.Sheet.Findings = []Finding{{Family: family}}
		s.in.Sheet.NextTest = next
		return Grade(s.in)
	}
	choked := Key{Family: FamilyNotCompression, NextTests: []string{"running", "back_pressure"}}
	left := made(choked, FamilySound, "none")
	assert.False(t, left.Pass)
	l, _ := line(left, "next_test")
	assert.Zero(t, l.Points, "the complaint is still there")
	assert.True(t, made(choked, FamilySound, "running").Pass)
	assert.True(t, made(choked, FamilyNotCompression, "back_pressure").Pass)
	fine := made(Key{Family: FamilySound, NextTests: []string{"none"}}, FamilySound, "none")
	assert.True(t, fine.Pass)
	assert.InDelta(t, fine.OutOf, fine.Points, 0.01)
	other := made(Key{Family: FamilySound, NextTests: []string{"none"}}, FamilyNotCompression, "none")
	assert.True(t, other.Pass, "it leaves a good engine closed")
	assert.Less(t, other.Points, fine.Points)
}

// Where compressions lie too close for the humps to be compared, nobody is sent to compare
// them.
func TestNoHumpsToCompareFromSevenCylindersOn(t *testing.T) {
	for n := 1; n <= 12; n++ {
		e := Evidence{Cylinders: n}
		for c := 1; c <= n; c++ {
			e.Seen = append(e.Seen, Seen{Cylinder: c, Valid: true, DryLast: 1.2e6, DryFirst: 0.8e6})
		}
		j := Judge(e, Limits{Standard: 1.2e6, Minimum: 0.9e6, Rule: RuleRatio75}, true)
		require.Equal(t, PatternWithin, j.Pattern)
		assert.Equal(t, n > 1 && n < 7, slices.Contains(j.Next, "current"), n)
	}
}

// Clearances that an engine sets by itself are no test to send anybody to.
func TestNoLashWhereItSetsItself(t *testing.T) {
	for _, can := range []bool{true, false} {
		s := lowThree()
		s.in.Card.LashCheck = can
		s.conclude(FamilyUndecided, SureLikely, "lash")
		l, ok := line(Grade(s.in), "next_test")
		require.True(t, ok)
		assert.Equal(t, can, l.Points > 0)
		c := Concluded(s.in)
		assert.NotEmpty(t, c.Claims)
	}
}
