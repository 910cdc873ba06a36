// The conclusion: what is wrong and where, how sure, what it rests on, what to
// test next, and a remark for the customer.

import { h } from './dom.js';
import { t } from './i18n.js';
import { cylinders } from './format.js';
import { costOf } from './tests.js';

/** Families of a conclusion, in the order they are offered. */
export const families = ['sound', 'valve_leak', 'tight_lash', 'valve_not_opening', 'valve_timing', 'ring_or_bore',
  'washed_or_dry_bore', 'head_gasket', 'carbon_or_liquid', 'slow_cranking', 'method_or_gauge', 'altitude',
  'normal_by_design', 'not_compression', 'undecided'];
/** What a conclusion can rest on. */
export const evidence = ['dry', 'first_stroke', 'wet', 'repeat', 'speed', 'voltage', 'throttle', 'spec', 'leakage', 'current', 'running',
  'vacuum', 'lash', 'timing_marks', 'borescope', 'cooling_pressure', 'second_gauge', 'refit', 'plug_look', 'power_balance'];
/** Tests that can be named as the next one. */
export const nextTests = ['none', 'wet', 'repeat', 'leakage', 'current', 'running', 'vacuum', 'lash', 'timing_marks',
  'borescope', 'cooling_pressure', 'second_gauge', 'refit', 'power_balance', 'back_pressure', 'charge_battery', 'open_throttle'];
const sureness = ['guess', 'likely', 'certain'];

/** The conclusion part of the job sheet. */
export function conclusion(app, view) {
  const sheet = view.sheet ?? {};
  return h('section', { class: 'conclusion' }, h('h3', null, t('sheet.conclude')),
    findings(app, sheet), addFinding(app, view), sure(app, sheet), rests(app, sheet), next(app, sheet), remark(app, sheet));
}

function findings(app, sheet) {
  const list = sheet.findings ?? [];
  if (list.length === 0) return h('p', { class: 'mute', key: 'none' }, t('conclude.none'));
  return h('ul', { class: 'findings', key: 'findings' }, list.map((f, i) => h('li', { key: `${f.family}-${(f.cylinders ?? []).join()}` },
    h('span', null, h('b', null, t(`family.${f.family}`)), ' · ', cylinders(f.cylinders ?? [])),
    h('button', { type: 'button', class: 'plain', 'data-act': 'finding-clear', onclick: () => rewrite(app, list.filter((_, k) => k !== i)) }, t('conclude.strike')))));
}

/** Writes the list of findings anew; one action per cylinder involved. */
function rewrite(app, list) {
  app.bench.act({ kind: 'finding-clear' });
  for (const f of list) {
    for (const c of f.cylinders?.length ? f.cylinders : [0]) app.bench.act({ kind: 'finding', choice: f.family, cylinder: c });
  }
}

function addFinding(app, view) {
  const draft = app.state.draft;
  const n = view.scenario.engine.cylinders;
  const add = () => {
    if (!draft.family) return app.set({ draftError: t('conclude.choose') });
    const found = { family: draft.family, cylinders: [...draft.cylinders].sort((a, b) => a - b) };
    rewrite(app, [...(view.sheet?.findings ?? []), found]);
    app.announce(`${t(`family.${found.family}`)} · ${cylinders(found.cylinders)}`);
    return app.set({ draft: { family: '', cylinders: [] }, draftError: '' });
  };
  const flip = (c) => app.set({ draft: { ...draft, cylinders: draft.cylinders.includes(c) ? draft.cylinders.filter((x) => x !== c) : [...draft.cylinders, c] } });
  return h('div', { class: 'add-finding' },
    h('label', { class: 'field' }, h('span', null, t('conclude.family')),
      h('select', { name: 'family', value: draft.family, onchange: (e) => app.set({ draft: { ...draft, family: e.target.value } }) },
        h('option', { value: '', selected: draft.family === '' }, t('conclude.pick')), families.map((f) => h('option', { value: f, key: f, selected: f === draft.family }, t(`family.${f}`))))),
    draft.family && h('p', { class: 'mute small', key: 'hint' }, t(`family.${draft.family}.hint`)),
    h('fieldset', { class: 'row', key: 'where' }, h('legend', null, t('conclude.where')),
      h('span', { class: 'cylinders' }, Array.from({ length: n }, (_, i) => i + 1).map((c) => h('button', { type: 'button', key: c, 'data-act': 'finding-cylinder', 'data-cylinder': c,
        'aria-pressed': String(draft.cylinders.includes(c)), 'aria-label': t('cylinder', { cylinder: c }), onclick: () => flip(c) }, String(c))))),
    app.state.draftError && h('p', { class: 'notice refusal', role: 'alert', key: 'err' }, app.state.draftError),
    h('div', { class: 'row' }, h('button', { type: 'button', 'data-act': 'finding', onclick: add }, t('conclude.write'))));
}

function sure(app, sheet) {
  return h('fieldset', { class: 'row' }, h('legend', null, t('conclude.sure')),
    h('span', { class: 'segments', role: 'group' }, sureness.map((s) => h('button', { type: 'button', key: s, 'data-act': `sure.${s}`, 'aria-pressed': String(sheet.sure === s),
      onclick: () => app.bench.act({ kind: 'sure', choice: s }) }, t(`sure.${s}`)))));
}

function rests(app, sheet) {
  const on = new Set(sheet.evidence ?? []);
  return h('fieldset', null, h('legend', null, t('conclude.rests')),
    h('ul', { class: 'card' }, evidence.map((e) => h('li', { key: e }, h('label', null,
      h('input', { type: 'checkbox', 'data-evidence': e, checked: on.has(e), onchange: () => app.bench.act({ kind: 'evidence', choice: e }) }), h('span', null, t(`evidence.${e}`)))))));
}

function next(app, sheet) {
  return h('label', { class: 'field' }, h('span', null, t('conclude.next')),
    h('select', { name: 'next-test', value: sheet.next_test ?? '', onchange: (e) => e.target.value && app.bench.act({ kind: 'next-test', choice: e.target.value }) },
      h('option', { value: '', selected: !sheet.next_test }, t('conclude.pick')), nextTests.map((n) => h('option', { value: n, key: n, selected: sheet.next_test === n }, nextText(app, n)))));
}

/** A test as it is offered, with what it costs on this engine. */
function nextText(app, test) {
  const cost = costOf(app, test);
  return cost ? t('next.cost', { test: t(`next.${test}`), cost }) : t(`next.${test}`);
}

function remark(app, sheet) {
  return h('label', { class: 'field' }, h('span', null, t('conclude.remark')),
    h('textarea', { rows: 3, maxlength: 400, name: 'remark', value: sheet.remark ?? '', onchange: (e) => app.bench.act({ kind: 'remark', text: e.target.value.trim() }) }));
}
