package bench_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// supplyKPa is the 80 psi of a differential test.
var supplyKPa = float64(unit.PSI(80)) / 1e3

// aired is a bench with the tester on a cylinder, its piston turned to a place,
// the wrench off and air on, standing.
func aired(t *testing.T, set bench.Setup, cylinder int, place string) shop {
	t.Helper()
	s := prepared(t, set)
	s.on(bench.KindTesterOn, cylinder, "")
	s.do(bench.KindStarter, "on") // so that oil is on the walls
	s.Advance(3 * record.TicksPerSecond)
	s.do(bench.KindStarter, "off")
	s.Settle()
	s.on(bench.KindTurn, cylinder, place)
	s.do(bench.KindWrench, "off")
	s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: supplyKPa})
	s.Settle()
	require.True(t, s.AtRest())
	require.Len(t, s.Record().Leaks, 1)
	return s
}

// heard listens everywhere and returns the places where there is air.
func heard(s shop) (places []string) {
	for _, place := range bench.Places() {
		if place != bench.PlaceHole {
			s.do(bench.KindListen, place)
			continue
		}
		for c := 1; c <= 4; c++ {
			if c != s.State().Tester {
				s.on(bench.KindListen, c, place)
			}
		}
	}
	leaks := s.Record().Leaks
	for _, h := range leaks[len(leaks)-1].Heard {
		if h.Air {
			places = append(places, h.Place)
		}
	}
	return places
}

// Two orifices in a row with everything at one temperature hold the pressure
// between them at which both pass the same: 61.8 of 80 psi at equal areas, choked
// behind neither.
func TestTesterReadsTwoOrifices(t *testing.T) {
	set := tray()
	set.Engine.CoolantTemperature = set.Engine.AmbientTemperature
	for i := range set.Engine.Cylinder {
		set.Engine.Cylinder[i].RingArea = 0
	}
	tight := aired(t, set, 1, "tdc").Record().Leaks[0]
	assert.Zero(t, tight.Percent)
	set.Engine.Cylinder[0].OutsideArea = math.Pi / 4 * 1.016 * 1.016 * 1e-6 * 0.8
	l := aired(t, set, 1, "tdc").Record().Leaks[0]
	assert.InDelta(t, 61.8, unit.Gauge(l.HeldPa).PSI(), 0.3)
	assert.InDelta(t, 23, l.Percent, 1)
	assert.Equal(t, math.Floor(l.Percent), l.Percent, "to a whole percent")
}

func TestTesterFindsWhereTheAirGoes(t *testing.T) {
	const hole = 1e-6
	for _, c := range []struct {
		name  string
		fault func(*sim.CylinderParams)
		place string
	}{
		{"intake seat", func(c *sim.CylinderParams) { c.IntakeSeatArea = hole }, bench.PlaceThrottle},
		{"exhaust seat", func(c *sim.CylinderParams) { c.ExhaustSeatArea = hole }, bench.PlaceTailpipe},
		{"rings", func(c *sim.CylinderParams) { c.RingArea = hole }, bench.PlaceFiller},
		{"gasket to a neighbour", func(c *sim.CylinderParams) { c.GasketTo, c.GasketArea = 3, hole }, bench.PlaceHole},
		{"crack to the coolant", func(c *sim.CylinderParams) { c.CoolantArea = hole }, bench.PlaceNeck},
		{"gasket to the outside", func(c *sim.CylinderParams) { c.OutsideArea = hole }, bench.PlaceEdge},
	} {
		t.Run(c.name, func(t *testing.T) {
			set := tray()
			set.Engine.Cylinder[1].RingArea = 0 // so that nothing else is heard
			c.fault(&set.Engine.Cylinder[1])
			s := aired(t, set, 2, "tdc")
			assert.Greater(t, s.Record().Leaks[0].Percent, 20.0)
			assert.Equal(t, []string{c.place}, heard(s))
			assert.Equal(t, 1, s.count(bench.EventFact, "air_at_"+c.place))
			assert.Contains(t, bench.Facts(), "air_at_"+c.place)
			if c.place == bench.PlaceHole {
				for _, h := range s.Record().Leaks[0].Heard {
					assert.Equal(t, h.Place == bench.PlaceHole && h.Cylinder == 3, h.Air)
				}
			}
			assert.Len(t, s.Record().Leaks, 1, "listening is no new reading")
			assert.Zero(t, s.count(bench.EventHazard, "air_turned_crank"))
		})
	}
	sound := aired(t, tray(), 2, "tdc")
	t.Logf("sound: %g %%", sound.Record().Leaks[0].Percent)
	assert.Less(t, sound.Record().Leaks[0].Percent, 12.0)
	assert.Equal(t, []string{bench.PlaceFiller}, heard(sound), "rings always let some past")
}

// At overlap both valves stand open: the classic error.
func TestOverlapLosesNearlyAllAir(t *testing.T) {
	s := aired(t, tray(), 1, "overlap")
	l := s.Record().Leaks[0]
	assert.Greater(t, l.Percent, 90.0)
	assert.InDelta(t, 2*math.Pi, math.Abs(l.PistonAt), 0.02)
	places := heard(s)
	assert.Contains(t, places, bench.PlaceThrottle)
	assert.Contains(t, places, bench.PlaceTailpipe)
	assert.Zero(t, s.count(bench.EventHazard, "air_turned_crank"), "what blows past pushes nothing")
}

// The crank is free: with the piston of cylinder 1 on its compression stroke, air
// turns it, and a wrench with it.
func TestAirTurnsTheCrankOffTop(t *testing.T) {
	off := func(wrench bool) shop {
		s := prepared(t, tray())
		s.on(bench.KindTesterOn, 1, "")
		s.on(bench.KindTurn, 1, "bdc")
		s.Engine().SetAngle(s.Engine().Params().Cylinder[0].FiringAngle + math.Pi/6)
		if !wrench {
			s.do(bench.KindWrench, "off")
		}
		s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: supplyKPa})
		s.Advance(600)
		return s
	}
	bare := off(false)
	assert.Equal(t, 1, bare.count(bench.EventHazard, "air_turned_crank"))
	assert.Zero(t, bare.count(bench.EventHazard, "wrench_on_crank"))
	bare.Settle()
	require.True(t, bare.AtRest())
	l := bare.Record().Leaks[0]
	assert.Greater(t, l.Turned, 0.5, "pushed on, down its bore")
	assert.Greater(t, l.Percent, 50.0, "until a valve opens")
	thrown := off(true)
	assert.Equal(t, 1, thrown.count(bench.EventHazard, "wrench_on_crank"))
	assert.Equal(t, 1, thrown.count(bench.EventCaution, "wrench_left_on"))
}

// A torque a hair above friction creeps for ever; nobody waits for that.
func TestACreepingCrankCountsAsStanding(t *testing.T) {
	for kPa := 5.0; kPa <= 300; kPa += 5 {
		s := open(t, tray())
		s.on(bench.KindPlugOut, 1, "loose")
		s.on(bench.KindPlugOut, 2, "loose")
		s.on(bench.KindTesterOn, 1, "")
		s.act(record.Action{Kind: bench.KindAir, Choice: "on", Number: kPa})
		s.Settle()
		require.True(t, s.AtRest(), "%g kPa", kPa)
		s.do(bench.KindAir, "off")
		s.Settle()
		require.True(t, s.Engine().AtRest(), "%g kPa", kPa)
	}
}

func TestTesterStandsThroughMinutes(t *testing.T) {
	s := aired(t, tray(), 1, "tdc")
	before := s.Engine().Pressure(1)
	s.act(record.Action{Kind: bench.KindWait, Number: 1})
	assert.False(t, s.AtRest(), "the pressure comes back")
	s.Settle()
	assert.InEpsilon(t, before, s.Engine().Pressure(1), 0.2, "but for the oil that ran down meanwhile")
	assert.Less(t, s.Engine().Pressure(1), before)
	assert.Len(t, s.Record().Leaks, 1)
	s.do(bench.KindAir, "off")
	s.do(bench.KindTesterOff, "")
	assert.Zero(t, s.count(bench.EventCaution, "tester_under_air"))
	assert.Equal(t, "out", s.State().Plugs[0].State)
	s.on(bench.KindPlugIn, 1, "hand")
}

func TestTheWrenchStaysUntilItIsTakenOff(t *testing.T) {
	s := prepared(t, tray())
	s.on(bench.KindTurn, 2, "tdc")
	assert.True(t, s.State().Wrench)
	s.do(bench.KindWrench, "off")
	assert.False(t, s.State().Wrench)
	s.do(bench.KindStarter, "on")
	assert.Zero(t, s.count(bench.EventHazard, "wrench_on_crank"))
	s.do(bench.KindStarter, "off")
	s.Settle()
	s.on(bench.KindTurn, 2, "bdc")
	s.do(bench.KindStarter, "on")
	assert.Equal(t, 1, s.count(bench.EventHazard, "wrench_on_crank"), "the starter throws it")
	assert.False(t, s.State().Wrench)
}

func TestLeakageTestReplays(t *testing.T) {
	s := aired(t, tray(), 2, "tdc")
	heard(s)
	s.do(bench.KindAir, "off")
	r, err := bench.Replay(tray(), s.Log(), s.Marks(), s.Tick(), nil)
	require.NoError(t, err)
	assert.Equal(t, s.Digest(), r.Digest())
	assert.Equal(t, s.Record(), r.Record())
}

// The way between two cylinders is heard from both sides.
func TestAGasketIsHeardFromBothSides(t *testing.T) {
	set := tray()
	set.Engine.Cylinder[1].GasketTo, set.Engine.Cylinder[1].GasketArea = 3, 2e-6
	for _, cyl := range []int{2, 3} {
		s := aired(t, set, cyl, "tdc")
		s.on(bench.KindListen, 5-cyl, bench.PlaceHole)
		leaks := s.Record().Leaks
		assert.Equal(t, []record.Heard{{Place: bench.PlaceHole, Cylinder: 5 - cyl, Air: true}}, leaks[0].Heard)
	}
}
