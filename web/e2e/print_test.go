//go:build !js

package e2e

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pages prints the tab on paper of a size in inches and returns the text of each page.
func (p *page) pages(width, height float64) []string {
	p.t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		missing(p.t, "no pdftotext on this machine: apt-get install poppler-utils")
	}
	out, err := chromedp.Call(p.ctx, cdppage.PrintToPDF, cdppage.PrintToPDFParams{PaperWidth: width, PaperHeight: height})
	require.NoError(p.t, err)
	name := filepath.Join(p.t.TempDir(), "out.pdf")
	require.NoError(p.t, os.WriteFile(name, out.Data, 0o644))
	if dir := os.Getenv("SCREENS"); dir != "" {
		require.NoError(p.t, os.MkdirAll("screens", 0o755))
		require.NoError(p.t, os.WriteFile(filepath.Join("screens", fmt.Sprintf("print-%s-%g.pdf", strings.ReplaceAll(p.t.Name(), "/", "-"), height)), out.Data, 0o644))
	}
	text, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	require.NoError(p.t, err)
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// Card and job sheet fill a page each, on either paper, in either language, for the
// engine with the most cylinders too, with every line of every test on the sheet.
func TestCardAndSheetOnPaper(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	for _, c := range []struct{ name, id, work string }{
		{"four", faulty, finished},
		{"eight", "sound-v8", "prepare\n6 strokes on 1\nwrite dry 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p.t = t
			p.visit("lang=en")
			p.openFile(attemptAt(t, c.id, "grade", c.work))
			n := eval[int](p, `JSON.parse(crankbay.view()).scenario.engine.cylinders`)
			eval[any](p, fmt.Sprintf(`(() => {
				const write = (choice, cylinder, number) => crankbay.act(JSON.stringify({kind: 'write', choice, cylinder, number}));
				for (let c = 1; c <= %d; c++) {
					for (const f of ['leakage_percent', 'hump_percent', 'running_idle', 'running_snap', 'repeat_last', 'second_last', 'refit_last', 'lash_intake', 'lash_exhaust']) {
						write(f, c, f.startsWith('lash') ? 0.2 : f.endsWith('percent') ? 10 + c : 1e6);
					}
					crankbay.act(JSON.stringify({kind: 'heard', cylinder: c, choice: 'tailpipe'}));
				}
				crankbay.act(JSON.stringify({kind: 'remark', text: 'Burnt valve. '.repeat(28).trim()}));
				document.querySelector('[data-unit="kPa"]').click();
			})()`, n))
			mouse{p}.press(css("act", "glasses")) // whatever is done next, the page looks again
			for _, lang := range []string{"en", "es"} {
				p.waitFor(`document.querySelector('.printed').textContent.includes('Burnt valve')`, "the paper")
				words := map[string][]string{
					"en": {"Procedure card", "What each test costs", "Cylinder leakage", "Mind this", "Job sheet", "Readings", "Confirming tests", "simulated"},
					"es": {"Tarjeta de procedimiento", "Cuánto cuesta cada prueba", "Fuga del cilindro", "Ojo con esto", "Hoja de trabajo", "Lecturas", "Pruebas de confirmación", "simulado"},
				}[lang]
				for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
					got := p.pages(size[0], size[1])
					if !assert.Len(t, got, 2, "%s, %s", paper, lang) {
						continue
					}
					for i, w := range words {
						assert.Contains(t, got[i/4], w, "%s, %s", paper, lang)
					}
					assert.Contains(t, got[1], "Burnt valve", "%s, %s: the customer's words", paper, lang)
					assert.Equal(t, n, strings.Count(got[1], "1000 ")/5, "%s, %s: five pressures of the tests a cylinder", paper, lang)
					assert.NotContains(t, got[0]+got[1], "Hold to crank")
				}
				mouse{p}.press(css("act", "language"))
				p.waitFor(fmt.Sprintf(`document.documentElement.lang !== %q`, lang), "the other language")
			}
		})
	}
}
