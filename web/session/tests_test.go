package session_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/web/session"
	"crankbay/web/wire"
)

func slots(t *testing.T, c *session.Core) wire.View {
	t.Helper()
	v := make(wire.View, wire.Size(wire.MaxCylinders))
	require.Positive(t, c.Snapshot(v))
	return v
}

func rest(c *session.Core) {
	for c.Advance(session.MaxAdvance) > 0 {
	}
}

// aired has the leakage tester on a cylinder at the top of its compression, with air.
func aired(t *testing.T, cylinder string) *session.Core {
	t.Helper()
	c := opened(t, faulty, "grade")
	act(t, c, "glasses:on", "ignition:disabled", "fuel:disabled", "wells-blow")
	for _, n := range []string{"1", "2", "3", "4"} {
		act(t, c, "plug-out:ordered#"+n)
	}
	act(t, c, "turn-by-hand:tdc#"+cylinder, "wrench:off", "tester-on#"+cylinder, "air:on=600")
	rest(c)
	return c
}

// The tester's needle is in the snapshot, its number only where somebody asked.
func TestTheTesterIsReadNotTold(t *testing.T) {
	c := aired(t, "3")
	v := slots(t, c)
	assert.Equal(t, 3.0, v.Get(wire.SlotTester))
	assert.InDelta(t, 6e5, v.Get(wire.SlotSupply), 1)
	lost := 100 * (1 - v.Get(wire.SlotHeld)/v.Get(wire.SlotSupply))
	assert.Greater(t, lost, 20.0, "a burnt valve")
	assert.Equal(t, float64(wire.PlugTester), v.Cyl(3, wire.SlotPlug))

	view := value(t, c.View())
	news, _ := json.Marshal(view["news"])
	assert.Contains(t, string(news), `{"cylinder":3,"key":"leak","kind":"stands"`, "it stands, and no number with it")
	tests := view["tests"].(map[string]any)
	assert.Equal(t, true, tests["steady"])
	assert.NotContains(t, string(mustJSON(t, tests)), "percent")

	assert.InDelta(t, lost, value(t, c.Words("tester"))["value"], 0.51)
	assert.Contains(t, c.Save(), `"kind":"needle-words","choice":"tester"`, "asking is part of the log")
	assert.Equal(t, "refusal.no_vacuum_gauge", read(t, c.Words("vacuum")).Refusal.Key)
	assert.Equal(t, "refusal.no_trace", read(t, c.Words("clamp")).Refusal.Key)
	assert.Equal(t, "refusal.unknown_choice", read(t, c.Words("nothing")).Refusal.Key)
}

func mustJSON(t *testing.T, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return data
}

func TestWhatWasHeardStaysInSight(t *testing.T) {
	c := aired(t, "3")
	act(t, c, "listen:tailpipe", "listen:throttle", "listen:plug_hole#2")
	heard := value(t, c.View())["tests"].(map[string]any)["heard"].([]any)
	require.Len(t, heard, 3)
	assert.Equal(t, map[string]any{"place": "tailpipe", "cylinder": 0.0, "air": true}, heard[0])
	assert.Equal(t, map[string]any{"place": "throttle", "cylinder": 0.0, "air": false}, heard[1])
	assert.Equal(t, 2.0, heard[2].(map[string]any)["cylinder"])
	act(t, c, "air:off")
	assert.Empty(t, value(t, c.View())["tests"].(map[string]any)["heard"], "without air there is nothing to hear")
}

// The strip is the current of the last press, with every compression marked; what it
// says in words are heights, and the comparing is the student's.
func TestTheStripOfTheStarterCurrent(t *testing.T) {
	c := opened(t, faulty, "grade")
	act(t, c, "fuel:disabled", "ignition:disabled", "clamp:on", "starter:on")
	c.Advance(6000)
	assert.Greater(t, slots(t, c).Get(wire.SlotCurrent), 50.0, "the clamp shows it meanwhile")
	act(t, c, "starter:off")
	rest(c)
	var strip struct {
		Rate float64 `json:"rate"`
		Amps []int   `json:"amps"`
		Tops []struct {
			At       float64 `json:"at"`
			Cylinder int     `json:"cylinder"`
		} `json:"tops"`
	}
	require.NoError(t, json.Unmarshal([]byte(c.Strip()), &strip))
	assert.Equal(t, 300.0, strip.Rate)
	assert.Len(t, strip.Amps, 1500, "five seconds")
	require.Greater(t, len(strip.Tops), 20)
	for i := 4; i < len(strip.Tops); i++ {
		assert.Greater(t, strip.Tops[i].At, strip.Tops[i-1].At)
		assert.Equal(t, strip.Tops[i-4].Cylinder, strip.Tops[i].Cylinder, "four cylinders take turns")
	}
	assert.Greater(t, slices.Max(strip.Amps[:300]), 3*slices.Max(strip.Amps[600:])/2, "the inrush towers over the humps")

	words := c.Words("clamp")
	assert.NotContains(t, words, "percent")
	var said struct {
		Humps []struct {
			Cylinder int     `json:"cylinder"`
			HeightA  float64 `json:"height_a"`
		} `json:"humps"`
	}
	require.NoError(t, json.Unmarshal([]byte(words), &said))
	require.Len(t, said.Humps, 4)
	low := said.Humps[0]
	for _, h := range said.Humps {
		if h.HeightA < low.HeightA {
			low = h
		}
	}
	assert.Equal(t, 3, low.Cylinder, "the burnt valve's cylinder")

	act(t, c, "starter:on")
	c.Advance(1200)
	act(t, c, "starter:off")
	rest(c)
	assert.NotContains(t, c.Words("clamp"), "cylinder", "one second tells nothing")
}

func TestTheVacuumGaugeFollowsSlowly(t *testing.T) {
	c := opened(t, faulty, "grade")
	act(t, c, "fuel:disabled", "ignition:disabled")
	_, on := slots(t, c).Shown(wire.SlotVacuum)
	assert.False(t, on)
	act(t, c, "vacuum-gauge:on", "starter:on")
	c.Advance(4800)
	v, on := slots(t, c).Shown(wire.SlotVacuum)
	assert.True(t, on)
	assert.Greater(t, v, 2e3)
	assert.InDelta(t, v, value(t, c.Words("vacuum"))["value"], 51)
	act(t, c, "starter:off")
	rest(c)
	after, _ := slots(t, c).Shown(wire.SlotVacuum)
	assert.Less(t, after, v)
}

// What an action costs is known before it is done.
func TestCostsAreToldBefore(t *testing.T) {
	c := opened(t, faulty, "grade")
	spent := func() float64 { return value(t, c.View())["state"].(map[string]any)["minutes"].(float64) }
	told := func(kind string) float64 {
		m, _ := value(t, c.View())["tests"].(map[string]any)["costs"].(map[string]any)[kind].(float64)
		return m
	}
	act(t, c, "glasses:on", "gauge:"+gaugeID(t, c), "wells-blow")
	for _, a := range [][2]string{
		{"lash-check", "lash-check#1"}, {"lash-check", "lash-check#2"}, {"clamp", "clamp:on"}, {"vacuum-gauge", "vacuum-gauge:on"},
		{"timing-check", "timing-check"}, {"plug-out", "plug-out:ordered#1"}, {"plug-look", "plug-look#1"}, {"borescope", "borescope#1"},
		{"oil", "oil#1=5"}, {"turn-by-hand", "turn-by-hand:tdc#1"}, {"wrench", "wrench:off"}, {"tester-on", "tester-on#1"},
		{"tester-off", "tester-off"}, {"tester-on", "tester-on#1"}, {"cooling-pressure", "cooling-pressure"}, {"disable-one", "disable-one:disabled#2"},
	} {
		want, before := told(a[0]), spent()
		act(t, c, a[1])
		assert.InDelta(t, want, spent()-before, 1e-9, a[1])
	}
}

func gaugeID(t *testing.T, c *session.Core) string {
	t.Helper()
	return value(t, c.View())["scenario"].(map[string]any)["gauges"].([]any)[0].(map[string]any)["id"].(string)
}
