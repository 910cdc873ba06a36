//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

var nan = math.NaN()

// faulty is the engine of the whole test: a burnt exhaust valve in cylinder 3.
const faulty = "burnt-exhaust-inline-four"

func studentAt(t *testing.T, p *page, h hands) *student {
	t.Helper()
	s := scenarios.Find(faulty)
	require.NotNil(t, s)
	return &student{p: p, h: h, s: s}
}

// A whole test for the grade, with the mouse and in the drawn Bay where it can
// be touched; the command line then comes to the same grade from the file.
func TestWholeWithDrawnBay(t *testing.T) {
	t.Parallel()
	p := open(t, look{}, "")
	w := studentAt(t, p, mouse{p})
	w.begin("grade")
	p.waitFor(`!!document.querySelector('.plate.has-scene iframe')`, "the drawn Bay")
	touched := 0
	w.touch = func(target string, cyl int) bool {
		touched++
		return p.touchScene(target, cyl)
	}
	wholeTest(t, w)
	assert.Positive(t, touched)
	assert.Less(t, memory(t, p), 1<<30, "bytes of the whole browser: a phone of 2 GB leaves about half of them to it")
	quiet(t, p)
}

// The same with the keyboard alone, in a browser without WebGL.
func TestWholeWithKeyboardAndWithoutWebGL(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	require.False(t, eval[bool](p, `!!document.createElement('canvas').getContext('webgl2')`), "this browser should have no WebGL")
	w := studentAt(t, p, keyboard{p})
	keysOnly := p.keysOnly()
	w.begin("grade")
	wholeTest(t, w)
	keysOnly()
	assert.False(t, eval[bool](p, `!!document.querySelector('.plate.has-scene')`))
	quiet(t, p)
}

// keysOnly begins to watch the hands; what it returns checks that no pointer was used
// and that every press, choice and letter came from a key.
func (p *page) keysOnly() func() {
	p.t.Helper()
	eval[bool](p, `(() => {
		globalThis.crankbayHands = {keys: 0, pointers: 0, clicks: 0};
		addEventListener('keydown', (e) => { if (e.isTrusted) crankbayHands.keys++; else crankbayHands.pointers++; }, true);
		for (const kind of ['pointerdown', 'mousedown', 'touchstart']) addEventListener(kind, () => crankbayHands.pointers++, true);
		// A key's click has no place and no count of clicks; a script's isn't trusted. A file that is saved is a link that the page itself follows.
		addEventListener('click', (e) => { if (e.detail || (!e.isTrusted && !e.target.closest('a[download]'))) crankbayHands.clicks++; }, true);
		return true;
	})()`)
	return func() {
		p.t.Helper()
		did := eval[map[string]int](p, `crankbayHands`)
		assert.Greater(p.t, did["keys"], 500)
		assert.Zero(p.t, did["pointers"], "a pointer was used")
		assert.Zero(p.t, did["clicks"], "something was clicked without a key")
	}
}

func wholeTest(t *testing.T, w *student) {
	t.Helper()
	w.prepare()
	readings := map[int]float64{}
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		readings[cyl] = w.test(cyl, "dry")
	}
	t.Logf("dry readings, psi: %v", readings)
	assert.Less(t, readings[3], 0.75*readings[1], "the low one is seen on the dial")
	w.conditions()
	w.test(3, "dry") // a surprising reading is taken again
	for _, cyl := range []int{3, 1} {
		w.oil(cyl)
		w.test(cyl, "wet")
	}
	w.conclude("valve_leak", 3, "leakage")
	w.putBack()
	w.handIn()
	points, outOf, verdict := w.graded()
	t.Logf("%s: %g of %g", verdict, points, outOf)
	again := verify(t, w.p.downloadBy(w.h, css("act", "download-attempt"), "*.json"))
	assert.InDelta(t, again.Grade.Points, points, 0.051, "the command line grades as the page did")
	assert.Equal(t, again.Grade.OutOf, outOf)
	assert.True(t, again.HandedIn)
	assert.True(t, again.Grade.Pass, "a careful test passes")
	assert.GreaterOrEqual(t, again.Grade.Points, 90.0)
	for _, row := range again.Grade.Rows {
		for _, line := range row.Lines {
			if !line.Passed {
				t.Logf("not full: %s/%s cylinder %d: %g of %g", row.Name, line.Rule, line.Cylinder, line.Points, line.OutOf)
			}
		}
	}
}

// quiet checks that the page complained about nothing and asked nobody else.
func quiet(t *testing.T, p *page) {
	t.Helper()
	assert.Empty(t, p.complaints(), "the console")
	assert.Empty(t, p.strangers(), "requests to another origin")
}

// verified is the part of `crankbay verify --json` that is looked at here.
type verified struct {
	OK       bool `json:"ok"`
	HandedIn bool `json:"handed_in"`
	Grade    struct {
		Points float64 `json:"points"`
		OutOf  float64 `json:"out_of"`
		Pass   bool    `json:"pass"`
		Rows   []struct {
			Name  string `json:"name"`
			Lines []struct {
				Rule     string  `json:"rule"`
				Passed   bool    `json:"passed"`
				Points   float64 `json:"points"`
				OutOf    float64 `json:"out_of"`
				Cylinder int     `json:"cylinder"`
			} `json:"lines"`
		} `json:"rows"`
	} `json:"grade"`
}

var built struct {
	sync.Once
	bin string
	err error
}

// command builds the command line once for all tests.
func command(t *testing.T) string {
	t.Helper()
	built.Do(func() {
		dir, err := os.MkdirTemp("", "crankbay-e2e")
		if err != nil {
			built.err = err
			return
		}
		built.bin = filepath.Join(dir, "crankbay")
		if out, err := exec.Command("go", "build", "-o", built.bin, "crankbay/cmd/crankbay").CombinedOutput(); err != nil {
			built.err = fmt.Errorf("%w: %s", err, out)
		}
	})
	require.NoError(t, built.err)
	return built.bin
}

// verify runs the built command line on a file; it must exit with 0.
func verify(t *testing.T, file string) verified {
	t.Helper()
	bin := command(t)
	text, err := exec.Command(bin, "verify", "--json", file).Output()
	if strings.Contains(string(text), "recorded under") {
		t.Fatalf("web/dist was built from other sources than the command line: run 'make site' first\n%s", text)
	}
	require.NoError(t, err, "%s", text)
	var all []verified
	require.NoError(t, json.Unmarshal(text, &all))
	require.Len(t, all, 1)
	return all[0]
}

// download presses a button that saves a file and returns its name on the disk.
func (p *page) download(sel string) string {
	p.t.Helper()
	return p.downloadAs(sel, "*.json")
}

// downloadAs is download for a file whose name fits a pattern.
func (p *page) downloadAs(sel, pattern string) string {
	p.t.Helper()
	if p.fox != nil {
		return p.downloadBy(keyboard{p}, sel, pattern)
	}
	return p.downloadBy(mouse{p}, sel, pattern)
}

// downloadBy is downloadAs by somebody's hands.
func (p *page) downloadBy(h hands, sel, pattern string) string {
	p.t.Helper()
	if p.fox != nil {
		h.press(sel)
		return p.fox.saved(p)
	}
	dir := p.t.TempDir()
	_, err := chromedp.CallBrowser(p.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
	})
	require.NoError(p.t, err)
	h.press(sel)
	return p.arrived(filepath.Join(dir, pattern))
}

// arrived waits for a file with something in it.
func (p *page) arrived(pattern string) (file string) {
	p.t.Helper()
	if !until(func() bool {
		names, err := filepath.Glob(pattern)
		require.NoError(p.t, err)
		for _, name := range names {
			if st, err := os.Stat(name); err == nil && st.Size() > 0 {
				file = name
			}
		}
		return file != ""
	}) {
		p.fail("nothing was downloaded")
	}
	return file
}

// done returns how many actions the attempt has.
func (p *page) done() int {
	p.t.Helper()
	return eval[int](p, `JSON.parse(crankbay.save()).actions.length`)
}

// touchScene touches a thing in the drawn Bay; false when the drawing has no box
// for it just now.
func (p *page) touchScene(target string, cylinder int) bool {
	p.t.Helper()
	x, y, ok := p.boxAt(target, cylinder)
	if !ok {
		return false
	}
	done := p.done()
	p.touch(x, y)
	p.waitFor(`JSON.parse(crankbay.save()).actions.length > `+strconv.Itoa(done), fmt.Sprintf("the touch on %s %d to act", target, cylinder))
	return true
}
