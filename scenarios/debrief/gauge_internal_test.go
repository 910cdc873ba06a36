package debrief

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"crankbay/scenarios"
	"crankbay/sim/bench"
	"crankbay/sim/record"
	"crankbay/sim/unit"
)

// A running reading counts by the divisions of the gauge it was taken by: what can't be
// read on one with 5 psi can on one with 2.
func TestRunningReadingsCountByTheirOwnGauge(t *testing.T) {
	s := scenarios.Find("sound-v8")
	c := &clinic{s: s}
	a, b := s.Tools.Gauges[0], s.Tools.Gauges[1]
	c.rec.Events = []record.Event{
		{Kind: bench.KindGauge, Choice: a.ID, Tick: 0, Minutes: 1}, {Kind: bench.KindGauge, Choice: b.ID, Tick: 900, Minutes: 30},
	}
	for _, x := range []struct {
		at   record.Pumped
		want string
		psi  float64
	}{
		{record.Pumped{Tick: 600, Minutes: 20}, a.ID, a.GraduationPSI},
		{record.Pumped{Tick: 900, Minutes: 29}, a.ID, a.GraduationPSI}, // time stands still while hands are at work
		{record.Pumped{Tick: 1500, Minutes: 40}, b.ID, b.GraduationPSI},
	} {
		id := gaugeOn(c.rec, x.at)
		assert.Equal(t, x.want, id)
		assert.InDelta(t, float64(unit.PSI(x.psi)), c.graduation(id), 1e-9)
	}
	assert.NotEqual(t, a.GraduationPSI, b.GraduationPSI)
	assert.Empty(t, gaugeOn(record.Record{}, record.Pumped{}))
}
