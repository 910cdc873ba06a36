//go:build !js

package e2e

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
)

// stopped says where the focus is, and whether any of it can be seen: nine points of
// what has it are looked at, and one must not lie under something else or outside.
const stopped = `(() => {
	const e = document.activeElement;
	if (!e || e === document.body || e === document.documentElement) return {at: '', seen: true};
	const at = [...document.querySelectorAll('*')].indexOf(e) + ' ' + e.outerHTML.slice(0, 140);
	const shown = e.matches('input[type=file]') ? e.closest('label') ?? e : e;
	const r = shown.getBoundingClientRect();
	const own = (hit) => hit && (shown.contains(hit) || hit.contains(shown) && hit !== document.body && hit !== document.documentElement && !hit.matches('#page, main') || hit.closest('label')?.contains(e));
	let seen = false;
	for (const fx of [0.1, 0.5, 0.9]) for (const fy of [0.1, 0.5, 0.9]) seen ||= own(document.elementFromPoint(r.left + fx * r.width, r.top + fy * r.height));
	return {at, seen: Boolean(seen)};
})()`

type focused struct {
	At   string `json:"at"`
	Seen bool   `json:"seen"`
}

// Wherever Tab leads, what has the focus is never wholly hidden: not under what sticks
// to the top, not under the bar at the bottom, not under a notice (WCAG 2.4.11).
func TestFocusIsNeverHidden(t *testing.T) {
	t.Parallel()
	p := open(t, look{noWebGL: true}, "")
	for _, l := range []look{{width: 1280, height: 800}, {width: 390, height: 844}, {width: 360, height: 640}} {
		for _, s := range sights {
			switch s.name {
			case "yard", "bay-tests", "bay-cranking", "bay-leakage", "bay-back", "bay-handing-in", "debrief", "opinion", "desk-composed":
			default:
				continue
			}
			t.Run(fmt.Sprintf("%s/%dx%d", s.name, l.width, l.height), func(t *testing.T) {
				p.t = t
				p.dress(l)
				p.sight(s, "lang=es")
				for i := range 400 {
					p.key(kb.Tab)
					got := eval[focused](p, stopped)
					seen := got.Seen || until(func() bool { // what scrolls may still be on its way
						got = eval[focused](p, stopped)
						return got.Seen
					})
					if !assert.True(t, seen, "hidden: %s", got.At) || got.At == "" && i > 5 {
						return
					}
				}
			})
		}
	}
	p.t = t
}

// tiny lists what can be pressed and is smaller than 24 by 24 pixels, unless it stands
// in a line of text (WCAG 2.5.8). What a label belongs to is pressed by the label too.
const tiny = `[...document.querySelectorAll('button, summary, select, input, a[href], [role=tab]')]
	.filter((e) => e.checkVisibility({visibilityProperty: true}) && getComputedStyle(e).clipPath === 'none' && !e.closest('.skip') && !e.matches('p a, li p a, td a, .list a'))
	.map((e) => [e, (e.matches('input[type=checkbox], input[type=radio], input[type=file]') ? e.closest('label') ?? e : e).getBoundingClientRect()])
	.filter(([e, r]) => r.width > 0 && (r.height < 24 || r.width < 24))
	.map(([e, r]) => e.outerHTML.slice(0, 120) + ' ' + Math.round(r.width) + 'x' + Math.round(r.height))`
