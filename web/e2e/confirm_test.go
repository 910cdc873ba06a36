//go:build !js

package e2e

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

// One whole attempt for the grade for every confirming test, with the keyboard alone:
// the engine is made safe, tested, the reading is read off the instrument's own words,
// written down, the sheet handed in, and the downloaded file replayed by the command
// line to the same grade.
func TestEveryConfirmingTestWithTheKeyboard(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	for _, c := range []struct {
		test   string
		opened bool // plugs come out first
		work   func(w *student)
		fields []string // what stands on the sheet afterwards
		next   string
	}{
		{"power_balance", false, (*student).powerBalance, nil, "leakage"},
		{"current", false, (*student).current, []string{"hump_percent"}, "leakage"},
		{"vacuum", false, (*student).vacuum, []string{"vacuum"}, "leakage"},
		{"bubbles", false, (*student).bubbles, nil, "leakage"},
		{"cooling_pressure", false, (*student).cooling, nil, "leakage"},
		{"lash", false, (*student).lash, []string{"lash_intake", "lash_exhaust"}, "leakage"},
		{"timing_marks", false, (*student).timing, []string{"timing_deg"}, "leakage"},
		{"running", false, (*student).running, []string{"running_idle", "running_snap"}, "leakage"},
		{"leakage", true, (*student).leakage, []string{"leakage_percent", "leakage_supply"}, "none"},
		{"plug_look", true, (*student).plugLook, nil, "leakage"},
		{"borescope", true, (*student).borescope, nil, "leakage"},
		{"repeat", true, (*student).repeat, []string{"dry_last", "repeat_last"}, "leakage"},
		{"second_gauge", true, (*student).secondGauge, []string{"dry_last", "second_last"}, "leakage"},
		{"refit", true, (*student).refit, []string{"dry_last", "refit_last"}, "leakage"},
		{"wet", true, (*student).wetBesideHealthy, []string{"dry_last", "wet_last"}, "leakage"},
	} {
		t.Run(c.test, func(t *testing.T) {
			p.t = t
			p.visit("")
			w := studentAt(t, p, keyboard{p})
			w.begin("grade")
			w.safe(c.opened)
			w.openTest(c.test)
			c.work(w)
			w.concludeShortly(c.next)
			w.handIn()
			points, outOf, _ := w.graded()
			again, file := w.handedIn(t)
			assert.InDelta(t, again.Grade.Points, points, 0.051, "the command line grades as the page did")
			assert.Equal(t, again.Grade.OutOf, outOf)
			assert.True(t, again.HandedIn)
			for _, field := range c.fields {
				assert.Positive(t, count(file, "write", field), "%s stands on the sheet", field)
			}
			for _, row := range again.Grade.Rows {
				for _, line := range row.Lines {
					if line.Rule == "no_number_invented" || line.Rule == "heard_written" {
						assert.True(t, line.Passed, "%s cylinder %d", line.Rule, line.Cylinder)
					}
				}
			}
		})
	}
	p.t = t
	quiet(t, p)
}

// concludeShortly names the fault; what it rests on was marked before.
func (w *student) concludeShortly(next string) {
	w.p.t.Helper()
	w.h.choose(`select[name="family"]`, "valve_leak")
	w.act("finding-cylinder", "cylinder", 3)
	w.act("finding")
	w.act("sure.likely")
	w.h.choose(`select[name="next-test"]`, next)
}

// attemptLog is the part of an attempt file that is looked at here.
type attemptLog struct {
	Actions []struct {
		Kind     string  `json:"kind"`
		Choice   string  `json:"choice"`
		Cylinder int     `json:"cylinder"`
		Number   float64 `json:"number"`
	} `json:"actions"`
}

func count(f attemptLog, kind, choice string) (n int) {
	for _, a := range f.Actions {
		if a.Kind == kind && a.Choice == choice {
			n++
		}
	}
	return n
}

// handedIn downloads the attempt, has the command line verify it, and reads it.
func (w *student) handedIn(t *testing.T) (verified, attemptLog) {
	t.Helper()
	name := w.p.download(css("act", "download-attempt"))
	again := verify(t, name)
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	var f attemptLog
	require.NoError(t, json.Unmarshal(data, &f))
	return again, f
}

// openTest opens a test of the list and lets the page bring it into sight, so that
// nothing moves under the next touch.
func (w *student) openTest(test string) {
	w.p.t.Helper()
	w.h.press(fmt.Sprintf(`[data-test=%q] > summary`, test))
	eval[any](w.p, `new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`)
}

// safe makes the engine safe to crank, by its card, with the plugs in or out.
func (w *student) safe(opened bool) {
	w.p.t.Helper()
	for _, kind := range []string{"glasses", "belts-check", "fluids-check", "brake", "chocks"} {
		w.act(kind)
	}
	if !opened {
		return // the tests that need fuel and spark, and those that don't, say so themselves
	}
	w.dead()
	w.act("wells-blow")
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		w.act("plug-out", "cylinder", cyl)
	}
	w.tools()
}

// dead disables fuel and ignition, with the battery on the charger.
func (w *student) dead() {
	w.p.t.Helper()
	for _, kind := range []string{"fuel", "ignition", "charger"} {
		w.act(kind)
	}
}

// tools takes gauge and adapter in hand and connects the remote switch.
func (w *student) tools() {
	w.p.t.Helper()
	for _, a := range w.s.Tools.Adapters {
		if a.ThreadMM == w.s.Card.ThreadMM && a.ReachMM == w.s.Card.ReachMM && a.ORing == w.s.Card.ORing {
			w.act("adapter", "choice", a.ID)
		}
	}
	w.act("gauge", "choice", w.s.Tools.Gauges[0].ID)
	w.act("gauge-prove")
	w.act("switch.remote")
}

// said asks an instrument for words and returns the middle of the numbers in them.
func (w *student) said(what string) float64 {
	w.p.t.Helper()
	w.act("words." + what)
	at := fmt.Sprintf(`document.querySelector('[data-said=%q]')`, what)
	w.p.waitFor(`!!`+at+`?.textContent`, "the words of "+what)
	return middle(w.p, eval[string](w.p, at+`.textContent`))
}

func middle(p *page, text string) float64 {
	p.t.Helper()
	all := numbers.FindAllString(text, -1)
	require.NotEmpty(p.t, all, text)
	sum := 0.0
	for _, s := range all {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(p.t, err)
		sum += v
	}
	return sum / float64(len(all))
}

// table reads a table of two columns, cylinder and number.
func (p *page) table(sel string) map[int]float64 {
	p.t.Helper()
	rows := eval[[][]string](p, fmt.Sprintf(`[...document.querySelectorAll(%q)].map((r) => [...r.children].map((c) => c.textContent))`, sel+" tbody tr"))
	out := map[int]float64{}
	for _, r := range rows {
		cyl, err := strconv.Atoi(r[0])
		if err != nil {
			continue
		}
		v, err := strconv.ParseFloat(r[1], 64)
		require.NoError(p.t, err)
		out[cyl] = v
	}
	return out
}

func (w *student) powerBalance() {
	w.act("power-balance")
	w.p.waitFor(`!!document.querySelector('[data-test="power_balance"] table')`, "the tachometer's table")
	speeds := w.p.table(`[data-test="power_balance"] table`)
	require.Len(w.p.t, speeds, w.s.Engine.Cylinders)
	assert.Greater(w.p.t, speeds[3], speeds[1], "the leaking cylinder is missed less")
	w.h.press(`input[data-evidence="power_balance"]`)
}

// stripped clamps the meter round the cable and cranks until there is a strip.
func (w *student) stripped() {
	w.p.t.Helper()
	w.act("clamp")
	w.cranks5()
}

// cranks5 cranks for five seconds of bench time, with the switch let go by itself.
func (w *student) cranks5() {
	w.p.t.Helper()
	from := w.p.snapshot().Tick
	w.act("crank-5")
	if !until(func() bool {
		s := w.p.snapshot()
		return s.Tick >= from+5*1200 && !s.Starter
	}) {
		w.p.fail("five seconds of cranking don't pass")
	}
	w.rest()
}

func (w *student) current() {
	w.dead()
	w.stripped()
	w.act("words.clamp")
	w.p.waitFor(`!!document.querySelector('table[data-said="clamp"]')`, "the strip in words")
	heights := w.p.table(`table[data-said="clamp"]`)
	require.Len(w.p.t, heights, w.s.Engine.Cylinders)
	mean := 0.0
	for _, h := range heights {
		mean += h / float64(len(heights))
	}
	for cyl := 1; cyl <= len(heights); cyl++ {
		w.write("hump_percent", cyl, math.Round(100*heights[cyl]/mean))
	}
	assert.Less(w.p.t, heights[3], heights[1])
	assert.True(w.p.t, eval[bool](w.p, `!!document.querySelector('.strip-paper path')`), "the strip is drawn too")
	w.h.press(`input[data-evidence="current"]`)
}

func (w *student) vacuum() {
	w.dead()
	w.act("vacuum-gauge")
	w.act("starter") // toggled, so that the hands are free to ask
	w.p.waitFor(`JSON.parse(crankbay.view()).state.starter`, "the starter")
	w.passes(3 * 1200)
	v := w.said("vacuum")
	w.act("starter")
	w.rest()
	w.write("vacuum", 0, v)
	w.h.press(`input[data-evidence="vacuum"]`)
}

func (w *student) bubbles() {
	w.dead()
	w.act("coolant-watch")
	w.cranks5()
	w.p.waitFor(`JSON.parse(crankbay.view()).tests.found.some((f) => f.kind === 'coolant-watch')`, "what the neck showed")
}

func (w *student) cooling() {
	w.act("cooling-pressure")
	w.said("cooling")
	w.write("cooling_drop", 0, 0)
	w.h.press(`input[data-evidence="cooling_pressure"]`)
}

func (w *student) lash() {
	for _, cyl := range []int{1, 3} {
		w.act("lash-check", "cylinder", cyl)
		w.write("lash_intake", cyl, 0.008)
		w.write("lash_exhaust", cyl, 0.012)
	}
	assert.Equal(w.p.t, 2, eval[int](w.p, `document.querySelectorAll('.lash-figure svg').length`))
	w.h.choose(`select[name="valve"]`, "intake")
	w.h.write(`input[name="amount-set-lash"]`, "0.010")
	w.act("set-lash", "cylinder", 1)
	w.p.waitFor(`document.querySelector('[data-out="lash-set"]')?.textContent.includes('Cylinder 1, intake: set to 0.010 in')`, "what was set")
	assert.Equal(w.p.t, 1, eval[int](w.p, `document.querySelectorAll('.lash-figure svg').length`), "what was measured there is no more so")
	w.h.press(`input[data-evidence="lash"]`)
}

func (w *student) timing() {
	w.act("timing-check")
	assert.Contains(w.p.t, eval[string](w.p, `document.querySelector('.marks-figure svg').getAttribute('aria-label')`), "stands at its pointer")
	w.write("timing_deg", 0, 0)
	w.h.press(`input[data-evidence="timing_marks"]`)
}

func (w *student) running() {
	w.dead()
	w.act("wells-blow")
	w.act("plug-out", "cylinder", 2)
	w.tools()
	w.act("disable-one", "cylinder", 2)
	w.act("hose-on", "cylinder", 2)
	w.act("plug-leads-on")
	w.act("ignition") // back on
	w.act("fuel")
	w.act("engine-run")
	for _, c := range [][2]string{{"release", "running_idle"}, {"snap", "running_snap"}} {
		done := w.p.done()
		w.act(c[0])
		w.p.waitFor(fmt.Sprintf(`JSON.parse(crankbay.save()).actions.length > %d && !!document.querySelector('.notice.stands')`, done), "the gauge to pump up")
		w.write(c[1], 2, w.words())
	}
	w.act("engine-run")
	w.rest()
	w.h.press(`input[data-evidence="running"]`)
}

// aired puts air on cylinder 3 at the top of its compression and waits for the needle.
func (w *student) aired() {
	w.p.t.Helper()
	w.h.choose(`[data-test="leakage"] select[name="stop"]`, "tdc")
	w.act("turn-by-hand", "cylinder", 3)
	w.act("wrench")
	w.act("tester-on", "cylinder", 3)
	w.act("air.on")
	w.p.waitFor(`JSON.parse(crankbay.view()).tests.steady`, "the tester to stand")
}

func (w *student) leakage() {
	w.aired()
	w.write("leakage_percent", 3, w.said("tester"))
	w.write("leakage_supply", 0, 100)
	for i, place := range []string{"throttle", "tailpipe", "oil_filler"} {
		w.act("listen", "choice", place)
		line := fmt.Sprintf(`document.querySelectorAll('.heard-list li')[%d]?.querySelector('b').textContent`, i)
		w.p.waitFor(line, "what was heard there")
		air := eval[string](w.p, line) == "air"
		assert.True(w.p.t, air || place != "tailpipe", "the burnt exhaust valve")
		if air {
			w.act("heard", "choice", place, "cylinder", 3)
		}
	}
	w.act("air.off")
	w.act("tester-off")
	w.h.press(`input[data-evidence="leakage"]`)
}

func (w *student) plugLook() {
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		w.act("plug-look", "cylinder", cyl)
	}
	assert.Equal(w.p.t, w.s.Engine.Cylinders, eval[int](w.p, `document.querySelectorAll('.plug-figure svg').length`))
	w.h.press(`input[data-evidence="plug_look"]`)
}

func (w *student) borescope() {
	w.act("borescope", "cylinder", 3)
	assert.Contains(w.p.t, eval[string](w.p, `document.querySelector('.bore-figure').textContent`), "out of sight")
	w.h.press(`input[data-evidence="borescope"]`)
}

// cranked cranks one cylinder by single strokes and returns its last reading.
func (w *student) cranked(cyl int) float64 {
	w.p.t.Helper()
	w.act("hose-on", "cylinder", cyl)
	w.act("turn-by-hand", "cylinder", cyl)
	w.act("wrench")
	for range w.strokes() {
		w.act("stroke")
	}
	w.act("starter")
	w.rest()
	last := w.words()
	w.act("release")
	w.rest()
	w.act("hose-off")
	return last
}

func (w *student) repeat() {
	w.write("dry_last", 3, w.cranked(3))
	w.write("repeat_last", 3, w.cranked(3))
	w.h.press(`input[data-evidence="repeat"]`)
}

func (w *student) secondGauge() {
	w.write("dry_last", 3, w.cranked(3))
	w.act("gauge", "choice", w.s.Tools.Gauges[1].ID)
	w.act("gauge-prove")
	w.write("second_last", 3, w.cranked(3))
	w.h.press(`input[data-evidence="second_gauge"]`)
}

func (w *student) refit() {
	w.write("dry_last", 3, w.cranked(3))
	w.act("plug-in", "cylinder", 2)
	w.write("refit_last", 3, w.cranked(3))
	w.act("plug-out", "cylinder", 2)
	w.h.press(`input[data-evidence="refit"]`)
}

func (w *student) wetBesideHealthy() {
	for _, cyl := range []int{3, 1} {
		w.write("dry_last", cyl, w.cranked(cyl))
		w.oil(cyl)
		w.write("wet_last", cyl, w.cranked(cyl))
		w.write("oil_ml", cyl, w.s.Card.OilML)
	}
	w.h.press(`input[data-evidence="wet"]`)
}

// Where humps lie on each other the page says so, asks for no percents, and still names
// the one that towers; where an engine fires unevenly it says which to compare.
func TestAStripThatCantCompare(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "lang=en")
	at := func(id string) *student {
		p.visit("lang=en")
		p.openFile(attemptAt(t, id, "grade", "do glasses on\ndo belts-check\ndo brake on\ndo warm-up number 25"))
		w := &student{p: p, h: keyboard{p}, s: scenarios.Find(id)}
		w.h.press("#tab-tests")
		w.openTest("current")
		return w
	}
	note := func() string { return p.text(`[data-test="current"] [data-compare]`) }
	w := at("dead-exhaust-v8")
	assert.Contains(t, note(), "can't be compared one by one")
	w.dead()
	w.stripped()
	w.act("words.clamp")
	p.waitFor(`!!document.querySelector('table[data-said="clamp"]')`, "the strip in words")
	assert.Contains(t, p.text(`table[data-said="clamp"]`), "Hump 1 stands far over all others")
	assert.False(t, eval[bool](p, `!!document.querySelector('[data-field="hump_percent"]')`), "no percent to write")
	at("sound-odd-fire-v6")
	assert.Contains(t, note(), "1-5-3, 6-4-2")
	at("sound-single")
	assert.Contains(t, note(), "nothing to compare with")
	quiet(t, p)
}

// The engine of these tests has what they look for.
func TestTheEngineOfTheseTests(t *testing.T) {
	s := scenarios.Find(faulty)
	require.NotNil(t, s)
	assert.Equal(t, 4, s.Engine.Cylinders)
	assert.True(t, s.Card.LashCheck)
	require.GreaterOrEqual(t, len(s.Tools.Gauges), 2, "a second gauge lies on the tray")
	assert.Equal(t, []int{3}, s.Key.Cylinders)
}
