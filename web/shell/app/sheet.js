// The job sheet: what the customer says, the card the student ticks himself,
// the specification he looks up, the readings he writes, the conclusion.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { number } from './format.js';
import { pressureUnits, systems, toPa, showPa } from './units.js';
import { table, labelled, throttleField } from './fields.js';
import { testLines } from './testlines.js';
import { card } from './card.js';
import { conclusion } from './conclude.js';

const dryFields = ['dry_first', 'dry_last', 'strokes', 'rpm', 'battery_v'];
const wetFields = ['oil_ml', 'wet_first', 'wet_last', 'wet_strokes', 'wet_gain_percent'];

/** The job sheet beside the plate. */
export function sheet(app, s) {
  const { view } = app.state;
  return h('section', { class: 'sheet', id: 'sheet', 'aria-labelledby': 'sheet-title' },
    h('h2', { id: 'sheet-title' }, t('sheet.title')),
    h('p', { class: 'complaint' }, t('yard.quote', { text: pick(view.scenario.complaint) })),
    pick(view.scenario.history) && h('p', { class: 'mute' }, pick(view.scenario.history)),
    h('p', { class: 'mute' }, pick(view.scenario.engine.name)),
    handedOver(app, view),
    card(app, view),
    specification(app, view),
    readings(app, s),
    conclusion(app, view),
    handIn(app, view));
}

function handedOver(app, view) {
  const list = view.scenario.handed_over;
  if (!list?.length) return null;
  const { unit } = app.state;
  const psi = (value) => showPa(toPa(value, 'psi'), unit);
  return h('section', { key: 'handed' }, h('h3', null, t('sheet.handed', { unit })),
    h('table', { class: 'readings plain-table' },
      h('thead', null, h('tr', null, ['cylinder', 'last'].map((c) => h('th', { scope: 'col', key: c }, t(`column.${c}`))))),
      h('tbody', null, list.map((r) => h('tr', { key: r.cylinder }, h('th', { scope: 'row' }, r.cylinder),
        h('td', null, psi(r.final_psi)))))));
}

function specification(app, view) {
  const pages = view.scenario.pages ?? [];
  const { spec } = view;
  const chosen = pages.find((p) => p.id === app.state.page)?.id ?? spec?.page ?? pages[0]?.id;
  return h('section', null, h('h3', null, t('sheet.spec')),
    h('div', { class: 'row' }, h('label', { class: 'inline grow' }, h('span', { class: 'hidden' }, t('spec.choose')),
      h('select', { name: 'page', value: chosen, onchange: (e) => app.set({ page: e.target.value }) },
        pages.map((p) => h('option', { value: p.id, key: p.id, selected: p.id === chosen }, t('spec.page', { code: p.engine_code }))))),
    h('button', { type: 'button', 'data-act': 'spec-look-up', onclick: () => app.bench.act({ kind: 'spec-look-up', choice: chosen }) }, t('do.spec-look-up'))),
    spec ? page(app, spec, pages) : h('p', { class: 'mute' }, t('spec.none')),
    h('div', { class: 'spec-fields' }, ['spec_standard', 'spec_minimum', 'spec_difference'].map((f) => labelled(app, f, 0))));
}

function page(app, spec, pages) {
  const code = pages.find((p) => p.id === spec.page)?.engine_code ?? spec.page;
  const rows = ['standard', 'minimum', 'difference'].filter((k) => spec[`${k}_kpa`]);
  return h('div', { class: 'page', key: 'page' }, h('h4', null, t('spec.page', { code })),
    h('dl', null, rows.map((k) => h('div', { key: k }, h('dt', null, t(`spec.${k}`)),
      h('dd', null, `${number(spec[`${k}_kpa`])} kPa (${showPa(spec[`${k}_kpa`] * 1000, 'psi', 0)} psi)`)))));
}

function readings(app, s) {
  return h('section', { class: 'readings-section' },
    h('div', { class: 'readings-head' }, h('h3', null, t('sheet.readings')), unitSwitch(app), systemSwitch(app)),
    table(app, s, 'dry', dryFields),
    h('div', { class: 'spec-fields' }, labelled(app, 'ratio_percent', 0), labelled(app, 'spread', 0)),
    table(app, s, 'wet', wetFields),
    h('div', { class: 'spec-fields' }, labelled(app, 'coolant_c', 0), throttleField(app)),
    h('div', { class: 'row' }, h('button', { type: 'button', 'data-act': 'words', onclick: app.bench.words }, t('needle.words')),
      h('button', { type: 'button', class: 'toggle', 'data-act': 'tone', 'aria-pressed': String(app.state.tone), onclick: () => app.hearNeedle(!app.state.tone) }, t('needle.tone'))),
    app.state.words && h('p', { class: 'words', key: 'words' }, app.state.words),
    testLines(app, s),
    app.state.fieldError && h('p', { class: 'notice refusal', id: 'field-error', role: 'alert', key: 'field-error' }, app.state.fieldError));
}

function unitSwitch(app) {
  return h('span', { class: 'segments small-segments', role: 'group', 'aria-label': t('sheet.unit') }, pressureUnits.map((u) => h('button', {
    type: 'button', key: u, 'data-unit': u, 'aria-pressed': String(u === app.state.unit), onclick: () => app.prefer('unit', u) }, u)));
}

function systemSwitch(app) {
  return h('span', { class: 'segments small-segments', role: 'group', 'aria-label': t('sheet.system') }, systems.map((u) => h('button', {
    type: 'button', key: u, 'data-unit': u, 'aria-pressed': String(u === app.state.system), onclick: () => app.measureIn(u) }, t(`system.${u}`))));
}

function handIn(app, view) {
  if (view.handed_in) {
    return h('section', { key: 'in' }, h('button', { type: 'button', class: 'go', 'data-act': 'debrief', onclick: () => app.toDebrief() }, t('hand.see')));
  }
  return h('section', { class: 'hand-in', key: 'hand' }, h('h3', null, t('hand.title')), h('p', { class: 'mute' }, t('hand.hint')),
    app.state.sure
      ? h('div', { class: 'row', key: 'sure' },
        h('button', { type: 'button', 'data-act': 'hand-in-not', ref: (el) => queueMicrotask(() => el.focus()), onclick: () => app.set({ sure: false }) }, t('hand.not')),
        h('button', { type: 'button', class: 'go', 'data-act': 'hand-in-now', onclick: () => app.handIn() }, t('hand.now')))
      : h('div', { class: 'row', key: 'ask' }, h('button', { type: 'button', 'data-act': 'hand-in', onclick: () => app.set({ sure: true }) }, t('hand.in'))));
}
