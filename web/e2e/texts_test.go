//go:build !js

package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// text returns what an element says.
func (p *page) text(sel string) string {
	p.t.Helper()
	return eval[string](p, `document.querySelector(`+quote(sel)+`)?.textContent ?? ''`)
}

func quote(s string) string { return "`" + s + "`" }

// The units other than pressure are one setting: it changes what is read and
// what is written, never what was meant, and the page remembers it.
func TestUnitsAreOneSetting(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.openFile(attemptAt(t, faulty, "grade", prepared))
	cell := css("field", "coolant_c", "cylinder", 0)
	stored := `(() => { const { view } = JSON.parse(JSON.stringify({ view: crankbay.view() })); return (typeof view === 'string' ? JSON.parse(view) : view).sheet.entries.find((e) => e.field === 'coolant_c')?.number ?? -1; })()`
	mouse{p}.press(`[data-unit="us"]`)
	p.waitFor(`document.querySelector('.asks').textContent.includes('lb-ft')`, "US customary units")
	assert.Contains(t, p.text(".facts"), "°F")
	assert.Contains(t, p.text(".asks"), "tbsp")
	mouse{p}.write(cell, "185")
	p.waitFor(stored+` > 0`, "the temperature on the sheet")
	assert.InDelta(t, 85.0, eval[float64](p, stored), 1e-9)
	mouse{p}.press(`[data-unit="metric"]`)
	p.waitFor(`document.querySelector('.asks').textContent.includes('N·m')`, "metric units")
	assert.Contains(t, p.text(".facts"), "°C")
	assert.NotContains(t, p.text(".asks"), "lb-ft")
	assert.Equal(t, "85", eval[string](p, `document.querySelector(`+quote(cell)+`).value`))
	mouse{p}.press(`[data-unit="us"]`)
	assert.Equal(t, "185", eval[string](p, `document.querySelector(`+quote(cell)+`).value`))
	assert.Equal(t, "us", eval[string](p, `JSON.parse(localStorage.getItem('crankbay/system'))`))
	quiet(t, p)
}

// A file that can't be used is answered in the reader's language; what the core
// says in English stands under it as a quotation.
func TestFilesThatCannotBeUsed(t *testing.T) {
	t.Parallel()
	for lang, want := range map[string][3]string{
		"en": {"is neither a scenario nor an attempt", "This attempt cannot be taken up.", "This scenario cannot be used."},
		"es": {"no es ni un caso ni un intento", "Este intento no se puede retomar.", "Este caso no se puede usar."},
	} {
		p := open(t, look{noWebGL: true}, "lang="+lang)
		p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the catalogue")
		for i, data := range []string{`{"name":"package"}`, `{"format":1,"actions":[]}`, `{"format":1,"engine":{}}`} {
			name := filepath.Join(t.TempDir(), "file.json")
			require.NoError(t, os.WriteFile(name, []byte(data), 0o644))
			p.do("choose a file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="file"]`), []string{name}, chromedp.NodeReady))
			p.waitFor(`document.querySelector('[role="alert"]')?.textContent.includes(`+quote(want[i])+`)`, want[i])
			detail := p.text(`[role="alert"] q[lang="en"]`)
			assert.Equal(t, i > 0, detail != "", "%s: a sentence of the core is quoted: %q", data, detail)
		}
		quiet(t, p)
	}
}

// The name of the file a student sends in gives no fault away.
func TestDownloadedNameGivesNothingAway(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.openFile(attemptAt(t, faulty, "grade", prepared))
	w := &student{p: p}
	w.h = mouse{p}
	w.handIn()
	name := filepath.Base(p.download(css("act", "download-attempt")))
	assert.Regexp(t, `^crankbay-[a-z0-9-]+-[0-9a-f]{8}\.json$`, name)
	for _, word := range strings.Split(faulty, "-") {
		if word != "inline" && word != "four" {
			assert.NotContains(t, name, word)
		}
	}
}

// On a phone the words for what is heard lie over no notice: the bar at the foot
// keeps its height whether it speaks or not.
func TestCaptionCoversNothing(t *testing.T) {
	t.Parallel()
	p := open(t, look{width: 390, height: 844, noWebGL: true}, "lang=en")
	p.openFile(attemptAt(t, faulty, "grade", hosed))
	top := `document.querySelector('.crankbar').getBoundingClientRect().top`
	before := eval[float64](p, top)
	mouse{p}.press(css("act", "starter"))
	p.waitFor(`document.querySelector('.caption')?.textContent !== ''`, "the words for what is heard")
	assert.Equal(t, before, eval[float64](p, top))
	assert.GreaterOrEqual(t, eval[float64](p, `document.querySelector('.caption').getBoundingClientRect().top`), before)
	mouse{p}.press(css("act", "starter"))
}
