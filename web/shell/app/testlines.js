// Lines of the job sheet for the confirming tests. A test has its lines once it was
// opened on the bench or something stands in them; others can be asked for.

import { h } from './dom.js';
import { t } from './i18n.js';
import { groups, fieldsOf } from './tests.js';
import { table, labelled, anyWritten } from './fields.js';

/** Places where air can be said to have been heard. */
export const heardPlaces = ['throttle', 'tailpipe', 'oil_filler', 'coolant_neck', 'neighbour', 'gasket_edge', 'nowhere'];

const written = groups.flatMap(([, tests]) => tests).filter((test) => fieldsOf[test]);
const all = (test) => Object.values(fieldsOf[test]).flat();

/** The confirming tests' part of the sheet. */
export function testLines(app, s) {
  const asked = written.filter((test) => !isMute(app, test));
  const open = asked.filter((test) => isOpen(app, test));
  const more = asked.filter((test) => !open.includes(test));
  return h('section', { class: 'test-lines', key: 'test-lines', 'aria-label': t('sheet.tests') },
    h('h3', null, t('sheet.tests')),
    open.map((test) => h('div', { key: test, class: 'test-line' }, linesOf(app, s, test))),
    more.length > 0 && h('label', { class: 'field', key: 'more' }, h('span', null, t('sheet.more')),
      h('select', { name: 'test-lines', value: '', onchange: (e) => { const test = e.target.value; e.target.value = ''; if (test) showLines(app, test); } },
        h('option', { value: '', selected: true }, t('conclude.pick')), more.map((test) => h('option', { value: test, key: test }, t(`test.${test}`))))));
}

function showLines(app, test) {
  app.set({ lines: [...app.state.lines, test] });
}

function isOpen(app, test) {
  return app.state.lines.includes(test) || anyWritten(app, all(test)) || (test === 'leakage' && (app.state.view.sheet?.heard ?? []).length > 0);
}

/** Whether a test gives this engine's sheet nothing to write: a strip that doesn't compare. */
function isMute(app, test) {
  return test === 'current' && !['', 'groups'].includes(app.state.view.tests.compare.how) && !anyWritten(app, all(test));
}

/** The lines of one test. */
export function linesOf(app, s, test) {
  if (isMute(app, test)) return [];
  const { whole = [], each = [], banks = [] } = fieldsOf[test] ?? {};
  const n = app.state.view.scenario.engine.banks?.length ?? 1;
  return [
    whole.map((field) => labelled(app, field, 0)),
    each.length > 0 && table(app, s, test, each),
    banks.length > 0 && (n > 1 ? table(app, s, test, banks, n) : banks.map((field) => labelled(app, field, 0))),
    test === 'leakage' && heardOn(app, s),
  ];
}

/** Where air was heard, cylinder by cylinder: those of the sheet and the one under test. */
function heardOn(app, s) {
  const list = app.state.view.sheet?.heard ?? [];
  const n = app.state.view.scenario.engine.cylinders;
  const shown = Array.from({ length: n }, (_, i) => i + 1).filter((c) => c === s.tester || list.some((x) => x.cylinder === c));
  return shown.map((c) => h('fieldset', { key: `heard-${c}`, class: 'heard' }, h('legend', null, t('sheet.heard', { cylinder: c })),
    heardPlaces.map((place) => h('button', {
      type: 'button', key: place, class: 'toggle', 'data-act': 'heard', 'data-choice': place, 'data-cylinder': c,
      'aria-pressed': String(list.some((x) => x.cylinder === c && x.place === place)),
      onclick: () => app.bench.act({ kind: 'heard', cylinder: c, choice: place }),
    }, t(`air.${place}`)))));
}
