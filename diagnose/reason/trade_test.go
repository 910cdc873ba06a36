package reason_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/diagnose"
	"crankbay/diagnose/reason"
)

// groupOf returns how probable a group is.
func groupOf(o reason.Opinion, group string) float64 {
	for _, g := range o.Groups {
		if g.Group == group {
			return g.Probability
		}
	}
	return 0
}

// rank returns the place of a group, from 1; 0 when it is not there.
func rank(o reason.Opinion, group string) int {
	for i, g := range o.Groups {
		if g.Group == group {
			return i + 1
		}
	}
	return 0
}

func wet(e reason.Evidence, psis ...float64) reason.Evidence {
	for i, p := range psis {
		if p >= 0 {
			e.Cylinders[i].Wet = reason.Of(p * psi)
		}
	}
	return e
}

// What an old hand knows: for each pattern the group that has to come among the first so
// many, and the one that must not come first. The figures are made up to show the pattern
// (common practice, no source).
func TestTrade(t *testing.T) {
	lib := shelf(t)
	with := func(e reason.Evidence, change func(*reason.Evidence)) reason.Evidence {
		change(&e)
		return e
	}
	for _, c := range []struct {
		name   string
		e      reason.Evidence
		group  string
		within int
		not    string
	}{
		{
			"healthy wet gain: all rise alike, so oil says nothing for rings", wet(engine(142, 90, 145, 141), 158, 100, 161, 157),
			diagnose.FamilyValveLeak, 1, diagnose.FamilyRingOrBore,
		},
		{
			"rings: the low one gains far more than its neighbours", wet(engine(142, 95, 145, 141), 156, 140, 160, 155),
			diagnose.FamilyRingOrBore, 1, diagnose.FamilyValveLeak,
		},
		{
			"unequal gasket pair", with(engine(150, 62, 40, 148), func(e *reason.Evidence) { e.Layout = reason.LayoutInline }),
			diagnose.FamilyHeadGasket, 1, diagnose.FamilyRingOrBore,
		},
		{
			"the same two far apart are no pair", with(engine(62, 150, 148, 40), func(e *reason.Evidence) { e.Layout = reason.LayoutInline }),
			diagnose.FamilyValveLeak, 2, diagnose.FamilyHeadGasket,
		},
		{
			"even but low, done right: even is not a limit", with(engine(105, 102, 104, 106), func(e *reason.Evidence) {
				e.Minimum = reason.Of(142 * psi)
				e.Throttle, e.Plugs, e.Strokes, e.Warm = reason.Yes, reason.Yes, reason.Yes, reason.Yes
			}),
			diagnose.FamilyRingOrBore, 3, diagnose.FamilySound,
		},
		{
			"even and low with the throttle shut: the method first", with(engine(105, 102, 104, 106), func(e *reason.Evidence) {
				e.Minimum, e.Throttle = reason.Of(142*psi), reason.No
			}),
			diagnose.FamilyMethodOrGauge, 1, diagnose.FamilyValveTiming,
		},
		{
			"throttle over gasket: the pair that is left is the diagnosis", with(engine(70, 30, 32, 72), func(e *reason.Evidence) {
				e.Throttle, e.Layout = reason.No, reason.LayoutInline
			}),
			diagnose.FamilyHeadGasket, 1, diagnose.FamilyMethodOrGauge,
		},
		{
			"a minimum misread as a maximum: far over it is no fault", with(engine(150, 148, 151, 149), func(e *reason.Evidence) {
				e.Minimum = reason.Of(118 * psi)
			}),
			diagnose.FamilyNotCompression, 1, diagnose.FamilyCarbonOrLiquid,
		},
		{
			"84 % and a misfire under boost: passes a rule and is a broken land", with(engine(188, 182, 158, 186), func(e *reason.Evidence) {
				e.History = []string{"misfire_under_load", "boosted"}
			}),
			diagnose.FamilyRingOrBore, 1, diagnose.FamilySound,
		},
		{
			"altitude: low for sea level, right for the height", with(engine(116, 114, 117, 115), func(e *reason.Evidence) {
				e.Standard, e.Minimum, e.Ambient = reason.Of(150*psi), reason.Of(128*psi), reason.Of(78e3)
			}),
			diagnose.FamilyAltitude, 1, diagnose.FamilyValveTiming,
		},
		{
			"all even and as the page says, the engine misfires", with(engine(172, 170, 174, 171), func(e *reason.Evidence) {
				e.Standard, e.History = reason.Of(172*psi), []string{"misfire"}
			}),
			diagnose.FamilyNotCompression, 1, diagnose.FamilyValveLeak,
		},
		{
			"one bank low and little air lost", with(engine(165, 110, 167, 112, 166, 111), func(e *reason.Evidence) {
				e.Banks = [][]int{{1, 3, 5}, {2, 4, 6}}
				for _, c := range []int{1, 3, 5} {
					e.Cylinders[c].Leakage = reason.Of(7)
				}
			}),
			diagnose.FamilyValveTiming, 1, diagnose.FamilyHeadGasket,
		},
		{
			"one reading that a second try does not bear out", with(engine(150, 152, 95, 149), func(e *reason.Evidence) {
				e.Cylinders[2].Repeats = []float64{148 * psi, 149 * psi}
			}),
			diagnose.FamilyMethodOrGauge, 1, diagnose.FamilyValveLeak,
		},
		{
			"one high", engine(150, 152, 205, 149), diagnose.FamilyCarbonOrLiquid, 1, diagnose.FamilyRingOrBore,
		},
		{
			"one high: or an exhaust valve that does not open", engine(210, 150, 151, 149), diagnose.FamilyValveNotOpening, 2, diagnose.FamilyMethodOrGauge,
		},
		{
			"nothing on any: gauge, hose and adapter before the belt", engine(0, 0, 0, 0), diagnose.FamilyMethodOrGauge, 1, diagnose.FamilyValveTiming,
		},
		{
			"nothing on any, and it stopped with a bang: the belt is well up", with(engine(0, 0, 0, 0), func(e *reason.Evidence) {
				e.History = []string{"sudden", "no_start"}
			}),
			diagnose.FamilyValveTiming, 1, diagnose.FamilyRingOrBore,
		},
		{
			"nothing on one: a valve held open", engine(150, 0, 151, 149), diagnose.FamilyValveLeak, 1, diagnose.FamilyValveTiming,
		},
		{
			"rings: wet as good as its neighbours", wet(engine(150, 148, 90, 152), 160, 158, 158, 160), diagnose.FamilyRingOrBore, 1, diagnose.FamilyValveLeak,
		},
		{
			"a washed bore gains what its neighbours don't", with(wet(engine(150, 148, 118, 152), 160, 158, 156, 162), func(e *reason.Evidence) {
				e.History = []string{"fuel_washed"}
			}),
			diagnose.FamilyWashedOrDry, 1, diagnose.FamilyValveLeak,
		},
		{
			"two cylinders, both low and even: not sound", engine(62, 65), diagnose.FamilyRingOrBore, 2, diagnose.FamilySound,
		},
		{
			"a gap where the third was: not known, and not nothing", engine(155, 155, -1, 155), diagnose.FamilyValveLeak, 4, diagnose.FamilyValveTiming,
		},
		{
			"a whole bank of an opposed engine at nothing: lash before cams", with(engine(0, 0, 0, 118, 120, 121), func(e *reason.Evidence) {
				e.Layout, e.Banks = reason.LayoutFlat, [][]int{{1, 2, 3}, {4, 5, 6}}
			}),
			diagnose.FamilyTightLash, 1, diagnose.FamilyMethodOrGauge,
		},
		{
			"even but low and cranked slowly", with(engine(105, 102, 104, 106), func(e *reason.Evidence) { e.Speed = reason.Of(120) }),
			diagnose.FamilySlowCranking, 1, diagnose.FamilyValveTiming,
		},
		{
			"even and a quarter leaks away everywhere", with(engine(118, 120, 116, 117), func(e *reason.Evidence) {
				for i, p := range []float64{22, 20, 25, 24} {
					e.Cylinders[i].Leakage = reason.Of(p)
				}
			}),
			diagnose.FamilyValveLeak, 3, diagnose.FamilyTightLash,
		},
		{
			"one low at two thirds: rings or a valve", engine(150, 151, 98, 149), diagnose.FamilyRingOrBore, 2, diagnose.FamilyHeadGasket,
		},
		{
			"one that reads otherwise at every try", with(engine(150, 150, 109, 150), func(e *reason.Evidence) {
				e.Cylinders[2].Repeats = []float64{125 * psi, 120 * psi}
			}),
			diagnose.FamilyMethodOrGauge, 1, diagnose.FamilyValveLeak,
		},
		{
			"all even, all rise by a third with oil", with(wet(engine(120, 118, 122, 119), 165, 160, 168, 162), func(e *reason.Evidence) {
				e.Ratio = reason.Of(9.5)
			}),
			diagnose.FamilyRingOrBore, 1, diagnose.FamilyNotCompression,
		},
		{
			"even, low, smells of fuel", with(engine(55, 60, 58, 56), func(e *reason.Evidence) { e.History = []string{"fuel_washed"} }),
			diagnose.FamilyWashedOrDry, 1, diagnose.FamilyValveLeak,
		},
		{
			"a ratio of 13 and 140: it closes late", with(engine(140, 138, 141, 140), func(e *reason.Evidence) {
				e.Ratio = reason.Of(13)
				e.Throttle, e.Plugs, e.Strokes, e.Warm = reason.Yes, reason.Yes, reason.Yes, reason.Yes
			}),
			diagnose.FamilyNormalByDesign, 2, diagnose.FamilyRingOrBore,
		},
		{
			"cranks like its neighbours and hardly pumps when it runs", with(engine(150, 152, 148, 150), func(e *reason.Evidence) {
				e.History = []string{"misfire"}
				for i := range e.Cylinders {
					e.Cylinders[i].Idle, e.Cylinders[i].Snap = reason.Of(60*psi), reason.Of(140*psi)
				}
				e.Cylinders[2].Idle, e.Cylinders[2].Snap = reason.Of(20*psi), reason.Of(60*psi)
			}),
			diagnose.FamilyValveNotOpening, 1, diagnose.FamilyValveLeak,
		},
		{
			"half of a V engine at nothing, the rest left out", with(engine(0, 0, 0, 0, -1, -1, -1, -1), func(e *reason.Evidence) { e.Layout = reason.LayoutV }),
			diagnose.FamilyValveTiming, 1, diagnose.FamilyHeadGasket,
		},
		{
			"dead, and reads as the others do", with(engine(210, 210, 209, 211), func(e *reason.Evidence) { e.Cylinders[3].Dead = reason.Yes }),
			diagnose.FamilyValveNotOpening, 3, diagnose.FamilyValveLeak,
		},
		{
			"even and as it should be, nobody complains", with(engine(150, 151, 149, 150), func(e *reason.Evidence) {
				e.Standard, e.History = reason.Of(150*psi), []string{"no_complaint"}
			}),
			diagnose.FamilySound, 1, diagnose.FamilyMethodOrGauge,
		},
		{
			"air at the tailpipe", with(engine(150, 152, 90, 149), func(e *reason.Evidence) {
				e.Cylinders[2].Leakage, e.Cylinders[2].Heard = reason.Of(55), []string{diagnose.HeardTailpipe}
			}),
			diagnose.FamilyValveLeak, 1, diagnose.FamilyRingOrBore,
		},
		{
			"air at the oil filler", with(engine(150, 152, 90, 149), func(e *reason.Evidence) {
				e.Cylinders[2].Leakage, e.Cylinders[2].Heard = reason.Of(55), []string{diagnose.HeardFiller}
			}),
			diagnose.FamilyRingOrBore, 1, diagnose.FamilyValveLeak,
		},
		{
			"uneven and low after standing, all gain hugely", with(wet(engine(90, 120, 70, 105), 150, 165, 135, 158), func(e *reason.Evidence) {
				e.History = []string{"stood_long"}
			}),
			diagnose.FamilyWashedOrDry, 1, diagnose.FamilyHeadGasket,
		},
	} {
		o := reason.Weigh(lib, c.e, reason.Priors{})
		r := rank(o, c.group)
		assert.True(t, r >= 1 && r <= c.within, "%s: %s is number %d in %v", c.name, c.group, r, o.Groups[:4])
		assert.NotEqual(t, c.not, o.Groups[0].Group, c.name)
	}
}

// Neighbours are neighbours in a bank: 4 and 6 of a V8 numbered by turns.
func TestNeighboursByBank(t *testing.T) {
	lib := shelf(t)
	e := engine(150, 148, 152, 40, 151, 42, 149, 150)
	e.Banks = [][]int{{1, 3, 5, 7}, {2, 4, 6, 8}}
	assert.Greater(t, groupOf(reason.Weigh(lib, e, reason.Priors{}), diagnose.FamilyHeadGasket), 0.8)
	e.Banks = [][]int{{1, 2, 3, 4}, {5, 6, 7, 8}}
	assert.Less(t, groupOf(reason.Weigh(lib, e, reason.Priors{}), diagnose.FamilyHeadGasket), 0.3)
}

// Air that comes out at the tailpipe has come past the exhaust valve.
func TestTailpipeIsTheExhaustValve(t *testing.T) {
	e := engine(150, 151, 65, 149)
	e.Cylinders[2].Leakage, e.Cylinders[2].Heard = reason.Of(86), []string{diagnose.HeardTailpipe}
	o := reason.Weigh(shelf(t), e, reason.Priors{})
	p := 0.0
	for _, x := range o.Explanations {
		switch x.Family {
		case reason.ExhaustLeak, reason.CarbonFlake, reason.ValveHeldOpen, reason.TightLash:
			p += x.Probability
		}
	}
	assert.Greater(t, p, 0.9, "%v", o.Explanations[:4])
}

// Pressures alone don't make anybody sure, and don't leave nothing to be tested.
func TestDryReadingsAreNotProof(t *testing.T) {
	for _, e := range []reason.Evidence{engine(150, 40, 42, 148), engine(150, 62, 40, 148), engine(150, 0, 151, 149), engine(150, 151, 30, 149)} {
		o := reason.Weigh(shelf(t), e, reason.Priors{})
		assert.Less(t, o.Groups[0].Probability, 0.96, "%v", o.Groups[:3])
		assert.NotEmpty(t, o.NextTests(everything()).Tests)
	}
}

// A cylinder that reads far higher once the plug of the neighbour is in shares a leak with
// it, if that neighbour fires shortly before it; if it fires then and nothing changes, it
// doesn't.
func TestNeighboursPlugIn(t *testing.T) {
	lib := shelf(t)
	e := engine(150, 70, 112, 150, 150, 150, 150, 150)
	e.Banks, e.Order = [][]int{{1, 2, 3, 4}, {5, 6, 7, 8}}, []int{1, 3, 2, 4, 5, 6, 7, 8}
	odds := func(refit float64) float64 {
		if refit > 0 {
			e.Cylinders[1].Refit = reason.Of(refit * psi)
		}
		p := groupOf(reason.Weigh(lib, e, reason.Priors{}), diagnose.FamilyHeadGasket)
		return p / (1 - p)
	}
	before, same, higher := odds(0), odds(71), odds(115)
	assert.Greater(t, higher, 4*before)
	assert.Less(t, same, before/2)
}
