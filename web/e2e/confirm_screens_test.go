//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Pictures of every confirming test with its work done, on a phone and a laptop and in
// both languages, and of the section that the Debrief draws of a gasket; run by
// `make screens`.
func TestScreensOfTheConfirmingTests(t *testing.T) {
	if os.Getenv("SCREENS") == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll("screens", 0o755))
	for _, lang := range []string{"en", "es"} {
		p := open(t, look{noWebGL: true}, "lang="+lang)
		w := studentAt(t, p, mouse{p})
		w.begin("reasons")
		w.safe(false)
		see := func(test string, work func()) {
			w.h.press("#tab-tests")
			w.openTest(test)
			work()
			w.h.press("#tab-tests")
			p.pictureOf(test, lang)
			w.h.press(fmt.Sprintf(`[data-test=%q] > summary`, test)) // shut again
		}
		see("power_balance", func() { w.act("power-balance") })
		see("lash", func() {
			w.act("lash-check", "cylinder", 1)
			w.act("set-lash", "cylinder", 1)
			w.act("lash-check", "cylinder", 3)
		})
		see("timing_marks", func() { w.act("timing-check") })
		see("cooling_pressure", func() { w.act("cooling-pressure"); w.act("words.cooling") })
		see("bubbles", func() {})
		see("current", func() { w.dead(); w.stripped(); w.act("words.clamp") })
		see("vacuum", func() { w.act("vacuum-gauge"); w.act("words.vacuum") })
		w.act("wells-blow")
		for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
			w.act("plug-out", "cylinder", cyl)
		}
		see("plug_look", func() { w.act("plug-look", "cylinder", 1); w.act("plug-look", "cylinder", 3) })
		see("borescope", func() { w.act("borescope", "cylinder", 3) })
		see("leakage", func() { w.aired(); w.act("listen", "choice", "tailpipe"); w.act("words.tester") })
		w.openTest("leakage")
		w.act("air.off")
		w.act("tester-off")
		for _, test := range []string{"repeat", "second_gauge", "refit", "wet", "running"} {
			see(test, func() {})
		}
	}
}

// pictureOf takes the tab's viewport as it stands, on a laptop and a phone.
func (p *page) pictureOf(test, lang string) {
	p.t.Helper()
	for _, size := range [][2]int64{{1280, 800}, {390, 844}} {
		p.do("size", chromedp.EmulateViewport(size[0], size[1], chromedp.EmulateScale(1)))
		eval[any](p, fmt.Sprintf(`document.querySelector('[data-test=%q]')?.scrollIntoView({block: 'start', behavior: 'instant'})`, test))
		p.savePicture(fmt.Sprintf("test-%s-%s-%d", test, lang, size[0]), chromedp.CaptureScreenshot())
	}
	p.do("size", chromedp.EmulateViewport(1280, 800, chromedp.EmulateScale(1)))
}

func (p *page) savePicture(name string, shot chromedp.Action[[]byte]) {
	p.t.Helper()
	png, err := chromedp.Run(p.ctx, shot)
	require.NoError(p.t, err)
	require.NoError(p.t, os.WriteFile(filepath.Join("screens", name+".png"), png, 0o644))
}

// The section of a cylinder that leaks past its gasket, at the moment the reading is lost.
func TestScreensOfTheSection(t *testing.T) {
	if os.Getenv("SCREENS") == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll("screens", 0o755))
	p := open(t, look{noWebGL: true}, "lang=en")
	for _, id := range []string{"gasket-outside-single", "gasket-unequal-inline-six", "cracked-head-v8-twin-cam", "gasket-inline-four"} {
		p.visit("lang=en")
		p.handedIn(id, "prepare\n6 strokes on 1\nwrite dry 1\nconclude head_gasket 1\nsure guess\nbecause dry\nnext leakage\nhand in")
		eval[any](p, `document.querySelector('.look-picture').scrollIntoView({block: 'center', behavior: 'instant'})`)
		p.savePicture("section-"+id, chromedp.CaptureScreenshot())
	}
}
