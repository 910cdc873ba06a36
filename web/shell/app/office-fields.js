// Fields of the Desk: a number with its unit and range, a slider beside one, a choice,
// a tick. What can't be used is said at the field and doesn't reach the job.

import { h } from './dom.js';
import { t } from './i18n.js';
import { parseNumber, trim, fromCelsius, toCelsius, degreeUnit, fromPa, toPa } from './units.js';

const bad = new Map(); // id of a field → what was typed into it
const STEPS = 400; // of a slider

/** Forgets what was typed wrongly, for another job. */
export const forgetBad = () => bad.clear();

/** A unit of the file as the reader has it: {unit, from, to, digits}. */
function shownIn(unit, pressureUnit) {
  if (unit === '°C') return { unit: degreeUnit(), from: fromCelsius, to: toCelsius, digits: 1 };
  if (unit === 'kPa' && pressureUnit) {
    return { unit: pressureUnit, from: (v) => fromPa(v * 1000, pressureUnit), to: (v) => toPa(v, pressureUnit) / 1000, digits: pressureUnit === 'bar' ? 2 : 0 };
  }
  return { unit, from: (v) => v, to: (v) => v, digits: 4 };
}

const written = (v, digits) => trim(v, digits);

/**
 * A number of the job, with unit and range.
 * @param {Object} app
 * @param {{id: string, label: string, value: number, lo: number, hi: number, unit?: string, pressure?: boolean, whole?: boolean, set: function(number)}} f
 *   value, lo and hi in the unit of the file
 */
export function numberField(app, f) {
  const u = shownIn(f.unit ?? '', f.pressure ? app.state.unit : '');
  const wrong = bad.has(f.id);
  return h('div', { class: 'office-number', key: f.id },
    h('label', { for: f.id }, f.label),
    h('span', { class: 'office-value' },
      h('input', {
        type: 'text', inputmode: 'decimal', id: f.id, name: f.id, value: wrong ? bad.get(f.id) : written(u.from(f.value), u.digits),
        'aria-describedby': `${f.id}-range`, 'aria-invalid': wrong ? 'true' : null,
        onchange: (e) => take(app, f, u, e.target.value),
      }), u.unit && h('span', { class: 'unit' }, unitText(u.unit))),
    h('small', { class: wrong ? 'wrong' : 'mute', id: `${f.id}-range` }, t(wrong ? 'office.range.wrong' : 'office.range', { lo: written(u.from(f.lo), u.digits), hi: written(u.from(f.hi), u.digits), unit: unitText(u.unit) }).trim()));
}

function take(app, f, u, text) {
  const v = u.to(parseNumber(text));
  const fits = Number.isFinite(v) && v >= f.lo - 1e-9 && v <= f.hi + 1e-9 && (!f.whole || Number.isInteger(v));
  if (!fits) {
    bad.set(f.id, text);
    app.redraw();
    return;
  }
  bad.delete(f.id);
  f.set(Math.min(f.hi, Math.max(f.lo, Number(v.toPrecision(6)))));
  app.redraw();
}

function unitText(unit) {
  return unit === 'teeth' ? t('office.teeth') : unit ?? '';
}

/** Small areas, volumes and resistances are what an author works among. */
function isCurved(f) {
  return f.lo >= 0 && ['mm²', 'ml', 'mΩ'].includes(f.unit);
}

function atStep(f, step) {
  const p = step / STEPS;
  const v = f.lo + (f.hi - f.lo) * (isCurved(f) ? p * p * p : p);
  return f.whole ? Math.round(v) : Math.min(f.hi, Math.max(f.lo, Number(v.toPrecision(3))));
}

function stepOf(f, value) {
  const p = (value - f.lo) / (f.hi - f.lo);
  return Math.round(STEPS * Math.min(1, Math.max(0, isCurved(f) ? Math.cbrt(p) : p)));
}

/** A number with a slider under it; see numberField. */
export function slider(app, f) {
  const u = shownIn(f.unit ?? '', '');
  return h('div', { class: 'office-slider', key: f.id },
    numberField(app, f),
    h('input', {
      type: 'range', id: `${f.id}-slide`, min: 0, max: STEPS, step: 1, value: String(stepOf(f, f.value)), 'aria-label': f.label,
      'aria-valuetext': `${written(u.from(f.value), u.digits)} ${unitText(u.unit)}`.trim(),
      oninput: (e) => { bad.delete(f.id); f.set(atStep(f, Number(e.target.value))); },
    }));
}

/** One of several: options are [value, text] or {label, options}. */
export function choose(id, label, value, options, set, hint = '') {
  const option = ([v, text]) => h('option', { key: v, value: v, selected: v === value }, text);
  return h('div', { class: 'field', key: id }, h('label', { for: id }, label),
    h('select', { id, name: id, value, onchange: (e) => set(e.target.value), 'aria-describedby': hint ? `${id}-hint` : null },
      options.map((o) => (Array.isArray(o) ? option(o) : h('optgroup', { key: o.label, label: o.label }, o.options.map(option))))),
    hint && h('small', { class: 'mute', id: `${id}-hint` }, hint));
}

/** Yes or no. */
export function tick(id, label, checked, set) {
  return h('label', { class: 'inline', key: id }, h('input', { type: 'checkbox', id, name: id, checked, onchange: (e) => set(e.target.checked) }), label);
}

/** Several of a list: set gets the new list, in the order of all. */
export function ticks(id, legend, all, chosen, set) {
  return h('fieldset', { class: 'office-ticks', key: id }, h('legend', null, legend),
    h('div', { class: 'row' }, all.map(([value, label]) => tick(`${id}-${value}`, label, chosen.includes(value),
      (on) => set(all.map(([v]) => v).filter((v) => (v === value ? on : chosen.includes(v))))))));
}

/** A text of one or more lines. */
export function textField(id, label, value, most, set, rows = 1) {
  const props = { id, name: id, value: value ?? '', maxlength: most, onchange: (e) => set(e.target.value.trim()) };
  return h('div', { class: 'field', key: id }, h('label', { for: id }, label), rows > 1 ? h('textarea', { ...props, rows }) : h('input', { type: 'text', ...props }));
}

/** A button that opens a file from the disk. */
export function fileButton(id, label, accept, set) {
  return h('label', { class: 'button file', key: id }, label,
    h('input', { type: 'file', name: id, accept, onchange: (e) => { const [file] = e.target.files; e.target.value = ''; if (file) set(file); } }));
}

/** The text of a file, or as much as is enough to say that it is too long; never nothing. */
export async function textOf(file) {
  return (await file.slice(0, 5 << 20).text()) || ' ';
}

/** A part of a form that folds away. */
export function fold(id, title, open, ...kids) {
  return h('details', { class: 'fold office-fold', key: id, 'data-fold': id, ref: (el) => { el.open = open; } }, h('summary', null, h('h3', null, title)), ...kids);
}
