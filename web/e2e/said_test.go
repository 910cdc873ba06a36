//go:build !js

package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios/attempt"
)

// transcript keeps what a screen reader would be told from now on.
const transcript = `(() => {
	globalThis.crankbaySaid = [];
	new MutationObserver(() => crankbaySaid.push(document.getElementById('said').textContent))
		.observe(document.getElementById('said'), {childList: true, characterData: true, subtree: true});
	return true;
})()`

// A screen reader hears of every compression stroke once, and of nothing in between:
// in single strokes, with the switch held, and not at all of an engine that runs by
// itself, whose strokes nobody could follow.
func TestOneAnnouncementPerStroke(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.openFile(attemptAt(t, faulty, "grade", prepared))
	w := studentAt(t, p, mouse{p})
	said := func() int { return eval[int](p, `crankbaySaid.length`) }
	w.act("hose-on", "cylinder", 1)
	w.act("turn-by-hand", "cylinder", 1)
	w.act("wrench")
	eval[bool](p, transcript)
	for i := 1; i <= 4; i++ {
		w.act("stroke")
		assert.Equal(t, i, said(), "stroke %d", i)
	}
	w.act("starter")
	w.rest()
	p.waitFor(`(crankbaySaid.at(-1) ?? '').startsWith('The engine has come to rest')`, "the word that it rests")
	before, strokes := said(), eval[int](p, `JSON.parse(crankbay.view()).runs`)
	assert.LessOrEqual(t, before, 4+2, "coasting ends in one more compression at most, and in a word that it rests: %v", eval[[]string](p, `crankbaySaid`))
	assert.Equal(t, 1, strokes)

	w.act("starter")
	w.passes(1200)
	w.act("starter")
	w.rest()
	// How long the switch was held depends on the machine; the bench counted with it.
	kept, err := attempt.Decode([]byte(eval[string](p, `crankbay.save()`)))
	require.NoError(t, err)
	again, err := attempt.Resume(kept, w.s)
	require.NoError(t, err)
	runs := again.Record().Runs
	assert.Positive(t, len(runs[len(runs)-1].Strokes))
	assert.Equal(t, len(runs[len(runs)-1].Strokes)+1, said()-before, "every stroke, and that it rests: %v", eval[[]string](p, `crankbaySaid`))
	assert.Equal(t, "The engine has come to rest.", eval[string](p, `crankbaySaid.at(-1).replace('\u00a0', '')`))
}

// The same while the engine runs with the gauge on a dead cylinder.
func TestARunningEngineIsNotToldStrokeByStroke(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	w.safe(false)
	w.h.press("#tab-tests")
	w.openTest("running")
	w.act("wells-blow")
	w.act("plug-out", "cylinder", 2)
	w.tools()
	w.act("disable-one", "cylinder", 2)
	w.act("hose-on", "cylinder", 2)
	w.act("plug-leads-on")
	w.act("engine-run")
	eval[bool](p, transcript)
	w.passes(3 * 1200) // some seventeen compressions
	assert.Empty(t, eval[[]string](p, `crankbaySaid`))
	w.act("snap")
	p.waitFor(`!!document.querySelector('.notice.stands')`, "the gauge to have pumped up")
	w.act("engine-run")
	w.rest()
}
