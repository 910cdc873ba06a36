//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt/script"
)

// Ten sessions cranked natively are played again by the core in Chromium, which
// refuses a session whose marks it does not meet to the last bit. A mark is
// taken at every action and every simulated second.
func TestSameBitsInChromium(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	p.waitFor(`globalThis.crankbay && typeof crankbay.resume === 'function'`, "the core")
	list := scenarios.Catalogue()
	require.GreaterOrEqual(t, len(list), 10)
	for _, s := range list[:10] {
		text := fmt.Sprintf("scenario %s\nmode alone\nwho Bits\nprepare\nsix strokes on 1\nfour strokes on 2\n10 ml in 1\nfive strokes on 1\n", s.ID)
		session, err := script.Compile(text, scenarios.Find)
		require.NoError(t, err, s.ID)
		data, err := session.Encode()
		require.NoError(t, err)
		quoted, err := json.Marshal(string(data))
		require.NoError(t, err)
		var view struct {
			Error    any `json:"error"`
			Scenario struct {
				ID string `json:"id"`
			} `json:"scenario"`
		}
		p.core("resume("+string(quoted)+")", &view)
		assert.Nil(t, view.Error, s.ID)
		assert.Equal(t, s.ID, view.Scenario.ID)
	}
	assert.Empty(t, p.complaints())
}
