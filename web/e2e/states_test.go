//go:build !js

package e2e

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"crankbay/diagnose"
	"crankbay/scenarios"
	"crankbay/scenarios/attempt"
	"crankbay/scenarios/coach"
	"crankbay/sim/bench"
	"crankbay/sim/record"
)

// far says how far an attempt has come.
type far int

const (
	prepared far = iota // everything ready, the hose in hand
	cranking            // the hose on cylinder 3, a few strokes done
	finished            // everything done, nothing handed in
)

// attemptAt makes an attempt outside the browser, by the coach's advice, and
// returns its file.
func attemptAt(t *testing.T, id, mode string, stage far) string {
	t.Helper()
	s := scenarios.Find(id)
	require.NotNil(t, s)
	a, err := attempt.New(s, attempt.Header{Mode: mode, Who: "Browser test"})
	require.NoError(t, err)
	for range 400 {
		next := coach.Next(coach.Of(s, a.Bench(), a.Sheet()))
		hoseOn := next.Key == "hose_on"
		if next.Key == "hand_in" || stage == prepared && hoseOn || stage == cranking && a.State().HoseOn == 3 && a.State().Starter {
			break
		}
		follow(t, a, s, next)
	}
	if stage == cranking {
		a.StrokeStep()
		a.StrokeStep()
		require.NoError(t, a.Do(record.Action{Kind: bench.KindStarter, Choice: "off"}))
		a.Settle()
	}
	data, err := a.Encode()
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "attempt.json")
	require.NoError(t, os.WriteFile(name, data, 0o644))
	return name
}

// follow does what the coach offers, or what the answer key would.
func follow(t *testing.T, a *attempt.Session, s *scenarios.Scenario, next coach.Suggestion) {
	t.Helper()
	do := func(x record.Action) { require.NoError(t, a.Do(x), "%+v", next) }
	if next.Action != nil {
		for range 6 {
			if next.Key == "count_then_stop" {
				a.StrokeStep()
			}
		}
		do(*next.Action)
		a.Settle()
		return
	}
	switch next.Key {
	case "spec", "spec_other_page":
		do(record.Action{Kind: bench.KindSpec, Choice: s.RightPage})
	case "write":
		do(record.Action{Kind: attempt.KindWrite, Choice: next.Field, Cylinder: next.Cylinder, Number: shownFor(a, s, next)})
	case "conclude":
		do(record.Action{Kind: attempt.KindFinding, Choice: s.Key.Family, Cylinder: s.Key.Cylinders[0]})
	case "sure":
		do(record.Action{Kind: attempt.KindSure, Choice: "likely"})
	case "evidence":
		do(record.Action{Kind: attempt.KindEvidence, Choice: "dry"})
	case "next_test":
		do(record.Action{Kind: attempt.KindNextTest, Choice: s.Key.NextTests[0]})
	case "remark":
		do(record.Action{Kind: attempt.KindRemark, Text: "It may smoke at first."})
	default:
		t.Fatalf("no way to follow %+v", next)
	}
}

// shownFor is what the bench showed for a field.
func shownFor(a *attempt.Session, s *scenarios.Scenario, next coach.Suggestion) float64 {
	l := s.Card.Limits
	switch next.Field {
	case diagnose.FieldSpecStandard:
		return float64(l.Standard)
	case diagnose.FieldSpecMinimum:
		return float64(l.Minimum)
	case diagnose.FieldSpecDifference:
		return float64(l.DifferenceMax)
	case diagnose.FieldThrottle:
		return 1
	case diagnose.FieldOilML:
		return s.Card.OilML
	}
	runs := a.Record().Runs
	r := runs[len(runs)-1]
	for i := len(runs) - 1; i >= 0 && r.Cylinder != next.Cylinder && next.Cylinder != 0; i-- {
		r = runs[i]
	}
	return map[string]float64{
		diagnose.FieldDryFirst: r.Strokes[0].Shown, diagnose.FieldWetFirst: r.Strokes[0].Shown,
		diagnose.FieldDryLast: r.Strokes[len(r.Strokes)-1].Shown, diagnose.FieldWetLast: r.Strokes[len(r.Strokes)-1].Shown,
		diagnose.FieldStrokes: float64(r.Full()), diagnose.FieldWetStrokes: float64(r.Full()),
		diagnose.FieldRPM: r.SpeedRPM, diagnose.FieldBatteryV: r.BatteryMinV, diagnose.FieldCoolantC: r.CoolantC,
	}[next.Field]
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
	time.Sleep(400 * time.Millisecond)
}

// The accessibility checker finds nothing in any place, light or dark, in either
// language.
func TestAccessible(t *testing.T) {
	src := axeSource(t)
	for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844, dark: true}} {
		t.Run(fmt.Sprintf("%dx%d", l.width, l.height), func(t *testing.T) {
			p := open(t, l, "")
			p.dress(l)
			p.accessible(src, "Yard")
			p.openFile(attemptAt(t, faulty, "reasons", cranking))
			p.accessible(src, "Bay")
			for _, stage := range eval[[]string](p, `[...document.querySelectorAll('[role=tab]')].map((e) => e.id)`) {
				mouse{p}.press("#" + stage)
				p.accessible(src, "Bay, "+stage)
			}
			mouse{p}.press(css("act", "words"))
			mouse{p}.press(css("act", "language"))
			p.waitFor(`document.documentElement.lang === 'es'`, "Spanish")
			p.accessible(src, "Bay in Spanish")
			mouse{p}.press(css("act", "hand-in"))
			p.accessible(src, "Bay, asked whether to hand in")
			mouse{p}.press(css("act", "hand-in-now"))
			p.waitFor(`!!document.querySelector('main.debrief')`, "the Debrief")
			p.accessible(src, "Debrief")
			quiet(t, p)
		})
	}
}

// Pictures of every place, for a person to look at; run by `make screens`.
func TestScreens(t *testing.T) {
	if os.Getenv("SCREENS") == "" {
		t.Skip("pictures are taken by 'make screens'")
	}
	require.NoError(t, os.MkdirAll("screens", 0o755))
	p := open(t, look{}, "")
	var looks []look
	for _, size := range [][2]int64{{1280, 800}, {768, 1024}, {390, 844}} {
		looks = append(looks, look{width: size[0], height: size[1]}, look{width: size[0], height: size[1], dark: true})
	}
	p.pictures("yard", looks, func() {})
	p.openFile(attemptAt(t, faulty, "reasons", prepared))
	p.pictures("bay-prepared", looks, p.drawn)
	p.visit("")
	p.openFile(attemptAt(t, faulty, "grade", cranking))
	mouse{p}.press("#tab-crank")
	p.pictures("bay-cranking", looks, p.drawn)
	p.visit("")
	p.openFile(attemptAt(t, faulty, "grade", finished))
	mouse{p}.press(css("act", "hand-in"))
	mouse{p}.press(css("act", "hand-in-now"))
	p.waitFor(`!!document.querySelector('main.debrief')`, "the Debrief")
	p.pictures("debrief", looks, func() {})
	quiet(t, p)
}

// pictures takes one picture of the viewport and one of the whole page per look.
func (p *page) pictures(name string, looks []look, ready func()) {
	p.t.Helper()
	for _, l := range looks {
		p.dress(l)
		eval[any](p, `scrollTo(0, 0)`)
		ready()
		theme := "light"
		if l.dark {
			theme = "dark"
		}
		for kind, shot := range map[string]chromedp.Action[[]byte]{
			"": chromedp.CaptureScreenshot(), "-whole": chromedp.FullScreenshot(100),
		} {
			png, err := chromedp.Run(p.ctx, shot)
			require.NoError(p.t, err)
			file := fmt.Sprintf("%s-%dx%d-%s%s.png", name, l.width, l.height, theme, kind)
			require.NoError(p.t, os.WriteFile(filepath.Join("screens", file), png, 0o644))
		}
	}
}
