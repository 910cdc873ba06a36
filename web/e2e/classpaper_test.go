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

// sized prints a page of its own on the paper its style asks for, and returns the text of
// each page and the size of the first [points].
func (p *page) sized(file string) (pages []string, size string) {
	p.t.Helper()
	for _, tool := range []string{"pdftotext", "pdfinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			missing(p.t, "no "+tool+" on this machine: apt-get install poppler-utils")
		}
	}
	p.do("open "+file, chromedp.Navigate("file://"+file))
	out, err := chromedp.Call(p.ctx, cdppage.PrintToPDF, cdppage.PrintToPDFParams{PreferCSSPageSize: new(true)})
	require.NoError(p.t, err)
	name := filepath.Join(p.t.TempDir(), "out.pdf")
	require.NoError(p.t, os.WriteFile(name, out.Data, 0o644))
	text, err := exec.Command("pdftotext", "-layout", name, "-").Output()
	require.NoError(p.t, err)
	info, err := exec.Command("pdfinfo", name).Output()
	require.NoError(p.t, err)
	for line := range strings.Lines(string(info)) {
		if after, ok := strings.CutPrefix(line, "Page size:"); ok {
			size = strings.TrimSpace(after)
		}
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f"), size
}

// Slips and answers as the command line writes them, for a class of thirty with long
// names: four slips to a page and nothing cut on any, every student's line among the
// answers, on the paper, in the language and in the unit asked for.
func TestClassPapersOfTheCommandLine(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	program := filepath.Join(dir, "crankbay")
	said, err := exec.Command("go", "build", "-buildvcs=false", "-o", program, "crankbay/cmd/crankbay").CombinedOutput()
	require.NoError(t, err, "%s", said)
	var roster strings.Builder
	roster.WriteString("name;id;extra time\n")
	for i := range 30 {
		fmt.Fprintf(&roster, "María Fernanda de la Cruz Villaseñor %c;%d;%d\n", 'A'+i, 2000+i, 50*(i%2))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "names.csv"), []byte(roster.String()), 0o644))
	p := &page{t: t}
	p.ctx = start(t, look{noWebGL: true})
	p.watch()
	for _, c := range []struct {
		lang, paper, size, unit string
		heads                   [2]string
	}{
		{"en", "letter", "(letter)", "psi", [2]string{"When you are done", "What is wrong inside"}},
		{"es", "a4", "(A4)", "kPa", [2]string{"Al terminar", "Qué tiene por dentro"}},
	} {
		out := filepath.Join(dir, c.paper)
		cmd := exec.Command(program, "compose", "class", "gasket-unequal-inline-six", "--roster", filepath.Join(dir, "names.csv"), "--name", "Taller de motores, segundo turno, grupo B",
			"--mode", "grade", "--base", "https://school.example/a/rather/long/path/to/the/bay/", "--lang", c.lang, "--paper", c.paper, "--unit", c.unit,
			"--tag", "Compression test: perform, decide", "--secret", "00112233445566778899aabbccddeeff", "--out", out)
		said, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", said)

		got, size := p.sized(filepath.Join(out, "slips.html"))
		assert.Contains(t, size, c.size)
		assert.Len(t, got, 8, "%s: four slips to a page", c.paper)
		for i := range 30 {
			assert.Contains(t, got[i/4], fmt.Sprintf("Villaseñor %c (%d)", 'A'+i, 2000+i))
		}
		assert.Equal(t, 30, strings.Count(strings.Join(got, " "), c.heads[0]))
		cut := eval[[]string](p, `[...document.querySelectorAll('.slip')].filter((s) => s.scrollHeight > s.clientHeight + 1 || s.scrollWidth > s.clientWidth + 1).map((s) => s.textContent.slice(0, 60))`)
		assert.Empty(t, cut, "%s: slips that are cut", c.paper)

		got, size = p.sized(filepath.Join(out, "answers.html"))
		assert.Contains(t, size, c.size)
		all := strings.Join(got, " ")
		assert.Contains(t, all, c.heads[1])
		assert.Regexp(t, `\b(in|en) `+c.unit, all)
		assert.Contains(t, all, "Compression test: perform, decide")
		for i, text := range got {
			assert.Greater(t, len(strings.Fields(text)), 20, "%s: page %d of the answers is nearly empty", c.paper, i+1)
		}
		p.whole(eval[string](p, `document.querySelector('main').innerText`), got, c.paper)
	}
	assert.Empty(t, p.complaints(), "the console")
}
