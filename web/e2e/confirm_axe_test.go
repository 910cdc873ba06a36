//go:build !js

package e2e

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The accessibility checker finds nothing with any of the tests open and its
// instrument or drawing in sight, light or dark. The work is done on a phone.
func TestConfirmingTestsAccessible(t *testing.T) {
	t.Parallel()
	src := axeSource(t)
	phone := look{width: 390, height: 844, dark: true, noWebGL: true}
	p := open(t, phone, "")
	p.dress(phone)
	w := studentAt(t, p, mouse{p})
	w.begin("reasons")
	w.safe(false)
	see := func(test string, work func(w *student)) {
		p.t.Helper()
		w.h.press("#tab-tests")
		w.openTest(test)
		work(w)
		w.h.press("#tab-tests")
		for _, l := range []look{{width: 1280, height: 800}, phone} {
			p.dress(l)
			p.accessible(src, test)
			assert.Empty(t, eval[[]string](p, small), "%s: something to press is smaller than a finger", test)
		}
	}
	see("power_balance", func(w *student) { w.act("power-balance") })
	see("lash", func(w *student) { w.act("lash-check", "cylinder", 1) })
	see("timing_marks", func(w *student) { w.act("timing-check") })
	see("cooling_pressure", func(w *student) { w.act("cooling-pressure"); w.act("words.cooling") })
	see("current", (*student).current)
	see("vacuum", func(w *student) { w.act("vacuum-gauge"); w.act("words.vacuum") })
	see("bubbles", func(w *student) {})
	w.act("wells-blow")
	for cyl := 1; cyl <= w.s.Engine.Cylinders; cyl++ {
		w.act("plug-out", "cylinder", cyl)
	}
	see("plug_look", func(w *student) { w.act("plug-look", "cylinder", 1) })
	see("borescope", func(w *student) { w.act("borescope", "cylinder", 1) })
	see("leakage", (*student).leakage)
	for _, test := range []string{"repeat", "second_gauge", "refit", "wet", "running"} {
		see(test, func(w *student) {})
	}
	assert.NotEmpty(t, eval[[]string](p, strings.ReplaceAll(small, "43.5", "443.5")), "the ruler itself: of larger fingers they complain")
	quiet(t, p)
}

// small lists what can be pressed in the Bay and is smaller than 44 by 44 pixels. A
// checkbox or radio button is pressed by its label too.
const small = `[...document.querySelectorAll('main.bay button, main.bay summary, main.bay select, main.bay a[href], main.bay label:has(input[type=checkbox], input[type=radio])')]
	.filter((e) => e.checkVisibility({visibilityProperty: true}) && getComputedStyle(e).clipPath === 'none')
	.map((e) => [e, e.getBoundingClientRect()])
	.filter(([e, r]) => r.width > 0 && (r.height < (e.matches('label') && matchMedia('(pointer: fine)').matches ? 35.5 : 43.5) || r.width < 43.5))
	.map(([e, r]) => e.outerHTML.slice(0, 120) + ' ' + Math.round(r.width) + 'x' + Math.round(r.height))`
