package trace_test

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/cmd/crankbay/internal/trace"
	"crankbay/scenarios"
	"crankbay/scenarios/book"
	"crankbay/sim/unit"
)

func traced(t *testing.T, id, kind string) (book.Result, trace.Trace) {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s)
	r, err := book.Run(s, book.Options{Kind: kind})
	require.NoError(t, err)
	tr, err := trace.Of(s, r)
	require.NoError(t, err)
	return r, tr
}

// The samples are those of the test itself: the hose holds at every stroke what
// the test says it held.
func TestTraceIsTheTest(t *testing.T) {
	for _, kind := range []string{book.Dry, book.Wet} {
		r, tr := traced(t, "worn-rings-inline-four", kind)
		require.Len(t, tr.Runs, len(r.Record.Runs))
		for i, run := range tr.Runs {
			want := r.Record.Runs[i]
			require.Len(t, run.Samples, int(want.EndTick-want.StartTick), "run %d", want.ID)
			for k, s := range want.Strokes[:len(want.Strokes)-1] { // the last is read again at rest
				got := run.Samples[s.Tick-want.StartTick-1]
				assert.InDelta(t, s.True, float64(got.Hose), 1e-6, "run %d, stroke %d", want.ID, k+1)
				assert.InDelta(t, s.Needle, float64(got.Needle), 1e-6, "run %d, stroke %d", want.ID, k+1)
			}
			last := run.Samples[len(run.Samples)-1]
			assert.InDelta(t, want.Strokes[len(want.Strokes)-1].True, float64(last.Hose), 1e-6)
			assert.Zero(t, last.Speed)
		}
	}
}

// The peak in the cylinder is never below what ends up in the hose, the gas
// never below nothing, and the crank goes forward while the starter turns it.
func TestTraceIsPhysical(t *testing.T) {
	_, tr := traced(t, "sound-v6", book.Dry)
	for _, run := range tr.Runs {
		peak := unit.Pressure(0)
		for _, s := range run.Samples {
			for _, p := range s.Pressure {
				require.Greater(t, float64(p), 2e4)
			}
			peak = max(peak, s.Pressure[run.Cylinder-1])
		}
		last := run.Samples[len(run.Samples)-1]
		assert.Greater(t, float64(peak.Gauge(tr.Ambient)), float64(last.Hose)-100)
	}
}

func TestCSV(t *testing.T) {
	r, tr := traced(t, "sound-inline-four", book.Wet)
	var out bytes.Buffer
	require.NoError(t, tr.WriteCSV(&out))
	rows, err := csv.NewReader(bytes.NewReader(out.Bytes())).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, strings.Fields(`run cylinder oil_ml time_s crank_deg cylinder_deg speed_rpm current_a battery_v
		plenum_kpa_abs hose_kpa_gauge needle_kpa_gauge
		pressure_1_kpa_abs pressure_2_kpa_abs pressure_3_kpa_abs pressure_4_kpa_abs`), rows[0])
	column := func(row []string, name string) float64 {
		for i, c := range rows[0] {
			if c == name {
				v, err := strconv.ParseFloat(row[i], 64)
				require.NoError(t, err)
				return v
			}
		}
		t.Fatalf("no column %s", name)
		return 0
	}
	ticks := int64(0)
	for _, run := range r.Record.Runs {
		ticks += run.EndTick - run.StartTick
	}
	require.Len(t, rows, int(ticks)+1)
	final := map[float64]float64{}
	for _, row := range rows[1:] {
		final[column(row, "run")] = column(row, "hose_kpa_gauge")
		assert.InDelta(t, 360, column(row, "crank_deg"), 360)
		assert.InDelta(t, 0, column(row, "cylinder_deg"), 360)
	}
	for _, run := range r.Record.Runs {
		want := run.Strokes[len(run.Strokes)-1].True / 1000
		assert.InDelta(t, want, final[float64(run.ID)], 0.006, "run %d", run.ID)
		if run.ID > 4 {
			assert.Equal(t, scenarios.Find("sound-inline-four").Card.OilML, run.OilML)
		}
	}
	assert.InDelta(t, 1.0/1200, column(rows[1], "time_s"), 1e-5)
}

// Other kinds are watched: a run per cylinder where cylinders are taken one after
// the other, and empty cells where no gauge is on.
func TestWatchedKinds(t *testing.T) {
	s := scenarios.Find("burnt-exhaust-v6")
	var leakage, running, vacuum trace.Trace
	l, err := book.Leakage(s, book.LeakageOptions{Watch: leakage.Watch(book.LeakageKind)})
	require.NoError(t, err)
	r, err := book.RunningTest(s, false, running.Watch(book.RunningKind))
	require.NoError(t, err)
	v, err := book.Vacuum(s, false, vacuum.Watch(book.VacuumKind))
	require.NoError(t, err)
	require.Len(t, leakage.Runs, 6)
	require.Len(t, running.Runs, 6)
	require.Len(t, vacuum.Runs, 1)
	for i := range 6 {
		run := leakage.Runs[i]
		assert.Equal(t, i+1, run.Cylinder)
		assert.False(t, run.Gauged)
		held := run.Samples[len(run.Samples)-1].Pressure[i].Gauge(leakage.Ambient).PSI()
		assert.InDelta(t, l.Cylinders[i].HeldPSI, held, 1e-9)
		run = running.Runs[i]
		assert.True(t, run.Gauged)
		assert.InDelta(t, r.Cylinders[i].SnapPSI, run.Samples[len(run.Samples)-1].Hose.PSI(), 1e-9)
		for k := 1; k < len(run.Samples); k++ {
			require.Equal(t, run.Samples[k-1].Tick+1, run.Samples[k].Tick)
		}
	}
	require.Len(t, vacuum.Runs[0].Samples, len(v.Trace))
	var out bytes.Buffer
	require.NoError(t, vacuum.WriteCSV(&out))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	for i, name := range rows[0] {
		empty := name == "cylinder" || name == "cylinder_deg" || strings.HasPrefix(name, "hose") || strings.HasPrefix(name, "needle")
		assert.Equal(t, empty, rows[100][i] == "", name)
	}
}

func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	_, one := traced(t, "burnt-exhaust-v6", book.Dry)
	_, two := traced(t, "burnt-exhaust-v6", book.Dry)
	require.NoError(t, one.WriteCSV(&a))
	require.NoError(t, two.WriteCSV(&b))
	assert.True(t, bytes.Equal(a.Bytes(), b.Bytes()))
}

func TestOfNeedsALog(t *testing.T) {
	_, err := trace.Of(scenarios.Find("sound-v8"), book.Result{Kind: "leakage"})
	assert.EqualError(t, err, "trace: a leakage test of sound-v8 has no log to play")
}
