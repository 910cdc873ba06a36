//go:build !js

package e2e

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/debrief"
)

// hasty is an attempt with several mistakes at an engine with a fault: fuel live, no
// charger, the gauge not released before the low cylinder, three strokes on another.
const hasty = `prepare without fuel charger
tick glasses gear brake
6 strokes on 1
write dry 1
6 strokes on 2 and stay
write dry 2
do hose-off
6 strokes on 3
write dry 3
3 strokes on 4
write dry 4
10 ml in 3
6 strokes on 3
write wet 3
conclude ring_or_bore 3
sure certain
because dry wet
next none
hand in`

// handedIn opens an attempt that was handed in and waits for all of its Debrief.
func (p *page) handedIn(id, work string) {
	p.t.Helper()
	p.do("choose a file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="file"]`), []string{attemptAt(p.t, id, "grade", work)}, chromedp.NodeReady))
	p.waitFor(`!!document.querySelector('.debrief-grid')`, "the grade")
	p.waitFor(`!document.querySelector('.debrief .working')`, "everything else")
}

// What the page says a mistake cost is what the native computation says.
func TestDebriefTellsWhatMistakesCost(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.handedIn(faulty, hasty)
	data, err := os.ReadFile(attemptAt(t, faulty, "grade", hasty))
	require.NoError(t, err)
	f, err := attempt.Decode(data)
	require.NoError(t, err)
	v, err := attempt.Verify(f, scenarios.Find)
	require.NoError(t, err)
	want, err := debrief.MistakesOf(v, nil)
	require.NoError(t, err)
	require.NotEmpty(t, want.List)
	for _, m := range want.List {
		sel := `[data-mistake="` + m.Key + `"] `
		if len(m.Effects) == 0 {
			assert.Contains(t, p.text(".mistakes "+sel), "changed nothing", m.Key)
			continue
		}
		e := m.Effects[0]
		assert.InDelta(t, e.Delta, eval[float64](p, `Number(document.querySelector('.mistakes `+sel+`').dataset.delta)`), 1e-6, m.Key)
		if e.Delta != 0 && e.Unit == "Pa" {
			cost := formatPSI(math.Abs(e.Delta))
			assert.Contains(t, p.text(".mistakes "+sel+`[data-out="effect"]`), cost+" psi", m.Key)
		}
	}
	assert.Equal(t, want.Most.Mistake, eval[string](p, `document.querySelector('[data-out="most"]').dataset.mistake ?? ''`))
	quiet(t, p)
}

// One cylinder is turned by the keys of the keyboard, and what is said follows.
func TestCrankTurnedByHandInTheDebrief(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.handedIn(faulty, hasty)
	facts := func() string { return p.text(".look-facts") }
	assert.Contains(t, facts(), "past the exhaust valve", "at the moment the reading was lost")
	assert.Contains(t, p.text(`[data-out="lost"]`), "past the exhaust valve")
	k := keyboard{p}
	k.press(`[data-act="turn"][data-choice="top"]`)
	assert.Contains(t, facts(), "top center of compression")
	before := facts()
	k.press(`[data-act="turn"][data-choice="back"]`)
	assert.Contains(t, facts(), "10° before")
	assert.NotEqual(t, before, facts())
	k.press(`[data-act="look"][data-cylinder="1"]`)
	p.waitFor(`document.querySelector('.part-inside')?.textContent.includes('Nothing is lost here')`, "the sound cylinder")
	assert.Equal(t, "true", eval[string](p, `document.querySelector('[data-act="look"][data-cylinder="1"]').getAttribute('aria-pressed')`))
	eval[bool](p, `(() => { const s = document.querySelector('select[name="inside-run"]'); s.value = s.options[1].value; s.dispatchEvent(new Event('change', { bubbles: true })); return true; })()`)
	p.waitFor(`!document.querySelector('.chooser[aria-busy]')`, "the student's own run")
	quiet(t, p)
}

// The page works on while the desk computes: its clock goes on ticking all the time. How
// late a tick is depends on what else the machine does, so they are counted.
func TestDebriefNeverBlocks(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	eval[bool](p, `(() => {
		globalThis.ticks = 0;
		setInterval(() => { ticks++; }, 10);
		return true;
	})()`)
	p.openFile(attemptAt(t, faulty, "grade", strings.TrimSuffix(hasty, "\nhand in")))
	mouse{p}.press(css("act", "hand-in"))
	eval[bool](p, `(ticks = 0, true)`)
	mouse{p}.press(css("act", "hand-in-now"))
	p.waitFor(`!!document.querySelector('.debrief-grid') && !document.querySelector('.debrief .working')`, "the whole Debrief")
	n := eval[int](p, `ticks`)
	t.Logf("%d ticks while the desk worked", n)
	assert.Greater(t, n, 40, "a page that waits for the desk ticks once or twice")
	quiet(t, p)
}

// formatPSI writes a pressure the way the page does.
func formatPSI(pa float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(pa/6894.757293168361, 'f', 1, 64), "0"), ".")
}
