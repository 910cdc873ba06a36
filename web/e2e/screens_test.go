//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// screensDir is where pictures go.
const screensDir = "screens"

// Pictures of every place in every state, light and dark, in both languages, on a
// laptop, a tablet and a phone, for a person to look at; run by `make screens`. Where
// SCREENS is not "all" it is names of sights, with commas between them.
func TestScreens(t *testing.T) {
	only := os.Getenv("SCREENS")
	if only == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll(screensDir, 0o755))
	p := open(t, look{}, "")
	for _, s := range sights {
		if only != "all" && !strings.Contains(","+only+",", ","+s.name+",") {
			continue
		}
		for _, lang := range []string{"en", "es"} {
			p.dress(look{width: 1280, height: 800})
			p.sight(s, "lang="+lang)
			p.views(s, lang)
		}
	}
	quiet(t, p)
}

// views takes this place in every look: what is seen first, and the whole page.
func (p *page) views(s sight, lang string) {
	p.t.Helper()
	for _, size := range [][2]int64{{1280, 800}, {768, 1024}, {390, 844}} {
		for _, dark := range []bool{false, true} {
			l := look{width: size[0], height: size[1], dark: dark}
			p.dress(l)
			p.scrolledTo(shows[s.name])
			if s.draw {
				p.drawn()
			}
			theme := map[bool]string{false: "light", true: "dark"}[dark]
			name := fmt.Sprintf("%s-%dx%d-%s-%s", s.name, l.width, l.height, theme, lang)
			p.shoot(name, chromedp.CaptureScreenshot())
			if !dark {
				p.shoot(name+"-whole", chromedp.FullScreenshot(100))
			}
		}
	}
}

// scrolledTo scrolls to what a picture is to show, everything else to its top, with the
// mouse over nothing.
func (p *page) scrolledTo(sel string) {
	p.t.Helper()
	eval[bool](p, `(() => {
		scrollTo(0, 0);
		for (const e of document.querySelectorAll('.work')) e.scrollTop = 0;
		const sel = `+strconv.Quote(sel)+`;
		if (sel) document.querySelector(sel).scrollIntoView({block: sel.startsWith('[data-test') ? 'start' : 'end', behavior: 'instant'});
		return true;
	})()`)
	p.do("mouse away", chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, 0, 0))
}

// pictures takes one picture of the window and one of the whole page per look.
func (p *page) pictures(name string, looks []look, ready func()) {
	p.t.Helper()
	for _, l := range looks {
		p.dress(l)
		p.scrolledTo("")
		ready()
		theme := map[bool]string{false: "light", true: "dark"}[l.dark]
		file := fmt.Sprintf("%s-%dx%d-%s", name, l.width, l.height, theme)
		p.shoot(file, chromedp.CaptureScreenshot())
		p.shoot(file+"-whole", chromedp.FullScreenshot(100))
	}
}

func (p *page) shoot(name string, shot chromedp.Action[[]byte]) {
	p.t.Helper()
	png, err := chromedp.Run(p.ctx, shot)
	require.NoError(p.t, err)
	require.NoError(p.t, os.WriteFile(filepath.Join(screensDir, name+".png"), png, 0o644))
}

// The Debrief as it goes on paper.
func TestScreensOfPaper(t *testing.T) {
	if os.Getenv("SCREENS") != "all" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll(screensDir, 0o755))
	p := open(t, look{noWebGL: true}, "lang=en")
	p.handedIn(faulty, hasty)
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	require.NoError(t, err)
	eval[bool](p, `(dispatchEvent(new Event('beforeprint')), true)`)
	p.do("size", chromedp.EmulateViewport(794, 1123, chromedp.EmulateScale(1))) // A4
	p.shoot("debrief-hasty-print", chromedp.FullScreenshot(100))
}
