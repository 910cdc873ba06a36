package scenarios_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/bench"
)

func TestCatalogueIsWhole(t *testing.T) {
	all := scenarios.Catalogue()
	assert.GreaterOrEqual(t, len(all), 45)
	engines := map[string]scenarios.Engine{}
	seeds := map[uint64]string{}
	for i, s := range all {
		assert.Same(t, s, scenarios.Find(s.ID))
		data, err := os.ReadFile("data/" + s.ID + ".json")
		require.NoError(t, err, "a file is named after its id")
		whole, err := scenarios.Decode(data)
		require.NoError(t, err, s.ID)
		assert.Equal(t, whole, s)
		if i > 0 {
			assert.LessOrEqual(t, all[i-1].Difficulty, s.Difficulty)
		}
		if e, known := engines[s.Engine.ID]; known {
			assert.Equal(t, e, s.Engine, "%s carries another %s", s.ID, s.Engine.ID)
		}
		engines[s.Engine.ID] = s.Engine
		assert.Empty(t, seeds[s.Seed], "%s has the seed of", s.ID)
		seeds[s.Seed] = s.ID
		_, err = bench.New(s.Setup())
		assert.NoError(t, err, s.ID)
	}
	assert.Len(t, engines, 14)
	for _, id := range []string{
		"sound-inline-four", "burnt-exhaust-inline-four", "worn-rings-inline-four", "gasket-inline-four",
		"timing-late-inline-four", "weak-battery-inline-four", "throttle-closed-inline-four",
		"throttle-closed-plugs-in-inline-four",
	} {
		assert.NotNil(t, scenarios.Find(id), id)
	}
	assert.Nil(t, scenarios.Find("no-such-scenario"))
	data, err := filepath.Glob("data/*-*.json")
	require.NoError(t, err)
	assert.Len(t, all, len(data), "a file of data is missing in catalogue_files.go")
}

// No more than one in five is an engine with nothing to find; the others carry a
// fault, a fault of the gauge or the battery, or another shop's error. No engine
// carries half of them.
func TestNotTooManyAreFine(t *testing.T) {
	fine, engines := 0, map[string]int{}
	all := scenarios.Catalogue()
	for _, s := range all {
		if s.Key.Family == diagnose.FamilySound {
			fine++
		}
		engines[s.Engine.ID]++
	}
	assert.LessOrEqual(t, 5*fine, len(all))
	for id, n := range engines {
		assert.GreaterOrEqual(t, n, 2, id)
		assert.LessOrEqual(t, 3*n, len(all), id)
	}
}

// What a scenario trains is what its answer and its tests need: a reader who filters
// by it finds it.
func TestTrainsFitTheAnswer(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		next := func(test string) bool { return slices.Contains(s.Key.NextTests, test) }
		for trains, needs := range map[string]bool{
			"leakage": next("leakage"), "running": next("running"), "current": next("current"), "lash": next("lash"),
			"gauge": next("second_gauge"), "vacuum": next("vacuum"), "no_start": s.Conditions.NoStart,
			"neighbours":      s.Key.Family == diagnose.FamilyHeadGasket && len(s.Key.Cylinders) == 2 || len(s.Engine.Banks) == 2 && len(s.Engine.Banks[1]) == 2,
			"not_compression": s.Key.Family == diagnose.FamilyNotCompression || s.Key.Family == diagnose.FamilyValveNotOpening,
		} {
			if slices.Contains(s.Trains, trains) {
				assert.True(t, needs, "%s trains %s", s.ID, trains)
			}
		}
	}
}

// Every text is there in both languages, short enough to be read on a phone, and
// does not say what is wrong.
func TestCatalogueTexts(t *testing.T) {
	says := []string{
		"burnt", "gasket", "worn rings", "bad ring", "seat", "jumped", "one tooth", "carbon",
		"quemad", "empaque", "junta", "anillos", "asiento", "un diente", "carbón",
	}
	for _, s := range scenarios.Catalogue() {
		for _, p := range []struct {
			text scenarios.Text
			most int
		}{{s.Title, 45}, {s.Complaint, 220}, {s.History, 320}, {s.Engine.Name, 80}} {
			for _, words := range []string{p.text.EN, p.text.ES} {
				require.NotEmpty(t, words, s.ID)
				assert.LessOrEqual(t, len([]rune(words)), p.most, words)
				for _, w := range says {
					assert.NotContains(t, strings.ToLower(words), w, s.ID)
				}
			}
			assert.NotEqual(t, p.text.EN, p.text.ES, s.ID)
		}
		assert.Contains(t, s.Engine.Name.EN, s.SpecPages[right(s)].EngineCode, "the code leads to the page")
		assert.Greater(t, len(s.SpecPages), 1, "a page can be wrong")
		assert.Greater(t, len(s.Tools.Gauges), 1)
		fits := 0
		for _, a := range s.Tools.Adapters {
			if a.ReachMM == s.Card.ReachMM && a.ORing {
				fits++
			}
		}
		assert.Equal(t, 1, fits, "one adapter is right")
	}
}

func right(s *scenarios.Scenario) int {
	for i, p := range s.SpecPages {
		if p.ID == s.RightPage {
			return i
		}
	}
	return 0
}

// The firing neighbours of the V8 are what the scenario says they are.
func TestGasketPairOfTheV8FiresInARow(t *testing.T) {
	s := scenarios.Find("gasket-neighbors-v8")
	require.NotNil(t, s)
	at := map[int]int{}
	for i, c := range s.Engine.FiringOrder {
		at[c] = i
	}
	a, b := s.Faults[0].Cylinders[0], s.Faults[0].Cylinders[1]
	assert.Equal(t, 1, at[b]-at[a], "%d fires 90° before %d", a, b)
}

// Units are turned into SI once, and a cylinder gets what is its own.
func TestParams(t *testing.T) {
	s := scenarios.Find("bank-two-late-v6")
	require.NotNil(t, s)
	p := s.Params()
	require.NoError(t, p.Validate())
	assert.InDelta(t, 0.094, p.Bore, 1e-12)
	assert.InDelta(t, 0.32e-6, p.Cylinder[5].RingArea, 1e-15)
	const deg = 3.14159265358979 / 180
	for i := range 6 { // fires 1-2-3-4-5-6
		assert.InDelta(t, 120*float64(i)*deg, p.Cylinder[i].FiringAngle, 1e-9)
		assert.Equal(t, i%2, p.Cylinder[i].Bank)
		late := 720 * deg / float64(s.Faults[0].WheelTeeth) * float64(i%2)
		assert.InDelta(t, late, p.Cylinder[i].IntakeShift, 1e-9)
		assert.InDelta(t, late, p.Cylinder[i].ExhaustShift, 1e-9)
	}
	assert.InDelta(t, (360-s.Engine.Valves.Intake.OpensDegBTDC)*deg, p.Intake.Opens, 1e-9)
	assert.InDelta(t, (540+s.Engine.Valves.Intake.ClosesDegABDC)*deg, p.Intake.Closes, 1e-9)
	assert.InDelta(t, (180-s.Engine.Valves.Exhaust.OpensDegBBDC)*deg, p.Exhaust.Opens, 1e-9)
	assert.InDelta(t, (360+s.Engine.Valves.Exhaust.ClosesDegATDC)*deg, p.Exhaust.Closes, 1e-9)

	g := scenarios.Find("gasket-inline-four").Params()
	assert.Equal(t, 3, g.Cylinder[1].GasketTo)
	assert.Zero(t, g.Cylinder[2].GasketTo, "one path is noted once")
}

// English is written for shops in the United States: miles, quarts and feet.
func TestEnglishTextsCountInMiles(t *testing.T) {
	metric := regexp.MustCompile(`(?i)\bkm\b|kilomet|\d ?m\b|\blit(er|re)s?\b`)
	for _, s := range scenarios.Catalogue() {
		for _, text := range []scenarios.Text{s.Title, s.Complaint, s.History} {
			assert.NotRegexp(t, metric, text.EN, s.ID)
		}
	}
}
