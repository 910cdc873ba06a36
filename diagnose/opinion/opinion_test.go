package opinion_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/intake"
	"crankbay/diagnose/library"
	"crankbay/diagnose/opinion"
	"crankbay/diagnose/reason"
)

func examples(t testing.TB) *library.Library {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "cmd", "crankbay", "internal", "library", "library.bin"))
	require.NoError(t, err)
	l, err := library.Open(data)
	require.NoError(t, err)
	return l
}

func of(t testing.TB, lib *library.Library, text string) opinion.Opinion {
	t.Helper()
	r, err := intake.Parse(text)
	require.NoError(t, err, text)
	return opinion.Of(lib, r, reason.Priors{})
}

// The pressure of the standard atmosphere at 1,500 and 3,000 m: the table of the U.S.
// Standard Atmosphere, 1976 (NASA TM-X-74335), 84,556 and 70,109 Pa.
func TestAmbient(t *testing.T) {
	assert.InDelta(t, 101325, float64(opinion.Ambient(0)), 1e-6)
	assert.InDelta(t, 84556, float64(opinion.Ambient(1500)), 15)
	assert.InDelta(t, 70109, float64(opinion.Ambient(3000)), 20)
}

// The words of a history are those that package reason weighs.
func TestHistoriesAgree(t *testing.T) {
	assert.ElementsMatch(t, reason.Histories(), intake.Histories())
}

// Whatever the readings: the probabilities are whole, sorted, and the same for the
// page's causes as for the explanations.
func TestProbabilitiesHangTogether(t *testing.T) {
	lib := examples(t)
	for _, text := range []string{
		"150 151 65 149", "150 148 152 151", "cyl 1: 65", "leakage 3: 70\nheard 3: oil", "0 0 0 0", "145 40 42 147",
		"200, 198, 185, 35, 190, 0, 195, 200\nlayout: v", "95 96 94 95\naltitude: 2500", "cyl 16: 150", "dead 3: yes", "150 150 280 150",
	} {
		o := of(t, lib, text)
		sum := 0.0
		for i, g := range o.Groups {
			sum += g.Probability
			assert.Contains(t, diagnose.Families(), g.Group)
			assert.False(t, i > 0 && g.Probability > o.Groups[i-1].Probability, "%q: groups out of order", text)
		}
		assert.InDelta(t, 1, sum, 1e-9, text)
		shown := o.Rest
		for i, c := range o.Causes {
			shown += c.Probability
			assert.False(t, i > 0 && c.Probability > o.Causes[i-1].Probability, "%q: causes out of order", text)
			assert.Contains(t, opinion.Words(), c.Words)
		}
		assert.InDelta(t, 1, shown, 1e-9, text)
		assert.True(t, slices.IsSortedFunc(o.Explanations, func(a, b reason.Explanation) int {
			switch {
			case a.Probability > b.Probability:
				return -1
			case a.Probability < b.Probability:
				return 1
			}
			return 0
		}), text)
		assert.Equal(t, opinion.CareService, o.Cautions[len(o.Cautions)-1], "the service information is always named")
		for _, n := range o.Next {
			assert.True(t, n.Settles >= 0 && n.Settles <= 1, "%q %s: %g", text, n.Test, n.Settles)
			assert.Positive(t, n.Minutes)
			assert.Contains(t, diagnose.NextTests(), n.Test)
		}
	}
}

// What leaves as JSON has the names and lists that are promised, and nothing is null.
func TestJSON(t *testing.T) {
	data, err := json.Marshal(of(t, examples(t), "150 151 65 149"))
	require.NoError(t, err)
	assert.NotContains(t, string(data), "null")
	var o struct {
		Explanations []struct {
			Group, Family string
			Cylinders     []int
			Probability   float64
			For, Against  []reason.Speaks
		}
		Groups []struct {
			Group       string
			Probability float64
		}
	}
	require.NoError(t, json.Unmarshal(data, &o))
	require.NotEmpty(t, o.Explanations)
	first := o.Explanations[0]
	assert.Equal(t, "valve_leak", first.Group)
	assert.Equal(t, []int{3}, first.Cylinders)
	assert.NotEmpty(t, first.For)
	assert.Equal(t, first.Group, o.Groups[0].Group)
}

func keys(o opinion.Opinion, state string) []string {
	var out []string
	for _, c := range o.Method {
		if c.State == state {
			out = append(out, c.Key)
		}
	}
	return out
}

// What a colleague would ask first.
func TestMethod(t *testing.T) {
	lib := examples(t)
	all := "\nthrottle: open\nplugs: out\nequal: yes\nwarm: yes\nrpm: 250\naltitude: 0\nlayout: inline"
	for _, c := range []struct {
		name, text, state string
		has, hasNot       []string
	}{
		{"nobody said", "150 151 65 149", opinion.StateUnknown, []string{"throttle", "plugs", "strokes", "warm", "speed", "altitude"}, nil},
		{"all said", "150 151 65 149" + all, opinion.StateUnknown, nil, []string{"throttle", "plugs", "strokes", "warm", "speed", "altitude", "banks"}},
		{"otherwise", "150 151 65 149\nthrottle: shut\nplugs: in\nequal: no\nwarm: no\nrpm: 150", opinion.StateNo, []string{"throttle", "plugs", "strokes", "warm", "speed"}, nil},
		{"cold by the thermometer", "150 151 65 149\ncoolant: 20 C", opinion.StateNo, []string{"warm"}, nil},
		{"a surprise", "150 151 65 149", "", []string{"repeat", "unit"}, []string{"wet_control", "unread"}},
		{"a surprise, taken again", "150 151 65/64 149 psi", "", nil, []string{"repeat", "unit"}},
		{"oil in the low one only", "150 151 65 149\nwet 3: 90", "", []string{"wet_control"}, nil},
		{"oil in all", "150 151 65 149\nwet: 165 166 68 163", "", nil, []string{"wet_control", "wet_high"}},
		{"too much oil", "145 105 125 130\nwet 2: 205", "", []string{"wet_high"}, nil},
		{"not all read", "150,,65,149", "", []string{"unread"}, nil},
	} {
		got := keys(of(t, lib, c.text), c.state)
		assert.Subset(t, got, c.has, c.name)
		for _, k := range c.hasNot {
			assert.NotContains(t, got, k, c.name)
		}
	}
}

// Figures of the page are corrected for the height, once; readings never.
func TestLimitsAtAltitude(t *testing.T) {
	lib := examples(t)
	rule := func(o opinion.Opinion, name string) diagnose.RuleVerdict {
		i := slices.IndexFunc(o.Limits, func(v diagnose.RuleVerdict) bool { return v.Rule == name })
		require.GreaterOrEqual(t, i, 0)
		return o.Limits[i]
	}
	// A field case of our notes: book 128 at sea level, 7,000 ft, lowest reading 125·0.813.
	text := "minimum: 128 psi\ndry: 115 115 110 102 110 112 psi"
	sea, high := rule(of(t, lib, text+"\naltitude: 0"), diagnose.RuleMinimum), rule(of(t, lib, text+"\naltitude: 7000 ft"), diagnose.RuleMinimum)
	assert.False(t, sea.Passed)
	assert.True(t, high.Passed)
	assert.InDelta(t, 0.772, high.Limit/sea.Limit, 0.001) // standard atmosphere
	assert.Equal(t, sea.Value, high.Value)
	assert.False(t, rule(of(t, lib, "150 151"), diagnose.RuleMinimum).Known, "no figure, no verdict")
	assert.False(t, rule(of(t, lib, "150 151"), diagnose.RuleMinimum).Counts)
}

// It says so when it does not tell: nothing is learned from one reading, or from none.
func TestItDoesNotTell(t *testing.T) {
	lib := examples(t)
	for _, text := range []string{"strokes: 5\ncylinders: 4", "cylinder,rpm\n1,250\n2,250"} {
		assert.False(t, of(t, lib, text).Tells, text)
	}
	assert.True(t, of(t, lib, "150 151 20 149\nleakage 3: 80\nheard 3: tailpipe").Tells)
}

// What would be dangerous is said where it applies.
func TestCautions(t *testing.T) {
	lib := examples(t)
	leak := of(t, lib, "150 151 65 149\nwet: 165 166 68 163")
	if slices.ContainsFunc(leak.Next[:min(3, len(leak.Next))], func(n opinion.Next) bool { return n.Test == "leakage" }) {
		assert.Contains(t, leak.Cautions, opinion.CareAir)
	}
	assert.Contains(t, of(t, lib, "20 20 20 20 psi\nhistory: sudden, no start, timing work").Cautions, opinion.CareTiming)
	assert.Contains(t, of(t, lib, "150 230 150 150\nhistory: coolant lost\nbore 2: liquid").Cautions, opinion.CareLiquid)
}

// An engine that won't start is not asked to run.
func TestNextKnowsWhatRuns(t *testing.T) {
	for _, n := range of(t, examples(t), "150 151 65 149\nhistory: no start").Next {
		assert.NotContains(t, []string{"running", "power_balance"}, n.Test)
	}
}

func BenchmarkOneLine(b *testing.B) {
	lib := examples(b)
	for range b.N {
		r, err := intake.Parse("150 151 65 149")
		require.NoError(b, err)
		opinion.Of(lib, r, reason.Priors{})
	}
}

// Everything about a V8 at once.
func BenchmarkMost(b *testing.B) {
	lib := examples(b)
	r, err := intake.Parse("layout: v\ndry: 150 151 65 149 150 30 140 150\nwet: 160 160 90 155 160 35 150 160\nfirst: 90 90 40 90 90 20 90 90\n" +
		"leakage: 5 5 40 5 5 70 5 5\nhump: 110 110 60 110 110 30 110 110\nhistory: misfire, overheated")
	require.NoError(b, err)
	for range b.N {
		opinion.Of(lib, r, reason.Priors{})
	}
}

// What comes first to be done: running compression where a cylinder misfires and reads as
// its neighbours do; air before an engine is opened for what pressures alone show.
func TestWhatComesFirst(t *testing.T) {
	lib := examples(t)
	for _, c := range []struct{ text, test string }{
		{"150 151 149 150\nhistory: misfire", "running"},
		{"210 210 209 211\ndead 4: yes", "running"},
		{"150 40 42 148", "leakage"},
		{"0 0 0 0", "second_gauge"},
		{"70 72 68 71\nthrottle: no\nratio: 9.5", "open_throttle"},
		{"180 180 180 180 180 30 30 165\nlayout: v\nbanks: 1-2-3-4/5-6-7-8", "leakage"},
	} {
		o := of(t, lib, c.text)
		require.NotEmpty(t, o.Next, c.text)
		assert.Equal(t, c.test, o.Next[0].Test, c.text)
	}
	o := of(t, lib, "150 40 42 148\nleakage: 5 70 72 5\nheard 2: neighbour\nheard 3: neighbour")
	for _, n := range o.Next {
		assert.NotEqual(t, "leakage", n.Test, "it has been done")
	}
}

// The neighbour's plug is put back where that can tell: a pair of which one fires shortly
// after the other, never in an inline-four.
func TestNeighboursPlugIsOffered(t *testing.T) {
	lib := examples(t)
	offers := func(text string) bool {
		return slices.ContainsFunc(of(t, lib, text).Next, func(n opinion.Next) bool { return n.Test == "refit" })
	}
	eight := "150 150 150 150 150 100 72 150\nlayout: v\nbanks: 1-2-3-4/5-6-7-8"
	assert.True(t, offers(eight+"\nfiring order: 1-5-4-2-3-6-7-8"))
	assert.False(t, offers(eight+"\nfiring order: 1-6-4-5-2-7-3-8"))
	assert.False(t, offers("150 72 100 150\nlayout: inline"))
}

// What the tests have to tell apart is among the causes that are named.
func TestBetweenIsAmongTheCauses(t *testing.T) {
	lib := examples(t)
	for _, text := range []string{
		"150 151 149 150", "95 96 94 95\naltitude: 2500", "150 150 150 150\nminimum: 90", "0 0 0 0", "150 151 65 149", "118 120 116 117\nleakage: 22 20 25 24", "dead 3: yes\n150 150 150 150",
	} {
		o := of(t, lib, text)
		for _, l := range o.Between {
			assert.True(t, slices.ContainsFunc(o.Causes, func(c opinion.Cause) bool {
				return c.Group == l.Group && slices.Equal(c.Cylinders, l.Cylinders)
			}), "%q: %v is not among the causes", text, l)
		}
	}
}

// Zero on all: every rule that can be applied says outside, and the gauge comes first.
func TestAllZero(t *testing.T) {
	o := of(t, examples(t), "0 0 0 0")
	assert.Equal(t, diagnose.FamilyMethodOrGauge, o.Groups[0].Group)
	assert.False(t, o.Kept)
	for _, v := range o.Limits {
		assert.False(t, v.Passed, v.Rule)
	}
	assert.Contains(t, keys(o, ""), "gauge")
}
