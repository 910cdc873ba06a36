package attempt_test

import (
	"errors"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

func begin(t testing.TB, mode string) *attempt.Session {
	t.Helper()
	s, err := attempt.New(scenarios.Find("sound-inline-four"), attempt.Header{Mode: mode})
	require.NoError(t, err)
	return s
}

func key(err error) string {
	var r *bench.Refusal
	if errors.As(err, &r) {
		return r.Key
	}
	return ""
}

func TestTheSheetIsWhatTheLogMakesOfIt(t *testing.T) {
	for _, name := range some(t) {
		s := compiled(t, name)
		assert.Equal(t, s.Sheet(), attempt.SheetOf(s.Log()), name)
	}
	s := begin(t, attempt.ModeAlone)
	for _, a := range []record.Action{
		{Kind: attempt.KindTick, Choice: "glasses", Number: 1},
		{Kind: attempt.KindTick, Choice: "brake", Number: 1},
		{Kind: attempt.KindTick, Choice: "glasses"},
		{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Cylinder: 2, Number: 1e6},
		{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Cylinder: 3, Number: 2e6},
		{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Cylinder: 2, Number: 1.1e6},
		{Kind: attempt.KindErase, Choice: diagnose.FieldDryLast, Cylinder: 3},
		{Kind: attempt.KindFinding, Choice: diagnose.FamilySound},
		{Kind: attempt.KindFindingClear},
		{Kind: attempt.KindFinding, Choice: diagnose.FamilyHeadGasket, Cylinder: 3},
		{Kind: attempt.KindFinding, Choice: diagnose.FamilyHeadGasket, Cylinder: 2},
		{Kind: attempt.KindFinding, Choice: diagnose.FamilyHeadGasket, Cylinder: 3},
		{Kind: attempt.KindSure, Choice: diagnose.SureGuess},
		{Kind: attempt.KindSure, Choice: diagnose.SureLikely},
		{Kind: attempt.KindEvidence, Choice: "dry"},
		{Kind: attempt.KindEvidence, Choice: "wet"},
		{Kind: attempt.KindEvidence, Choice: "dry"},
		{Kind: attempt.KindNextTest, Choice: "leakage"},
		{Kind: attempt.KindRemark, Text: "Listen at the neighbour's plug hole."},
		{Kind: attempt.KindWrite, Choice: diagnose.FieldLeakage, Cylinder: 2, Number: 34},
		{Kind: attempt.KindWrite, Choice: diagnose.FieldTiming, Number: -18},
		{Kind: attempt.KindHeard, Choice: diagnose.HeardThrottle, Cylinder: 2},
		{Kind: attempt.KindHeard, Choice: diagnose.HeardFiller, Cylinder: 3},
		{Kind: attempt.KindHeard, Choice: diagnose.HeardFiller, Cylinder: 2},
		{Kind: attempt.KindHeard, Choice: diagnose.HeardFiller, Cylinder: 3},
	} {
		require.NoError(t, s.Do(a), "%+v", a)
	}
	assert.Equal(t, diagnose.Sheet{
		Ticks: []string{"brake"},
		Entries: []diagnose.Entry{
			{Field: diagnose.FieldDryLast, Cylinder: 2, Number: 1.1e6},
			{Field: diagnose.FieldLeakage, Cylinder: 2, Number: 34}, {Field: diagnose.FieldTiming, Number: -18},
		},
		Heard:    []diagnose.Air{{Cylinder: 2, Place: diagnose.HeardThrottle}, {Cylinder: 2, Place: diagnose.HeardFiller}},
		Findings: []diagnose.Finding{{Family: diagnose.FamilyHeadGasket, Cylinders: []int{2, 3}}},
		Sure:     diagnose.SureLikely, Evidence: []string{"wet"}, NextTest: "leakage",
		Remark: "Listen at the neighbour's plug hole.",
	}, s.Sheet())
	half := attempt.SheetOf(s.Log()[:5])
	assert.Len(t, half.Entries, 2, "what was known then")
}

func TestASheetThatWasGivenOutDoesNotChange(t *testing.T) {
	s := begin(t, attempt.ModeAlone)
	require.NoError(t, s.Do(record.Action{Kind: attempt.KindFinding, Choice: diagnose.FamilyHeadGasket, Cylinder: 3}))
	require.NoError(t, s.Do(record.Action{Kind: attempt.KindEvidence, Choice: "dry"}))
	before := s.Sheet()
	require.NoError(t, s.Do(record.Action{Kind: attempt.KindFinding, Choice: diagnose.FamilyHeadGasket, Cylinder: 2}))
	require.NoError(t, s.Do(record.Action{Kind: attempt.KindEvidence, Choice: "dry"}))
	assert.Equal(t, []int{3}, before.Findings[0].Cylinders)
	assert.Equal(t, []string{"dry"}, before.Evidence)
}

func TestTheSheetRefusesWhatIsNotOnIt(t *testing.T) {
	for _, c := range []struct {
		a   record.Action
		key string
	}{
		{record.Action{Kind: attempt.KindTick, Choice: "polish", Number: 1}, "no_such_item"},
		{record.Action{Kind: attempt.KindTick, Choice: "glasses", Number: 2}, "number"},
		{record.Action{Kind: attempt.KindTick, Choice: "glasses", Number: 1, Cylinder: 1}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: "horsepower", Number: 2}, "no_such_field"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Number: 2}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Cylinder: 5, Number: 2}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldDryLast, Cylinder: -1, Number: 2}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldSpecMinimum, Cylinder: 1, Number: 2}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldThrottle, Number: 0.5}, "number"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldRPM, Number: 1e10}, "number"},
		{record.Action{Kind: attempt.KindErase, Choice: diagnose.FieldRPM}, "nothing_written"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldLeakage, Number: 12}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldLeakage, Cylinder: 1, Number: 101}, "number"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldLeakageSupply, Cylinder: 1, Number: 6e5}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldVacuum, Number: 2e5}, "number"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldLashIntake, Cylinder: 1, Number: -0.1}, "number"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldTiming, Cylinder: 2, Number: 18}, "cylinder"},
		{record.Action{Kind: attempt.KindWrite, Choice: diagnose.FieldTiming, Number: 361}, "number"},
		{record.Action{Kind: attempt.KindHeard, Choice: diagnose.HeardThrottle}, "cylinder"},
		{record.Action{Kind: attempt.KindHeard, Choice: "in the cabin", Cylinder: 1}, "unknown_choice"},
		{record.Action{Kind: attempt.KindHeard, Choice: diagnose.HeardThrottle, Cylinder: 1, Number: 1}, "number"},
		{record.Action{Kind: attempt.KindHeard, Choice: diagnose.HeardThrottle, Cylinder: 9}, "cylinder"},
		{record.Action{Kind: attempt.KindFinding, Choice: "bad_luck"}, "no_such_family"},
		{record.Action{Kind: attempt.KindSure, Choice: "very"}, "unknown_choice"},
		{record.Action{Kind: attempt.KindEvidence, Choice: "feeling"}, "unknown_choice"},
		{record.Action{Kind: attempt.KindNextTest, Choice: "teardown"}, "unknown_choice"},
		{record.Action{Kind: attempt.KindRemark, Text: strings.Repeat("x", 401)}, "text_too_long"},
		{record.Action{Kind: attempt.KindRemark, Text: "\xff"}, "not_text"},
		{record.Action{Kind: attempt.KindSure, Choice: "guess", Text: "hm"}, "text_too_long"},
		{record.Action{Kind: attempt.KindFindingClear, Choice: "all"}, "unknown_choice"},
		{record.Action{Kind: "cheat"}, "unknown_kind"},
	} {
		s := begin(t, attempt.ModeAlone)
		before := s.Digest()
		assert.Equal(t, "refusal."+c.key, key(s.Do(c.a)), "%+v", c.a)
		assert.Equal(t, before, s.Digest())
		assert.Empty(t, s.Log())
		assert.Contains(t, append(attempt.Refusals(), bench.Refusals()...), "refusal."+c.key)
	}
}

func TestHintsAreCountedAndOnlyForThoseAlone(t *testing.T) {
	s := begin(t, attempt.ModeAlone)
	for _, kind := range []string{bench.KindHint, bench.KindSection, bench.KindSection, bench.KindHint} {
		require.NoError(t, s.Do(record.Action{Kind: kind}))
	}
	assert.Equal(t, 3, s.Hints(), "the section view counts once")
	r, err := attempt.Verify(s.File(), scenarios.Find)
	require.NoError(t, err)
	assert.Equal(t, 3, r.Grade.Hints)
	for _, mode := range []string{attempt.ModeGrade, attempt.ModeReasons} {
		assert.Equal(t, "refusal.not_in_this_mode", key(begin(t, mode).Do(record.Action{Kind: bench.KindHint})))
	}
}

func TestNothingMovesAfterHandIn(t *testing.T) {
	s := begin(t, attempt.ModeGrade)
	require.NoError(t, s.Do(record.Action{Kind: bench.KindStarter, Choice: "on"}))
	assert.Equal(t, "refusal.starter_on", key(s.Do(record.Action{Kind: attempt.KindHandIn})))
	s.Advance(600)
	require.NoError(t, s.Do(record.Action{Kind: bench.KindStarter, Choice: "off"}))
	require.NoError(t, s.Do(record.Action{Kind: attempt.KindHandIn}), "it waits for the crank")
	assert.True(t, s.Bench().AtRest())
	assert.True(t, s.State().HandedIn)
	before := s.Digest()
	for _, kind := range []string{bench.KindGlasses, attempt.KindSure, attempt.KindHandIn} {
		assert.Equal(t, "refusal.handed_in", key(s.Do(record.Action{Kind: kind})))
	}
	s.Advance(100)
	s.Settle()
	assert.Zero(t, s.StrokeStep())
	assert.Equal(t, before, s.Digest())
	_, err := attempt.Verify(s.File(), scenarios.Find)
	assert.NoError(t, err)
}

// TestRandomAttemptsVerify does things on bench and sheet in no order at all,
// half of them from where the engine is prepared; the file of each verifies to
// the same state, sheet and grade.
func TestRandomAttemptsVerify(t *testing.T) {
	n := 300
	if os.Getenv("SOAK") != "" {
		n = 10_000
	}
	all := scenarios.Catalogue()
	runs, written := 0, 0
	for seed := range n {
		r := rand.New(rand.NewPCG(uint64(seed), 29))
		prepare := ""
		if seed%2 == 1 {
			prepare = "prepare without warm"
		}
		scenario := all[seed%len(all)]
		s, err := script.Compile("scenario "+scenario.ID+"\nmode "+attempt.Modes()[seed%3]+"\n"+prepare, scenarios.Find)
		require.NoError(t, err)
		for range 30 {
			hand(s, r)
		}
		data, err := s.Encode()
		require.NoError(t, err)
		f, err := attempt.Decode(data)
		require.NoError(t, err, "seed %d", seed)
		v, err := attempt.Verify(f, scenarios.Find)
		require.NoError(t, err, "seed %d", seed)
		require.Equal(t, s.Digest(), v.Session.Digest(), "seed %d", seed)
		require.Equal(t, s.Sheet(), v.Session.Sheet(), "seed %d", seed)
		require.Equal(t, s.Grade(), v.Grade, "seed %d", seed)
		runs += len(s.Record().Runs)
		written += len(s.Sheet().Entries)
	}
	t.Logf("%d runs, %d numbers written in %d attempts", runs, written, n)
	assert.Greater(t, runs, n/8, "the hands do get something done")
	assert.Greater(t, written, n/8)
}

// hand does one random thing, mostly one that makes some sense.
func hand(s *attempt.Session, r *rand.Rand) {
	cylinder := 1 + r.IntN(s.Scenario().Engine.Cylinders)
	pick := func(list ...string) string { return list[r.IntN(len(list))] }
	var a record.Action
	switch r.IntN(16) {
	case 0:
		s.Advance(r.IntN(600))
		return
	case 1, 2:
		s.StrokeStep()
		return
	case 3, 4, 5:
		a = record.Action{Kind: bench.KindStarter, Choice: pick("on", "off")}
	case 6, 7:
		a = record.Action{Kind: bench.KindHoseOn, Cylinder: cylinder}
	case 8:
		a = record.Action{Kind: pick(bench.KindHoseOff, bench.KindRelease)}
	case 9, 10:
		a = record.Action{Kind: attempt.KindWrite, Choice: pick(diagnose.Fields()...), Number: float64(r.IntN(2e6))}
		a.Cylinder = cylinder * r.IntN(2)
	case 11:
		a = record.Action{Kind: attempt.KindFinding, Choice: pick(diagnose.Families()...), Cylinder: cylinder}
	case 12:
		a = record.Action{Kind: attempt.KindEvidence, Choice: pick(diagnose.EvidenceKinds()...)}
	case 13:
		a = record.Action{Kind: attempt.KindTick, Choice: pick(s.Scenario().Card.Items...), Number: float64(r.IntN(2))}
	default: // anything at all
		a = record.Action{
			Kind:   pick(append(bench.Kinds(), attempt.SheetKinds()...)...),
			Choice: pick("", "on", "off", "open", "disabled", "enabled", "hand", "ordered", "bdc", "remote", "likely", "none"),
			Number: float64(r.IntN(12)), Cylinder: cylinder * r.IntN(2),
		}
	}
	if a.Kind == attempt.KindHandIn && r.IntN(4) > 0 {
		return
	}
	_ = s.Do(a) // refused or not
}

// The grader holds a clearance against the same figures as the bench measures it by.
func TestClearancesOfGraderAndBenchAgree(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		b, err := bench.New(s.Setup())
		require.NoError(t, err)
		assert.Equal(t, bench.Lash(s.Card.Lash), b.Lash(), s.ID)
	}
	var unsaid bench.Bench
	assert.Equal(t, bench.Lash(diagnose.DefaultLash()), unsaid.Lash())
	assert.InDelta(t, bench.FeelerStepMM, diagnose.FeelerStepMM, 0)
}
