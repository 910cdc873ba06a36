package book_test

import (
	"encoding/json"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/bench"
)

// byCard is the whole catalogue tested dry and wet by the card, once for all tests.
var byCard = sync.OnceValue(func() []book.Result {
	var all []book.Result
	for _, s := range scenarios.Catalogue() {
		r, err := book.Run(s, book.Options{Kind: book.Wet, ByCard: true})
		if err != nil {
			panic(s.ID + ": " + err.Error())
		}
		all = append(all, r)
	}
	return all
})

// By the book nothing dangerous happens, every stroke counts, and the card is
// kept on every cylinder of every engine.
func TestTheBookKeepsTheCard(t *testing.T) {
	for i, s := range scenarios.Catalogue() {
		r := byCard()[i]
		for _, e := range r.Record.Events {
			assert.NotContains(t, []string{bench.EventCaution, bench.EventHazard, bench.EventStall}, e.Kind, "%s: %s on %d", s.ID, e.Choice, e.Cylinder)
		}
		require.Len(t, r.Record.Runs, 2*s.Engine.Cylinders, s.ID)
		for i, run := range r.Record.Runs {
			assert.Equal(t, i%s.Engine.Cylinders+1, run.Cylinder)
			assert.Equal(t, book.Strokes(s.Card), run.Full())
			assert.Len(t, run.Strokes, run.Full(), "no part strokes")
			assert.True(t, run.ThrottleOpen && run.GaugeAtZero && run.FuelDisabled && run.IgnitionDisabled)
			assert.Equal(t, s.Card.Charger, run.Charger)
			assert.Equal(t, s.Engine.Cylinders, run.PlugsOut, s.ID)
			assert.GreaterOrEqual(t, run.CoolantC, s.Card.CoolantMinC, "%s, run %d", s.ID, i)
			assert.LessOrEqual(t, run.CoolantC, s.Card.CoolantMaxC)
			if i < s.Engine.Cylinders {
				assert.Zero(t, run.OilMLAny)
			} else {
				assert.Equal(t, s.Card.OilML, run.OilML)
			}
		}
	}
}

func TestSameBitsEveryTime(t *testing.T) {
	for _, id := range []string{"worn-rings-inline-four", "throttle-closed-plugs-in-inline-four", "bank-two-late-v6", "gasket-neighbors-v8"} {
		s := scenarios.Find(id)
		for _, kind := range []string{book.Dry, book.Wet} {
			a, err := book.Run(s, book.Options{Kind: kind})
			require.NoError(t, err)
			b, err := book.Run(s, book.Options{Kind: kind})
			require.NoError(t, err)
			assert.Equal(t, a, b, s.ID)
		}
	}
}

// What a person reads lies on half graduations and within the gauge's errors of
// what is there.
func TestAsRead(t *testing.T) {
	for _, id := range []string{"sound-inline-four", "worn-rings-inline-four", "burnt-exhaust-v6", "gasket-neighbors-v8"} {
		s := scenarios.Find(id)
		exact, err := book.Run(s, book.Options{})
		require.NoError(t, err)
		read, err := book.Run(s, book.Options{AsRead: true})
		require.NoError(t, err)
		g := s.Tools.Gauges[0]
		for i, r := range read.Readings {
			half := r.FinalPSI / (g.GraduationPSI / 2)
			assert.InDelta(t, float64(int(half+0.5)), half, 1e-6, s.ID)
			allowed := g.GraduationPSI/2 + 2 + 0.02*g.RangePSI
			assert.InDelta(t, exact.Readings[i].FinalPSI, r.FinalPSI, allowed, s.ID)
		}
	}
}

func TestNoWetTestWithoutOilOnTheCard(t *testing.T) {
	s := pick(t, "sound-inline-four")
	s.Card.OilML, s.Card.OilMLMin = 0, 0
	_, err := book.Run(s, book.Options{Kind: book.Wet})
	require.ErrorIs(t, err, book.ErrNoWetTest)
	_, err = book.Run(s, book.Options{Kind: "humid"})
	require.EqualError(t, err, `kind "humid", want dry or wet`)
}

// A battery that cannot turn the engine gives readings of nothing, not an error.
func TestDeadBattery(t *testing.T) {
	s := pick(t, "weak-battery-inline-four")
	s.Faults[0].Charge, s.Faults[0].AgeFactor = 0, 20
	r, err := book.Run(s, book.Options{})
	require.NoError(t, err)
	for _, c := range r.Readings {
		assert.Less(t, c.RPM, 60.0)
	}
}

func TestResultIsAReadableTable(t *testing.T) {
	r, err := book.Run(pick(t, "sound-inline-four"), book.Options{})
	require.NoError(t, err)
	data, err := json.Marshal(r)
	require.NoError(t, err)
	var back map[string]any
	require.NoError(t, json.Unmarshal(data, &back))
	rows := back["readings"].([]any)
	require.Len(t, rows, 4)
	for _, name := range []string{"cylinder", "first_psi", "final_psi", "strokes", "rpm", "battery_min_v"} {
		assert.Contains(t, rows[0], name)
	}
	assert.NotContains(t, back, "dry")
}

func BenchmarkInlineFourDry(b *testing.B) {
	s := scenarios.Find("sound-inline-four")
	for b.Loop() {
		if _, err := book.Run(s, book.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
