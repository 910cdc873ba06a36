// Every reading against what there was: written, shown, in the hose, in the
// cylinder, and what the test by the card gives without the error of an instrument.

import { h, svg } from './dom.js';
import { t } from './i18n.js';
import { pressure } from './format.js';
import { showPa } from './units.js';
import { grid } from './debrief-part.js';

/** The part about the readings. */
export function readings(app, { readings: list }) {
  const { unit } = app.state;
  const columns = [t('column.cylinder'), ...['written', 'dial', 'hose', 'peak', 'book'].map((c) => t(`debrief.column.${c}`))];
  const cell = (v) => (v === null || v === undefined ? '–' : showPa(v, unit));
  return h('div', { key: 'readings' }, h('p', { class: 'mute' }, t('debrief.readings.hint')),
    h('div', { class: 'strips', own: true, key: `strips ${unit}`, ref: (el) => el.append(strips(list.filter((r) => !r.wet), unit)) }),
    h('ul', { class: 'legend', key: 'legend', 'aria-hidden': 'true' }, ['written', 'dial', 'book'].map((name) => h('li', { key: name }, h('span', { own: true, ref: (el) => el.append(sample(name)) }), ' ', t(`debrief.column.${name}`)))),
    grid(t('debrief.readings.caption', { unit }), columns, list.map((r) => [r.wet ? t('debrief.readings.wet', { cylinder: r.cylinder }) : r.cylinder,
      cell(r.written), ...(r.run ? [r.shown, r.hose, r.peak].map(cell) : [t('debrief.readings.never'), '–', '–']), cell(r.book)]), { key: 'table' }),
    instrument(list, unit));
}

/** What the instrument itself did to the readings. */
function instrument(list, unit) {
  const taken = list.filter((r) => r.run > 0 && r.hose > 0);
  if (taken.length === 0) return null;
  const error = taken.reduce((sum, r) => sum + r.needle - r.hose, 0) / taken.length;
  const least = { psi: 6894.757 / 2, kPa: 3447, bar: 3447 }[unit];
  const key = Math.abs(error) < least ? 'right' : error > 0 ? 'high' : 'low';
  return h('p', { key: 'instrument', 'data-out': 'instrument' }, t(`debrief.instrument.${key}`, { error: pressure(Math.abs(error), unit) }));
}

const LEFT = 30;
const RIGHT = 470;
const ROW = 30;

/** One line for each cylinder on one scale of pressure. */
function strips(list, unit) {
  const top = Math.max(...list.flatMap((r) => [r.written ?? 0, r.shown, r.book]), 1) * 1.06;
  const x = (pa) => LEFT + ((RIGHT - LEFT) * Math.max(0, pa)) / top;
  const height = ROW * list.length + 28;
  const root = svg('svg', { viewBox: `0 0 510 ${height}`, class: 'strip-plot', 'aria-hidden': 'true', focusable: 'false' });
  for (const pa of ticks(top, unit)) {
    root.append(svg('line', { class: 'grid-fine', x1: x(pa), x2: x(pa), y1: 4, y2: height - 22 }),
      svg('text', { class: 'grid-text', x: x(pa), y: height - 6 }, showPa(pa, unit, unit === 'bar' ? 1 : 0)));
  }
  root.append(svg('text', { class: 'grid-text end', x: 508, y: height - 6 }, unit));
  list.forEach((r, i) => {
    const y = ROW * i + 18;
    root.append(svg('line', { class: 'grid-main', x1: LEFT, x2: RIGHT, y1: y, y2: y }), svg('text', { class: 'cylinder-number', x: 12, y: y + 5 }, String(r.cylinder)),
      place('book', x(r.book), y));
    if (r.run) root.append(place('dial', x(r.shown), y));
    if (r.written !== null) root.append(place('written', x(r.written), y));
  });
  return root;
}

function ticks(top, unit) {
  const one = { psi: 6894.757, kPa: 1000, bar: 100000 }[unit];
  const step = [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500].map((s) => s * one).find((s) => top / s <= 7) ?? top;
  return Array.from({ length: Math.floor(top / step) + 1 }, (_, i) => i * step);
}

/** The marks differ by shape, not by color alone. */
function place(name, x, y) {
  if (name === 'book') return svg('path', { class: 'at-book', d: `M${x} ${y - 2} l-6 -11 h12 z` });
  if (name === 'dial') return svg('line', { class: 'at-dial', x1: x, x2: x, y1: y - 9, y2: y + 9 });
  return svg('rect', { class: 'at-written', x: x - 5, y: y + 1, width: 10, height: 10 });
}

function sample(name) {
  return svg('svg', { viewBox: '0 0 20 30', width: 16, height: 24, focusable: 'false' }, place(name, 10, 15));
}
