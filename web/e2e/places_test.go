//go:build !js

package e2e

import (
	"math"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

// A sight is a place of the site in one state, reached from the Yard. All that has to
// hold of every place is tried on these: pictures, the accessibility checker, layout.
type sight struct {
	name string
	draw bool // the drawn Bay is in it
	to   func(p *page)
}

// shows is what a sight is about, where that isn't the top of the page: pictures show
// it, with what stands before it.
var shows = map[string]string{
	"bay-leakage": `[data-test="leakage"]`, "bay-current": `[data-test="current"]`, "bay-lash": `[data-test="lash"]`,
	"bay-handing-in": `.hand-in`,
}

// sights are every place in every state that looks different.
var sights = []sight{
	{"yard", false, func(*page) {}},
	{"yard-unfinished", false, func(p *page) {
		p.openFile(attemptAt(p.t, faulty, "reasons", prepared))
		p.back()
	}},
	{"yard-trouble", false, func(p *page) {
		p.do("choose a file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="file"]`), []string{abs(p.t, "doc.go")}, chromedp.NodeReady))
		p.waitFor(`!!document.querySelector('.notice')`, "what is wrong with the file")
	}},
	{"bay-first", true, func(p *page) { p.opened("sound-inline-four", "reasons", "") }},
	{"bay-open", true, func(p *page) { p.opened(faulty, "reasons", prepared); p.tab("open") }},
	{"bay-gauge", true, func(p *page) { p.opened(faulty, "reasons", prepared); p.tab("gauge") }},
	{"bay-cranking", true, func(p *page) { p.opened(faulty, "grade", cranking); p.tab("crank") }},
	{"bay-words", true, func(p *page) {
		w := p.opened(faulty, "reasons", cranking)
		p.tab("crank")
		w.words()
	}},
	{"bay-section", true, func(p *page) { p.opened(faulty, "reasons", cranking); p.tab("crank") }},
	{"bay-v6", true, func(p *page) { p.opened("burnt-exhaust-v6", "reasons", onSecond); p.tab("crank") }},
	{"bay-v8", true, func(p *page) { p.opened("dead-exhaust-v8", "grade", onSecond); p.tab("crank") }},
	{"bay-flat", true, func(p *page) { p.opened("worn-rings-flat-four", "reasons", onSecond); p.tab("crank") }},
	{"bay-single", true, func(p *page) { p.opened("sound-single", "reasons", "prepare\n6 strokes on 1 and stay"); p.tab("crank") }},
	{"bay-tests", true, func(p *page) { p.opened(faulty, "reasons", prepared); p.tab("tests") }},
	{"bay-leakage", true, func(p *page) {
		w := p.opened(faulty, "reasons", prepared)
		p.tab("tests")
		w.openTest("leakage")
		w.aired()
	}},
	{"bay-current", true, func(p *page) {
		w := p.opened(faulty, "grade", "prepare without plugs")
		p.tab("tests")
		w.openTest("current")
		w.stripped()
	}},
	{"bay-lash", true, func(p *page) {
		w := p.opened(faulty, "reasons", "")
		p.tab("tests")
		w.openTest("lash")
		w.act("lash-check", "cylinder", 1)
	}},
	{"bay-back", true, func(p *page) { p.opened(faulty, "grade", finished); p.tab("back") }},
	{"bay-dial", true, func(p *page) {
		p.opened(faulty, "grade", cranking)
		p.waitFor(`(() => { const all = [...document.querySelectorAll('[data-act="dial"], [data-act="big-dial"]')]; all.find((e) => e.checkVisibility())?.click(); return true; })()`, "the dial")
		p.waitFor(`!!document.querySelector('.big-dial')`, "the dial, large")
		mouse{p}.press(`.big-dial [data-act="words"]`)
	}},
	{"bay-caution", true, func(p *page) { // the switch pressed with nothing made safe, and one plug out of a dirty well
		w := p.opened(faulty, "reasons", "")
		w.act("plug-out", "cylinder", 1)
		w.act("starter")
		w.act("starter")
		w.rest()
		p.tab("safe")
		p.waitFor(`!!document.querySelector('.notice')`, "the caution")
	}},
	{"bay-refused", true, func(p *page) {
		w := p.opened(faulty, "reasons", "")
		w.act("wells-blow")
		w.act("plug-out", "cylinder", 1)
		w.act("hose-on", "cylinder", 2)
	}},
	{"bay-handing-in", true, func(p *page) {
		w := p.opened(faulty, "grade", finished)
		w.act("hand-in")
	}},
	{"debrief", false, func(p *page) {
		w := p.opened(faulty, "grade", finished)
		w.handIn()
		p.waitFor(`!document.querySelector('.debrief .working')`, "everything of the Debrief")
	}},
	{"debrief-hasty", false, func(p *page) { p.handedIn(faulty, hasty); p.unfold() }},
	{"opinion-empty", false, func(p *page) { p.opinion() }},
	{"opinion-trouble", false, func(p *page) {
		p.opinion()
		p.paste("10,5")
		mouse{p}.press(css("act", "opinion-ask"))
		p.waitFor(`!!document.querySelector('[data-out="opinion-trouble"]')`, "what can't be read")
	}},
	{"opinion", false, func(p *page) {
		p.opinion()
		p.paste(pasted)
		mouse{p}.press(css("act", "opinion-ask"))
		p.waitFor(answered, "the opinion")
		p.unfold()
	}},
	{"desk-job", false, func(p *page) { p.toDeskYard("job") }},
	{"desk-composed", false, func(p *page) { p.toDeskYard("job"); p.composed(faulty) }},
	{"desk-class", false, func(p *page) { p.toDeskYard("class") }},
	{"desk-collect", false, func(p *page) { p.toDeskYard("collect") }},
	{"desk-collected", false, func(p *page) {
		p.toDeskYard("collect")
		p.handedTo("collect-files", []string{attemptAt(p.t, faulty, "grade", hasty)})
	}},
	{"model", false, func(p *page) { p.modelPage() }},
	{"guide", false, func(p *page) { p.guidePage() }},
	{"words", false, func(p *page) {
		mouse{p}.press(css("act", "foot-words"))
		p.arrives(`!!document.querySelector('main.words-page') && document.readyState === 'complete'`, "the page of shop words")
	}},
	{"access", false, func(p *page) {
		mouse{p}.press(css("act", "foot-access"))
		p.arrives(`!!document.querySelector('main.access') && document.readyState === 'complete'`, "the page about accessibility")
	}},
}

// onSecond leaves the gauge on cylinder 2 after four strokes.
const onSecond = "prepare\n4 strokes on 2 and stay"

// opened opens an attempt that has come so far.
func (p *page) opened(id, mode, work string) *student {
	p.t.Helper()
	p.openFile(attemptAt(p.t, id, mode, work))
	s := scenarios.Find(id)
	require.NotNil(p.t, s)
	return &student{p: p, h: mouse{p}, s: s}
}

// tab opens a stage of the work.
func (p *page) tab(stage string) {
	p.t.Helper()
	mouse{p}.press("#tab-" + stage)
}

// back goes to the Yard.
func (p *page) back() {
	p.t.Helper()
	mouse{p}.press(css("act", "to-yard"))
	p.waitFor(`!!document.querySelector('main.yard')`, "the Yard")
}

// unfold opens everything that is folded.
func (p *page) unfold() {
	p.t.Helper()
	eval[bool](p, `(document.querySelectorAll('main details').forEach((d) => { d.open = true; }), true)`)
}

// opinion goes to the Second opinion.
func (p *page) opinion() {
	p.t.Helper()
	mouse{p}.press(css("act", "to-opinion"))
	p.waitFor(`!!document.querySelector('main.opinion')`, "the Second opinion")
}

// toDeskYard goes to a section of the Desk by the way that every width has.
func (p *page) toDeskYard(part string) {
	p.t.Helper()
	mouse{p}.press(css("act", "to-desk-yard"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	mouse{p}.press(css("act", "desk-part", "choice", part))
	p.waitFor(`!!document.querySelector('#desk-`+part+` :is(.office-begin, .office-columns, .office-set, .collect-in)')`, "the section "+part)
}

// sight goes to a place from the start, with nothing kept of what was before.
func (p *page) sight(s sight, query string) {
	p.t.Helper()
	eval[bool](p, `(localStorage.clear(), sessionStorage.clear(), true)`)
	p.visit(query)
	s.to(p)
	if s.draw && eval[bool](p, `!!document.createElement('canvas').getContext('webgl2')`) {
		p.drawn()
	}
}

// Every name in the table once, so that a picture or a verdict means one sight.
func TestSightsHaveNames(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sights {
		require.False(t, seen[s.name], s.name)
		seen[s.name] = true
	}
}

// abs is where a file of these tests lies, for a browser that wants to know exactly.
func abs(t *testing.T, name string) string {
	t.Helper()
	full, err := filepath.Abs(name)
	require.NoError(t, err)
	return full
}

func scenarioOf(t *testing.T, id string) *scenarios.Scenario {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s)
	return s
}

// plain writes a number as a person would.
func plain(x float64) string { return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64) }
