//go:build !js

package e2e

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"crankbay/scenarios"
)

// A student is one person at the page: hands, and what was read so far.
type student struct {
	p *page
	h hands
	s *scenarios.Scenario

	// touch, when set, acts in the drawn Bay instead of on a button where it can.
	touch func(target string, cylinder int) bool
}

func (w *student) act(kind string, pairs ...any) {
	w.p.t.Helper()
	w.h.press(css(append([]any{"act", kind}, pairs...)...))
}

// onCylinder acts on one cylinder, in the drawing if there is one.
func (w *student) onCylinder(kind, drawn string, cyl int) {
	w.p.t.Helper()
	if w.touch != nil && w.touch(drawn, cyl) {
		return
	}
	w.act(kind, "cylinder", cyl)
}

// begin chooses way of working and name, and opens the scenario.
func (w *student) begin(mode string) {
	w.p.t.Helper()
	w.h.write(`input[name="who"]`, "Browser test")
	w.h.press(fmt.Sprintf(`input[name="mode"][value=%q]`, mode))
	w.h.press(css("act", "open", "scenario", w.s.ID))
	w.p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
}

// prepare does all that comes before the first hose.
func (w *student) prepare() {
	w.p.t.Helper()
	for _, kind := range []string{"glasses", "belts-check", "fluids-check", "brake", "chocks"} {
		w.act(kind)
	}
	w.h.choose(`select[name="page"]`, w.s.RightPage)
	w.act("spec-look-up")
	w.h.write(`input[name="amount-warm-up"]`, "25")
	for _, kind := range []string{"warm-up", "fuel", "ignition", "charger", "wells-blow"} {
		w.act(kind)
	}
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		w.onCylinder("plug-out", "plug", cyl)
	}
	for _, a := range w.s.Tools.Adapters {
		if a.ThreadMM == w.s.Card.ThreadMM && a.ReachMM == w.s.Card.ReachMM && a.ORing == w.s.Card.ORing {
			w.act("adapter", "choice", a.ID)
		}
	}
	w.act("gauge", "choice", w.s.Tools.Gauges[0].ID)
	w.act("gauge-prove")
	w.act("switch.remote")
	w.act("voltmeter")
	w.act("tachometer")
	w.act("throttle.open")
	for _, item := range []string{"glasses", "brake", "fuel", "ignition", "plugs_out"} {
		w.h.press(fmt.Sprintf(`input[data-tick=%q]`, item))
	}
}

// strokes is how often a cylinder is cranked.
func (w *student) strokes() int { return (w.s.Card.StrokesMin + w.s.Card.StrokesMax) / 2 }

// test cranks one cylinder in single strokes and writes first and last reading
// down; kind is dry or wet.
func (w *student) test(cyl int, kind string) (last float64) {
	w.p.t.Helper()
	w.onCylinder("hose-on", "plug", cyl)
	w.act("turn-by-hand", "cylinder", cyl)
	w.act("wrench") // off again
	w.act("stroke")
	first := w.words()
	for range w.strokes() - 1 {
		w.act("stroke")
	}
	w.act("starter") // lets go of the switch
	w.rest()
	last = w.words()
	w.write(kind+"_first", cyl, first)
	w.write(kind+"_last", cyl, last)
	if kind == "wet" {
		w.write("oil_ml", cyl, w.s.Card.OilML)
		w.write("wet_strokes", cyl, float64(w.strokes()))
	} else {
		w.write("strokes", cyl, float64(w.strokes()))
	}
	w.act("release")
	w.rest()
	if w.touch == nil || !w.touch("plug", cyl) {
		w.act("hose-off")
	}
	return last
}

func (w *student) write(field string, cyl int, number float64) {
	w.p.t.Helper()
	w.h.write(css("field", field, "cylinder", cyl), strconv.FormatFloat(number, 'f', -1, 64))
}

// numbers finds the numbers of a sentence.
var numbers = regexp.MustCompile(`\d+(?:\.\d+)?`)

// words asks for the needle in words and returns the middle of what it says, psi.
func (w *student) words() float64 {
	w.p.t.Helper()
	w.act("words")
	w.p.waitFor(`!!document.querySelector('.sheet .words')?.textContent`, "the needle in words")
	text := eval[string](w.p, `document.querySelector('.sheet .words').textContent`)
	require.Contains(w.p.t, text, "psi")
	all := numbers.FindAllString(text, -1)
	require.NotEmpty(w.p.t, all, text)
	sum := 0.0
	for _, s := range all {
		v, err := strconv.ParseFloat(s, 64)
		require.NoError(w.p.t, err)
		sum += v
	}
	return sum / float64(len(all))
}

// rest waits until crank and needle stand still and the release is let go.
func (w *student) rest() {
	w.p.t.Helper()
	before, still := math.NaN(), 0
	if !until(func() bool {
		s := w.p.snapshot()
		if s.Speed == 0 && !s.Starter && !s.Release && s.Needle == before {
			still++
		} else {
			still = 0
		}
		before = s.Needle
		return still >= 2
	}) {
		w.p.fail("crank and needle don't come to rest")
	}
}

// passes waits until so many ticks of bench time have passed.
func (w *student) passes(ticks int64) {
	w.p.t.Helper()
	from := w.p.snapshot().Tick
	if !until(func() bool { return w.p.snapshot().Tick >= from+ticks }) {
		w.p.fail("bench time stands still")
	}
}

// conditions writes down what real reports leave out.
func (w *student) conditions() {
	w.p.t.Helper()
	w.write("rpm", 1, w.reads(`[data-held="rpm"]`, ""))
	w.write("battery_v", 1, w.reads(`[data-held="volts"]`, ""))
	w.write("coolant_c", 0, w.reads(`#bay-facts`, ` ?°[CF]`)) // in the unit that the page shows
	w.h.choose(css("field", "throttle", "cylinder", 0), "1")
	// The page of the specification prints its figures in psi too; a student
	// writes what it prints.
	limits := w.s.Card.Limits
	for _, x := range []struct {
		field string
		psi   float64
	}{{"spec_standard", limits.Standard.PSI()}, {"spec_minimum", limits.Minimum.PSI()}, {"spec_difference", limits.DifferenceMax.PSI()}} {
		if x.psi > 0 {
			w.write(x.field, 0, math.Round(x.psi))
		}
	}
}

// reads reads a number off the page: the one before an ending, or the only one.
func (w *student) reads(sel, ending string) float64 {
	w.p.t.Helper()
	text := eval[string](w.p, `document.querySelector('`+sel+`').textContent`)
	found := regexp.MustCompile(`(\d+(?:\.\d+)?)` + ending).FindStringSubmatch(text)
	require.NotNil(w.p.t, found, "%s says %q", sel, text)
	v, err := strconv.ParseFloat(found[1], 64)
	require.NoError(w.p.t, err)
	return v
}

// oil puts the card's amount in a cylinder.
func (w *student) oil(cyl int) {
	w.p.t.Helper()
	w.h.write(`input[name="amount-oil"]`, strconv.FormatFloat(w.s.Card.OilML, 'f', -1, 64))
	w.act("oil", "cylinder", cyl)
}

// conclude names the fault.
func (w *student) conclude(family string, cyl int, next string) {
	w.p.t.Helper()
	w.h.choose(`select[name="family"]`, family)
	w.act("finding-cylinder", "cylinder", cyl)
	w.act("finding")
	w.act("sure.likely")
	for _, e := range []string{"dry", "first_stroke", "wet", "repeat", "spec"} {
		w.h.press(fmt.Sprintf(`input[data-evidence=%q]`, e))
	}
	w.h.choose(`select[name="next-test"]`, next)
	w.h.write(`textarea[name="remark"]`, "One cylinder leaks. It may smoke a little at first: there was oil in two cylinders.")
}

// putBack leaves the engine as it should run.
func (w *student) putBack() {
	w.p.t.Helper()
	w.act("throttle.shut")
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		w.act("plug-in", "cylinder", cyl)
	}
	for _, kind := range []string{"plug-torque", "plug-leads-on", "ignition.enabled", "fuel.enabled", "charger", "engine-start", "codes-clear"} {
		w.act(kind)
	}
}

// handIn ends the attempt and waits for the Debrief.
func (w *student) handIn() {
	w.p.t.Helper()
	w.act("hand-in")
	w.act("hand-in-now")
	w.p.waitFor(`!!document.querySelector('.debrief-grid')`, "the Debrief")
}

// graded reads points and sum from the Debrief.
func (w *student) graded() (points, outOf float64, pass string) {
	w.p.t.Helper()
	text := eval[string](w.p, `document.querySelector('.score').innerText`)
	all := numbers.FindAllString(text, -1)
	require.GreaterOrEqual(w.p.t, len(all), 2, text)
	points, _ = strconv.ParseFloat(all[0], 64)
	outOf, _ = strconv.ParseFloat(all[1], 64)
	return points, outOf, strings.SplitN(text, "\n", 2)[0]
}
