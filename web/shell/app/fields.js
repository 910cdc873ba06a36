// What the student writes on the sheet: numbers in his own units, kept in the units
// of the log. What was typed stays as it was typed.

import { h } from './dom.js';
import { t } from './i18n.js';
import {
  parseNumber, toPa, showPa, trim, fromCelsius, toCelsius, degreeUnit, vacuumUnit, fromVacuum, toVacuum, gapUnit, fromMm, toMm, gapDigits,
} from './units.js';

const same = (value) => value;
const plain = (digits) => ({ unit: () => '', to: same, show: (value) => trim(value, digits) });
const pressure = {
  unit: (app) => app.state.unit, to: (value, app) => toPa(value, app.state.unit), show: (value, app) => showPa(value, app.state.unit),
};
const gap = { unit: gapUnit, to: toMm, show: (mm) => trim(fromMm(mm), gapDigits()) };

// How each field is written: its unit, into the log, and back.
const kinds = {
  coolant_c: { unit: degreeUnit, to: toCelsius, show: (c) => trim(fromCelsius(c), 0) },
  strokes: plain(0), wet_strokes: plain(0), rpm: plain(0), battery_v: plain(2), oil_ml: plain(1),
  leakage_percent: plain(1), ratio_percent: plain(1), wet_gain_percent: plain(1), hump_percent: plain(1), timing_deg: plain(1),
  vacuum: { unit: vacuumUnit, to: toVacuum, show: (pa) => trim(fromVacuum(pa), 1) },
  lash_intake: gap, lash_exhaust: gap, throttle: plain(0),
};

function kindOf(field) {
  return kinds[field] ?? pressure;
}

/** The unit a field is written in, empty where its name says it. */
export function unitOf(app, field) {
  return kindOf(field).unit(app);
}

/** Readings of every cylinder, or of so many banks, one field a column. */
export function table(app, s, kind, fields, rows = null) {
  const n = app.state.view.scenario.engine.cylinders;
  const now = s.hose || s.tester;
  return h('table', { class: 'readings', key: kind },
    h('caption', null, t(`sheet.${kind}`, { unit: fields.map((f) => unitOf(app, f)).find(Boolean) ?? '' })),
    h('thead', null, h('tr', null, h('th', { scope: 'col' }, t(rows ? 'column.bank' : 'column.cylinder')), fields.map((f) => h('th', { scope: 'col', key: f }, t(`column.${f}`))))),
    h('tbody', null, Array.from({ length: rows ?? n }, (_, i) => i + 1).map((c) => h('tr', { key: c, class: !rows && now === c ? 'now' : '' },
      h('th', { scope: 'row' }, c), fields.map((f) => h('td', { key: f }, cell(app, f, c)))))));
}

/** One field with its name. */
export function labelled(app, field, cylinder) {
  return h('label', { class: 'field-line', key: `${field}-${cylinder}` }, h('span', null, fieldName(app, field, cylinder)), cell(app, field, cylinder));
}

function fieldName(app, field, cylinder) {
  const name = t(`field.${field}`, { unit: unitOf(app, field) });
  if (!cylinder) return name;
  return field === 'timing_deg' ? t('field.of_bank', { field: name, bank: cylinder }) : t('field.of', { field: name, cylinder });
}

/** One field of the sheet. */
function cell(app, field, cylinder) {
  const name = `${field}-${cylinder}-${unitOf(app, field)}`;
  const bad = name in app.state.bad;
  return h('input', {
    type: 'text', inputmode: 'decimal', autocomplete: 'off', key: name, 'data-field': field, 'data-cylinder': cylinder,
    'aria-label': cylinder ? fieldName(app, field, cylinder) : null,
    'aria-invalid': bad ? 'true' : null, 'aria-describedby': bad && app.state.fieldError ? 'field-error' : null,
    value: app.state.typed[name] ?? written(app, field, cylinder),
    onchange: (e) => write(app, field, cylinder, name, e.target),
    onkeydown: (e) => { if (e.key === 'Enter') e.target.blur(); },
  });
}

/** Whether anything stands in one of these fields. */
export function anyWritten(app, fields) {
  return (app.state.view.sheet?.entries ?? []).some((e) => fields.includes(e.field));
}

/** What stands in a field, in the reader's unit; empty for nothing. */
export function written(app, field, cylinder) {
  const entry = (app.state.view.sheet?.entries ?? []).find((e) => e.field === field && (e.cylinder || 0) === cylinder);
  return entry ? kindOf(field).show(entry.number, app) : '';
}

function write(app, field, cylinder, name, input) {
  const text = input.value.trim();
  delete app.state.bad[name]; // others stay marked until they are mended
  app.set({ fieldError: '' });
  if (text === '') {
    delete app.state.typed[name];
    if (written(app, field, cylinder) !== '') app.bench.act({ kind: 'erase', choice: field, cylinder });
    return;
  }
  const value = parseNumber(text, { thousands: kindOf(field) === pressure && app.state.unit === 'kPa' });
  if (Number.isNaN(value)) {
    app.state.bad[name] = true;
    app.set({ fieldError: t('field.bad', { text }) });
    return;
  }
  if (app.bench.act({ kind: 'write', choice: field, cylinder, number: kindOf(field).to(value, app) })) app.state.typed[name] = text;
  else app.state.bad[name] = true;
  app.redraw();
}

/** Where the throttle stood, as a choice. */
export function throttleField(app) {
  const now = written(app, 'throttle', 0);
  return h('label', { class: 'field-line', key: 'throttle' }, h('span', null, t('field.throttle')),
    h('select', { 'data-field': 'throttle', 'data-cylinder': 0, value: now, onchange: (e) => app.bench.act(e.target.value === ''
      ? { kind: 'erase', choice: 'throttle' } : { kind: 'write', choice: 'throttle', number: Number(e.target.value) }) },
    [['', '–'], ['1', t('throttle.open')], ['0', t('throttle.shut')]].map(([v, label]) => h('option', { value: v, selected: v === now }, label))));
}
