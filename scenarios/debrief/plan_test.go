package debrief_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/scenarios/debrief"
)

func plan(t *testing.T, id, work string) debrief.Plan {
	t.Helper()
	p, err := debrief.PlanOf(report(t, "scenario "+id+"\nmode grade\nprepare\n"+work+"\nhand in"), nil)
	require.NoError(t, err)
	return p
}

func names(steps []debrief.Step) []string {
	out := []string{}
	for _, s := range steps {
		out = append(out, s.Test)
	}
	return out
}

// The cheapest way is the one that the trade's table of patterns tells them apart by.
func TestCheapestWay(t *testing.T) {
	for _, x := range []struct {
		id    string
		steps []string
		shows string // of the last step
	}{
		{"burnt-exhaust-inline-four", []string{debrief.TestLeakage}, book.AirExhaust},
		{"leaking-intake-inline-four", []string{debrief.TestLeakage}, book.AirIntake},
		{"worn-rings-inline-four", []string{debrief.TestDry}, "builds"}, // low first, then it builds
		{"gasket-neighbors-v8", []string{debrief.TestLeakage}, book.AirNeighbour},
		{"bank-two-late-v6", []string{debrief.TestLeakage}, "small"},
		{"timing-early-inline-four", []string{debrief.TestTiming}, ""},
		{"sound-inline-four", []string{}, ""}, // within all limits: nothing more to test
	} {
		p := plan(t, x.id, "")
		assert.Equal(t, x.steps, names(p.Steps), "%s: %+v", x.id, p.Steps)
		assert.Empty(t, p.Left, x.id)
		for _, s := range p.Table {
			for _, w := range s.Shows {
				if w.Unit != "" {
					assert.Contains(t, debrief.ShownKeys(), w.Name+"."+w.Means)
				}
			}
		}
		if x.shows == "" {
			continue
		}
		found := false
		for _, s := range p.Steps[len(p.Steps)-1].Shows {
			found = found || s.Means == x.shows
		}
		assert.True(t, found, "%s shows %+v", x.id, p.Steps[len(p.Steps)-1].Shows)
	}
}

// Rivals give the same dry readings by the book, and are another answer than the key.
func TestRivalsReadTheSame(t *testing.T) {
	for _, id := range []string{"burnt-exhaust-inline-four", "timing-late-inline-four"} {
		s := scenarios.Find(id)
		truth, err := book.Run(s, book.Options{ByCard: true, AsRead: true})
		require.NoError(t, err)
		p := plan(t, id, "")
		require.GreaterOrEqual(t, len(p.Rivals), 3)
		for _, r := range p.Rivals {
			assert.NotEqual(t, s.Key.Family, r.Family)
			other := *s
			other.Faults = r.Faults
			require.NotEmpty(t, r.Faults)
			got, err := book.Run(&other, book.Options{ByCard: true, AsRead: true})
			require.NoError(t, err)
			for _, c := range p.Suspects {
				assert.InDelta(t, truth.Readings[c-1].FinalPSI, got.Readings[c-1].FinalPSI, 6.5, "%s: %s on %d", id, r.Faults[0].Kind, c)
			}
		}
	}
}

// Nothing cheaper on the list does the same: tried here by every pair and every single
// test, apart from how the plan looks for it.
func TestNothingCheaperDoes(t *testing.T) {
	for _, id := range []string{"gasket-inline-four", "timing-late-inline-four"} {
		p := plan(t, id, "")
		sum := 0.0
		ruled := map[int]bool{}
		for _, s := range p.Steps {
			sum += s.Minutes
			for _, r := range s.RulesOut {
				assert.False(t, ruled[r], "once is enough")
				ruled[r] = true
			}
		}
		assert.InDelta(t, sum, p.Minutes, 1e-9)
		assert.Len(t, ruled, len(p.Rivals)-len(p.Left))
		for _, a := range p.Table {
			for _, b := range p.Table {
				together := map[int]bool{}
				for _, r := range append(append([]int{}, a.RulesOut...), b.RulesOut...) {
					together[r] = true
				}
				cost := a.Minutes
				if a.Test != b.Test {
					cost += b.Minutes
				}
				if len(together) == len(ruled) {
					assert.GreaterOrEqual(t, cost, p.Minutes, "%s: %s and %s", id, a.Test, b.Test)
				}
			}
		}
	}
}

// What the student did is held against the same rivals.
func TestWhatYourTestsLeftOpen(t *testing.T) {
	none := plan(t, "burnt-exhaust-inline-four", "six strokes on 3")
	assert.Equal(t, []string{debrief.TestDry}, none.Yours.Tests)
	assert.NotEmpty(t, none.Yours.Open)
	leak := plan(t, "burnt-exhaust-inline-four", "six strokes on 3\ndo turn-by-hand tdc on 3\ndo wrench off\ndo tester-on on 3\ndo air on number 550\ndo wait number 1\ndo air off")
	assert.Equal(t, []string{debrief.TestDry, debrief.TestLeakage}, leak.Yours.Tests)
	assert.Empty(t, leak.Yours.Open)
	assert.InDelta(t, leak.Minutes, leak.Yours.Minutes, 1e-9)
}

// A plan is heard of while it is made, never backwards, and ends.
func TestPlanTellsHowFarItIs(t *testing.T) {
	last, n := 0, 0
	_, err := debrief.PlanOf(report(t, "scenario worn-rings-inline-four\nmode grade\nprepare\nhand in"), func(done, of int) {
		assert.Greater(t, done, last)
		assert.LessOrEqual(t, done, of)
		last, n = done, n+1
	})
	require.NoError(t, err)
	assert.Greater(t, n, 10)
}

// A choked exhaust reads as a sound engine does, and is told by what this bench has not
// got. On a V8 humps lie on each other: the clamp belongs to a plan only where the job
// calls for it, because one too many can be seen.
func TestAPlanWhereTheGaugeFindsNothing(t *testing.T) {
	choked := plan(t, "restricted-exhaust-v8-twin-cam", "")
	assert.Equal(t, []string{"back_pressure"}, choked.Elsewhere)
	families := []string{}
	for _, i := range choked.Left {
		families = append(families, choked.Rivals[i].Family)
	}
	assert.Equal(t, []string{diagnose.FamilySound}, families)
	assert.NotContains(t, names(choked.Table), debrief.TestCurrent)
	dead := plan(t, "dead-exhaust-v8", "")
	assert.Equal(t, []string{debrief.TestCurrent}, names(dead.Steps))
	assert.Empty(t, dead.Elsewhere)
}
