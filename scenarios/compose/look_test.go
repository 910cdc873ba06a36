package compose_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/scenarios"
	"crankbay/scenarios/compose"
)

func lib(t testing.TB) *library.Library {
	t.Helper()
	data, err := os.ReadFile("../../cmd/crankbay/internal/library/library.bin")
	require.NoError(t, err)
	l, err := library.Open(data)
	require.NoError(t, err)
	return l
}

// changed is a scenario of the catalogue with something else in it.
func changed(t testing.TB, id string, change func(*scenarios.Scenario)) *scenarios.Scenario {
	t.Helper()
	found := scenarios.Find(id)
	require.NotNil(t, found)
	s := *found
	s.Faults = slices.Clone(s.Faults)
	s.Tools.Gauges = slices.Clone(s.Tools.Gauges)
	change(&s)
	return &s
}

func keys(l compose.Look) (all []string) {
	for _, w := range l.Warnings {
		all = append(all, w.Key)
	}
	return all
}

func TestWhatTheEvidenceCanDo(t *testing.T) {
	book := lib(t)
	for _, c := range []struct {
		name string
		s    *scenarios.Scenario
		want string
		warn string
	}{
		{"a burnt valve shows", changed(t, "burnt-exhaust-inline-four", func(*scenarios.Scenario) {}), compose.Settled, ""},
		{"early cams look like carbon until the marks are seen", changed(t, "timing-early-inline-four", func(*scenarios.Scenario) {}), compose.SettledByTests, ""},
		{"a burnt valve too small to show", changed(t, "burnt-exhaust-inline-four", func(s *scenarios.Scenario) { s.Faults[0].AreaMM2 = 0.001 }), compose.Misled, compose.WarnMisled},
		{"the wrong cylinder in the key", changed(t, "worn-rings-inline-four", func(s *scenarios.Scenario) { s.Key.Cylinders, s.Key.Accept = []int{4}, nil }), compose.Misled, compose.WarnMisled},
		{"carbon that the readings leave open", changed(t, "timing-early-inline-four", func(s *scenarios.Scenario) {
			s.Key.Family, s.Key.Accept = diagnose.FamilyNormalByDesign, nil
		}), compose.Unsettled, compose.WarnUnsettled},
	} {
		l, err := compose.Whole(c.s, book)
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, l.Verdict, c.name)
		require.NotNil(t, l.KeyGauge)
		require.NotNil(t, l.KeyTests)
		plain, err := compose.Whole(c.s, nil)
		require.NoError(t, err)
		assert.Nil(t, plain.KeyGauge, "nothing weighed it")
		assert.Nil(t, plain.KeyTests)
		assert.Len(t, l.Dry, 4)
		assert.Len(t, l.Wet, 4)
		assert.Len(t, l.Leakage, 4)
		assert.NotEmpty(t, l.ByTests)
		if c.warn == "" {
			assert.Empty(t, l.Warnings, c.name)
		} else {
			assert.Contains(t, keys(l), c.warn, c.name)
		}
	}
}

// Without a library the rules of the grade have their say.
func TestWithoutALibrary(t *testing.T) {
	l, err := compose.Whole(scenarios.Find("burnt-exhaust-inline-four"), nil)
	require.NoError(t, err)
	assert.Equal(t, compose.Settled, l.Verdict)
	assert.Empty(t, l.ByGauge)
}

// More leak, less to read: what a slider shows follows it.
func TestQuickFollowsTheSlider(t *testing.T) {
	last := 1000.0
	for _, area := range []float64{0.2, 0.8, 1.6, 3} {
		l, err := compose.Quick(changed(t, "burnt-exhaust-inline-four", func(s *scenarios.Scenario) { s.Faults[0].AreaMM2 = area }))
		require.NoError(t, err)
		assert.Empty(t, l.Verdict)
		assert.Less(t, l.Dry[2].FinalPSI, last)
		last = l.Dry[2].FinalPSI
	}
}

func TestPlainWarnings(t *testing.T) {
	for want, s := range map[string]*scenarios.Scenario{
		compose.WarnOffScale: changed(t, "burnt-exhaust-inline-four", func(s *scenarios.Scenario) { s.Tools.Gauges[0].RangePSI = 100 }),
		compose.WarnOneLang:  changed(t, "sound-inline-four", func(s *scenarios.Scenario) { s.Complaint.ES = "" }),
		compose.WarnTells:    changed(t, "burnt-exhaust-inline-four", func(s *scenarios.Scenario) { s.History.EN = "They said it has a burnt valve." }),
		compose.WarnSoundFails: changed(t, "worn-rings-inline-four", func(s *scenarios.Scenario) {
			s.Key = diagnose.Key{Family: diagnose.FamilySound}
		}),
	} {
		l, err := compose.Quick(s)
		require.NoError(t, err)
		assert.Equal(t, []string{want}, slices.Compact(keys(l)))
		assert.Subset(t, compose.Warnings(), keys(l))
	}
	l, err := compose.Quick(scenarios.Find("sound-inline-four"))
	require.NoError(t, err)
	assert.Empty(t, l.Warnings)
}

func BenchmarkQuick(b *testing.B) {
	s := scenarios.Find("burnt-exhaust-inline-four")
	for b.Loop() {
		_, err := compose.Quick(s)
		require.NoError(b, err)
	}
}

// An author of a sound engine is told what a grade would say of "sound": the words that
// leave a good engine closed are one.
func TestAGoodEngineIsAsProbableAsAGradeSays(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "sound-v8", "not-compression-inline-five"} {
		l, err := compose.Whole(scenarios.Find(id), lib(t))
		require.NoError(t, err)
		assert.Greater(t, *l.KeyGauge, 0.8, id)
		assert.Greater(t, *l.KeyTests, 0.8, id)
	}
}
