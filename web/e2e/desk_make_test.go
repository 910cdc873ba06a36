//go:build !js

package e2e

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/class"
	"crankbay/scenarios/code"
	"crankbay/scenarios/compose"
)

// toDesk goes by the head of the page to a section of the Desk.
func (p *page) toDesk(h hands, part string) {
	p.t.Helper()
	h.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	h.press(css("act", "desk-part", "choice", part))
	p.waitFor(`!!document.querySelector('#desk-`+part+`')`, "the section "+part)
}

// The head of the page, the Yard and an address of its own lead to the Desk, which
// is fetched then and not before.
func TestDeskIsReached(t *testing.T) {
	t.Parallel()
	host := &host{}
	p := open(t, look{noWebGL: true, gate: host.gate}, "lang=en")
	assert.False(t, host.served("/office.js"), "nobody has asked yet")
	k := keyboard{p}
	k.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	assert.True(t, host.served("/office.js"))
	assert.Equal(t, "main", eval[string](p, `document.activeElement.id`))
	k.press(css("act", "to-yard"))
	mouse{p}.press(css("act", "to-desk-yard"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
	k.press(css("act", "desk-part", "choice", "collect"))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/?lang=es&place=desk")))
	p.waitFor(`document.querySelector('main.office h1')?.innerText === 'Escritorio'`, "the Desk by its address")
	assert.True(t, eval[bool](p, `!!document.querySelector('#desk-collect')`), "the section that was open")
	quiet(t, p)
}

// into puts a text into a field by its id, as typing and leaving it does.
func (p *page) into(id, text string) {
	p.t.Helper()
	p.waitFor(`!!document.getElementById('`+id+`')`, "field "+id)
	eval[bool](p, fmt.Sprintf(`(() => {
		const e = document.getElementById(%q);
		e.value = %q;
		e.dispatchEvent(new InputEvent('input', {bubbles: true}));
		e.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, id, text))
}

// seen takes pictures for a person to look at, where somebody asked for them.
func (p *page) seen(name string, l look) {
	p.t.Helper()
	if os.Getenv("SCREENS") != "" {
		require.NoError(p.t, os.MkdirAll("screens", 0o755))
		p.pictures(name, []look{l}, func() {})
	}
}

// composed begins a job of the catalogue on the Desk and waits until all is known of it.
func (p *page) composed(id string) {
	p.t.Helper()
	p.into("begin-scenario", id)
	mouse{p}.press(css("act", "begin-scenario"))
	p.waitFor(verdictThere, "whether it can be found")
}

const verdictThere = `document.querySelector('[data-out="look"]')?.getAttribute('aria-busy') === 'false' && !!document.querySelector('[data-out="verdict"]')`

// reads is the dry reading of a cylinder that the Desk shows [psi].
func (p *page) reads(cylinder int) float64 {
	p.t.Helper()
	return eval[float64](p, fmt.Sprintf(`Number(document.querySelector('[data-out="look"] [data-cylinder="%d"]').dataset.psi)`, cylinder))
}

// An engine is made better and worse with slider and number, and what it reads, what
// that allows to be said and the answer follow; then it leaves by link, by file and by
// the device's memory, and comes back the same.
func TestDeskComposes(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toDesk(mouse{p}, "job")
	p.composed(faulty)
	assert.Equal(t, "settled", eval[string](p, `document.querySelector('[data-out="verdict"]').dataset.value`))
	before := p.reads(3)

	k := keyboard{p}
	k.reach("#fault-0-area_mm2-slide") // a smaller leak by the arrow key reads higher
	for range 40 {
		p.key(kb.ArrowLeft)
	}
	p.waitFor(`document.querySelector('#fault-0-area_mm2').value !== '2.2'`, "the number beside the slider")
	p.waitFor(fmt.Sprintf(`Number(document.querySelector('[data-out="look"] [data-cylinder="3"]').dataset.psi) > %g`, before+5), "the live reading")
	want, err := compose.Quick(withArea(t, eval[float64](p, `Number(document.querySelector('#fault-0-area_mm2').value)`)))
	require.NoError(t, err)
	p.waitFor(verdictThere, "the long look")
	assert.InDelta(t, want.Dry[2].FinalPSI, p.reads(3), 0, "what the book says of the same engine")

	p.into("fault-0-area_mm2", "0,001") // too small to show
	p.waitFor(`document.querySelector('[data-warning="misled"]') !== null`, "a warning")
	p.into("fault-0-area_mm2", "70")
	p.waitFor(`document.querySelector('#fault-0-area_mm2').getAttribute('aria-invalid') === 'true'`, "out of its range")
	assert.Contains(t, eval[string](p, `document.querySelector('#fault-0-area_mm2-range').textContent`), "0 to 60 mm²")
	p.into("fault-0-area_mm2", "2.2")
	p.into("fault-0-place", "2") // the answer goes along, and what counts as well
	p.waitFor(`document.querySelector('#key-cylinders-2').checked && !document.querySelector('#key-cylinders-3').checked`, "the answer")
	draft := func(what string) string {
		return eval[string](p, `JSON.stringify(JSON.parse(localStorage.getItem('crankbay/desk-draft')).`+what+`)`)
	}
	assert.JSONEq(t, `{"family": "valve_leak", "cylinders": [2], "accept": [{"family": "tight_lash", "cylinders": [2]}], "next_tests": ["leakage", "lash"]}`, draft("key"))
	mouse{p}.press("#method-throttle") // a fault of method lies over it, and counts for the grade
	p.waitFor(`document.querySelector('#method-throttle').checked`, "a shut throttle")
	assert.JSONEq(t, `{"throttle": "shut", "plugs": "out"}`, draft("method"))
	mouse{p}.press("#method-throttle")
	p.into("fault-0-kind", "worn_rings")
	p.waitFor(`document.querySelector('#key-family').value === 'ring_or_bore'`, "the answer of another kind")
	p.into("fault-add", "zero_error")
	mouse{p}.press(css("act", "fault-add"))
	p.waitFor(`!!document.querySelector('[data-fault="zero_error"]')`, "a tool with a fault")
	mouse{p}.press(`[data-fault="zero_error"] ` + css("act", "fault-off"))
	p.waitFor(`!document.querySelector('[data-fault="zero_error"]')`, "no second fault")
	p.waitFor(verdictThere, "the long look")

	mouse{p}.press(css("act", "job-save"))
	mouse{p}.press(css("act", "job-link"))
	p.waitFor(`!!document.querySelector('[data-out="job-link"]') && !!document.querySelector('.office-square svg')`, "link and QR code")
	assert.Equal(t, "rgb(255, 255, 255) rgb(0, 0, 0)", p.inked(".office-square"), "black on white: a camera reads it")
	link := eval[string](p, `document.querySelector('[data-out="job-link"]').value`)
	job, err := code.ReadLink(link)
	require.NoError(t, err)
	assert.Equal(t, scenarios.WornRings, job.Scenario.Faults[0].Kind)
	assert.Equal(t, diagnose.FamilyRingOrBore, job.Scenario.Key.Family)
	assert.Regexp(t, "^own-[0-9a-f]{8}$", job.Scenario.ID)

	mouse{p}.press(css("act", "another-job"))
	mouse{p}.press(css("act", "open-job"))
	p.waitFor(verdictThere, "the job that was kept")
	assert.Equal(t, job.Scenario.ID, eval[string](p, `JSON.parse(localStorage.getItem('crankbay/desk-draft')).id`))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(link)))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])')`, "the assignment")
	mouse{p}.press(css("act", "start-job"))
	p.waitFor(`!!document.querySelector('main.bay')`, "the student's Bay")
	quiet(t, p)
}

// withArea is the faulty engine with another leak.
func withArea(t *testing.T, area float64) *scenarios.Scenario {
	t.Helper()
	s := *scenarios.Find(faulty)
	s.Faults = slices.Clone(s.Faults)
	s.Faults[0].AreaMM2 = area
	return &s
}

// How an engine with nothing wrong begins, and what a file that is none gets.
func TestDeskBegins(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=es")
	p.toDesk(keyboard{p}, "job")
	for name, text := range map[string]string{"broken.json": `{"format": 1,`, "other.json": `[1, 2]`, "wrong.json": strings.Replace(textOf(t, faulty), `"bore_mm": 86`, `"bore_mm": 8.6`, 1)} {
		file := filepath.Join(t.TempDir(), name)
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		p.do("file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="begin-file"]`), []string{file}, chromedp.NodeReady))
		p.waitFor(`!!document.querySelector('.office-begin [role="alert"]')`, "one sentence about "+name)
		assert.Contains(t, p.text(`.office-begin [role="alert"]`), "Este caso no se puede usar", name)
	}
	p.into("begin-engine", "v8-5.7")
	mouse{p}.press(css("act", "begin-engine"))
	p.waitFor(verdictThere, "the look")
	assert.Equal(t, 8, eval[int](p, `document.querySelectorAll('[data-out="look"] tbody tr').length`))
	assert.Zero(t, eval[int](p, `document.querySelectorAll('.office-fault').length`))
	file := filepath.Join(t.TempDir(), "own.json")
	require.NoError(t, os.WriteFile(file, []byte(textOf(t, faulty)), 0o644))
	mouse{p}.press(css("act", "another-job"))
	p.do("file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="begin-file"]`), []string{file}, chromedp.NodeReady))
	p.waitFor(verdictThere, "the look")
	assert.Equal(t, faulty, eval[string](p, `JSON.parse(localStorage.getItem('crankbay/desk-draft')).id`), "a file stays what it is")
	quiet(t, p)
}

func textOf(t *testing.T, id string) string {
	t.Helper()
	text, err := scenarios.Find(id).Encode()
	require.NoError(t, err)
	return string(text)
}

// thirty is a roster as it is pasted, with names that need room.
func thirty() string {
	var b strings.Builder
	b.WriteString("name;id;extra time\n")
	for i := range 30 {
		extra := ""
		if i == 4 {
			extra = "50"
		}
		fmt.Fprintf(&b, "%s Núñez-Villalobos de la Garza %d;A-%03d;%s\n", []string{"Ana", "Luz", "José María", "Zoë"}[i%4], i+1, i+1, extra)
	}
	return b.String()
}

// setMade makes a class set out of a roster and returns the class the device keeps.
func (p *page) setMade(h hands, from, roster string) *class.Class {
	p.t.Helper()
	p.into("class-from", from)
	p.into("class-roster", roster)
	p.into("class-name", "Auto 2")
	p.waitFor(`!document.querySelector('[data-act="make-class"]').disabled`, "names that are read")
	h.press(css("act", "make-class"))
	p.waitLong(`!!document.querySelector('[data-out="class-set"]')`, "the set")
	c, err := class.Decode([]byte(eval[string](p, `JSON.parse(localStorage.getItem('crankbay/classes'))[0].text`)))
	require.NoError(p.t, err)
	return c
}

// What was typed of a class and not made is there after a reload, until it is made or
// the form is cleared.
func TestDeskClassIsKeptWhileTyped(t *testing.T) {
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toDesk(mouse{p}, "class")
	p.into("class-from", faulty)
	p.into("class-roster", "name;id;extra time\nAna;A-1;50\nLuz;A-2;")
	p.into("class-name", "Auto 2")
	named := `document.querySelector('[data-out="roster"]')?.dataset.value`
	p.waitFor(named+` === '2'`, "names that are read")
	again := func() {
		p.do("reload", chromedp.Reload())
		p.waitFor(`!!document.querySelector('main.yard .job')`, "the Yard")
		p.toDesk(mouse{p}, "class")
		p.waitFor(`!!document.getElementById('class-roster')`, "the form")
	}
	again()
	p.waitFor(named+` === '2'`, "the names again")
	assert.Equal(t, "Auto 2", eval[string](p, `document.querySelector('#class-name').value`))
	assert.Equal(t, faulty, eval[string](p, `document.querySelector('#class-from').value`))
	assert.Equal(t, "50", eval[string](p, `document.querySelector('#extra-0').value`), "more time too")
	p.waitFor(`!document.querySelector('[data-act="make-class"]').disabled`, "that it can be made")
	mouse{p}.press(css("act", "class-clear"))
	assert.Empty(t, eval[string](p, `document.querySelector('#class-roster').value`))
	again()
	assert.Empty(t, eval[string](p, `document.querySelector('#class-roster').value`), "cleared is cleared")
	eval[any](p, `localStorage.setItem('crankbay/desk-class', '{"roster":[7],"students":"x"}')`)
	again()
	assert.Empty(t, eval[string](p, `document.querySelector('#class-roster').value`), "what this page didn't write is nothing")
	quiet(t, p)
}

// The making of a class can be stopped: nothing is kept of it, what was written stays,
// and the next one is made.
func TestDeskClassCanBeStopped(t *testing.T) {
	p := open(t, look{noWebGL: true}, "lang=en")
	p.toDesk(mouse{p}, "class")
	p.into("class-from", faulty)
	p.into("class-roster", thirty())
	p.waitFor(`!document.querySelector('[data-act="make-class"]').disabled`, "names that are read")
	mouse{p}.press(css("act", "make-class"))
	p.waitLong(`Number(document.querySelector('.office-progress progress')?.value) > 0`, "the first engines")
	mouse{p}.press(css("act", "class-stop"))
	p.waitFor(`!document.querySelector('.office-progress')`, "that it ends")
	assert.Equal(t, "make-class", eval[string](p, `document.activeElement.dataset.act`), "the focus goes on")
	assert.Equal(t, "0", eval[string](p, `String(JSON.parse(localStorage.getItem('crankbay/classes') ?? '[]').length)`))
	assert.False(t, eval[bool](p, `!!document.querySelector('main [role="alert"]')`), "no error")
	assert.Contains(t, eval[string](p, `document.querySelector('#class-roster').value`), "A-030")
	c := p.setMade(mouse{p}, "sound-inline-four", "Ana\nLuz\n")
	assert.Len(t, c.Students, 2)
	quiet(t, p)
}

// waitLong waits for what takes a slow machine longer than patience.
func (p *page) waitLong(js, what string) {
	p.t.Helper()
	for until := time.Now().Add(4 * patience); !eval[bool](p, js); time.Sleep(100 * time.Millisecond) {
		if time.Now().After(until) {
			p.fail("waiting for %s", what)
		}
	}
}

// A class of thirty: every link opens that student's engine, slips and answers come out
// of a printer whole, on either paper, and the slips tell nobody the answer.
func TestDeskClassOfThirty(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	h := mouse{p}
	p.toDesk(h, "class")
	c := p.setMade(h, faulty, thirty())
	set, err := c.Again()
	require.NoError(t, err)
	require.Len(t, set, 30)
	assert.Len(t, c.Secret, class.SecretBytes)
	assert.Equal(t, 50, c.Students[4].Extra)
	links := eval[[]string](p, `[...document.querySelectorAll('[data-out="link"]')].map((a) => a.href)`)
	require.Len(t, links, 30)
	for i, link := range links {
		job, err := code.ReadLink(link)
		require.NoError(t, err)
		assert.Equal(t, set[i].Student.Label(), job.Who)
		assert.Equal(t, set[i].Scenario, job.Scenario)
	}
	assert.NotContains(t, p.text("main"), "Leaking valve", "answers stay away until they are asked for")

	h.press(css("act", "slips"))
	t.Run("slips", func(t *testing.T) { p.t = t; p.slipsOnPaper(set) })
	h.press(css("act", "paper-back"))
	h.press(css("act", "answer-sheet"))
	t.Run("answers", func(t *testing.T) { p.t = t; p.answersOnPaper() })
	p.t = t

	// What a student sees.
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(links[1])))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])')`, "the assignment")
	assert.Contains(t, p.text("main"), "for "+set[1].Student.Label())
	h.press(css("act", "start-job"))
	p.waitFor(`!!document.querySelector('main.bay')`, "the student's Bay")
	quiet(t, p)
}

// slipsOnPaper asks of the printed slips that all is on them and no answer.
func (p *page) slipsOnPaper(set []*class.Variant) {
	t := p.t
	for paper, size := range papers {
		got := p.pages(size[0], size[1])
		assert.Len(t, got, 8, "%s: four slips to a page", paper)
		all := strings.Join(got, "\n")
		assert.Equal(t, 30, strings.Count(all, "Hand in. Then send"), "%s: nothing is cut", paper)
		letters := strings.Join(strings.Fields(all), "")
		for i := range 30 { // a name may need two lines, beside another one
			assert.Equal(t, 1, strings.Count(letters, "("+set[i].Student.ID+")"), "%s: %s", paper, set[i].Student.ID)
		}
		assert.Equal(t, 30, strings.Count(letters, "#job1."), "%s: every link stands there", paper)
		for _, secret := range []string{"Leaking valve", "leaks", "mm²"} {
			assert.False(t, strings.Contains(all, secret), "%s tells: %s", paper, secret)
		}
	}
	assert.Zero(t, eval[int](p, `[...document.querySelectorAll('.slip')].filter((s) => !s.querySelector('.slip-square svg')).length`), "a QR code on each")
}

// answersOnPaper asks of the printed answers that everybody's stands there.
func (p *page) answersOnPaper() {
	t := p.t
	for paper, size := range papers {
		got := p.pages(size[0], size[1])
		assert.Len(t, got, 1, "%s: thirty fit on one page", paper)
		all := strings.Join(got, "\n")
		assert.Equal(t, 30, strings.Count(all, "Exhaust valve leaks"), paper)
		assert.True(t, strings.Contains(all, "A-030") && strings.Contains(all, "extra time 50 %"), paper)
		assert.Equal(t, len(got), strings.Count(all, "What is wrong inside"), "%s: headings on every page", paper)
	}
}

// A class is changed, hidden, forgotten and opened again, by the keyboard alone.
func TestDeskClassAgain(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	k := keyboard{p}
	p.toDesk(k, "class")
	p.setMade(k, "sound-inline-four", "Ana\nLuz\n")
	links := eval[[]string](p, `[...document.querySelectorAll('[data-out="link"]')].map((a) => a.href)`)
	k.press(css("act", "desk-hidden"))
	p.waitFor(`!document.querySelector('main').innerText.includes('Luz')`, "no names")
	k.press(css("act", "desk-hidden"))
	k.press(css("act", "answers"))
	p.waitFor(`document.querySelector('.office-table').innerText.includes('Sound')`, "the answers")
	k.press(css("act", "change"))
	p.into("class-roster", "Ana\nLuz\nZoe")
	p.waitFor(`document.querySelector('[data-out="roster"]').dataset.value === '3'`, "three names")
	k.press(css("act", "change-class"))
	p.waitFor(`document.querySelector('[data-out="class-set"]')?.dataset.value === '3'`, "three engines")
	after := eval[[]string](p, `[...document.querySelectorAll('[data-out="link"]')].map((a) => a.href)`)
	assert.Equal(t, links, after[:2], "nobody else's link changes")
	text := eval[string](p, `JSON.parse(localStorage.getItem('crankbay/classes'))[0].text`)
	assert.Equal(t, 1, eval[int](p, `JSON.parse(localStorage.getItem('crankbay/classes')).length`), "one class, not two")

	k.press(css("act", "another-class"))
	k.press(css("act", "forget-class"))
	p.waitFor(`!!document.querySelector(".office-side .caution")`, "what would be lost")
	k.press(css("act", "forget-class"))
	p.waitFor(`!document.querySelector('[data-act="open-class"]')`, "nothing kept")
	file := filepath.Join(t.TempDir(), "class.json")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	p.do("class file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="class-open"]`), []string{file}, chromedp.NodeReady))
	p.waitFor(`document.querySelector('[data-out="class-set"]')?.dataset.value === '3'`, "the class again")
	assert.Equal(t, after, eval[[]string](p, `[...document.querySelectorAll('[data-out="link"]')].map((a) => a.href)`))
	k.press(css("act", "another-class"))
	for _, c := range []struct{ text, said string }{{"[1", "no class file"}, {"{}", "can't be used"}, {strings.Replace(text, `"digest": "`, `"digest": "0`, 1), "can't be used"}} {
		require.NoError(t, os.WriteFile(file, []byte(c.text), 0o644))
		p.do("a bad file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="class-open"]`), []string{file}, chromedp.NodeReady))
		p.waitFor(`(document.querySelector('[role="alert"]')?.innerText ?? '').includes(`+fmt.Sprintf("%q", c.said)+`)`, "one sentence")
	}
	p.into("class-roster", "Ana\nAna")
	p.waitFor(`document.querySelector('.office-roster [role="alert"]')?.innerText.includes('line 2')`, "which line")
	quiet(t, p)
}

// Every state keeps to the rules of accessibility, in both themes and languages, and
// none scrolls sideways. The way through them is gone on the smallest phone.
func TestDeskIsAccessible(t *testing.T) {
	t.Parallel()
	src := axeSource(t)
	phone := look{noWebGL: true, width: 320, height: 640}
	p := open(t, phone, "lang=en")
	p.do("the Desk", chromedp.Navigate(p.base+"/?lang=en&place=desk"))
	key := bareKey(t)
	check := func(state string) {
		t.Helper()
		assert.Empty(t, key(p.text("main")), "keys without a text")
		for _, l := range []look{{width: 1280, height: 800}, {width: 768, height: 1024, dark: true}, {width: 390, height: 844, dark: true}, phone} {
			p.dress(l)
			p.accessible(src, state)
			assert.LessOrEqual(t, eval[float64](p, `document.documentElement.scrollWidth`), float64(l.width), "%s scrolls sideways at %d", state, l.width)
			p.seen("desk-"+strings.ReplaceAll(state, " ", "-"), l)
		}
	}
	h := mouse{p}
	p.waitFor(`!!document.querySelector('#begin-scenario')`, "the beginning")
	check("beginning")
	p.composed(faulty)
	check("job")
	h.press(css("act", "job-link"))
	p.waitFor(`!!document.querySelector('[data-out="job-link"]')`, "the link")
	p.into("fault-0-area_mm2", "999")
	eval[bool](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
	h.press("#work-limit")
	h.press("#work-weigh")
	p.waitFor(`!!document.querySelector('#work-minutes') && !!document.querySelector('#weight-record')`, "time and points")
	check("job open")
	h.press(css("act", "language"))
	p.waitFor(`document.documentElement.lang === 'es'`, "Spanish")
	check("job in Spanish")
	h.press(css("act", "desk-large"))
	check("job large")
	h.press(css("act", "desk-large"))
	h.press(css("act", "desk-part", "choice", "class"))
	p.waitFor(`!!document.querySelector('#class-from')`, "the class")
	check("class empty")
	p.setMade(h, "draft", "name;id\nAna Núñez;17\nLuz Rey;18\n"+strings.Repeat("x", 40)+" y;19\n")
	check("class set")
	h.press(css("act", "answers"))
	check("class answers")
	h.press(css("act", "change"))
	eval[bool](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
	check("class change")
	h.press(css("act", "change-back"))
	h.press(css("act", "slips"))
	check("slips")
	h.press(css("act", "paper-back"))
	h.press(css("act", "answer-sheet"))
	check("answer sheet")
	h.press(css("act", "desk-large"))
	check("answer sheet large")
	quiet(t, p)
}

// Nothing on the Desk needs a mouse: a job from an engine with nothing wrong, a fault, a
// slider, a list of students and a link, by the keys alone.
func TestDeskByTheKeyboardAlone(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	k := keyboard{p}
	p.toDesk(k, "job")
	k.choose("#begin-engine", "inline-three-1.0")
	k.press(css("act", "begin-engine"))
	p.waitFor(verdictThere, "the look")
	assert.Equal(t, "office-job", eval[string](p, `document.activeElement.id`), "the job has the focus")
	sound := p.reads(2)
	k.choose("#fault-add", scenarios.WornRings)
	k.press(css("act", "fault-add"))
	p.waitFor(`document.activeElement.id === 'fault-0-kind'`, "the focus on the new fault")
	p.waitFor(fmt.Sprintf(`Number(document.querySelector('[data-out="look"] [data-cylinder="2"]').dataset.psi) < %g`, sound), "a lower reading")
	k.reach("#fault-0-area_mm2-slide")
	for range 30 {
		p.key(kb.ArrowRight)
	}
	p.waitFor(`Number(document.querySelector('#fault-0-area_mm2').value) > 2.4`, "a larger leak")
	k.write("#fault-0-area_mm2", "1,5")
	k.choose("#job-mode", "grade")
	k.press(css("act", "job-link"))
	p.waitFor(`!!document.querySelector('[data-out="job-link"]')`, "the link")
	job, err := code.ReadLink(eval[string](p, `document.querySelector('[data-out="job-link"]').value`))
	require.NoError(t, err)
	assert.Equal(t, "grade", job.Mode)
	assert.InDelta(t, 1.5, job.Scenario.Faults[0].AreaMM2, 0)
	assert.Equal(t, diagnose.Key{Family: diagnose.FamilyRingOrBore, Cylinders: []int{2}, NextTests: []string{"leakage", "borescope"}}, job.Scenario.Key)
	k.press(css("act", "job-class"))
	k.write("#class-roster", "Ana")
	k.write("#class-name", "Auto 1")
	p.waitFor(`!document.querySelector('[data-act="make-class"]').disabled`, "a name that is read")
	k.press(css("act", "make-class"))
	p.waitLong(`document.activeElement.id === 'office-set'`, "the set, with the focus")
	k.press(css("act", "slips"))
	p.waitFor(`document.activeElement.id === 'office-paper'`, "the slips, with the focus")
	k.press(css("act", "paper-back"))
	quiet(t, p)
}

// A second program that doesn't arrive is said, and asked for again.
func TestDeskWithoutItsProgram(t *testing.T) {
	t.Parallel()
	host := &host{}
	program := "desk.wasm"
	host.refuse.Store(&program)
	p := open(t, look{noWebGL: true, gate: host.gate}, "lang=en")
	p.toDesk(mouse{p}, "job")
	p.waitFor(`!!document.querySelector('[role="alert"] [data-act="desk-again"]')`, "what is missing")
	host.refuse.Store(nil)
	mouse{p}.press(css("act", "desk-again"))
	p.waitFor(`!!document.querySelector('#begin-scenario')`, "the beginning")
}

// What leaves the Desk as a file is what it shows, and can be read by other programs;
// hand-ins of a job are sealed to the instructor's key where there is one.
func TestDeskFiles(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	h := mouse{p}
	p.toDesk(h, "collect")
	h.press(".fold > summary")
	h.press(css("act", "key-make"))
	p.waitFor(`!!JSON.parse(localStorage.getItem('crankbay/seal-key'))?.public`, "a key")
	key := eval[string](p, `JSON.parse(localStorage.getItem('crankbay/seal-key')).public`)
	h.press(css("act", "desk-part", "choice", "job"))
	p.composed("sound-inline-four")
	h.press("#job-seal")
	h.press(css("act", "job-link"))
	p.waitFor(`!!document.querySelector('[data-out="job-link"]')`, "the link")
	job, err := code.ReadLink(eval[string](p, `document.querySelector('[data-out="job-link"]').value`))
	require.NoError(t, err)
	assert.Equal(t, key, job.Seal)
	data, err := os.ReadFile(p.downloadAs(css("act", "job-file"), "crankbay-own-*.json"))
	require.NoError(t, err)
	saved, err := scenarios.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, job.Scenario, saved)

	h.press(css("act", "desk-part", "choice", "class"))
	h.press("#class-seal")
	c := p.setMade(h, "draft", "=Ana;17\n\"Luz, the \"\"younger\"\"\";18")
	assert.Equal(t, key, c.Seal)
	data, err = os.ReadFile(p.downloadAs(css("act", "links-csv"), "crankbay-auto-2-links.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff"))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, []string{"'=Ana", "17"}, rows[1][:2], "no formula for a spreadsheet")
	assert.Equal(t, []string{`Luz, the "younger"`, "18"}, rows[2][:2])
	handed, err := code.ReadLink(rows[2][2])
	require.NoError(t, err)
	assert.Equal(t, c.Students[1].Label(), handed.Who)
	assert.Equal(t, key, handed.Seal)
	data, err = os.ReadFile(p.downloadAs(css("act", "save-class"), "crankbay-auto-2-class.json"))
	require.NoError(t, err)
	file, err := class.Decode(data)
	require.NoError(t, err)
	assert.Equal(t, c, file)
	quiet(t, p)
}
