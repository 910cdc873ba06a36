//go:build !js

package e2e

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A visitor has no guide but the page: does what the coach's line offers to do, goes
// where it leads, and writes what the page shows.
type visitor struct {
	*student
	first float64
	last  float64
	keys  []string
}

// suggestion is what the line of the coach says now: its key, and which of its
// buttons there is, "suggested", "suggested-place" or none.
func (v *visitor) suggestion() (key, button string) {
	v.p.t.Helper()
	at := eval[[]string](v.p, `(() => {
		const line = document.querySelector('.suggest');
		return [line?.dataset.suggest ?? '', line?.querySelector('button')?.dataset.act ?? '', line?.innerText ?? ''];
	})()`)
	return at[0], at[1]
}

// here goes to the place that the line shows and returns what has the focus then.
func (v *visitor) here() string {
	v.p.t.Helper()
	v.act("suggested-place")
	v.p.waitFor(`document.activeElement !== document.body && !document.activeElement.matches('[data-act="suggested-place"]')`, "the place that was shown")
	return eval[string](v.p, `(() => {
		const e = document.activeElement, r = e.getBoundingClientRect();
		const at = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
		if (!(e === at || e.contains(at))) return 'under something: ' + at?.outerHTML.slice(0, 80);
		return e.dataset.field ? 'write ' + e.dataset.field + ' ' + e.dataset.cylinder : e.name || e.dataset.act || e.dataset.evidence;
	})()`)
}

// crank turns as often as the card asks, stroke by stroke, with an eye on the needle.
func (v *visitor) crank() {
	v.p.t.Helper()
	for i := range v.strokes() {
		v.act("stroke")
		if i == 0 {
			v.first = v.words()
		}
	}
	v.act("starter")
	v.rest()
	v.last = v.words()
}

// number is what the visitor writes into a field.
func (v *visitor) number(field string) float64 {
	v.p.t.Helper()
	held := func(name string) float64 {
		return middle(v.p, v.p.text(`.strip [data-held="`+name+`"]`))
	}
	switch field {
	case "dry_first":
		return v.first
	case "dry_last":
		return v.last
	case "strokes":
		return float64(v.strokes())
	case "rpm":
		return held("rpm")
	case "battery_v":
		return held("volts")
	case "coolant_c":
		return middle(v.p, eval[string](v.p, `[...document.querySelectorAll('.facts div')].find((e) => /Coolant|Refrigerante/.test(e.textContent) && e.checkVisibility()).querySelector('dd').textContent`))
	case "spec_standard":
		return v.s.Card.Limits.Standard.PSI()
	case "spec_minimum":
		return v.s.Card.Limits.Minimum.PSI()
	case "spec_difference":
		return v.s.Card.Limits.DifferenceMax.PSI()
	}
	v.p.fail("no visitor knows what to write for %s after %v", field, v.keys)
	return 0
}

// think does what the page leaves to the visitor.
func (v *visitor) think(key string) {
	v.p.t.Helper()
	at := v.here()
	assert.NotContains(v.p.t, at, "under something", key)
	switch key {
	case "spec", "spec_other_page":
		v.p.arrowTo(`select[name="page"]`, v.s.RightPage)
		v.act("spec-look-up")
	case "write":
		part := strings.Fields(at)
		if part[1] == "throttle" {
			v.p.arrowTo(":focus", "1")
			return
		}
		v.p.typeOver(plain(v.number(part[1])))
	case "conclude":
		v.h.choose(`select[name="family"]`, "sound")
		v.act("finding")
	case "sure":
		v.act("sure.likely")
	case "evidence":
		v.h.press(`input[data-evidence="dry"]`)
	case "next_test":
		v.h.choose(`select[name="next-test"]`, "none")
	case "remark":
		v.h.write(`textarea[name="remark"]`, "All cylinders read alike.")
	default:
		v.p.fail("the page says %q and not how", key)
	}
}

// Somebody who comes for the first time, on a phone and with nothing but the page,
// finishes a healthy engine with reasons and passes: in English, and in Spanish on the
// smallest phone.
func TestFirstFiveMinutes(t *testing.T) {
	for _, c := range []struct {
		lang, passed  string
		width, height int64
	}{{"en", "Passed", 390, 844}, {"es", "Aprobado", 320, 640}} {
		t.Run(c.lang, func(t *testing.T) {
			p := open(t, look{width: c.width, height: c.height, noWebGL: true}, "lang="+c.lang)
			v := &visitor{student: studentAt(t, p, mouse{p})}
			v.act("first")
			p.waitFor(`!!document.querySelector('main.bay')`, "the Bay")
			v.s = scenarioOf(t, "sound-inline-four")
			assert.Contains(t, v.untilGraded(), c.passed, "%v", v.keys)
			assert.Empty(t, eval[[]string](p, cut), "all of the debrief can be read")
			quiet(t, p)
		})
	}
}

// untilGraded does what the page says until the sheet is handed in, and returns the verdict.
func (v *visitor) untilGraded() string {
	p := v.p
	p.t.Helper()
	for range 250 {
		key, button := v.suggestion()
		if key == "" {
			p.fail("the page says nothing more: %v", v.keys)
		}
		v.keys = append(v.keys, key)
		switch {
		case key == "hand_in":
			assert.Equal(p.t, "1", eval[string](p, `document.querySelector('select[data-field="throttle"]').value`), "what was chosen stays")
			v.handIn()
			points, outOf, verdict := v.graded()
			p.t.Logf("%d steps, %s: %g of %g", len(v.keys), verdict, points, outOf)
			return verdict
		case key == "crank":
			v.crank()
		case button == "suggested":
			v.act("suggested")
			v.rest()
		default:
			v.think(key)
		}
	}
	p.fail("no end: %v", v.keys)
	return ""
}
