package session_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/web/session"
	"crankbay/web/wire"
)

// faulty is the engine of most tests: one burnt exhaust valve.
const faulty = "burnt-exhaust-inline-four"

type answer struct {
	OK      bool           `json:"ok"`
	View    map[string]any `json:"view"`
	Refusal *struct {
		Key      string `json:"key"`
		Cylinder int    `json:"cylinder"`
	} `json:"refusal"`
	Error *struct {
		Key    string         `json:"key"`
		Params map[string]any `json:"params"`
	} `json:"error"`
}

func read(t *testing.T, text string) answer {
	t.Helper()
	var a answer
	require.NoError(t, json.Unmarshal([]byte(text), &a), text)
	return a
}

func value(t *testing.T, text string) map[string]any {
	t.Helper()
	var v map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &v), text)
	require.NotContains(t, v, "error")
	return v
}

func opened(t *testing.T, id, mode string) *session.Core {
	t.Helper()
	c := session.New()
	v := value(t, c.Open(`{"scenario":"`+id+`","mode":"`+mode+`","who":"Test"}`))
	require.Equal(t, mode, v["mode"])
	return c
}

// act does actions given as "kind", "kind:choice", "kind#cylinder",
// "kind:choice#cylinder" or with "=number" at the end, and wants all done.
func act(t *testing.T, c *session.Core, actions ...string) answer {
	t.Helper()
	var last answer
	for _, a := range actions {
		last = read(t, c.Act(actionJSON(a)))
		require.Nil(t, last.Error, a)
		require.True(t, last.OK, "%s: %+v", a, last.Refusal)
	}
	return last
}

func actionJSON(short string) string {
	m := map[string]any{}
	rest, number, ok := strings.Cut(short, "=")
	if ok {
		m["number"] = json.Number(number)
	}
	rest, cylinder, ok := strings.Cut(rest, "#")
	if ok {
		m["cylinder"] = json.Number(cylinder)
	}
	kind, choice, ok := strings.Cut(rest, ":")
	if ok {
		m["choice"] = choice
	}
	m["kind"] = kind
	data, err := json.Marshal(m)
	if err != nil {
		panic(err)
	}
	return string(data)
}

// ready prepares the engine by its card up to the gauge on cylinder 1.
func ready(t *testing.T, c *session.Core, id string) {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s)
	act(t, c, "glasses:on", "gear:park", "brake:on", "chocks:on", "belts-check", "fluids-check",
		"spec-look-up:"+s.RightPage, "warm-up=20", "fuel:disabled", "ignition:disabled", "wells-blow")
	for cyl := range s.Engine.Cylinders {
		act(t, c, "plug-out:ordered#"+string(rune('1'+cyl)))
	}
	for _, a := range s.Tools.Adapters {
		if a.ThreadMM == s.Card.ThreadMM && a.ReachMM == s.Card.ReachMM && a.ORing == s.Card.ORing {
			act(t, c, "adapter:"+a.ID)
			break
		}
	}
	act(t, c, "gauge:"+s.Tools.Gauges[0].ID, "gauge-prove", "switch:remote", "throttle:open", "hose-on#1")
}

func snapshot(t *testing.T, c *session.Core) wire.Snapshot {
	t.Helper()
	dst := make([]float64, wire.Size(wire.MaxCylinders))
	n := c.Snapshot(dst)
	require.NotZero(t, n)
	s, err := wire.Decode(dst[:n])
	require.NoError(t, err)
	return s
}

func TestCatalogueTellsNoFault(t *testing.T) {
	text := session.New().Catalogue()
	var list []map[string]any
	require.NoError(t, json.Unmarshal([]byte(text), &list))
	assert.GreaterOrEqual(t, len(list), 12)
	for _, word := range []string{"faults", "key", "valve_leak", "area_mm2", "card"} {
		assert.NotContains(t, text, `"`+word+`"`)
	}
}

func TestNothingOpenIsAnErrorNotACrash(t *testing.T) {
	c := session.New()
	for name, text := range map[string]string{
		"act": c.Act(`{"kind":"glasses"}`), "stroke": c.Stroke(), "view": c.View(), "needle": c.Needle(),
		"save": c.Save(), "handIn": c.HandIn(),
	} {
		a := read(t, text)
		require.NotNil(t, a.Error, name)
		assert.Equal(t, session.ErrNothingOpen, a.Error.Key, name)
	}
	assert.Zero(t, c.Advance(100))
	assert.Zero(t, c.Snapshot(make([]float64, 500)))
}

func TestBadInputIsSaidByKey(t *testing.T) {
	for _, x := range []struct{ name, text, key string }{
		{"empty", "", session.ErrRequest},
		{"no mode", `{"scenario":"` + faulty + `"}`, session.ErrRequest},
		{"unknown field", `{"scenario":"` + faulty + `","mode":"alone","level":1}`, session.ErrRequest},
		{"unknown scenario", `{"scenario":"nope","mode":"alone"}`, session.ErrUnknown},
		{"bad file", `{"scenario_file":{"format":1},"mode":"alone"}`, session.ErrScenario},
		{"two values", `{"scenario":"` + faulty + `","mode":"alone"} {}`, session.ErrRequest},
	} {
		t.Run(x.name, func(t *testing.T) {
			a := read(t, session.New().Open(x.text))
			require.NotNil(t, a.Error)
			assert.Equal(t, x.key, a.Error.Key)
		})
	}
	c := opened(t, faulty, session.ModeGrade)
	for _, text := range []string{"", "[]", `{"kind":5}`, `{"kind":"no-such-thing"}`, `{"kind":"plug-out","cylinder":99}`} {
		a := read(t, c.Act(text))
		assert.False(t, a.OK, text)
		assert.True(t, a.Error != nil || a.Refusal != nil, text)
	}
	for _, text := range []string{"", "{}", "null", `{"format":1}`} {
		a := read(t, c.Resume(text, ""))
		require.NotNil(t, a.Error, text)
		assert.Equal(t, session.ErrAttempt, a.Error.Key, text)
	}
	value(t, c.View()) // and the open attempt is still there
}

func TestPanicBecomesAnErrorAndAFlag(t *testing.T) {
	c := session.New()
	assert.False(t, c.Broken())
	a := read(t, c.Guard(func() string { panic("gas mass -1") }))
	require.NotNil(t, a.Error)
	assert.Equal(t, session.ErrPanic, a.Error.Key)
	assert.Equal(t, "gas mass -1", a.Error.Params["text"])
	assert.True(t, c.Broken())
}

// For the grade nothing leaves that a student at a real engine could not see.
func TestGradeLeaksNothing(t *testing.T) {
	c := opened(t, faulty, session.ModeGrade)
	v := value(t, c.View())
	card := v["scenario"].(map[string]any)["card"].(map[string]any)
	assert.Nil(t, card["limits"], "limits before the page was looked up")
	assert.Nil(t, v["spec"])
	assert.Nil(t, v["suggest"])
	assert.False(t, v["section"].(bool))

	ready(t, c, faulty)
	v = value(t, c.View())
	card = v["scenario"].(map[string]any)["card"].(map[string]any)
	assert.NotNil(t, card["limits"], "limits once the page was looked up")
	value(t, c.Stroke())
	value(t, c.Stroke())
	refused := read(t, c.Act(`{"kind":"section"}`))
	require.NotNil(t, refused.Refusal)
	for _, text := range []string{c.View(), c.Catalogue()} {
		for _, word := range []string{"faults", "exhaust_seat_leak", "valve_leak", "method_fault", "true_pa", "\"strokes\":"} {
			assert.NotContains(t, text, word)
		}
	}
	s := snapshot(t, c)
	assert.False(t, s.Section)
	assert.Zero(t, s.Leaks)
	for i, cyl := range s.Cylinders {
		assert.True(t, math.IsNaN(cyl.Pressure), "cylinder %d", i+1)
		assert.Zero(t, cyl.IntakeLift+cyl.ExhaustLift+cyl.Oil)
	}
	assert.True(t, math.IsNaN(s.Volts), "voltmeter off")
}

func TestReasonsShowsTheInside(t *testing.T) {
	c := opened(t, faulty, session.ModeReasons)
	v := value(t, c.View())
	assert.NotEmpty(t, v["suggest"].(map[string]any)["key"])
	s := snapshot(t, c)
	assert.True(t, s.Section)
	for _, cyl := range s.Cylinders {
		assert.Greater(t, cyl.Pressure, 5e4)
	}
}

// Held by frames or stepped stroke by stroke, the needle climbs and rests.
func TestStrokesMoveTheNeedle(t *testing.T) {
	c := opened(t, faulty, session.ModeGrade)
	ready(t, c, faulty)
	last := 0.0
	for range 4 {
		v := value(t, c.Stroke())
		assert.Positive(t, v["ticks"])
		now := snapshot(t, c).Needle
		assert.Greater(t, now, last)
		last = now
	}
	act(t, c, "starter:off")
	for range 40 {
		c.Advance(600)
	}
	assert.Zero(t, c.Advance(600), "at rest nothing passes")
	words := value(t, c.Needle())
	assert.LessOrEqual(t, words["lo_pa"], words["shown_pa"])
	assert.GreaterOrEqual(t, words["hi_pa"], words["shown_pa"])
	act(t, c, "release")
	assert.True(t, snapshot(t, c).Release)
	c.Advance(6000)
	assert.False(t, snapshot(t, c).Release)
	assert.Less(t, snapshot(t, c).Needle, last/2)
}

// An attempt taken up from its file is the attempt that was saved.
func TestResumeIsTheSameAttempt(t *testing.T) {
	c := opened(t, faulty, session.ModeGrade)
	ready(t, c, faulty)
	value(t, c.Stroke())
	value(t, c.Stroke())
	act(t, c, "starter:off")
	for range 40 {
		c.Advance(600)
	}
	act(t, c, "write:dry_last#1=900000")
	saved := c.Save()
	d := session.New()
	got := value(t, d.Resume(saved, ""))
	want := value(t, c.View())
	delete(got, "news")
	delete(want, "news")
	assert.Equal(t, want, got)
	assert.Equal(t, snapshot(t, c).Needle, snapshot(t, d).Needle)
	assert.Equal(t, saved, d.Save())
}

// Handing in closes the log and gives the file; nothing of the key comes with it.
func TestHandInClosesTheLog(t *testing.T) {
	c := opened(t, faulty, session.ModeGrade)
	act(t, c, "glasses:on", "finding:undecided", "next-test:repeat")
	out := value(t, c.HandIn())
	require.Len(t, out, 1)
	f, err := attempt.Decode([]byte(out["file"].(string)))
	require.NoError(t, err)
	assert.Equal(t, attempt.KindHandIn, f.Actions[len(f.Actions)-1].Kind)
	a := read(t, c.Act(`{"kind":"glasses","choice":"off"}`))
	assert.False(t, a.OK, "after handing in nothing more is done")
	assert.Equal(t, out, value(t, c.HandIn()))
	assert.Equal(t, out["file"], c.Save())
	d := session.New()
	assert.Equal(t, true, value(t, d.Resume(c.Save(), ""))["handed_in"])
}

func TestSnapshotAllocatesNothing(t *testing.T) {
	c := opened(t, faulty, session.ModeReasons)
	dst := make([]float64, wire.Size(wire.MaxCylinders))
	c.Snapshot(dst)
	assert.Zero(t, testing.AllocsPerRun(100, func() { c.Snapshot(dst) }))
}

// Cranking is heard whether the switch is held by frames or stroke by stroke,
// and only once.
func TestCrankingIsHeard(t *testing.T) {
	c := opened(t, faulty, session.ModeGrade)
	ready(t, c, faulty)
	out := make([]float32, session.MaxSamples)
	c.Sound(out) // what settling between the acts made
	ticks := int(value(t, c.Stroke())["ticks"].(float64))
	assert.Equal(t, ticks*20, c.Sound(out))
	assert.Zero(t, c.Sound(out), "heard once")
	assert.Equal(t, 30, c.Advance(30))
	assert.Equal(t, 600, c.Sound(out))
	for range 10 { // muted: nobody asks for a long time
		c.Advance(1200)
	}
	assert.LessOrEqual(t, c.Sound(out), len(out))
}
