//go:build !js

package e2e

import (
	"encoding/json"
	"os"

	"github.com/stretchr/testify/require"

	"crankbay/web/wire"
)

// core asks the simulation in the page and reads its answer.
func (p *page) core(call string, into any) {
	p.t.Helper()
	text := eval[string](p, `crankbay.`+call)
	require.NoError(p.t, json.Unmarshal([]byte(text), into), call)
}

// snapshot takes one moment of the simulation, as the drawing gets it.
func (p *page) snapshot() wire.Snapshot {
	p.t.Helper()
	slots := eval[[]any](p, `(() => {
		const a = new Float64Array(200);
		const n = crankbay.snapshot(a);
		return [...a.slice(0, n)].map((x) => Number.isNaN(x) ? 'NaN' : x);
	})()`)
	flat := make([]float64, len(slots))
	for i, v := range slots {
		f, ok := v.(float64)
		if !ok {
			f = nan
		}
		flat[i] = f
	}
	s, err := wire.Decode(flat)
	require.NoError(p.t, err)
	return s
}

func writeText(name, text string) error { return os.WriteFile(name, []byte(text), 0o644) }
