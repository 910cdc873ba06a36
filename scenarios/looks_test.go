package scenarios_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/sim/bench"
)

// What an eye finds goes from the faults of a file to the bench, and whether lash
// can be measured from its card.
func TestTheBenchKnowsWhatAnEyeWouldFind(t *testing.T) {
	s := *scenarios.Find("sound-inline-four")
	assert.False(t, s.Setup().LashCheck)
	assert.Zero(t, s.Setup().WheelTeeth)
	s.Card.LashCheck = true
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
	s.Card.LashCheck = true
	assert.NotEqual(t, digest, s.Digest())
	data, err := s.Encode()
	require.NoError(t, err)
	back, err := scenarios.Decode(data)
	require.NoError(t, err)
	assert.True(t, back.Card.LashCheck)
}
