package script_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt/script"
	"crankbay/sim/bench"
)

const head = "scenario sound-inline-four\nmode alone\nwho A Student\n"

func TestALineDoesWhatItSays(t *testing.T) {
	s, err := script.Compile(head+`
prepare                    # with everything
six strokes on 2
10 ml in 2
three strokes on 2 and stay
write wet 2
write oil 2
write spec
write rpm 231
write dry_last 3 1200000
tick glasses fuel
conclude head_gasket 3 2
conclude sound
sure guess
because wet spec
next leakage
remark Two words.
do throttle shut
do glasses off
do wait number 2.5
`, scenarios.Find)
	require.NoError(t, err)
	runs := s.Record().Runs
	require.Len(t, runs, 2)
	assert.Equal(t, 6, runs[0].Full())
	assert.Zero(t, runs[0].OilML)
	assert.Equal(t, 3, runs[1].Full())
	assert.InDelta(t, 10, runs[1].OilML, 0)
	st := s.State()
	assert.Equal(t, 2, st.HoseOn)
	assert.Equal(t, "shut", st.Throttle)
	assert.False(t, st.Glasses)
	sheet := s.Sheet()
	assert.Equal(t, []string{"glasses", "fuel"}, sheet.Ticks)
	assert.Equal(t, []diagnose.Finding{{Family: "head_gasket", Cylinders: []int{2, 3}}, {Family: "sound"}}, sheet.Findings)
	assert.Equal(t, []string{"wet", "spec"}, sheet.Evidence)
	assert.Equal(t, "Two words.", sheet.Remark)
	number := map[string]float64{}
	for _, e := range sheet.Entries {
		number[e.Field] = e.Number
	}
	assert.InDelta(t, runs[1].Strokes[0].Shown, number["wet_first"], 0)
	assert.InDelta(t, runs[1].Strokes[2].Shown, number["wet_last"], 0)
	assert.InDelta(t, 3, number["wet_strokes"], 0)
	assert.InDelta(t, 10, number["oil_ml"], 0)
	assert.InDelta(t, 231, number["rpm"], 0)
	assert.InDelta(t, 1.2e6, number["dry_last"], 0)
	assert.Equal(t, "A Student", s.Header().Who)
}

func TestPrepareCanLeaveOut(t *testing.T) {
	s, err := script.Compile(head+"prepare without fuel glasses plugs", scenarios.Find)
	require.NoError(t, err)
	st := s.State()
	assert.Equal(t, "enabled", st.Fuel)
	assert.Equal(t, "disabled", st.Ignition)
	assert.False(t, st.Glasses)
	assert.Equal(t, "in", st.Plugs[0].State)
	all, err := script.Compile(head+"prepare", scenarios.Find)
	require.NoError(t, err)
	st = all.State()
	assert.Equal(t, "disabled", st.Fuel)
	assert.Equal(t, "out", st.Plugs[3].State)
	assert.Equal(t, "open", st.Throttle)
	assert.GreaterOrEqual(t, *st.CoolantC, all.Scenario().Card.CoolantMinC)
}

func TestPutBackLeavesAnEngineThatRuns(t *testing.T) {
	s, err := script.Compile(head+"prepare\ntwo strokes on 1 and stay\nput back\nhand in", scenarios.Find)
	require.NoError(t, err)
	st := s.State()
	assert.Equal(t, "runs", st.Started)
	assert.True(t, st.Torqued)
	assert.False(t, st.Codes)
	assert.Zero(t, st.HoseOn)
	assert.True(t, st.HandedIn)
}

func TestHoldingTheSwitchForSeconds(t *testing.T) {
	s, err := script.Compile(head+"prepare\ndo hose-on on 1\ncrank 4 s", scenarios.Find)
	require.NoError(t, err)
	r := s.Record().Runs[0]
	assert.InDelta(t, 4.5, float64(r.EndTick-r.StartTick)/1200, 1.5)
	assert.GreaterOrEqual(t, r.Full(), 6)
	assert.Equal(t, r.ID, int(s.Record().Events[len(s.Record().Events)-1].Number))
	assert.Equal(t, bench.EventCrankStop, s.Record().Events[len(s.Record().Events)-1].Kind)
}

func TestALineThatIsNotUnderstoodIsNamed(t *testing.T) {
	for _, c := range []struct{ lines, want string }{
		{"dance", `script: line 4: "dance" is not understood`},
		{"six strokes", `script: line 4: something is missing at the end`},
		{"six strokes in 2", `script: line 4: "in" where "on" was expected`},
		{"six strokes on two hundreds", `script: line 4: "hundreds" is not understood`},
		{"many strokes on 2", `script: line 4: "many" is not understood`},
		{"# nothing\n\nprepare without shoes", `script: line 6: "shoes" is nothing that prepare does`},
		{"hand over", `script: line 4: "over" where "in" was expected`},
		{"write dry 2", `script: line 4: cylinder 2 was not cranked with the gauge on`},
		{"write speed", `script: line 4: the meter for the speed saw nothing`},
		{"write spec", `script: line 4: no page was looked up`},
		{"crank forever s", `script: line 4: crank takes a number of seconds up to 1800: crank 2.5 s`},
		{"do hose-on on 2", `script: line 4: hose-on  (cylinder 2): refusal.no_gauge`},
		{"refused no_gauge: do glasses on", `script: line 4: it was not refused`},
		{"refused plug_still_in: do hose-on on 2", `script: line 4: refused for refusal.no_gauge`},
	} {
		_, err := script.Compile(head+c.lines, scenarios.Find)
		if assert.Error(t, err, c.lines) {
			assert.Equal(t, c.want, err.Error())
		}
	}
	_, err := script.Compile("mode grade\nprepare", scenarios.Find)
	assert.ErrorContains(t, err, "scenario ID")
	_, err = script.Compile("scenario no-such\nmode grade", scenarios.Find)
	assert.ErrorContains(t, err, "no-such")
}

func FuzzScript(f *testing.F) {
	f.Add("prepare\ntwo strokes on 1\nwrite dry 1\nput back\nhand in")
	f.Add("10 ml in 3\ncrank 0.1 s\nrefused x: refused y: do on on on")
	f.Add("do\nwrite\nremark\nnext\nbecause\nconclude 1 2 3\ntick all")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := script.Parse(head + text)
		if err != nil || len(text) > 200 {
			return
		}
		// Only what is quick: a line can ask for half an hour of cranking.
		if a, err := script.Run(s, scenarios.Find); err == nil && a == nil {
			t.Fatal("neither an attempt nor an error")
		}
	})
}

// The confirming tests on the sheet: what the instruments showed, and what was heard.
func TestConfirmingTestsAreWrittenDown(t *testing.T) {
	s, err := script.Compile("scenario burnt-exhaust-inline-four\nmode alone\n"+`
prepare
six strokes on 3
write repeat 3
do turn-by-hand tdc on 3
do tester-on on 3
do air on number 690
do wait number 1
do listen tailpipe
do listen throttle
write leakage 3
do air off
do tester-off
heard nowhere 3
write timing_deg -18
write lash_exhaust 3 0.2
`, scenarios.Find)
	require.NoError(t, err)
	number := map[string]float64{}
	for _, e := range s.Sheet().Entries {
		number[e.Field] = e.Number
	}
	leak := s.Record().Leaks[0]
	assert.InDelta(t, leak.Percent, number["leakage_percent"], 0)
	assert.InDelta(t, 690e3, number["leakage_supply"], 1)
	assert.InDelta(t, -18, number["timing_deg"], 0)
	assert.InDelta(t, 0.2, number["lash_exhaust"], 0)
	assert.Positive(t, number["repeat_last"])
	var places []string
	for _, h := range s.Sheet().Heard {
		places = append(places, h.Place)
	}
	assert.Equal(t, []string{"tailpipe", "nowhere"}, places)
	for lines, want := range map[string]string{
		"write leakage 2": "no air was put on cylinder 2",
		"write humps":     "no trace of the starter current compares the cylinders",
		"write running 1": "cylinder 1 was not read with the engine running",
		"write vacuum":    "the vacuum gauge saw nothing",
		"write second 1":  "cylinder 1 was not cranked with the gauge on",
	} {
		_, err := script.Compile(head+lines, scenarios.Find)
		assert.ErrorContains(t, err, want)
	}
}

// Every confirming test in one session, each line leaving its record.
func TestConfirmingTestsByIntent(t *testing.T) {
	s, err := script.Compile(head+`
prepare
six strokes on 2
leakage on 3
leakage on 2 at overlap by ear throttle tailpipe
refused wrench_off: do glasses on
`, scenarios.Find)
	require.ErrorContains(t, err, "line 9: it was not refused")
	leaks := s.Record().Leaks
	require.Len(t, leaks, 2)
	assert.Less(t, leaks[0].Percent, 20.0)
	assert.Len(t, leaks[0].Heard, 6, "two neighbours, and the cap stays on")
	assert.Greater(t, leaks[1].Percent, 80.0)
	assert.True(t, leaks[1].Heard[0].Air)
	assert.Len(t, leaks[1].Heard, 2)

	s, err = script.Compile(head+`
prepare
plugs in
current for 4 s
write humps
do throttle shut
vacuum for 5 s
write vacuum
connect
do plug-torque
do plug-leads-on
do wells-blow
plugs out
plugs in but 2
running on 2
write running 2
`, scenarios.Find)
	require.NoError(t, err)
	rec := s.Record()
	require.Len(t, rec.Currents, 1)
	assert.Len(t, rec.Currents[0].Humps, 4)
	require.Len(t, rec.Vacuums, 1)
	assert.Greater(t, rec.Vacuums[0].MeanPa, 15e3)
	require.Len(t, rec.Pumped, 2)
	assert.Zero(t, s.State().Disabled)
	fields := map[string]bool{}
	for _, e := range s.Sheet().Entries {
		fields[e.Field] = true
	}
	for _, f := range []string{"hump_percent", "vacuum", "running_idle", "running_snap"} {
		assert.True(t, fields[f], f)
	}
}
