package instrument

import (
	"math"
	"testing"

	"crankbay/sim/record"
	"crankbay/sim/simtest"
	"crankbay/sim/unit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func plain() GaugeSpec {
	return GaugeSpec{Range: unit.PSI(300), Graduation: unit.PSI(5)}
}

// settle holds a pressure for two seconds.
func settle(n *Needle, p unit.Gauge) {
	for range 2 * record.TicksPerSecond {
		n.Step(p)
	}
}

// The worked example of an error as a share of the span: a 500 psi gauge that
// shows 260 at a true 250 is 2 % of span high.
func TestErrorExamplePublished(t *testing.T) {
	row := simtest.Published(t, "gauge-error-example.csv").Rows[0]
	zero := unit.PSI(row["error_percent"] / 100 * row["span_psi"])
	n := NewNeedle(GaugeSpec{Range: unit.PSI(row["span_psi"]), Graduation: unit.PSI(10), Zero: zero})
	settle(&n, unit.PSI(row["true_psi"]))
	assert.InDelta(t, row["shown_psi"], n.Indicated().PSI(), 0.01)
	assert.InDelta(t, row["shown_psi"], n.Read().PSI(), 1e-9)
}

// A second-order movement overshoots a step by exp(-πζ/√(1-ζ²)), 4.6 % at 0.7
// (any text on vibrations); the tick is fine enough to show it within half a point.
func TestOvershoot(t *testing.T) {
	n := NewNeedle(plain())
	top := 0.0
	for range record.TicksPerSecond {
		n.Step(unit.PSI(150))
		top = math.Max(top, n.Indicated().PSI())
	}
	want := 100 * math.Exp(-math.Pi*needleDamping/math.Sqrt(1-needleDamping*needleDamping))
	assert.InDelta(t, want, 100*(top/150-1), 0.5)
	assert.InDelta(t, 150, n.Indicated().PSI(), 0.01)
	assert.True(t, n.AtRest())
}

func TestReadIsNearestHalfGraduation(t *testing.T) {
	for _, row := range []struct{ actual, read, lo float64 }{
		{0, 0, 0}, {161.2, 160, 160}, {161.3, 162.5, 160}, {163.8, 165, 160}, {166, 165, 165}, {168.7, 167.5, 165},
	} {
		n := NewNeedle(plain())
		settle(&n, unit.PSI(row.actual))
		assert.InDelta(t, row.read, n.Read().PSI(), 1e-9, "%g", row.actual)
		lo, hi := n.Between()
		assert.InDelta(t, row.lo, lo.PSI(), 1e-9)
		assert.InDelta(t, 5, (hi - lo).PSI(), 1e-9)
	}
}

func TestErrorsShowInTheirOwnWay(t *testing.T) {
	spec := plain()
	spec.Span = 0.05
	n := NewNeedle(spec)
	settle(&n, unit.PSI(200))
	assert.InDelta(t, 210, n.Indicated().PSI(), 0.01)

	spec = plain()
	spec.Friction = unit.PSI(6)
	n = NewNeedle(spec)
	settle(&n, unit.PSI(100))
	assert.InDelta(t, 94, n.Indicated().PSI(), 0.05, "sticks below on the way up")
	settle(&n, unit.PSI(95))
	assert.InDelta(t, 94, n.Indicated().PSI(), 0.05, "and stays within its play")
	settle(&n, unit.PSI(80))
	assert.InDelta(t, 86, n.Indicated().PSI(), 0.05, "above on the way down")
}

func TestPins(t *testing.T) {
	n := NewNeedle(plain())
	settle(&n, unit.PSI(-5))
	assert.Zero(t, float64(n.Indicated()))
	assert.True(t, n.AtRest())
	settle(&n, unit.PSI(900))
	assert.InDelta(t, 306, n.Indicated().PSI(), 1e-6)
	assert.True(t, n.AtRest())
}

func TestValidate(t *testing.T) {
	require.NoError(t, plain().Validate())
	for _, spec := range []GaugeSpec{
		{}, {Range: unit.PSI(300)}, {Range: unit.PSI(300), Graduation: unit.PSI(100)},
		{Range: unit.PSI(300), Graduation: unit.PSI(5), Span: math.NaN()},
		{Range: unit.PSI(300), Graduation: unit.PSI(5), Friction: unit.PSI(-1)},
	} {
		assert.Error(t, spec.Validate())
	}
}

func TestDigestFollowsState(t *testing.T) {
	a, b := NewNeedle(plain()), NewNeedle(plain())
	assert.Equal(t, a.Digest(1), b.Digest(1))
	a.Step(unit.PSI(1))
	assert.NotEqual(t, a.Digest(1), b.Digest(1))
}
