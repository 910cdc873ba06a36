//go:build !js

package e2e

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	page_ "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pasted is what a technician has on a job sheet.
const pasted = "150 151 65 149\nwet: 162 163 68 160"

// answered reports whether an answer is shown.
const answered = `!!document.querySelector('[data-out="opinion"] .causes li')`

// secondOpinion goes from the Yard to the Second opinion, writes readings and asks.
func (p *page) secondOpinion(h hands, text string) {
	p.t.Helper()
	h.press(css("act", "to-opinion"))
	p.waitFor(`!!document.querySelector('main.opinion')`, "the Second opinion")
	p.paste(text)
	h.press(css("act", "opinion-ask"))
}

// paste puts a text into the box, as a paste does: at once.
func (p *page) paste(text string) {
	p.t.Helper()
	eval[bool](p, `(() => {
		const box = document.querySelector('[data-opinion="text"]');
		box.focus();
		box.value = `+strconv.Quote(text)+`;
		box.dispatchEvent(new InputEvent('input', {bubbles: true}));
		return true;
	})()`)
}

// Readings in, opinion out: the same content as on the command line, nothing sent
// anywhere, the program and its library fetched only now.
func TestSecondOpinion(t *testing.T) {
	t.Parallel()
	for _, h := range []func(*page) hands{
		func(p *page) hands { return mouse{p} },
		func(p *page) hands { return keyboard{p} },
	} {
		host := &host{}
		p := open(t, look{noWebGL: true, folder: "/a/folder", gate: host.gate}, "lang=en")
		hand := h(p)
		t.Run(hand.name(), func(t *testing.T) {
			p.t = t
			assert.False(t, host.served("opinion.wasm.gz") || host.served("library.bin"), "nobody has asked yet")
			p.secondOpinion(hand, pasted)
			p.waitFor(answered, "the opinion")
			assert.True(t, host.served("/opinion.wasm.gz") && host.served("/library.bin"))
			assert.False(t, host.served("desk.wasm.gz"), "a technician needs no grader")
			assert.Equal(t, "valve_leak", eval[string](p, `document.querySelector('.causes li').dataset.group`))
			whole := eval[string](p, `document.querySelector('[data-out="opinion"]').innerText`)
			for _, part := range []string{
				"Leaking valve, cylinder 3", "Speaks", "Test next", "First, about the method", "Before you do", "Limits, by every rule",
				"outside", "The unit was guessed: psi", "numbered 1 to 4", "doesn't replace the service information",
			} {
				if part == "Speaks" {
					part = "For it"
				}
				assert.Contains(t, whole, part)
			}
			assert.Equal(t, "H2", eval[string](p, `document.activeElement.tagName`), "the answer has the focus")
			quiet(t, p)
		})
	}
}

// What was typed into the table counts like what is pasted, whatever it is: any
// string in any field gets an answer or one sentence, and none becomes markup.
func TestSecondOpinionTyped(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	m := mouse{p}
	m.press(css("act", "to-opinion"))
	p.waitFor(`!!document.querySelector('main.opinion')`, "the Second opinion")
	m.press(`.fold > summary`)
	for cylinder, reading := range []string{"10,5", "10,4", "4,5", "10,3"} {
		m.write(css("opinion", "dry", "cylinder", cylinder+1), reading)
	}
	m.choose(css("opinion", "heard", "cylinder", 3), "tailpipe")
	m.press(css("act", "opinion-ask"))
	p.waitFor(answered, "the opinion")
	assert.Contains(t, eval[string](p, `document.querySelector('.causes li').innerText`), "cylinder 3")
	assert.Contains(t, eval[string](p, `document.querySelector('.understood').innerText`), "10.5")

	for _, hostile := range []string{
		`<img src=x onerror="alert(1)">`, `";DROP`, "1e999", "=cmd|' /C calc'!A0", "\u202e150", strings.Repeat("9", 40), "150\u0000151", "{\"do\":1}", "NaN", "-0",
	} {
		m.write(css("opinion", "dry", "cylinder", 1), hostile)
		m.press(css("act", "opinion-ask"))
		p.waitFor(`!document.querySelector('[aria-busy="true"]')`, "an end")
		said := eval[string](p, `(document.querySelector('[data-out="opinion-trouble"]') ?? document.querySelector('[data-out="opinion"]')).innerText`)
		assert.NotEmpty(t, said, hostile)
		assert.False(t, eval[bool](p, `!!document.querySelector('main img, main script')`), hostile)
	}
	m.write(css("opinion", "dry", "cylinder", 1), "x")
	m.press(css("act", "opinion-ask"))
	p.waitFor(`document.querySelector('[data-out="opinion-trouble"]')?.innerText === 'Cylinder 1: “x” should be a number.'`, "one sentence")
	quiet(t, p)
}

// Any string in any field of the form, and in the box.
func TestSecondOpinionHostile(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=es")
	mouse{p}.press(css("act", "to-opinion"))
	p.waitFor(`!!document.querySelector('main.opinion')`, "the Second opinion")
	p.paste("150 151 65 149")
	eval[bool](p, `(document.querySelectorAll('details').forEach((d) => { d.open = true; }), true)`)
	hostile := `<b onclick='x'>"; -- 99999999999999999999 ` + "\u202e\u0007"
	for _, field := range []string{"banks", "minimum", "standard", "difference", "ratio", "altitude", "rpm", "volts"} {
		p.set(field, hostile)
		mouse{p}.press(css("act", "opinion-ask"))
		p.waitFor(`!document.querySelector('[aria-busy="true"]') && !!document.querySelector('[data-out="opinion-trouble"]')`, "one sentence about "+field)
		said := eval[string](p, `document.querySelector('[data-out="opinion-trouble"]').textContent`)
		label := eval[string](p, `document.querySelector('label[for="opinion-`+field+`"]').textContent`)
		assert.True(t, strings.HasPrefix(said, label+": "), "%s: %s", field, said)
		p.set(field, "")
	}
	for _, text := range []string{hostile, strings.Repeat("150 ", 2000), "cylinder;dry\n<script>;1", "\x01\x02", "150,151,65,149;;;"} {
		p.paste(text)
		mouse{p}.press(css("act", "opinion-ask"))
		p.waitFor(`!document.querySelector('[aria-busy="true"]')`, "an end")
	}
	assert.False(t, eval[bool](p, `!!document.querySelector('main script, main b[onclick]')`))
	quiet(t, p)
}

// set writes into a field of the form.
func (p *page) set(field, text string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(() => {
		const e = document.querySelector('input[data-opinion="%s"]');
		e.value = %s;
		e.dispatchEvent(new Event('change', {bubbles: true}));
		return true;
	})()`, field, strconv.Quote(text)))
}

// What is written stays on the device and outlives a reload; clearing forgets it.
func TestSecondOpinionIsKept(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.secondOpinion(mouse{p}, pasted)
	p.waitFor(answered, "the opinion")
	p.visit("lang=en")
	mouse{p}.press(css("act", "to-opinion"))
	p.waitFor(`document.querySelector('[data-opinion="text"]')?.value.startsWith('150 151')`, "what was written")
	mouse{p}.press(css("act", "opinion-clear"))
	p.visit("lang=en")
	mouse{p}.press(css("act", "to-opinion"))
	p.waitFor(`document.querySelector('[data-opinion="text"]')?.value === ''`, "an empty box")
	quiet(t, p)
}

// On paper it is one page for four cylinders, A4 and Letter, without the form.
func TestSecondOpinionOnPaper(t *testing.T) {
	t.Parallel()
	text, err := exec.LookPath("pdftotext")
	if err != nil {
		missing(t, "no pdftotext on this machine: apt-get install poppler-utils")
	}
	p := open(t, look{noWebGL: true}, "lang=en")
	p.secondOpinion(mouse{p}, pasted)
	p.waitFor(answered, "the opinion")
	for _, lang := range []string{"en", "es"} {
		for name, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
			said := p.onPaper(text, name+"-"+lang, size)
			assert.Equal(t, 1, strings.Count(said, "\f"), "%s %s: pages", name, lang)
			for _, part := range map[string][]string{
				"en": {"Leaking valve, cylinder 3", "Vehicle:", "Test next", "Lowest at least 75 % of the highest"},
				"es": {"Válvula con fuga, cilindro 3", "Vehículo:", "Probar después", "La más baja, al menos 75 %"},
			}[lang] {
				assert.Contains(t, said, part, "%s %s", name, lang)
			}
			assert.NotContains(t, said, "Paste readings")
		}
		if lang == "en" {
			mouse{p}.press(css("act", "language"))
			p.waitFor(`document.documentElement.lang === 'es'`, "Spanish")
		}
	}
}

// As much as four cylinders can have to say still fits on one page.
func TestSecondOpinionFillsOnePage(t *testing.T) {
	t.Parallel()
	text, err := exec.LookPath("pdftotext")
	if err != nil {
		missing(t, "no pdftotext on this machine: apt-get install poppler-utils")
	}
	p := open(t, look{noWebGL: true}, "lang=es")
	p.secondOpinion(mouse{p}, "layout: inline\nratio: 9,5\naltitude: 5000 ft\nminimum: 8 bar\nthrottle: no\nhistory: misfire, overheated\n150 151 65 149")
	p.waitFor(answered, "the opinion")
	assert.Equal(t, 1, strings.Count(p.onPaper(text, "full-letter", [2]float64{8.5, 11}), "\f"), "pages")
	assert.Equal(t, 1, strings.Count(p.onPaper(text, "full", [2]float64{8.27, 11.69}), "\f"), "pages")
}

// onPaper prints the page and returns the text of the sheet.
func (p *page) onPaper(pdftotext, name string, size [2]float64) string {
	p.t.Helper()
	out, err := chromedp.Call(p.ctx, page_.PrintToPDF, page_.PrintToPDFParams{PaperWidth: size[0], PaperHeight: size[1]})
	require.NoError(p.t, err)
	file := filepath.Join(p.t.TempDir(), name+".pdf")
	require.NoError(p.t, os.WriteFile(file, out.Data, 0o644))
	if os.Getenv("SCREENS") != "" { // to look at
		require.NoError(p.t, os.MkdirAll("screens", 0o755))
		require.NoError(p.t, os.WriteFile(filepath.Join("screens", "opinion-"+name+".pdf"), out.Data, 0o644))
	}
	said, err := exec.Command(pdftotext, "-layout", file, "-").Output()
	require.NoError(p.t, err)
	return string(said)
}

// How long the second and later answers take, for the log.
func TestSecondOpinionTakes(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	p.secondOpinion(mouse{p}, "150 151 65 149")
	p.waitFor(answered, "the opinion")
	took := eval[float64](p, `(async () => {
		const { ask } = await import('./app/desk.js');
		const start = performance.now();
		for (let i = 0; i < 10; i++) await ask('opinion', {text: '150 151 65 149', said: []});
		return (performance.now() - start) / 10;
	})()`)
	t.Logf("one line of four readings is answered in %.0f ms", took)
	assert.Positive(t, took)
}

// The page in one file carries the program and its library too.
func TestSecondOpinionInTheSingleFile(t *testing.T) {
	t.Parallel()
	p := openSingle(t, look{noWebGL: true})
	p.do("English", chromedp.Navigate(p.base+"?lang=en"))
	p.waitFor(`!!document.querySelector('[data-act="open"]')`, "the Yard")
	p.secondOpinion(mouse{p}, pasted)
	p.waitFor(answered, "the opinion")
	assert.Equal(t, "valve_leak", eval[string](p, `document.querySelector('.causes li').dataset.group`))
	assert.Empty(t, p.complaints(), "the console")
}

// Neither the Yard, whose head has one more place now, nor the opinion scrolls
// sideways on the smallest phone.
func TestHeadFitsASmallPhone(t *testing.T) {
	t.Parallel()
	for _, lang := range []string{"en", "es"} {
		p := open(t, look{noWebGL: true, width: 320, height: 640}, "lang="+lang)
		wide := `document.documentElement.scrollWidth - document.documentElement.clientWidth`
		assert.LessOrEqual(t, eval[int](p, wide), 0, "Yard, %s", lang)
		p.secondOpinion(mouse{p}, pasted)
		p.waitFor(answered, "the opinion")
		assert.LessOrEqual(t, eval[int](p, wide), 0, "Second opinion, %s", lang)
	}
}
