// Card and job sheet as they come out of a printer: black on white, a page each.
// On the screen they are not there.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { cylinders as places, and, duration } from './format.js';
import { asks, testCosts, cautions, pairs } from './card.js';
import { unitOf, written } from './fields.js';
import { groups, fieldsOf } from './tests.js';

const read = ['dry_first', 'dry_last', 'strokes', 'rpm', 'battery_v', 'oil_ml', 'wet_first', 'wet_last', 'wet_strokes', 'wet_gain_percent'];
const engineFields = ['spec_standard', 'spec_minimum', 'spec_difference', 'ratio_percent', 'spread', 'coolant_c', 'leakage_supply', 'vacuum', 'cooling_drop'];
const confirmed = groups.flatMap(([, tests]) => tests).flatMap((test) => fieldsOf[test]?.each ?? []);

/** Both pages. */
export function printed(app) {
  const { view } = app.state;
  return h('div', { class: 'printed', key: 'printed' }, cardPage(app, view), sheetPage(app, view));
}

function head(view, title) {
  return [h('p', { class: 'print-head' }, h('b', null, 'Crankbay'), ' · ', t('print.simulated')), h('h2', null, title), h('p', null, pick(view.scenario.engine.name))];
}

function cardPage(app, view) {
  const ticks = new Set(view.sheet?.ticks ?? []);
  return h('section', { class: 'print-page', key: 'card' }, head(view, t('print.card')),
    h('div', { class: 'print-columns' },
      h('div', null, pairs(asks(view))),
      h('div', null, h('h3', null, t('print.done')), h('ul', { class: 'print-ticks' }, (view.scenario.card.items ?? []).map((id) => h('li', { key: id }, box(ticks.has(id)), t(`card.${id}`)))))),
    h('h3', null, t('card.costs')), h('div', { class: 'print-pairs' }, pairs(testCosts(app))),
    h('h3', null, t('card.mind')), h('ul', { class: 'print-mind' }, cautions.map((key) => h('li', { key }, t(`caution.${key}.why`)))),
    h('p', { class: 'print-foot' }, t('yard.safety.text')));
}

function box(isOn) {
  return h('span', { class: 'print-box' }, isOn ? '×' : '');
}

function sheetPage(app, view) {
  const used = confirmed.filter((f) => (view.sheet?.entries ?? []).some((e) => e.field === f));
  const heard = view.sheet?.heard ?? [];
  return h('section', { class: 'print-page', key: 'sheet' }, head(view, t('sheet.title')),
    h('p', null, t('print.who'), ' ', h('b', null, view.who || '                    '), ' · ', t(`mode.${view.mode}`), ' · ', t('facts.time'), ' ', duration(view.state.minutes)),
    h('p', null, t('yard.quote', { text: pick(view.scenario.complaint) })),
    grid(app, view, t('sheet.readings'), read),
    h('p', { class: 'print-line' }, engineFields.map((f) => h('span', { key: f }, t(`field.${f}`, { unit: unitOf(app, f) }), ': ', h('b', null, written(app, f, 0) || '____'))), h('span', { key: 'throttle' }, t('field.throttle'), ': ', h('b', null, throttle(app)))),
    used.length > 0 && grid(app, view, t('sheet.tests'), used),
    timing(app, view), heard.length > 0 && h('p', { key: 'heard' }, heardText(view)),
    conclusion(view),
    h('p', { class: 'print-foot' }, t('print.note')));
}

function throttle(app) {
  return { 1: t('throttle.open'), 0: t('throttle.shut') }[written(app, 'throttle', 0)] ?? '____';
}

/** Fields by cylinder; the unit stands under the name. */
function grid(app, view, title, fields) {
  const n = view.scenario.engine.cylinders;
  return h('table', { class: 'print-grid', key: title }, h('caption', null, title),
    h('thead', null, h('tr', null, h('th', { scope: 'col' }, t('column.cylinder')), fields.map((f) => h('th', { scope: 'col', key: f }, t(`print.${f}`), h('br'), h('small', null, unitOf(app, f)))))),
    h('tbody', null, Array.from({ length: n }, (_, i) => i + 1).map((c) => h('tr', { key: c }, h('th', { scope: 'row' }, c), fields.map((f) => h('td', { key: f }, written(app, f, c)))))));
}

function timing(app, view) {
  const rows = [0, ...view.scenario.engine.banks.map((_, i) => i + 1)].filter((bank) => written(app, 'timing_deg', bank));
  return rows.length > 0 && h('p', { key: 'timing' }, rows.map((bank) => `${bank ? `${t('bank', { bank })} ` : ''}${t('field.timing_deg')}: ${written(app, 'timing_deg', bank)}`).join(' · '));
}

function heardText(view) {
  const of = Map.groupBy ? Map.groupBy(view.sheet.heard, (x) => x.cylinder) : view.sheet.heard.reduce((m, x) => m.set(x.cylinder, [...(m.get(x.cylinder) ?? []), x]), new Map());
  return [...of].map(([cylinder, list]) => `${t('sheet.heard', { cylinder })}: ${and(list.map((x) => t(`air.${x.place}`)))}.`).join(' ');
}

function conclusion(view) {
  const { findings = [], sure, evidence = [], next_test: next, remark } = view.sheet ?? {};
  const line = (name, value) => h('div', { key: name }, h('dt', null, name), h('dd', null, value || '____________'));
  return h('dl', { class: 'asks print-conclusion' },
    line(t('conclude.family'), findings.map((f) => `${t(`family.${f.family}`)} (${places(f.cylinders ?? [])})`).join('; ')),
    line(t('conclude.sure'), sure && t(`sure.${sure}`)), line(t('conclude.rests'), and(evidence.map((e) => t(`evidence.${e}`)))),
    line(t('conclude.next'), next && t(`next.${next}`)), line(t('conclude.remark'), remark));
}
