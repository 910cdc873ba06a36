package reason_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/diagnose/reason"
)

// draw makes evidence of an engine at random, with parts of it missing.
func draw(r *rand.Rand) reason.Evidence {
	maybe := func(p, v float64) reason.Number {
		if r.Float64() > p {
			return reason.Number{}
		}
		return reason.Of(v)
	}
	e := reason.Evidence{Rough: r.IntN(2) == 0, Throttle: reason.Answer(r.IntN(3) - 1), TwoStroke: r.IntN(9) == 0}
	n := r.IntN(9)
	for range n {
		p := r.Float64() * 220 * psi
		if r.IntN(8) == 0 {
			p = 0
		}
		c := reason.Cylinder{
			Dry: maybe(0.9, p), First: maybe(0.3, 0.6*p), Wet: maybe(0.4, 1.1*p), Leakage: maybe(0.3, 100*r.Float64()), Hump: maybe(0.2, 130*r.Float64()),
			Idle: maybe(0.2, 0.4*p), Snap: maybe(0.2, p), LashIn: maybe(0.1, r.NormFloat64()/5), LashEx: maybe(0.1, r.NormFloat64()/5),
			Dead: reason.Answer(r.IntN(3) - 1), Low: reason.Answer(r.IntN(3) - 1), Second: maybe(0.2, 1.2*p),
		}
		if r.IntN(3) == 0 {
			c.Heard = []string{diagnose.HeardPlaces()[r.IntN(7)]}
		}
		if r.IntN(4) == 0 {
			c.Repeats = []float64{p * (0.5 + r.Float64())}
		}
		e.Cylinders = append(e.Cylinders, c)
	}
	e.Layout = []string{"", reason.LayoutInline, reason.LayoutV, reason.LayoutFlat}[r.IntN(4)]
	e.Speed, e.Volts, e.Vacuum = maybe(0.3, 100+200*r.Float64()), maybe(0.3, 8+4*r.Float64()), maybe(0.2, 5e4*r.Float64())
	e.Ratio, e.Standard, e.Minimum = maybe(0.2, 7+6*r.Float64()), maybe(0.2, 170*psi), maybe(0.2, 130*psi)
	e.Ambient, e.Late = maybe(0.2, 7e4+3e4*r.Float64()), []reason.Number{maybe(0.2, 20*r.NormFloat64())}
	e.Cooling = reason.Answer(r.IntN(3) - 1)
	if words := reason.Histories(); r.IntN(2) == 0 {
		e.History = []string{words[r.IntN(len(words))]}
	}
	return e
}

// Whatever is known or missing: probabilities are probabilities and sum up to one, by
// explanation and by group, and the same evidence gives the same bits.
func TestAnyEvidence(t *testing.T) {
	lib := shelf(t)
	r := rand.New(rand.NewPCG(5, 8))
	for range 150 {
		e := draw(r)
		o := reason.Weigh(lib, e, reason.Priors{})
		sum, last := 0.0, math.Inf(1)
		for _, x := range o.Explanations {
			require.True(t, x.Probability >= 0 && x.Probability <= 1+1e-9, "%+v in %+v", x, e)
			require.LessOrEqual(t, x.Probability, last)
			last = x.Probability
			sum += x.Probability
		}
		require.InDelta(t, 1, sum, 1e-9, "%+v", e)
		sum = 0
		for _, g := range o.Groups {
			sum += g.Probability
		}
		require.InDelta(t, 1, sum, 1e-9)
		require.False(t, math.IsNaN(o.Bits))
		for _, x := range o.NextTests(everything()).Tests {
			require.False(t, math.IsNaN(x.Worth) || math.IsNaN(x.Apart))
			require.LessOrEqual(t, x.Apart, 1+1e-9)
		}
		again := reason.Weigh(lib, e, reason.Priors{})
		require.Equal(t, o.Groups, again.Groups)
	}
}

// A row of cylinders read from the other end is the same engine.
func TestMirrored(t *testing.T) {
	lib := shelf(t)
	r := rand.New(rand.NewPCG(13, 21))
	for range 20 {
		e := draw(r)
		e.Layout, e.Late = reason.LayoutInline, nil
		m := e
		m.Cylinders = nil
		n := len(e.Cylinders)
		for i := range n {
			m.Cylinders = append(m.Cylinders, e.Cylinders[n-1-i])
		}
		a, b := reason.Weigh(lib, e, reason.Priors{}), reason.Weigh(lib, m, reason.Priors{})
		for _, g := range a.Groups {
			assert.InDelta(t, g.Probability, groupOf(b, g.Group), 1e-6, g.Group)
		}
	}
}

// An empty engine leaves what is thought before any reading, and that tells nothing.
func TestNothingKnown(t *testing.T) {
	o := reason.Explain(shelf(t), reason.Evidence{Cylinders: make([]reason.Cylinder, 4)}, reason.Priors{})
	assert.False(t, o.Tells)
	assert.InDelta(t, 0, o.Bits, 1e-9)
}

// A prior of nothing keeps a family out whatever the readings say.
func TestPriorsCount(t *testing.T) {
	lib := shelf(t)
	e := engine(150, 40, 42, 148)
	require.Greater(t, groupOf(reason.Weigh(lib, e, reason.Priors{}), diagnose.FamilyHeadGasket), 0.5)
	p := reason.DefaultPriors()
	for i := range p.List {
		if p.List[i].Family == reason.GasketBetween {
			p.List[i].One = 0
		}
	}
	assert.Less(t, groupOf(reason.Weigh(lib, e, p), diagnose.FamilyHeadGasket), 0.1)
}

// Each reading speaks in the direction in which it moved the odds.
func TestSpeaks(t *testing.T) {
	e := engine(150, 148, 70, 151)
	e.Cylinders[2].Leakage, e.Cylinders[2].Heard = reason.Of(60), []string{diagnose.HeardTailpipe}
	o := reason.Explain(shelf(t), e, reason.Priors{})
	x := o.Explanations[0]
	require.Equal(t, diagnose.FamilyValveLeak, x.Group)
	require.NotEmpty(t, x.For)
	heard := false
	for _, s := range x.For {
		assert.Positive(t, s.Bits)
		assert.Contains(t, reason.Readings(), s.Reading)
		heard = heard || s.Reading == reason.ReadHeard && s.Cylinder == 3
	}
	assert.True(t, heard, "%+v", x.For)
	for _, s := range x.Against {
		assert.Negative(t, s.Bits)
	}
}

func BenchmarkOneLine(b *testing.B) {
	lib := shelf(b)
	for b.Loop() {
		reason.Explain(lib, engine(150, 151, 65, 149), reason.Priors{})
	}
}

func BenchmarkEverythingOfFour(b *testing.B) {
	lib := shelf(b)
	e := engine(150, 151, 65, 149)
	for i := range e.Cylinders {
		c := &e.Cylinders[i]
		c.First, c.Wet, c.Leakage = reason.Of(0.6*c.Dry.V), reason.Of(1.1*c.Dry.V), reason.Of(8)
		c.Hump, c.Idle, c.Snap, c.Heard = reason.Of(100), reason.Of(0.4*c.Dry.V), reason.Of(c.Dry.V), []string{diagnose.HeardFiller}
	}
	e.Speed, e.Volts = reason.Of(240), reason.Of(11)
	for b.Loop() {
		o := reason.Weigh(lib, e, reason.Priors{})
		o.NextTests(everything())
	}
}
