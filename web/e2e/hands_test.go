//go:build !js

package e2e

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Hands work the page the way one kind of visitor would.
type hands interface {
	press(sel string)         // a button, a checkbox, a radio button
	choose(sel, value string) // an option of a list
	write(sel, text string)   // a text or number field, finished by leaving it
	name() string             //
}

// aim marks the control that a selector means, a visible one if there are
// several, and tells what opens the tab it lies behind, if it is hidden. The
// marks are how the hands find it.
func (p *page) aim(sel string) (hidden bool) {
	p.t.Helper()
	q := strconv.Quote(sel)
	p.waitFor(`!!document.querySelector(`+q+`)`, "control "+sel)
	switch eval[string](p, `(() => {
		for (const e of document.querySelectorAll('[data-test-target],[data-test-opener]')) {
			e.removeAttribute('data-test-target');
			e.removeAttribute('data-test-opener');
		}
		const seen = (e) => e.checkVisibility({visibilityProperty: true});
		const all = [...document.querySelectorAll(`+q+`)];
		const el = all.find(seen) ?? all[0];
		el.setAttribute('data-test-target', '');
		globalThis.crankbayAim = () => el.setAttribute('data-test-target', ''); // a page that draws itself anew wipes the mark
		if (seen(el)) return 'there';
		const inside = el.matches('summary') ? el.parentElement.parentElement : el;
		const panel = inside.closest('details:not([open])') ?? inside.closest('[role=tabpanel]');
		const opener = panel?.matches('details') ? panel.querySelector('summary')
			: panel && (document.querySelector('[role=tab][aria-controls="' + panel.id + '"]')
				?? document.getElementById(panel.getAttribute('aria-labelledby')));
		opener?.setAttribute('data-test-opener', '');
		return opener ? 'behind' : 'lost';
	})()`) {
	case "there":
		return false
	case "behind":
		return true
	}
	p.fail("%s is hidden and nothing opens it", sel)
	return false
}

const (
	target = `[data-test-target]`
	opener = `[data-test-opener]`
)

// mouse clicks and types.
type mouse struct{ p *page }

func (m mouse) name() string { return "mouse" }

// click scrolls a control to where nothing lies over it, as a person would, and
// clicks its middle.
func (m mouse) click(sel, name string) {
	m.p.t.Helper()
	at := eval[[]float64](m.p, `(() => {
		const el = document.querySelector(`+strconv.Quote(sel)+`);
		for (const block of ['center', 'end', 'start', 'nearest']) {
			el.scrollIntoView({block, behavior: 'instant'});
			const r = el.getBoundingClientRect();
			const x = r.left + r.width / 2, y = r.top + r.height / 2;
			const hit = document.elementFromPoint(x, y);
			if (hit && (el.contains(hit) || hit.closest('label')?.contains(el))) return [x, y];
		}
		return [];
	})()`)
	if len(at) != 2 {
		m.p.fail("%s lies under something wherever the page is scrolled", name)
	}
	m.p.touch(at[0], at[1])
}

func (m mouse) open(sel string) {
	m.p.t.Helper()
	if m.p.aim(sel) {
		m.click(opener, "the tab of "+sel)
		m.p.waitFor(`document.querySelector('`+target+`')?.checkVisibility()`, "the tab of "+sel)
	}
}

func (m mouse) press(sel string) {
	m.p.t.Helper()
	m.open(sel)
	m.click(target, sel)
}

func (m mouse) choose(sel, value string) {
	m.p.t.Helper()
	m.open(sel)
	m.p.do("choose "+value+" in "+sel, chromedp.Focus(chromedp.CSS(target)))
	m.p.arrowTo(target, value)
}

func (m mouse) write(sel, text string) {
	m.p.t.Helper()
	m.open(sel)
	m.click(target, sel)
	m.p.typeOver(text)
}

// keyboard never touches the mouse: Tab, arrows, Enter, Space, letters.
type keyboard struct{ p *page }

func (k keyboard) name() string { return "keyboard" }

// reach moves the focus to a control by Tab alone (and arrows inside a group of
// radio buttons or tabs), the shorter way round. It fails on a trap.
func (k keyboard) reach(sel string) {
	p := k.p
	p.t.Helper()
	q := strconv.Quote(sel)
	eval[any](p, stopsJS)
	last := -1
	stuck := 0
	for i := 0; i < 600; i++ {
		at := eval[struct {
			There bool   `json:"there"`
			Way   int    `json:"way"`   // Tab stops to go, negative backwards
			Group string `json:"group"` // arrow that leads there inside a group, or empty
		}](p, `crankbayStops(`+q+`)`)
		switch {
		case at.There:
			return
		case at.Group == "again":
			continue
		case at.Group != "":
			p.key(map[string]string{"down": kb.ArrowDown, "right": kb.ArrowRight}[at.Group])
		case at.Way < 0:
			p.key(strings.Repeat(kb.Tab, p.atOnce(-at.Way)), shift)
		default:
			p.key(strings.Repeat(kb.Tab, p.atOnce(at.Way)))
		}
		if at.Way == last {
			if stuck++; stuck > 40 {
				p.fail("Tab does not move on towards %s", sel)
			}
		} else {
			last, stuck = at.Way, 0
		}
	}
	p.fail("%s cannot be reached with the Tab key", sel)
}

// atOnce is how many of so many keys are struck before the page is looked at again.
func (p *page) atOnce(n int) int {
	if p.fox != nil {
		return 1
	}
	return n
}

// stopsJS tells how far a control is from the focus in Tab stops.
const stopsJS = `globalThis.crankbayStops = (sel) => {
	const target = document.querySelector(sel);
	const active = document.activeElement;
	if (!target) {
		crankbayAim();
		return {there: false, way: 0, group: 'again'};
	}
	if (active === target) return {there: true, way: 0, group: ''};
	const radio = (e) => e && e.matches('input[type=radio]');
	if (radio(target) && radio(active) && target.name === active.name) return {there: false, way: 1, group: 'down'};
	const tab = (e) => e && e.matches('[role=tab]');
	if (tab(target) && tab(active) && target.closest('[role=tablist]') === active.closest('[role=tablist]'))
		return {there: false, way: 1, group: 'right'};
	const all = [...document.querySelectorAll('a[href],button,input,select,textarea,summary,iframe,[tabindex]')]
		.filter((e) => e.tabIndex >= 0 && !e.disabled && e.checkVisibility({visibilityProperty: true}));
	const order = (e) => all.findIndex((o) => o === e);
	const stop = (e) => { // a radio group is one stop: its checked button or the first
		if (!radio(e) && !tab(e)) return order(e);
		const group = radio(e) ? all.filter((o) => radio(o) && o.name === e.name)
			: all.filter((o) => tab(o) && o.closest('[role=tablist]') === e.closest('[role=tablist]'));
		return order(group.find((o) => o.checked || o.ariaSelected === 'true') || group[0] || e);
	};
	// What can't be reached by Tab itself (a heading that was given the focus) stands after all that comes before it.
	const before = all.filter((e) => active.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_PRECEDING).length;
	const way = stop(target) - (order(active) < 0 ? before - 1 : order(active));
	return {there: false, way: way || 1, group: ''};
}`

// modifier is a key held while another is pressed.
type modifier int

const (
	shift modifier = iota + 1
	control
)

func (p *page) key(keys string, hold ...modifier) {
	p.t.Helper()
	if p.fox != nil {
		p.fox.key(p, keys, hold...)
		return
	}
	var opts []chromedp.KeyOption
	for _, m := range hold {
		opts = append(opts, chromedp.KeyModifiers(map[modifier]chromedp.Modifier{shift: chromedp.ModifierShift, control: chromedp.ModifierCtrl}[m]))
	}
	p.do("a key", chromedp.KeyEvent(keys, opts...))
}

func (k keyboard) open(sel string) {
	k.p.t.Helper()
	if k.p.aim(sel) {
		k.reach(opener)
		k.p.key(kb.Enter)
		k.p.waitFor(`document.querySelector('`+target+`')?.checkVisibility()`, "the tab of "+sel)
	}
}

func (k keyboard) press(sel string) {
	k.p.t.Helper()
	k.open(sel)
	k.reach(target)
	if eval[bool](k.p, `document.activeElement.matches('input[type=radio]:checked')`) {
		return // the arrows that lead to a radio button choose it
	}
	if eval[bool](k.p, `document.activeElement.matches('input')`) {
		k.p.key(" ")
		return
	}
	k.p.key(kb.Enter)
}

func (k keyboard) choose(sel, value string) {
	k.p.t.Helper()
	k.open(sel)
	k.reach(target)
	k.p.arrowTo(target, value)
}

func (k keyboard) write(sel, text string) {
	k.p.t.Helper()
	k.open(sel)
	k.reach(target)
	k.p.typeOver(text)
}

// arrowTo moves a focused list to an option with the arrow keys.
func (p *page) arrowTo(sel, value string) {
	p.t.Helper()
	q := strconv.Quote(sel)
	for i := 0; i < 40; i++ {
		way := eval[int](p, fmt.Sprintf(`(() => {
			const s = document.querySelector(%s);
			const want = [...s.options].findIndex((o) => o.value === %s);
			return want < 0 ? 99 : want - s.selectedIndex;
		})()`, q, strconv.Quote(value)))
		switch {
		case way == 99:
			p.fail("%s offers no %q", sel, value)
		case way == 0:
			p.key(kb.Tab) // leaving the list settles the choice
			return
		case way > 0:
			p.key(kb.ArrowDown)
		default:
			p.key(kb.ArrowUp)
		}
	}
	p.fail("%s does not come to %q", sel, value)
}

// typeOver replaces what a focused field holds and leaves it by Tab.
func (p *page) typeOver(text string) {
	p.t.Helper()
	p.key("a", control)
	p.key(kb.Backspace)
	p.key(text)
	p.key(kb.Tab)
}

// touch clicks a point of the tab.
func (p *page) touch(x, y float64) {
	p.t.Helper()
	p.do("a touch", chromedp.MouseClickXY(x, y))
}

// holdAt keeps the button down at a point until done returns.
func (p *page) holdAt(x, y float64, done func()) {
	p.t.Helper()
	send := func(typ input.DispatchMouseEventType) {
		ctx, cancel := context.WithTimeout(p.ctx, patience)
		defer cancel()
		err := chromedp.Do(ctx, chromedp.MouseEvent(typ, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		if err != nil {
			p.fail("holding at %g, %g: %v", x, y, err)
		}
	}
	send(input.DispatchMouseEventTypeMousePressed)
	done()
	send(input.DispatchMouseEventTypeMouseReleased)
}

// css makes a selector of data attributes: css("act", "plug-out", "cylinder", 2).
func css(pairs ...any) string {
	var b strings.Builder
	for i := 0; i+1 < len(pairs); i += 2 {
		fmt.Fprintf(&b, `[data-%v="%v"]`, pairs[i], pairs[i+1])
	}
	return b.String()
}
