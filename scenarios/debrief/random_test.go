package debrief

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// A clumsy student does most of a test, in odd ways and with odd things in between.
type clumsy struct {
	a *attempt.Session
	s *scenarios.Scenario
	r *rand.Rand
}

// do does an action; what is refused is left out.
func (c *clumsy) do(kind, choice string, cylinder int, number float64) {
	_ = c.a.Do(record.Action{Kind: kind, Choice: choice, Cylinder: cylinder, Number: number})
}

// often says yes so many times in ten.
func (c *clumsy) often(ten int) bool { return c.r.IntN(10) < ten }

func (c *clumsy) prepare() {
	for _, x := range []struct {
		kind, choice string
		number       float64
	}{
		{bench.KindGlasses, "on", 0}, {bench.KindWarmUp, "", 15}, {bench.KindWarmUp, "", 10}, {bench.KindFuel, "disabled", 0},
		{bench.KindIgnition, "disabled", 0}, {bench.KindCharger, "on", 0}, {bench.KindSwitch, "remote", 0}, {bench.KindThrottle, "open", 0},
	} {
		if c.often(7) {
			c.do(x.kind, x.choice, 0, x.number)
		}
	}
	for cyl := 1; cyl <= c.s.Engine.Cylinders; cyl++ {
		if c.often(8) {
			c.do(bench.KindPlugOut, "ordered", cyl, 0)
		}
	}
	c.do(bench.KindGauge, c.s.Tools.Gauges[c.r.IntN(len(c.s.Tools.Gauges))].ID, 0, 0)
	c.do(bench.KindAdapter, c.s.Tools.Adapters[c.r.IntN(len(c.s.Tools.Adapters))].ID, 0, 0)
}

// test cranks one cylinder.
func (c *clumsy) test() {
	cyl := 1 + c.r.IntN(c.s.Engine.Cylinders)
	c.do(bench.KindPlugOut, "loose", cyl, 0)
	if c.often(3) {
		c.do(bench.KindOil, "", cyl, float64(1+c.r.IntN(30)))
	}
	c.do(bench.KindHoseOn, "", cyl, 0)
	if c.often(6) {
		c.do(bench.KindTurn, "bdc", cyl, 0)
		c.do(bench.KindWrench, "off", 0, 0)
	}
	c.do(bench.KindStarter, "on", 0, 0)
	c.a.Advance(600 + c.r.IntN(3600))
	if c.often(2) {
		c.do(bench.KindThrottle, []string{"open", "shut"}[c.r.IntN(2)], 0, 0)
		c.a.Advance(c.r.IntN(1200))
	}
	if c.often(2) {
		c.do(bench.KindRelease, "", 0, 0)
		c.a.Advance(c.r.IntN(1200))
	}
	c.do(bench.KindStarter, "off", 0, 0)
	c.a.Advance(c.r.IntN(1500))
	if c.often(1) { // once more before it has come to rest
		c.do(bench.KindStarter, "on", 0, 0)
		c.a.Advance(c.r.IntN(1500))
		c.do(bench.KindStarter, "off", 0, 0)
	}
	if c.often(7) {
		c.do(bench.KindRelease, "", 0, 0)
	}
	if c.often(9) {
		c.do(bench.KindHoseOff, "", 0, 0)
	}
	if c.often(3) {
		c.do(bench.KindPlugIn, "hand", cyl, 0)
	}
}

// air puts the leakage tester on.
func (c *clumsy) air() {
	cyl := 1 + c.r.IntN(c.s.Engine.Cylinders)
	c.do(bench.KindTurn, []string{"tdc", "bdc", "overlap"}[c.r.IntN(3)], cyl, 0)
	c.do(bench.KindTesterOn, "", cyl, 0)
	c.do(bench.KindAir, "on", 0, 500)
	c.a.Advance(c.r.IntN(2400))
	c.do(bench.KindListen, "tailpipe", 0, 0)
	c.do(bench.KindAir, "off", 0, 0)
	c.do(bench.KindTesterOff, "", 0, 0)
}

func clumsyAttempt(t *testing.T, s *scenarios.Scenario, r *rand.Rand) attempt.Report {
	t.Helper()
	a, err := attempt.New(s, attempt.Header{Mode: attempt.ModeGrade})
	require.NoError(t, err)
	c := &clumsy{a, s, r}
	c.prepare()
	for range 5 {
		c.test()
		if c.often(2) {
			c.air()
		}
		if c.often(2) {
			c.do(bench.KindVacuumGauge, []string{"on", "off"}[r.IntN(2)], 0, 0)
		}
		if c.often(2) {
			c.do(bench.KindWait, "", 0, float64(1+r.IntN(60)))
		}
	}
	require.NoError(t, a.Do(record.Action{Kind: attempt.KindHandIn}))
	v, err := attempt.Verify(a.File(), func(string) *scenarios.Scenario { return s })
	require.NoError(t, err)
	return v
}

// Whatever hands did, the attempt played unchanged is the same, and every mistake that
// is found can be played without.
func TestWhateverHandsDid(t *testing.T) {
	runs, found, told := 0, map[string]int{}, 0
	for i := range 10 {
		r := rand.New(rand.NewPCG(7, uint64(i)))
		s := scenarios.Find([]string{"burnt-exhaust-inline-four", "worn-rings-flat-four", "gasket-neighbors-v8"}[i%3])
		v := clumsyAttempt(t, s, r)
		tape, err := recordTape(v, nil)
		require.NoError(t, err)
		same, err := tape.play(s, tape.edit())
		require.NoError(t, err)
		require.Equal(t, v.Session.Digest(), same.session.Digest(), "seed %d", i)
		m, err := MistakesOf(v, nil)
		require.NoError(t, err)
		runs += len(v.Session.Record().Runs)
		for _, x := range m.List {
			found[x.Key]++
			told += len(x.Effects)
		}
		_, err = Of(v)
		require.NoError(t, err)
	}
	t.Logf("%d crankings, %v, %d effects", runs, found, told)
	assert.Greater(t, runs, 30)
	assert.Greater(t, len(found), 8, "the hands are clumsy enough")
}
