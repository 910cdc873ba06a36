//go:build !js

package e2e

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hosed is a prepared engine with the hose on cylinder 2.
const hosed = prepared + `
do hose-on on 2
do turn-by-hand bdc on 2`

// A finger on the drawn switch cranks for as long as it stays there.
func TestHoldTheDrawnSwitch(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	p.drawn()
	x, y := p.middle("switch", 0)
	p.holdAt(x, y, func() { p.cranked(2e5) })
	p.restsAfterOneRun()
	quiet(t, p)
}

// So does a key on the button, in real time; the key repeats while it is held.
func TestHoldTheKey(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	keyboard{p}.reach(css("act", "hold"))
	p.space(input.DispatchKeyEventTypeRawKeyDown)
	p.cranked(1e5)
	p.space(input.DispatchKeyEventTypeRawKeyDown) // as a held key does
	p.cranked(2e5)
	p.space(input.DispatchKeyEventTypeKeyUp)
	p.restsAfterOneRun()
	quiet(t, p)
}

// space moves the space bar.
func (p *page) space(typ input.DispatchKeyEventType) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	_, err := chromedp.Call(ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{
		Type: typ, Key: " ", Code: "Space", WindowsVirtualKeyCode: 32,
	})
	require.NoError(p.t, err)
}

// cranked waits until the needle has risen past a pressure.
func (p *page) cranked(pa float64) {
	p.t.Helper()
	if !until(func() bool {
		s := p.snapshot()
		return s.Starter && s.Needle > pa
	}) {
		p.fail("the needle doesn't rise while the switch is held")
	}
}

func (p *page) restsAfterOneRun() {
	p.t.Helper()
	w := &student{p: p}
	w.rest()
	var v struct {
		State struct {
			Runs    int  `json:"runs"`
			Starter bool `json:"starter"`
		} `json:"state"`
	}
	p.core(`view()`, &v)
	assert.Equal(p.t, 1, v.State.Runs)
	assert.False(p.t, v.State.Starter)
	assert.Greater(p.t, p.snapshot().Needle, 2e5, "the gauge holds what was reached")
}

// A graphics card that drops out takes only the drawing with it, and that comes
// back; the attempt is untouched.
func TestDrawingIsLostAndComesBack(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	p.drawn()
	before := p.facts()
	eval[any](p, `(() => {
		const frame = document.querySelector('.plate iframe');
		frame.contentWindow.gone = true;
		frame.contentDocument.querySelector('canvas').getContext('webgl2').getExtension('WEBGL_lose_context').loseContext();
	})()`)
	p.waitFor(`!document.querySelector('.plate iframe').contentWindow.gone`, "the frame to start again")
	mouse{p}.press("#tab-crank")
	mouse{p}.press(css("act", "tachometer"))
	p.drawn()
	after := p.facts()
	assert.Equal(t, before.Plugs, after.Plugs)
	assert.Equal(t, before.Sheet, after.Sheet)
}

// A simulation that breaks down is started anew from what was saved, and the
// student is told.
func TestCoreBreaksDownAndIsRebuilt(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	before := p.facts()
	eval[any](p, `crankbay.act = () => '{"error":{"key":"core_panic","params":{"text":"on purpose"}}}'`)
	mouse{p}.press("#tab-crank")
	mouse{p}.press(css("act", "tachometer"))
	p.waitFor(`!String(globalThis.crankbay?.act).includes('on purpose')`, "a fresh core")
	p.waitFor(`!!document.querySelector('.notices p')`, "a word about it")
	assert.Equal(t, before.Sheet, p.facts().Sheet)
	assert.Equal(t, before.Plugs, p.facts().Plugs)
	on := p.tachometer()
	mouse{p}.press(css("act", "tachometer"))
	assert.NotEqual(t, on, p.tachometer(), "and it works again")
}

func (p *page) tachometer() bool {
	p.t.Helper()
	return eval[bool](p, `JSON.parse(crankbay.view()).state.tachometer`)
}

// What the student has is told when a file can't be opened, in the page, and
// nothing breaks.
func TestBadFilesAreSaid(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	for name, text := range map[string]string{
		"empty.json": "", "text.json": "hello", "attempt.json": `{"format":1,"actions":[]}`, "engine.json": `{"format":1,"id":"x"}`,
		"list.json": `[1]`, "number.json": `5`, "null.json": `null`,
	} {
		file := t.TempDir() + "/" + name
		require.NoError(t, writeText(file, text))
		p.do("choose "+name, chromedp.SetUploadFiles(chromedp.CSS(`input[name="file"]`), []string{file}, chromedp.NodeReady))
		p.waitFor(`!!document.querySelector('.yard [role=alert]')?.textContent`, "a sentence about "+name)
		p.do("reload", chromedp.Reload())
		p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	}
	quiet(t, p)
}

// Any static host will do, and any folder of it.
func TestWorksFromASubfolder(t *testing.T) {
	t.Parallel()
	p := open(t, look{folder: "/school/shop"}, "")
	w := studentAt(t, p, mouse{p})
	w.begin("alone")
	p.drawn()
	w.act("glasses")
	assert.Equal(t, 1, p.done())
	quiet(t, p)
	for _, r := range p.asked() {
		assert.Contains(t, r, "/school/shop/", "a request outside its folder")
	}
}

// An address can leave the drawn Bay out, for a machine that it is too much for: its
// program isn't even fetched, and the page's own drawing stands in its place.
func TestSceneOff(t *testing.T) {
	t.Parallel()
	host := &host{}
	p := open(t, look{gate: host.gate}, "scene=off")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	p.waitFor(`document.querySelector('.plate .drawing svg')?.checkVisibility()`, "the page's own drawing")
	assert.False(t, eval[bool](p, `!!document.querySelector('.plate iframe')`))
	assert.False(t, host.served("scene.wasm.gz"))
	quiet(t, p)
}

// Nobody gets stuck: from the top of the Bay, Tab comes round to the top again.
func TestTabComesRound(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	p.drawn()
	seen := map[string]bool{}
	for i := range 400 {
		p.key(kb.Tab)
		at := eval[string](p, `(() => {
			const e = document.activeElement;
			if (!e || e === document.body) return 'page';
			return e.tagName + [...document.querySelectorAll('*')].indexOf(e);
		})()`)
		if at == "page" && i > 20 {
			return
		}
		require.False(t, len(at) > 6 && at[:6] == "IFRAME", "the drawing takes the focus")
		seen[at] = true
	}
	assert.Fail(t, "Tab doesn't come round", "%d places", len(seen))
}

// middle returns the middle of a thing in the drawing, in the tab.
func (p *page) middle(target string, cylinder int) (x, y float64) {
	p.t.Helper()
	x, y, ok := p.boxAt(target, cylinder)
	if !ok {
		p.fail("the drawing has no %s %d", target, cylinder)
	}
	return x, y
}

// boxAt scrolls the drawing into sight and returns where a thing in it can be
// touched, and whether it is there.
func (p *page) boxAt(target string, cylinder int) (x, y float64, ok bool) {
	p.t.Helper()
	args, err := json.Marshal([]any{target, cylinder})
	require.NoError(p.t, err)
	at := eval[[]float64](p, `(([target, cylinder]) => {
		const frame = document.querySelector('.plate iframe');
		frame.scrollIntoView({block: 'center', behavior: 'instant'});
		const box = JSON.parse(frame.contentWindow.crankbayScene.boxes()).find((b) => b.target === target && (b.cylinder || 0) === cylinder);
		if (!box) return [];
		const at = frame.getBoundingClientRect();
		return [at.left + box.x + box.w / 2, at.top + box.y + box.h / 2];
	})(`+string(args)+`)`)
	if len(at) != 2 {
		return 0, 0, false
	}
	return at[0], at[1], true
}
