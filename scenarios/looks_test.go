package scenarios_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/sim/bench"
)

// What an eye finds goes from the faults of a file to the bench, and whether lash
// can be measured from its card.
func TestTheBenchKnowsWhatAnEyeWouldFind(t *testing.T) {
	s := *scenarios.Find("sound-inline-four")
	assert.True(t, s.Setup().LashCheck)
	assert.False(t, scenarios.Find("sound-v8").Setup().LashCheck, "hydraulic lifters have no lash")
	assert.Zero(t, s.Setup().WheelTeeth)
	s.Faults = []scenarios.Fault{
		{Kind: scenarios.HoledPiston, Cylinder: 2, DiameterMM: 4},
		{Kind: scenarios.ScoredBore, Cylinder: 3, DepthMM: 0.2, WidthMM: 5},
		{Kind: scenarios.BrokenLand, Cylinder: 4, AreaMM2: 2},
		{Kind: scenarios.CamTiming, Cam: "intake", TeethLate: 1, WheelTeeth: 36},
	}
	b := s.Setup()
	assert.True(t, b.LashCheck)
	assert.Equal(t, 36, b.WheelTeeth)
	assert.Equal(t, []bench.Visible{{}, {Hole: true}, {Scored: true}, {}}, b.Seen, "a broken land is out of sight")
}

func TestACardMaySayThatLashIsMeasured(t *testing.T) {
	s := *scenarios.Find("sound-inline-four")
	digest := s.Digest()
	s.Card.LashCheck = false
	assert.NotEqual(t, digest, s.Digest())
	data, err := s.Encode()
	require.NoError(t, err)
	back, err := scenarios.Decode(data)
	require.NoError(t, err)
	assert.False(t, back.Card.LashCheck)
}

// What the page asks for between cam and valve is data of the engine: every card of the
// catalogue with lash to measure says it, and one that was written before it could be
// said means the usual figures and is the same card still.
func TestLashIsEngineData(t *testing.T) {
	other := 0
	for _, s := range scenarios.Catalogue() {
		data, err := os.ReadFile("data/" + s.ID + ".json")
		require.NoError(t, err)
		assert.Equal(t, s.Card.LashCheck, strings.Contains(string(data), `"lash": {`), s.ID)
		if s.Card.Lash != diagnose.DefaultLash() {
			other++
		}
	}
	assert.Greater(t, other, 10, "not one figure for all engines")
	const given = `"lash": { "intake_mm": 0.20, "exhaust_mm": 0.30, "within_mm": 0.05 },`
	whole := file(t, "sound-inline-four")
	require.Contains(t, whole, given)
	with, err := scenarios.Decode([]byte(whole))
	require.NoError(t, err)
	without, err := scenarios.Decode([]byte(strings.Replace(whole, given, "", 1)))
	require.NoError(t, err)
	assert.Equal(t, with.Card, without.Card)
	assert.Equal(t, with.Digest(), without.Digest())
	for _, c := range []struct{ new, want string }{
		{`"lash": { "intake_mm": 8, "exhaust_mm": 0.30, "within_mm": 0.05 },`, "card.lash.intake_mm: 8, want a number from 0.05 to 0.9"},
		{`"lash": { "intake_mm": 0.2, "exhaust_mm": 0.30 },`, "card.lash.within_mm: missing"},
		{`"lash": { "intake_mm": 0.2, "exhaust_mm": 0.30, "within_mm": 0.05, "cold": true },`, "card.lash.cold: unknown field"},
	} {
		bad := strings.Replace(whole, given, c.new, 1)
		_, err := scenarios.Decode([]byte(bad))
		assert.EqualError(t, err, c.want)
		assert.False(t, accepts(t, schema(t), bad), c.want)
	}
	wider := strings.Replace(whole, given, `"lash": { "intake_mm": 0.25, "exhaust_mm": 0.4, "within_mm": 0.05 },`, 1)
	assert.True(t, accepts(t, schema(t), wider))
	screws, err := scenarios.Decode([]byte(wider))
	require.NoError(t, err)
	assert.NotEqual(t, with.Digest(), screws.Digest())
	assert.Equal(t, bench.Lash{IntakeMM: 0.25, ExhaustMM: 0.4, WithinMM: 0.05}, screws.Setup().Lash)
	_, err = scenarios.Decode([]byte(strings.Replace(wider, `"lash_check": true`, `"lash_check": false`, 1)))
	assert.EqualError(t, err, "card.lash: given, card.lash_check says there is none to measure")
}

// Every card of the catalogue says what its tests cost and whether lash can be
// measured; one that is mailed may leave the minutes out and is an ordinary engine.
func TestWhatTestsCostIsEngineData(t *testing.T) {
	for _, s := range scenarios.Catalogue() {
		data, err := os.ReadFile("data/" + s.ID + ".json")
		require.NoError(t, err)
		assert.Contains(t, string(data), `"lash_check": `, s.ID)
		assert.Contains(t, string(data), `"minutes": {`, s.ID)
		assert.Equal(t, bench.TestMinutes(s.Card.Minutes), s.Setup().Minutes)
	}
	whole := file(t, "sound-inline-four")
	from, to := strings.Index(whole, `"minutes"`), strings.Index(whole, `"limits"`)
	bare := whole[:from] + whole[to:]
	s, err := scenarios.Decode([]byte(bare))
	require.NoError(t, err)
	assert.Equal(t, diagnose.DefaultMinutes(), s.Card.Minutes)
	assert.True(t, accepts(t, schema(t), bare))
	for _, c := range []struct{ old, new, want string }{
		{`"lash": 20`, `"lash": 0`, "card.minutes.lash: 0, want a number from 0.5 to 480"},
		{`"lash": 20`, `"lash": 500`, "card.minutes.lash: 500, want a number from 0.5 to 480"},
		{`"lash": 20, `, ``, "card.minutes.lash: missing"},
		{`"lash": 20, `, `"lash": 20, "teardown": 480, `, "card.minutes.teardown: unknown field"},
	} {
		require.Contains(t, whole, c.old)
		bad := strings.Replace(whole, c.old, c.new, 1)
		_, err := scenarios.Decode([]byte(bad))
		assert.EqualError(t, err, c.want)
		assert.False(t, accepts(t, schema(t), bad), c.want)
	}
}
