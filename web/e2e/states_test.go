//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
	"crankbay/scenarios/attempt/script"
)

// How far an attempt has come, as scripts of intent.
const (
	prepared = "prepare\ntick glasses gear brake fuel ignition"
	cranking = prepared + `
6 strokes on 1
write dry 1
6 strokes on 2
write dry 2
3 strokes on 3 and stay`
	finished = prepared + `
6 strokes on 1
write dry 1
6 strokes on 2
write dry 2
6 strokes on 3
write dry 3
6 strokes on 4
write dry 4
write speed
write temperature
write throttle
write spec
10 ml in 3
6 strokes on 3
write wet 3
conclude ring_or_bore 3
sure likely
because dry wet
next leakage
put back`
)

// attemptAt makes an attempt outside the browser and returns its file.
func attemptAt(t *testing.T, id, mode, work string) string {
	t.Helper()
	a, err := script.Compile(fmt.Sprintf("scenario %s\nmode %s\nwho Browser test\n%s\n", id, mode, work), scenarios.Find)
	require.NoError(t, err)
	data, err := a.Encode()
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "attempt.json")
	require.NoError(t, os.WriteFile(name, data, 0o644))
	return name
}

// openFile opens an attempt from the disk in the Yard.
func (p *page) openFile(name string) {
	p.t.Helper()
	p.do("choose a file", chromedp.SetUploadFiles(chromedp.CSS(`input[name="file"]`), []string{name}, chromedp.NodeReady))
	p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
}

// dress sets size and theme of the tab.
func (p *page) dress(l look) {
	p.t.Helper()
	scheme := "light"
	if l.dark {
		scheme = "dark"
	}
	_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	require.NoError(p.t, err)
	p.do("size", chromedp.EmulateViewport(l.width, l.height, chromedp.EmulateScale(1)))
}

func (p *page) drawn() {
	p.t.Helper()
	p.waitFor(`!!document.querySelector('.plate.has-scene iframe')`, "the drawn Bay")
	p.waitFor(`(document.querySelector('.plate iframe').contentWindow.crankbayScene?.frames() ?? 0) > 0`, "a first picture")
	// At rest nothing is drawn anew: the picture has settled when no more frames come.
	before, same := -1, 0
	if !until(func() bool {
		n := eval[int](p, `document.querySelector('.plate iframe').contentWindow.crankbayScene?.frames() ?? 0`)
		if n == before {
			same++
		} else {
			before, same = n, 0
		}
		return same >= 10
	}) {
		p.fail("the picture doesn't settle")
	}
}
