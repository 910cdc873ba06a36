package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// balanced does a power balance on a whole engine and returns what the tachometer
// showed.
func balanced(t *testing.T, change func(*bench.Setup)) record.Balance {
	t.Helper()
	set := tray()
	if change != nil {
		change(&set)
	}
	s := open(t, set)
	s.do(bench.KindPowerBalance, "")
	assert.True(t, s.AtRest())
	assert.False(t, s.State().Running)
	list := s.Record().Balances
	require.Len(t, list, 1)
	require.Len(t, list[0].Without, 4)
	return list[0]
}

// Four equal cylinders each carry a quarter: by the law of the choked plate the
// engine settles at three quarters of its idle.
func TestEqualCylindersFallByAQuarter(t *testing.T) {
	b := balanced(t, nil)
	assert.Equal(t, bench.IdleRPM, b.RPM)
	for _, rpm := range b.Without {
		assert.InDelta(t, 0.75*bench.IdleRPM, rpm, 10)
	}
}

// A cylinder that works nothing is not missed; one that works little is missed a
// little. A dead exhaust valve reads normal on the gauge and is found here.
func TestADeadCylinderIsNotMissed(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*bench.Setup)
	}{
		{"exhaust valve that stays shut", func(s *bench.Setup) { s.Engine.Cylinder[1].ExhaustLift = 0 }},
		{"intake valve that stays shut", func(s *bench.Setup) { s.Engine.Cylinder[1].IntakeLift = 0 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := balanced(t, c.change)
			assert.InDelta(t, bench.IdleRPM, b.Without[1], 50, "cylinder 2")
			assert.InDelta(t, bench.IdleRPM*2/3, b.Without[0], 40, "one of three that work")
		})
	}
	leaky := balanced(t, func(s *bench.Setup) { s.Engine.Cylinder[1].ExhaustSeatArea = 4e-6 })
	assert.Greater(t, leaky.Without[1], leaky.Without[0]+30)
	assert.Less(t, leaky.Without[1], bench.IdleRPM)
}

func TestPowerBalanceIsDoneBeforeAnythingComesOff(t *testing.T) {
	s := open(t, tray())
	s.on(bench.KindDisableOne, 2, "disabled")
	assert.Equal(t, "refusal.disabled_elsewhere", s.key(record.Action{Kind: bench.KindPowerBalance}))
	s.on(bench.KindDisableOne, 2, "enabled")
	s.on(bench.KindPlugOut, 1, "ordered")
	assert.Equal(t, "refusal.plug_missing", s.key(record.Action{Kind: bench.KindPowerBalance}))
	s.on(bench.KindPlugIn, 1, "hand")
	s.do(bench.KindPlugTorque, "")
	s.do(bench.KindLeads, "")
	before := s.Minutes()
	want := s.Cost(record.Action{Kind: bench.KindPowerBalance})
	s.do(bench.KindPowerBalance, "")
	assert.InDelta(t, want, s.Minutes()-before, 0.3, "and some seconds of running")
	r, err := bench.Replay(tray(), s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Record(), r.Record())
}
