// The confirming tests on the bench: a list by what one works with, each with its
// cost, and the open one with its controls and its instrument.

import { h } from './dom.js';
import { t } from './i18n.js';
import { groups, fieldsOf, costOf } from './tests.js';
import { linesOf } from './testlines.js';
import { weighing } from './controls.js';
import { panels } from './testpanels.js';

/** The panel of the stage. */
export function tests(app, s) {
  return groups.map(([group, list]) => h('section', { class: 'test-group', key: group, 'aria-labelledby': `tests-${group}` },
    h('h3', { id: `tests-${group}` }, t(`tests.${group}`)),
    list.filter((test) => panels[test]).map((test) => one(app, s, test))));
}

function one(app, s, test) {
  const isOpen = app.state.test === test;
  return h('details', { class: 'test', key: test, open: isOpen, 'data-test': test },
    h('summary', { onclick: (e) => { e.preventDefault(); open(app, isOpen ? '' : test); } },
      h('span', { class: 'test-name' }, t(`test.${test}`)), h('span', { class: 'mute small' }, costOf(app, test))),
    isOpen && h('div', { class: 'test-body' },
      app.state.view.mode === 'reasons' && h('p', { class: 'mute', key: 'how' }, t(`test.${test}.how`)),
      weighing(() => panels[test](app, s)),
      fieldsOf[test] && h('div', { class: 'narrow-only test-write', key: 'write' }, linesOf(app, s, test))));
}

function open(app, test) {
  const { lines } = app.state;
  app.set({ test, lines: test && fieldsOf[test] && !lines.includes(test) ? [...lines, test] : lines });
  // The one that was open above has closed: what was pressed is brought back into sight.
  requestAnimationFrame(() => document.querySelector(`[data-test="${test}"]`)?.scrollIntoView({ block: 'nearest' }));
}
