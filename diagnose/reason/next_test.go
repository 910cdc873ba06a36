package reason_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/library"
	"crankbay/diagnose/reason"
)

// psi is a pound per square inch [Pa].
const psi = 6894.757

// shelf reads the library that the programs carry.
func shelf(t testing.TB) *library.Library {
	t.Helper()
	data, err := os.ReadFile("../../cmd/crankbay/internal/library/library.bin")
	require.NoError(t, err)
	l, err := library.Open(data)
	require.NoError(t, err)
	return l
}

// engine makes rough evidence of dry readings [psi]; one below 0 is missing.
func engine(dry ...float64) reason.Evidence {
	e := reason.Evidence{Rough: true}
	for _, d := range dry {
		c := reason.Cylinder{}
		if d >= 0 {
			c.Dry = reason.Of(d * psi)
		}
		e.Cylinders = append(e.Cylinders, c)
	}
	return e
}

func everything() reason.Shop {
	return reason.Shop{Minutes: diagnose.DefaultMinutes(), LashCheck: true, Oil: true, Runs: true}
}

// Air tells a valve from rings better than anything else on a lone low cylinder, and
// looking at the timing marks doesn't tell them apart at all.
func TestNextTestsOfOneLow(t *testing.T) {
	o := reason.Weigh(shelf(t), engine(150, 148, 70, 151), reason.Priors{})
	p := o.NextTests(everything())
	require.NotEmpty(t, p.Tests)
	apart := map[string]float64{}
	for _, x := range p.Tests {
		apart[x.Test] = x.Apart
		assert.Positive(t, x.Minutes, x.Test)
		assert.Positive(t, x.Worth, x.Test)
		assert.InDelta(t, 0.5, x.Apart, 0.5, x.Test)
	}
	assert.Greater(t, apart["leakage"], 0.2)
	assert.Less(t, apart["timing_marks"], 0.05)
	require.Len(t, p.Between, 2)
}

// What has been done is not offered again, nor what can't be done.
func TestNextTestsThatCan(t *testing.T) {
	e := engine(150, 148, 70, 151)
	e.Cylinders[2].Leakage = reason.Of(60)
	e.Cylinders[2].Heard = []string{diagnose.HeardTailpipe}
	o := reason.Weigh(shelf(t), e, reason.Priors{})
	p := o.NextTests(reason.Shop{Minutes: diagnose.DefaultMinutes()})
	for _, x := range p.Tests {
		assert.NotContains(t, []string{"lash", "wet", "running", "power_balance"}, x.Test)
		assert.False(t, x.Test == "leakage" && x.Cylinders[0] == 3)
	}
	assert.Empty(t, (&reason.Opinion{}).NextTests(everything()).Tests)
}

// An engine whose humps lie on each other is not sent to the clamp, whoever asks.
func TestHumpsAreOfferedWhereTheyCompare(t *testing.T) {
	for _, c := range []struct {
		dry  []float64
		want bool
	}{
		{[]float64{150, 148, 70, 151}, true}, {[]float64{150, 148, 70, 151, 149, 150}, true},
		{[]float64{150, 148, 70, 151, 149, 150, 152, 147}, false}, {[]float64{90}, false},
	} {
		shop := everything()
		shop.All = true
		offered := false
		o := reason.Weigh(shelf(t), engine(c.dry...), reason.Priors{})
		for _, x := range o.NextTests(shop).Tests {
			offered = offered || x.Test == "current"
		}
		assert.Equal(t, c.want, offered, "%d cylinders", len(c.dry))
	}
}

// Where nothing at all is read, another gauge tells a leaking hose from a jumped belt, and
// is said to.
func TestAnotherGaugeAtZero(t *testing.T) {
	lib := shelf(t)
	e := engine(0, 0, 0, 0)
	e.Rough = true
	before := reason.Weigh(lib, e, reason.Priors{})
	told := false
	for _, x := range before.NextTests(everything()).Tests {
		told = told || x.Test == "second_gauge" && x.Apart > 0.5
	}
	assert.True(t, told)
	e.Cylinders[1].Second = reason.Of(148 * psi)
	o := reason.Explain(lib, e, reason.Priors{})
	assert.Equal(t, reason.GaugeLeaks, o.Explanations[0].Family)
	assert.Greater(t, o.Explanations[0].Probability, 0.9)
	spoken := false
	for _, s := range o.Explanations[0].For {
		spoken = spoken || s.Reading == reason.ReadSecond
	}
	assert.True(t, spoken, "%+v", o.Explanations[0].For)
	e.Cylinders[1].Second = reason.Of(0)
	assert.Less(t, groupOf(reason.Weigh(lib, e, reason.Priors{}), "method_or_gauge"), groupOf(before, "method_or_gauge")/2)
}
