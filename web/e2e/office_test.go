//go:build !js

package e2e

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/attempt/script"
	"crankbay/scenarios/class"
	"crankbay/sim/record"
)

// threeStudents is a roster as it is pasted.
const threeStudents = "name;id\nAna Núñez;17\nLuz Rey;18\nPat O'Brien;19"

// toDesk goes from the Yard to the Desk.
func (p *page) toDesk(h hands) {
	p.t.Helper()
	h.press(css("act", "to-desk"))
	p.waitFor(`!!document.querySelector('main.office')`, "the Desk")
}

// fill puts a text into a field as a paste does.
func (p *page) fill(name, text string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const e = document.querySelector('[name="%s"]');
		e.focus();
		e.value = %s;
		e.dispatchEvent(new InputEvent('input', {bubbles: true}));
		e.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, name, strconv.Quote(text)))
}

// classOfThree makes a class set and returns the class file that the device keeps.
func (p *page) classOfThree(h hands) string {
	p.t.Helper()
	eval[bool](p, `(() => { const e = document.querySelector('#desk-scenario'); e.value = '`+faulty+`'; e.dispatchEvent(new Event('change', {bubbles: true})); return true; })()`)
	p.fill("desk-roster", threeStudents)
	p.fill("desk-name", "Auto 2")
	h.press(css("act", "make-class"))
	p.waitFor(`document.querySelectorAll('[data-out="class-set"] tbody tr').length === 3`, "three engines")
	return eval[string](p, `JSON.parse(localStorage.getItem('crankbay/classes'))[0].text`)
}

// prepared is one student's attempt on a variant, at a place on the disk.
func prepared(t *testing.T, v *class.Variant, who string, change func(*attempt.File)) string {
	t.Helper()
	s, err := script.Compile(fmt.Sprintf("scenario %s\nmode grade\nwho %s\nprepare\n5 strokes on 1\nwrite dry 1\n10 ml in 1\n5 strokes on 1\nwrite wet 1\nconclude ring_or_bore 1\nsure certain\nhand in\n", v.Scenario.ID, who),
		func(string) *scenarios.Scenario { return v.Scenario })
	require.NoError(t, err)
	f := *s.File()
	f.Actions = slices.Clone(f.Actions)
	if change != nil {
		change(&f)
		f.Digest = f.Sum()
	}
	data, err := f.Encode()
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), strings.ReplaceAll(who, " ", "-")+".json")
	require.NoError(t, os.WriteFile(name, data, 0o644))
	return name
}

// forge makes a reading higher than it was.
func forge(f *attempt.File) {
	at := slices.IndexFunc(f.Actions, func(a record.Action) bool { return a.Kind == attempt.KindWrite })
	f.Actions[at].Number += 6894.757293168361
}

// downloads has the browser keep what it is given, and returns where.
func (p *page) downloads() string {
	p.t.Helper()
	dir := p.t.TempDir()
	_, err := chromedp.CallBrowser(p.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir})
	require.NoError(p.t, err)
	return dir
}

// saved waits for a whole file whose name ends so.
func (p *page) saved(dir, end string) string {
	p.t.Helper()
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(50 * time.Millisecond) {
		names, _ := filepath.Glob(filepath.Join(dir, "*"+end))
		if len(names) > 0 {
			data, err := os.ReadFile(names[0])
			require.NoError(p.t, err)
			if len(data) > 0 {
				return string(data)
			}
		}
	}
	p.fail("no file %s was saved", end)
	return ""
}

// statuses lists what the class table says of each row, by student.
func (p *page) statuses() map[string]string {
	p.t.Helper()
	return eval[map[string]string](p, `Object.fromEntries([...document.querySelectorAll('[data-out="class-table"] tr[data-status]')].map((r) => [r.dataset.student, r.dataset.status]))`)
}

// A class of three: set, link as a student sees it, three hand-ins of which one is
// forged and one lies on another's engine, table, an instructor's decision, CSV.
func TestDeskFromClassToGradebook(t *testing.T) {
	p := open(t, look{noWebGL: true}, "lang=en")
	h := mouse{p}
	p.toDesk(h)
	c, err := class.Decode([]byte(p.classOfThree(h)))
	require.NoError(t, err)
	set, err := c.Again()
	require.NoError(t, err)
	require.Len(t, set, 3)
	assert.Len(t, c.Secret, class.SecretBytes)
	assert.False(t, eval[bool](p, `document.querySelector('[data-out="class-set"]').innerText.includes('Leaking valve')`), "answers stay hidden until they are asked for")
	h.press(css("act", "answers"))
	p.waitFor(`document.querySelector('[data-out="class-set"]').innerText.includes('Leaking valve')`, "the answers")

	link := eval[string](p, `document.querySelectorAll('[data-out="link"]')[1].href`)
	p.do("the link", chromedp.Navigate("about:blank"), chromedp.Navigate(link))
	p.waitFor(`!!document.querySelector('[data-act="start-job"]:not([disabled])')`, "the assignment")
	assert.Contains(t, p.text("main"), "for Luz Rey (18)")
	h.press(css("act", "start-job"))
	p.waitFor(`!!document.querySelector('main.bay')`, "the student's Bay")

	p.visit("lang=en")
	dir := p.downloads()
	p.toDesk(h)
	h.press(css("act", "desk-part", "choice", "collect"))
	p.waitFor(`!!document.querySelector('#desk-against option')`, "the class that is kept")
	p.do("files", chromedp.SetUploadFiles(chromedp.CSS(`input[name="desk-files"]`), []string{
		prepared(t, set[0], "Ana Núñez (17)", nil), prepared(t, set[1], "Luz Rey (18)", forge), prepared(t, set[0], "Pat O'Brien (19)", nil),
	}, chromedp.NodeReady))
	p.waitFor(`document.querySelector('[data-out="files"]')?.dataset.value === '3'`, "three files")
	h.press(css("act", "collect"))
	p.waitFor(`!!document.querySelector('[data-out="class-table"]')`, "the class table")
	assert.Equal(t, map[string]string{"Ana Núñez (17)": "ok", "": "differs", "Pat O'Brien (19)": "other_student"}, p.statuses())
	said := p.text(`[data-out="class-table"]`)
	assert.Regexp(t, `The replay differs from the record from tick \d+ on`, said)
	assert.Contains(t, said, "the engine of Ana Núñez (17), under the name of Pat O'Brien (19)")
	assert.Contains(t, p.text(`[data-out="missteps"]`), "rings from the wet gain alone")

	h.press(`[data-student="Ana Núñez (17)"] ` + css("act", "row"))
	p.waitFor(`document.activeElement.id === 'desk-row'`, "the row's own part")
	p.fill("override-percent", "85,5")
	h.press(css("act", "override"))
	p.waitFor(`document.querySelector('#override-bad').innerText.includes('comment')`, "a reason is asked for")
	p.fill("override-comment", "showed it at the bench")
	h.press(css("act", "override"))
	p.waitFor(`document.querySelector('[data-out="class-table"]').innerText.includes("Instructor's comment: showed it at the bench")`, "the decision beside the result")

	h.press(css("act", "desk-hidden"))
	p.waitFor(`!document.querySelector('[data-out="class-table"]').innerText.includes('Núñez')`, "names hidden")
	h.press(css("act", "save-csv"))
	rows, err := csv.NewReader(strings.NewReader(p.saved(dir, ".csv"))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 4)
	at := func(row int, column string) string { return rows[row][slices.Index(rows[0], column)] }
	assert.Equal(t, []string{"ok", "differs", "other_student"}, []string{at(1, "status"), at(2, "status"), at(3, "status")})
	assert.Equal(t, []string{"Ana Núñez (17)", "85.5", "showed it at the bench"}, []string{at(1, "student"), at(1, "override_percent"), at(1, "comment")})
	assert.NotEmpty(t, at(2, "tick"))
	quiet(t, p)
}

// An engine is made worse with the slider, and what it reads follows.
func TestDeskComposes(t *testing.T) {
	p := open(t, look{noWebGL: true}, "lang=en")
	h := mouse{p}
	p.toDesk(h)
	h.press(css("act", "desk-part", "choice", "compose"))
	p.waitFor(`!!document.querySelector('#desk-from option')`, "the list")
	eval[bool](p, `(() => { const e = document.querySelector('#desk-from'); e.value = '`+faulty+`'; e.dispatchEvent(new Event('change', {bubbles: true})); return true; })()`)
	h.press(css("act", "compose"))
	third := `Number(document.querySelector('[data-out="look"] [data-cylinder="3"]')?.dataset.psi)`
	p.waitFor(third+` > 0`, "readings")
	before := eval[float64](p, third)
	p.fill("fault-area_mm2-0", "40")
	p.waitFor(third+` > `+fmt.Sprint(before+10), "a smaller leak reads higher")
	p.waitFor(`!!document.querySelector('[data-out="verdict"]')`, "whether it can be found")
	h.press(css("act", "compose-link"))
	p.waitFor(`document.querySelector('[data-out="compose-link"]')?.value.includes('#job1.')`, "a link")
	quiet(t, p)
}

// Every section keeps to the rules of accessibility, in both themes and languages,
// and none scrolls sideways; the keyboard reaches all of it.
func TestDeskAccessible(t *testing.T) {
	src := axeSource(t)
	for _, l := range []look{{noWebGL: true, width: 1280, height: 800}, {noWebGL: true, width: 390, height: 844, dark: true}} {
		p := open(t, l, "lang=en")
		p.dress(l)
		k := keyboard{p}
		p.toDesk(k)
		c, err := class.Decode([]byte(p.classOfThree(mouse{p})))
		require.NoError(t, err)
		set, err := c.Again()
		require.NoError(t, err)
		check := func(state string) {
			p.accessible(src, state)
			assert.LessOrEqual(t, eval[float64](p, `document.documentElement.scrollWidth`), float64(l.width), "%s scrolls sideways", state)
			assert.NotRegexp(t, `\b(office|guide|handin|misstep|compose)\.[a-z_.]+`, p.text("main"), "a key without a text")
			p.seen("desk-"+strings.ReplaceAll(state, " ", "-"), l)
		}
		check("class set")
		k.press(css("act", "desk-part", "choice", "collect"))
		p.do("files", chromedp.SetUploadFiles(chromedp.CSS(`input[name="desk-files"]`), []string{prepared(t, set[0], "Ana Núñez (17)", nil), prepared(t, set[1], "Luz Rey (18)", forge)}, chromedp.NodeReady))
		p.waitFor(`document.querySelector('[data-out="files"]')?.dataset.value === '2'`, "two files")
		k.press(css("act", "collect"))
		p.waitFor(`!!document.querySelector('[data-out="class-table"]')`, "the class table")
		k.press(css("act", "sort", "choice", "percent"))
		k.press(`[data-student="Ana Núñez (17)"] ` + css("act", "row"))
		check("collect")
		k.press(css("act", "desk-part", "choice", "compose"))
		k.press(css("act", "compose"))
		p.waitFor(`!!document.querySelector('[data-out="verdict"]')`, "whether it can be found")
		check("compose")
		k.press(css("act", "desk-part", "choice", "guide"))
		check("guide")
		mouse{p}.press(css("act", "language"))
		p.waitFor(`document.documentElement.lang === 'es'`, "Spanish")
		check("guide in Spanish")
		quiet(t, p)
	}
}

// seen takes pictures for a person to look at, where somebody asked for them.
func (p *page) seen(name string, l look) {
	p.t.Helper()
	if os.Getenv("SCREENS") != "" {
		require.NoError(p.t, os.MkdirAll("screens", 0o755))
		p.pictures(name, []look{l}, func() {})
	}
}
