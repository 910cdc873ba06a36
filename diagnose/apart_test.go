package diagnose

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/sim/record"
)

// without takes the events of some kinds out, from the first cranking on.
func without(in *Input, kinds ...string) {
	from := timelineOf(in.Record).crank
	keep := slices.Clone(in.Record.Events[:from])
	for _, e := range in.Record.Events[from:] {
		if !slices.Contains(kinds, e.Kind) {
			keep = append(keep, e)
		}
	}
	in.Record.Events = keep
}

func rowOf(r Result, name string) Row {
	for _, row := range r.Rows {
		if row.Name == name {
			return row
		}
	}
	return Row{}
}

// No shop hands a car back in pieces, and no row of points makes up for it: one thing
// left apart is enough, and the line says which.
func TestWorkLeftInPiecesDoesNotPass(t *testing.T) {
	whole := Grade(soundAttempt().in)
	require.True(t, whole.Pass)
	l, ok := line(whole, "left_apart")
	require.True(t, ok)
	assert.True(t, l.Passed)
	assert.Zero(t, l.OutOf, "being whole again has lines of its own that earn")
	for _, c := range []struct {
		left  string
		kinds []string
	}{
		{leftPlugs, []string{kindPlugIn, kindTorque}}, {leftTorque, []string{kindTorque}}, {leftLeads, []string{kindLeads}},
		{leftFuel, []string{kindFuel}}, {leftIgnition, []string{kindIgnition}}, {leftThrottle, []string{kindThrottle}},
	} {
		s := soundAttempt()
		without(&s.in, c.kinds...)
		r := Grade(s.in)
		l, ok := line(r, "left_apart")
		require.True(t, ok, c.left)
		assert.Contains(t, l.Facts, word("left", c.left))
		assert.Negative(t, l.Points, c.left)
		row := rowOf(r, RowPrepare)
		assert.InDelta(t, apartMost*row.OutOf, row.Points, 0.006, c.left)
		assert.Contains(t, r.Low, RowPrepare, c.left)
		assert.False(t, r.Pass, c.left)
		for _, g := range r.Gates {
			assert.True(t, g.Passed, "it is no gate")
		}
	}
	s := newShop(bank4) // nobody took anything apart
	_, ok = line(Grade(s.in), "left_apart")
	assert.False(t, ok)
}

// Every item of the card that leaves a trace is held against its deed, and against no
// other's.
func TestEveryTickIsHeldAgainstItsDeed(t *testing.T) {
	all := []string{
		"glasses", "gear", "brake", "chocks", "belts", "fluids", "spec", "warm", "charger", "fuel", "ignition", "plugs_out", "wells",
		"adapter", "gauge_prove", "throttle", "switch", "release", "plugs_back", "reconnect", "codes",
	}
	for _, item := range all {
		s := soundAttempt()
		s.in.Card.Charger = true
		s.in.Record.Events = append([]record.Event{{Kind: kindCharger, Choice: "on"}, {Kind: kindRelease}}, s.in.Record.Events...)
		s.in.Sheet.Ticks = []string{item, "strokes"}
		l, ok := line(Grade(s.in), "ticks_true")
		require.True(t, ok, item)
		assert.Truef(t, l.Passed, "%s was done: %v", item, l.Facts)
		switch item {
		case "gear":
			s.in.Record.Events = append([]record.Event{{Kind: kindGear, Choice: "drive"}}, s.in.Record.Events...)
			for i := range s.in.Record.Events[1:] {
				if s.in.Record.Events[i+1].Kind == kindGear {
					s.in.Record.Events[i+1].Choice = "drive"
				}
			}
		case "warm":
			for i := range s.in.Record.Runs {
				s.in.Record.Runs[i].CoolantC = 20
			}
		case "plugs_out":
			for i := range s.in.Record.Events {
				if s.in.Record.Events[i].Kind == kindPlugOut {
					s.in.Record.Events[i].Choice = ""
				}
			}
		case "reconnect":
			dropEvents(&s.in, kindLeads)
		case "switch":
			for i := range s.in.Record.Events {
				if s.in.Record.Events[i].Kind == kindSwitch {
					s.in.Record.Events[i].Choice = SwitchKey
				}
			}
		default:
			kinds := map[string]string{
				"glasses": kindGlasses, "brake": kindBrake, "chocks": kindChocks, "belts": kindBelts, "fluids": kindFluids, "spec": kindSpec,
				"charger": kindCharger, "fuel": kindFuel, "ignition": kindIgnition, "wells": kindWells, "adapter": kindAdapter,
				"gauge_prove": kindProve, "throttle": kindThrottle, "release": kindRelease, "plugs_back": kindTorque, "codes": kindCodes,
			}
			require.Contains(t, kinds, item)
			dropEvents(&s.in, kinds[item])
		}
		l, _ = line(Grade(s.in), "ticks_true")
		assert.Falsef(t, l.Passed, "%s was not done", item)
		assert.Contains(t, l.Facts, word("item", item))
	}
}

// A false tick costs a share of the whole sheet, whatever else is on it: a seventh, a
// tenth for each further one, half at most. One that isn't made costs nothing.
func TestFalseTicksCostTheSheet(t *testing.T) {
	s := soundAttempt()
	for _, kind := range []string{kindBelts, kindFluids, kindWells, kindProve, kindAdapter, kindBrake} {
		dropEvents(&s.in, kind)
	}
	s.in.Sheet.Ticks = nil
	honest := rowOf(Grade(s.in), RowRecord).Points
	for n, lost := range []float64{0, 0.15, 0.25, 0.35, 0.45, 0.5, 0.5} {
		s.in.Sheet.Ticks = []string{"belts", "fluids", "wells", "gauge_prove", "adapter", "brake"}[:n]
		row := rowOf(Grade(s.in), RowRecord)
		assert.InDelta(t, honest-lost*row.OutOf, row.Points, 0.011, "%d false", n)
	}
}

// Where nothing was begun, nothing was done wrong: no line counts none of none, no gate
// was kept, and everything that was never begun says so.
func TestWhatWasNeverBegun(t *testing.T) {
	s := newShop(bank4)
	s.conclude(FamilyValveLeak, SureCertain, "none", 3)
	r := Grade(s.in)
	for _, g := range r.Gates {
		assert.True(t, g.Never, g.Rule)
	}
	n := 0
	for _, row := range r.Rows {
		for _, l := range row.Lines {
			if l.Never {
				n++
				assert.Zero(t, l.Points, l.Rule)
				continue
			}
			for _, f := range l.Facts {
				assert.Falsef(t, f.Name == "of" && f.Value == 0, "%s: none of none", l.Rule)
			}
		}
	}
	assert.Greater(t, n, 25)
	for _, g := range Grade(soundAttempt().in).Gates {
		assert.Equal(t, g.Rule == "gate_air", g.Never, "%s: it was cranked", g.Rule)
	}
}

// A claim that nothing was read for isn't contradicted: nothing speaks either way.
func TestBaselessIsNotContradicted(t *testing.T) {
	s := newShop(bank4)
	s.conclude(FamilyValveLeak, SureCertain, "none", 3)
	l, ok := line(Grade(s.in), "sureness")
	require.True(t, ok)
	assert.Contains(t, l.Facts, word("standing", string(Baseless)))
	s = newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5, 185, 182.5})
	s.conclude(FamilyValveLeak, SureCertain, "none", 3)
	l, _ = line(Grade(s.in), "sureness")
	assert.Contains(t, l.Facts, word("standing", string(Contradicted)))
}

// What was kept on every cylinder that was read, and still earns less, says why.
func TestFewerPointsSayWhy(t *testing.T) {
	s := newShop(bank4)
	s.prepare()
	s.dry([]float64{185, 187.5})
	for _, l := range rowOf(Grade(s.in), RowMeasure).Lines {
		if l.Passed && l.Points < l.OutOf {
			assert.Contains(t, l.Facts, count("read", 2), l.Rule)
			assert.Contains(t, l.Facts, count("all", 4), l.Rule)
		}
	}
}
