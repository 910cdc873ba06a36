package diagnose

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/unit"
)

// Cylinders 150/120/150/150: the worked example of why a product must say which
// rule it applies. It passes 75 % (80 %) and 70 %, fails 10 % and 100 kPa.
func TestRulesDisagree(t *testing.T) {
	l := Limits{DifferenceMax: 100e3, Rule: RuleRatio75}
	want := map[string]bool{
		RuleRatio75: true, RuleRatio70: true, RuleWithin10: false, RuleDifference: false, RuleMean20: true,
	}
	for _, v := range l.Verdicts(dial(bank4, []float64{150, 120, 150, 150}, nil).Seen) {
		assert.Equalf(t, v.Rule == RuleRatio75, v.Counts, v.Rule)
		if v.Rule == RuleMinimum {
			assert.False(t, v.Known, "no minimum on the page")
			continue
		}
		assert.Truef(t, v.Known, v.Rule)
		assert.Equalf(t, want[v.Rule], v.Passed, v.Rule)
		assert.Equalf(t, 2, v.Lowest, v.Rule)
		assert.Equalf(t, 1, v.Highest, v.Rule)
	}
}

// Every rule on both sides of its edge. Readings are whole scale marks of 2.5 psi;
// a reading exactly on a limit keeps it.
func TestRuleEdges(t *testing.T) {
	cases := []struct {
		rule     string
		l        Limits
		readings []float64 // [psi]
		kept     bool
	}{
		{RuleRatio75, Limits{}, []float64{200, 150}, true},
		{RuleRatio75, Limits{}, []float64{200, 147.5}, false},
		{RuleRatio70, Limits{}, []float64{150, 105}, true}, // the printed example
		{RuleRatio70, Limits{}, []float64{150, 102.5}, false},
		{RuleRatio70, Limits{}, []float64{120, 100}, true}, // 690 kPa is 100.08 psi, printed for 100
		{RuleRatio70, Limits{}, []float64{120, 97.5}, false},
		{RuleDifference, Limits{DifferenceMax: 200e3}, []float64{150, 122.5}, true},
		{RuleDifference, Limits{DifferenceMax: 200e3}, []float64{150, 120}, false},
		{RuleWithin10, Limits{}, []float64{150, 135}, true},
		{RuleWithin10, Limits{}, []float64{150, 132.5}, false},
		{RuleMean20, Limits{}, []float64{150, 150, 150, 112.5}, true},
		{RuleMean20, Limits{}, []float64{150, 150, 150, 107.5}, false},
		{RuleMean20, Limits{}, []float64{120, 120, 120, 165}, false}, // too high is a finding too
		{RuleMinimum, Limits{Minimum: 980e3}, []float64{150, 142.5}, true},
		{RuleMinimum, Limits{Minimum: 980e3}, []float64{150, 140}, false},
	}
	for _, c := range cases {
		c.l.Rule = c.rule
		for _, v := range c.l.Verdicts(dial(bank4, c.readings, nil).Seen) {
			if v.Rule == c.rule {
				assert.Truef(t, v.Known, "%s %v", c.rule, c.readings)
				assert.Equalf(t, c.kept, v.Passed, "%s %v", c.rule, c.readings)
			}
		}
	}
}

// A card may ask for more than the rule's own ratio, and its minimum comes on top.
func TestAllowed(t *testing.T) {
	assert.Equal(t, unit.Gauge(800e3), Limits{Rule: RuleRatio75, RatioMin: 0.8}.Allowed(1000e3, 0))
	assert.Equal(t, unit.Gauge(980e3), Limits{Rule: RuleRatio75, Minimum: 980e3}.Allowed(1000e3, 0))
	assert.Equal(t, unit.Gauge(690e3), Limits{Rule: RuleRatio70}.Allowed(900e3, 0))
	assert.Equal(t, unit.Gauge(900e3), Limits{Rule: RuleDifference, DifferenceMax: 100e3}.Allowed(1000e3, 0))
	assert.Equal(t, unit.Gauge(900e3), Limits{Rule: RuleWithin10}.Allowed(1000e3, 0))
	assert.Equal(t, unit.Gauge(760e3), Limits{Rule: RuleMean20}.Allowed(1000e3, 950e3))
}

// One reading alone, or none, says nothing about evenness.
func TestOneReadingIsNoComparison(t *testing.T) {
	for _, readings := range [][]float64{{150}, {}} {
		for _, v := range (Limits{DifferenceMax: 100e3}).Verdicts(dial(bank4, readings, nil).Seen) {
			assert.False(t, v.Known, v.Rule)
			assert.False(t, v.Passed, v.Rule)
		}
	}
}

// Altitude corrects the limit, once, by ambient pressure: at 84.3 kPa (5,000 ft in
// the standard atmosphere, 0.832 of sea level) a 1,000 kPa minimum is 832 kPa.
func TestAltitude(t *testing.T) {
	l := Limits{Standard: 1300e3, Minimum: 1000e3, DifferenceMax: 200e3, Rule: RuleRatio75, RatioMin: 0.75}
	high := l.AtAltitude(84307)
	assert.InDelta(t, 832e3, float64(high.Minimum), 100)
	assert.InDelta(t, 1300e3*0.83205, float64(high.Standard), 100)
	assert.InDelta(t, 200e3*0.83205, float64(high.DifferenceMax), 100)
	assert.Equal(t, 0.75, high.RatioMin, "a ratio needs no correction")
	assert.Equal(t, l, l.AtAltitude(StandardAtmosphere))
	for _, p := range []unit.Pressure{0, -1, 101.3, unit.Pressure(math.NaN()), unit.Pressure(math.Inf(1))} {
		assert.Equal(t, l, l.AtAltitude(p), "an ambient nobody can breathe changes nothing")
	}
}

// Limits travel as kPa and come back as they were.
func TestLimitsJSON(t *testing.T) {
	for kpa := 100.0; kpa < 3000; kpa += 7.3 {
		l := Limits{Standard: unit.Gauge(kpa * 1000), Minimum: unit.Gauge(kpa * 900), Rule: RuleWithin10}
		data, err := json.Marshal(l)
		require.NoError(t, err)
		var back Limits
		require.NoError(t, json.Unmarshal(data, &back))
		assert.InEpsilon(t, float64(l.Standard), float64(back.Standard), 1e-15)
		assert.InEpsilon(t, float64(l.Minimum), float64(back.Minimum), 1e-15)
		assert.Equal(t, l.Rule, back.Rule)
	}
	var l Limits
	err := json.Unmarshal([]byte(`{"standard_psi": 185}`), &l)
	assert.ErrorContains(t, err, "standard_psi")
}

// A wrong card is told everything that is wrong with it, by path and range.
func TestValidate(t *testing.T) {
	require.NoError(t, testCard().Validate())
	require.NoError(t, DefaultCard().Validate())

	c := testCard()
	c.CoolantMinC, c.Switch, c.StrokesMax, c.OilMLMin = 400, "lever", 2, 30
	c.Limits.Standard, c.Limits.Minimum, c.Limits.Rule = unit.Gauge(math.NaN()), 9e9, "guess"
	c.Items = []string{"glasses", "", "glasses"}
	err := c.Validate()
	require.Error(t, err)
	for _, path := range []string{
		"coolant_min_c = 400, want inside [-40, 130]", `switch = "lever"`, "strokes_max = 2", "oil_ml_min = 30",
		"limits.standard_kpa = NaN", "limits.minimum_kpa", "limits.rule", "items[1]", "items[2]",
	} {
		assert.ErrorContains(t, err, path)
	}
	assert.Len(t, strings.Split(err.Error(), "\n"), 10)

	assert.ErrorContains(t, Limits{Rule: RuleDifference}.Validate(), "difference_kpa = 0")
	assert.ErrorContains(t, Limits{Rule: RuleRatio75, Standard: 900e3, Minimum: 980e3}.Validate(), "at most standard_kpa")

	require.NoError(t, Key{Family: FamilyHeadGasket, Cylinders: []int{2, 3}}.Validate())
	err = Key{
		Family: "gremlin", Cylinders: []int{0, 2, 2}, Accept: []Finding{{Family: "", Cylinders: []int{17}}},
		NextTests: []string{"pray"}, MethodFault: "left-handed",
	}.Validate()
	for _, path := range []string{
		"family", "cylinders[0]", "cylinders[2]", "accept[0].family", "accept[0].cylinders[0]", "next_tests[0]", "method_fault",
	} {
		assert.ErrorContains(t, err, path)
	}
	require.NoError(t, DefaultWeights().Validate())
	assert.ErrorContains(t, Weights{Prepare: -1, Measure: math.NaN()}.Validate(), "measure = NaN")
	assert.Error(t, Weights{}.Validate(), "no points at all")
}

// Where nothing reads anything every rule of shares would be kept, nothing being three
// quarters of nothing. None is.
func TestNothingKeepsNoRule(t *testing.T) {
	var seen []Seen
	for c := range 4 {
		seen = append(seen, Seen{Cylinder: c + 1, Valid: true})
	}
	for _, v := range (Limits{DifferenceMax: 200e3, Minimum: 900e3}).Verdicts(seen) {
		assert.True(t, v.Known, v.Rule)
		assert.False(t, v.Passed, v.Rule)
		assert.Positive(t, v.Limit, v.Rule)
	}
}

// The 70 % rule has two parts, and the absolute one is a figure for sea level like any
// other: 690 kPa become 571 at 83.9 kPa.
func TestFloorOfTheSeventyPercentRule(t *testing.T) {
	seen := []Seen{{Cylinder: 1, Valid: true, DryLast: 620e3}, {Cylinder: 2, Valid: true, DryLast: 640e3}}
	of := func(l Limits) RuleVerdict {
		for _, v := range l.Verdicts(seen) {
			if v.Rule == RuleRatio70 {
				return v
			}
		}
		return RuleVerdict{}
	}
	sea, high := of(Limits{}), of(Limits{}.AtAltitude(83.9e3))
	assert.False(t, sea.Passed)
	assert.InDelta(t, 690e3, float64(sea.Floor), 1)
	assert.InDelta(t, 0.70, sea.Limit, 1e-9)
	assert.True(t, high.Passed)
	assert.InDelta(t, 690e3*83.9/101.325, float64(high.Floor), 1)
}
