//go:build !js

package e2e

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Figures of the page as a visitor has it, printed by `make bench` and never a reason
// to fail: they belong to the machine and to what else it does.
func TestFigures(t *testing.T) {
	if os.Getenv("FIGURES") == "" {
		t.Skip("figures are taken by 'make bench'")
	}
	t.Run("cold", coldFigures)
	p := open(t, look{width: 1280, height: 720}, "lang=en")
	p.openFile(attemptAt(t, faulty, "reasons", prepared+"\n1 strokes on 3 and stay"))
	p.drawn()
	time.Sleep(2 * time.Second)
	before := cpuTime(t, p)
	start := time.Now()
	time.Sleep(10 * time.Second)
	fmt.Printf("idle in the Bay: %.0f %% of one core over 10 s (all processes of the browser)\n", 100*(cpuTime(t, p)-before)/time.Since(start).Seconds())
	crankFigures(p)
}

// coldFigures times five visits with an empty cache, each in a browser of its own.
func coldFigures(t *testing.T) {
	var drawn, usable []float64
	for range 5 {
		p := open(t, look{width: 1280, height: 720}, "lang=en")
		_, err := chromedp.Call(p.ctx, cdpage.AddScriptToEvaluateOnNewDocument, cdpage.AddScriptToEvaluateOnNewDocumentParams{Source: `
			globalThis.crankbayAt = {};
			new MutationObserver(() => {
				if (!crankbayAt.drawn && document.querySelector('main.yard .choices')) crankbayAt.drawn = performance.now();
				if (!crankbayAt.usable && document.querySelector('[data-act="open"]')) crankbayAt.usable = performance.now();
			}).observe(document, {childList: true, subtree: true});`})
		require.NoError(t, err)
		_, err = chromedp.Call(p.ctx, network.ClearBrowserCache, struct{}{})
		require.NoError(t, err)
		eval[bool](p, `navigator.serviceWorker.getRegistrations().then((all) => Promise.all(all.map((r) => r.unregister()))).then(() => caches.keys()).then((all) => Promise.all(all.map((k) => caches.delete(k)))).then(() => true)`)
		p.visit("lang=en")
		drawn = append(drawn, eval[float64](p, `crankbayAt.drawn`))
		usable = append(usable, eval[float64](p, `crankbayAt.usable`))
		chromedp.Cancel(p.ctx)
	}
	fmt.Printf("cold navigation to the Yard: %.2f s, jobs there: %.2f s (median of %d)\n", median(drawn)/1000, median(usable)/1000, len(usable))
}

// crankFigures holds the switch for six seconds and looks at every picture: how far
// apart they are, and how long the core keeps the page's thread for one of its frames.
func crankFigures(p *page) {
	eval[bool](p, `(() => {
		const spent = [];
		let now = 0;
		for (const name of Object.keys(crankbay)) {
			const call = crankbay[name];
			if (typeof call !== 'function') continue;
			crankbay[name] = (...args) => {
				const at = performance.now();
				try { return call(...args); } finally { now += performance.now() - at; }
			};
		}
		const frame = document.querySelector('.plate iframe').contentWindow;
		const pictures = [];
		let count = frame.crankbayScene.frames();
		globalThis.crankbayFigures = {spent, pictures};
		const page = () => { spent.push(now); now = 0; requestAnimationFrame(page); };
		requestAnimationFrame(page);
		const scene = () => {
			if (frame.crankbayScene.frames() !== count) { count = frame.crankbayScene.frames(); pictures.push(performance.now()); }
			frame.requestAnimationFrame(scene);
		};
		frame.requestAnimationFrame(scene);
		return true;
	})()`)
	w := studentAt(p.t, p, mouse{p})
	w.act("starter")
	eval[bool](p, `(crankbayFigures.spent.length = 0, crankbayFigures.pictures.length = 0, true)`)
	time.Sleep(6 * time.Second)
	pictures := eval[[]float64](p, `crankbayFigures.pictures`)
	spent := eval[[]float64](p, `crankbayFigures.spent`)
	w.act("starter")
	var gaps []float64
	for i := 1; i < len(pictures); i++ {
		gaps = append(gaps, pictures[i]-pictures[i-1])
	}
	if len(gaps) == 0 || len(spent) == 0 {
		p.fail("no pictures while cranking")
	}
	fmt.Printf("cranking, 1280×720: median %.0f pictures a second, the slowest twentieth under %.0f\n", 1000/median(gaps), 1000/share(gaps, 0.95))
	fmt.Printf("core on the page's thread: median %.2f ms a frame, 95 %% within %.2f ms\n", median(spent), share(spent, 0.95))
}

// cpuTime is what all processes of the browser have used so far [s].
func cpuTime(t *testing.T, p *page) float64 {
	t.Helper()
	all, err := chromedp.CallBrowser(p.ctx, systeminfo.GetProcessInfo, struct{}{})
	require.NoError(t, err)
	var sum float64
	for _, one := range all.ProcessInfo {
		sum += one.CPUTime
	}
	return sum
}

func median(all []float64) float64 { return share(all, 0.5) }

// share is the value that such a share of all values doesn't exceed.
func share(all []float64, part float64) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[min(int(part*float64(len(sorted))), len(sorted)-1)]
}
