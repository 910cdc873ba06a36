package attempt_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

func TestVerifyGradesAsTheStudentSawIt(t *testing.T) {
	for _, name := range some(t) {
		s := compiled(t, name)
		r, err := attempt.Verify(s.File(), scenarios.Find)
		require.NoError(t, err, name)
		assert.Equal(t, s.Grade(), r.Grade, name)
		assert.Equal(t, s.Sheet(), r.Session.Sheet(), name)
		assert.Equal(t, s.Record(), r.Session.Record(), name)
		assert.Equal(t, s.Digest(), r.Session.Digest(), name)
		assert.Equal(t, s.Sheet().HandedIn, r.HandedIn, name)
	}
}

func TestVerifySaysWhereAnAttemptDoesNotHold(t *testing.T) {
	good := compiled(t, "burnt-valve-by-the-card").File()
	at := func(f *attempt.File, kind string, nth int) int {
		for i, a := range f.Actions {
			if a.Kind == kind {
				if nth--; nth < 0 {
					return i
				}
			}
		}
		t.Fatal(kind)
		return 0
	}
	for _, c := range []struct {
		name   string
		change func(*attempt.File)
		want   string
	}{
		{"an action shifted", func(f *attempt.File) { f.Actions[at(f, bench.KindStarter, 3)].Tick-- }, "the replay differs from the record from tick"},
		{"an action left out", func(f *attempt.File) {
			i := at(f, bench.KindTurn, 1)
			f.Actions = slices.Delete(f.Actions, i, i+2) // the wrench is taken off again right after
		}, "the replay differs from the record from tick"},
		{"a better reading written", func(f *attempt.File) { f.Actions[at(f, attempt.KindWrite, 8)].Number += 7000 }, "the replay differs from the record from tick"},
		{"a better conclusion", func(f *attempt.File) { f.Actions[at(f, attempt.KindFinding, 0)].Choice = "sound" }, "the replay differs from the record from tick"},
		{"an action that is refused", func(f *attempt.File) { f.Actions[at(f, bench.KindHoseOn, 1)].Kind = bench.KindPlugLook }, "the replay differs from the record from tick"},
		{"a plug out twice", func(f *attempt.File) {
			i := at(f, bench.KindPlugOut, 1)
			f.Actions[i].Cylinder = 1
		}, "plug-out at tick 0: refusal.plug_already_out"},
		{"a mark changed", func(f *attempt.File) { f.Marks[7].Digest ^= 1 }, "(mark 7)"},
		{"a mark too many", func(f *attempt.File) { f.Marks = slices.Insert(f.Marks, 3, f.Marks[3]) }, "the replay differs"},
		{"marks thrown away", func(f *attempt.File) { f.Marks = f.Marks[len(f.Marks)-1:] }, "(mark 0)"},
		{"the end changed", func(f *attempt.File) { f.Marks[len(f.Marks)-1].Digest++ }, "the replay differs"},
		{"another model", func(f *attempt.File) { f.Model = sim.ModelVersion + 1 }, fmt.Sprintf("attempt: recorded under model %d, this is model %d", sim.ModelVersion+1, sim.ModelVersion)},
		{"another seed", func(f *attempt.File) { f.Seed++ }, "attempt: recorded under seed"},
		{"another scenario", func(f *attempt.File) { f.Scenario = "sound-inline-four" }, "attempt: recorded under scenario digest"},
		{"no scenario", func(f *attempt.File) { f.Scenario = "no-such" }, `attempt: scenario: "no-such" is not known here`},
		{"hints in a grade", func(f *attempt.File) { f.Actions[0].Kind, f.Actions[0].Choice = bench.KindHint, "" }, "actions[0]: hint at tick 0: refusal.not_in_this_mode"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := *good
			f.Actions, f.Marks = slices.Clone(good.Actions), slices.Clone(good.Marks)
			c.change(&f)
			f.Sign() // whoever changes a log can also sign it
			_, err := attempt.Verify(&f, scenarios.Find)
			require.Error(t, err)
			assert.ErrorContains(t, err, c.want)
		})
	}
	other := *good
	other.Who = "Someone Else"
	other.Sign()
	_, err := attempt.Verify(&other, scenarios.Find)
	assert.NoError(t, err, "who is a claim")
	other.Grader = 99
	r, err := attempt.Verify(&other, scenarios.Find)
	require.NoError(t, err, "graded by the present grader")
	assert.Equal(t, 99, r.GraderThen)
	_, err = attempt.Verify(&attempt.File{Model: sim.ModelVersion, Scenario: good.Scenario, ScenarioDigest: good.ScenarioDigest, Seed: good.Seed, Mode: "grade"}, scenarios.Find)
	assert.ErrorContains(t, err, "marks")
}

func TestResumeGoesOnAsIfNothingHadHappened(t *testing.T) {
	whole := compiled(t, "burnt-valve-by-the-card")
	log := whole.Log()
	scenario := whole.Scenario()
	for _, cut := range []int{0, 1, 40, 47, 90, len(log) - 1, len(log)} {
		live, err := attempt.New(scenario, whole.Header())
		require.NoError(t, err)
		play(t, live, log[:cut])
		f := live.File()
		held := live.State().Starter
		resumed, err := attempt.Resume(f, scenario)
		require.NoError(t, err, cut)
		assert.False(t, resumed.State().Starter)
		if held {
			require.NoError(t, live.Do(record.Action{Kind: bench.KindStarter, Choice: "off"}))
			live.Settle()
			assert.Equal(t, live.Digest(), resumed.Digest())
			continue
		}
		play(t, resumed, log[cut:])
		assert.Equal(t, whole.Digest(), resumed.Digest(), cut)
		assert.Equal(t, whole.File(), resumed.File(), cut)
	}
	_, err := attempt.Resume(whole.File(), scenarios.Find("sound-inline-four"))
	assert.ErrorContains(t, err, "scenario")
}

// play does actions at their ticks.
func play(t *testing.T, s *attempt.Session, log []record.Action) {
	t.Helper()
	for _, a := range log {
		require.NoError(t, s.Bench().AdvanceTo(a.Tick))
		require.NoError(t, s.Do(a))
	}
}

func TestASaveInMidStrokeLosesNoMoreThanThatStroke(t *testing.T) {
	s := compiled(t, "worn-rings-cut-short")
	require.NoError(t, s.Do(record.Action{Kind: bench.KindRelease}))
	require.NoError(t, s.Do(record.Action{Kind: bench.KindTurn, Cylinder: 3, Choice: "bdc"}))
	require.NoError(t, s.Do(record.Action{Kind: bench.KindStarter, Choice: "on"}))
	s.Advance(700)
	require.NotZero(t, s.Bench().Engine().Speed())
	r, err := attempt.Resume(s.File(), s.Scenario())
	require.NoError(t, err)
	assert.True(t, r.Bench().AtRest())
	assert.False(t, r.State().Starter)
	assert.Len(t, r.Record().Runs, 4, "the run was closed")
	_, err = attempt.Verify(r.File(), scenarios.Find)
	assert.NoError(t, err)
}

// TestGoldenAttempts holds the recorded attempts: what the scripts compile to now
// is what was recorded, and what was recorded still verifies.
func TestGoldenAttempts(t *testing.T) {
	for _, name := range scripts(t) {
		data, err := compiled(t, name).Encode()
		require.NoError(t, err)
		path := filepath.Join(testdata, "attempts", name+".json")
		if os.Getenv("GOLDEN") == "rewrite" {
			require.NoError(t, os.WriteFile(path, data, 0o644))
		}
		stored, err := os.ReadFile(path)
		require.NoError(t, err, "make golden writes it")
		if !assert.Equal(t, string(stored), string(data), "%s: other bits than recorded; make golden, then read the diff", name) {
			continue
		}
		f, err := attempt.Decode(stored)
		require.NoError(t, err)
		_, err = attempt.Verify(f, scenarios.Find)
		assert.NoError(t, err, name)
	}
}
