// What the job reads by the book, beside what is being changed; and whether that can
// settle its answer.

import { h } from './dom.js';
import { t, tFirst } from './i18n.js';
import { detailOf, number, pressure, quoted } from './format.js';
import { draft } from './office-draft.js';
import { fromPa, pressureUnits, showPa } from './units.js';

const PSI = 6894.757293168361; // Pa

const psi = (v, unit) => showPa(v * PSI, unit);

/** Readings, verdict and warnings. */
export function reads(app) {
  const { look, error, busy } = draft;
  return h('section', { class: busy ? 'office-reads old' : 'office-reads', key: 'reads', 'aria-labelledby': 'office-reads', 'data-out': 'look', 'aria-busy': busy ? 'true' : 'false' },
    h('div', { class: 'readings-head' }, h('h3', { id: 'office-reads' }, t('office.reads')),
      h('div', { class: 'segments small-segments', role: 'group', 'aria-label': t('office.unit') }, pressureUnits.map((u) => h('button', {
        type: 'button', key: u, 'data-unit': u, 'aria-pressed': String(u === app.state.unit), onclick: () => app.prefer('unit', u) }, u)))),
    h('p', { class: 'small mute office-busy', role: 'status', key: 'busy' }, t(`office.reads.${busy || 'ready'}`)),
    error && h('p', { class: 'notice error', key: 'error', role: 'alert' }, tFirst([`error.${error.key}`, 'error.other'], error.params), ' ', detailOf(error) && quoted(detailOf(error))),
    look && table(app, look), look && verdict(app, look));
}

function table(app, look) {
  const { unit } = app.state;
  const wet = new Map((look.wet ?? []).map((r) => [r.cylinder, r]));
  const leak = new Map((look.leakage ?? []).map((r) => [r.cylinder, r]));
  const low = new Set(look.suspects ?? []);
  const rest = draft.whole ? null : 'stale';
  const top = Math.max(...look.dry.map((r) => r.final_psi), 1);
  return h('table', { class: 'readings plain-table', key: 'table' },
    h('caption', { class: 'small' }, t('office.reads.caption', { unit })),
    h('thead', null, h('tr', null, ['cylinder', 'first', 'dry', 'wet', 'leak'].map((c) => h('th', { scope: 'col', key: c }, t(`office.reads.${c}`))))),
    h('tbody', null, look.dry.map((r) => h('tr', { key: r.cylinder, class: low.has(r.cylinder) ? 'stands-out' : null, 'data-cylinder': r.cylinder, 'data-psi': r.final_psi },
      h('th', { scope: 'row' }, r.cylinder, low.has(r.cylinder) && h('span', { class: 'hidden' }, ` ${t('office.reads.low')}`)),
      h('td', null, psi(r.first_psi, unit)),
      h('td', { class: 'of-dry' }, bar(r.final_psi / top), psi(r.final_psi, unit)),
      h('td', { class: rest }, wet.has(r.cylinder) ? psi(wet.get(r.cylinder).final_psi, unit) : '·'),
      h('td', { class: rest }, leak.has(r.cylinder) ? `${number(leak.get(r.cylinder).leakage_percent)} %` : '·')))));
}

/** How high a reading is beside the highest; a drawing, said by the number beside it. */
function bar(share) {
  return h('svg', { class: 'office-bar', viewBox: '0 0 100 4', preserveAspectRatio: 'none', 'aria-hidden': 'true' }, h('rect', { width: 100 * Math.max(0, Math.min(1, share)), height: 4 }));
}

function verdict(app, look) {
  const { unit } = app.state;
  const percent = (v) => number(100 * v);
  const value = (w) => pressure(w.value * PSI, unit);
  const limit = (w) => pressure((w.limit ?? 0) * PSI, unit);
  return h('div', { class: 'office-verdict', key: 'verdict' },
    h('p', null, t('office.pattern', { pattern: t(`pattern.${look.pattern}`) }), ' ', speed(look)),
    !look.verdict && h('p', { key: 'wait', class: 'notice mute' }, t('office.verdict.wait')),
    look.verdict && h('p', { key: 'verdict', class: ['misled', 'unsettled'].includes(look.verdict) ? 'notice caution' : 'notice', 'data-out': 'verdict', 'data-value': look.verdict }, t(`compose.${look.verdict}`)),
    look.key_tests !== null && look.key_tests !== undefined && h('p', { key: 'likely', class: 'small' }, t('office.likely', { answer: t(`family.${draft.file.key.family}`), gauge: percent(look.key_gauge), tests: percent(look.key_tests) })),
    look.warnings.length > 0 && h('ul', { class: 'office-warnings', key: 'warnings' }, look.warnings.map((w, i) => h('li', { key: i, class: 'notice caution', 'data-warning': w.key }, t(`compose.warn.${w.key}`, { cylinder: w.cylinder, value: value(w), limit: limit(w) })))));
}

function speed(look) {
  const rpm = look.dry.map((r) => r.rpm).filter((v) => v > 0);
  if (rpm.length === 0) return '';
  return t('office.speed', { rpm: number(Math.min(...rpm)), volts: number(Math.min(...look.dry.map((r) => r.battery_min_v)), 1) });
}

/** The dry readings in one line, which stays in sight on a phone; the table says them to a screen reader. */
export function strip(app) {
  const { look, busy } = draft;
  if (!look) return null;
  return h('p', { class: busy ? 'office-strip old' : 'office-strip', key: 'strip', 'aria-hidden': 'true' }, look.dry.map((r) => h('span', { key: r.cylinder }, h('small', null, r.cylinder), ' ', h('b', null, String(Math.round(fromPa(r.final_psi * PSI, app.state.unit) * (app.state.unit === 'bar' ? 10 : 1)) / (app.state.unit === 'bar' ? 10 : 1))))), h('small', null, app.state.unit));
}
