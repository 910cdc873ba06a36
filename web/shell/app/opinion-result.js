// The answer of the Second opinion, on the screen and on paper.

import { h } from './dom.js';
import { t, tFirst, has } from './i18n.js';
import { and, cylinders, number } from './format.js';

const PA = { psi: 6894.757293168361, kPa: 1000, bar: 100000, 'kgf/cm²': 98066.5, MPa: 1000000 };
const DIGITS = { psi: 1, kPa: 0, bar: 2, 'kgf/cm²': 2, MPa: 3 };

let unit = 'psi'; // of the readings that are shown

const bare = (pa) => number(pa / PA[unit], DIGITS[unit]);
const pressure = (pa) => `${bare(pa)} ${unit}`;

/** A share in percent, without claiming 0 or 100. */
function percent(p) {
  if (p > 0.99 && p < 1) return '>99';
  if (p > 0 && p < 0.01) return '<1';
  return String(Math.round(p * 100));
}

/** A group at its place. */
const what = ({ group, cylinders: list }) => (list.length ? t('opinion.at', { what: t(`family.${group}`), place: cylinders(list) }) : t(`family.${group}`));

/**
 * The whole answer.
 * @param {Object} o opinion of the second program
 */
export function result(o) {
  unit = o.readings.unit || 'psi';
  return h('article', { class: 'opinion-result', key: 'result', 'data-out': 'opinion' },
    h('div', { class: 'result-head' },
      h('h2', { tabindex: '-1' }, t('opinion.result')),
      h('button', { type: 'button', 'data-act': 'opinion-print', onclick: () => print() }, t('opinion.print'))),
    h('p', { class: 'print-only blanks' }, t('opinion.paper')),
    !o.tells && h('p', { class: 'notice', key: 'notell', 'data-out': 'notell' }, h('b', null, t('opinion.notell')), ' ', t('opinion.notell.why')),
    o.kept && h('p', { key: 'kept', 'data-out': 'kept' }, t('opinion.kept')),
    causes(o), method(o), next(o), cautions(o), limits(o), understood(o),
    h('p', { class: 'mute small foot' }, t('opinion.foot')));
}

function causes(o) {
  return h('div', { key: 'causes' },
    h('ol', { class: 'causes' }, o.causes.map((c, i) => h('li', { key: `${c.group}/${c.cylinders}`, 'data-group': c.group, class: i === 0 && o.tells ? 'likeliest' : '' }, cause(c)))),
    o.rest >= 0.01 && h('p', { class: 'mute', key: 'rest' }, t('opinion.rest', { percent: percent(o.rest) })),
    o.alike.length > 1 && h('p', { class: 'mute', key: 'alike' }, t('opinion.apart', { list: and(o.alike.map((g) => t('quote', { text: t(`family.${g}`) }))) })));
}

function cause(c) {
  const sure = t('opinion.sure', { words: t(`opinion.words.${c.words}`), percent: percent(c.probability) });
  return [
    h('h3', null, what(c), h('span', { class: 'sure' }, sure)),
    h('svg', { class: 'share', viewBox: '0 0 100 1', preserveAspectRatio: 'none', 'aria-hidden': 'true' }, h('rect', { width: String(Math.max(0.5, c.probability * 100)), height: '1' })),
    families(c),
    sayings(t('opinion.for'), c.for, c), sayings(t('opinion.against'), c.against, c),
    c.over && h('p', { key: 'over' }, t('opinion.over', { family: t(`opinion.family.${c.over}`), percent: percent(c.over_share) })),
  ];
}

function families(c) {
  const plain = c.families.length === 1 && c.families[0].family === c.group;
  if (plain || !c.families.length) return null;
  const share = (f) => t('opinion.share', { family: t(`opinion.family.${f.family}`), percent: percent(f.probability) });
  return h('p', { key: 'families' }, c.families.map(share).join('; '));
}

function sayings(title, list, c) {
  if (!list.length) return null;
  return h('p', { key: title }, h('b', null, title, ': '), list.map((s) => saying(s, c)).join('; '));
}

/**
 * A reading that speaks for something or against it, and how much. The other
 * readings are all of them where no cylinder is blamed.
 */
function saying(s, c) {
  const key = `opinion.reading.${s.reading === 'dry_others' && !c.cylinders.length ? 'dry' : s.reading}`;
  const strength = Math.abs(s.bits) >= 3 ? 'strong' : Math.abs(s.bits) >= 1 ? 'clear' : 'slight';
  const text = t(s.cylinder === 0 && has(`${key}.all`) ? `${key}.all` : key, { value: valueOf(s), place: cylinders([s.cylinder]) });
  return `${text} (${t(`opinion.says.${strength}`)})`;
}

function valueOf(s) {
  if (s.reading === 'leakage' || s.reading === 'hump') return `${number(s.value)} %`;
  if (s.reading === 'speed') return `${number(s.value)} rpm`;
  if (s.reading === 'volts') return `${number(s.value, 1)} V`;
  if (s.reading === 'ratio') return number(s.value, 1);
  return pressure(s.value);
}

function next(o) {
  const [a, b] = o.between.map(what);
  return h('section', { key: 'next', class: 'half right' }, h('h2', null, t('opinion.next')),
    o.next.length > 1 && b && h('p', { key: 'between' }, t('opinion.next.between', { a, b })),
    o.next.length === 0 && h('p', { key: 'none' }, t('opinion.next.none')),
    h('ol', { class: 'tests' }, o.next.map((n) => h('li', { key: `${n.test}/${n.cylinders}`, 'data-test': n.test },
      h('b', null, n.cylinders.length ? t('opinion.at', { what: t(`next.${n.test}`), place: cylinders(n.cylinders) }) : t(`next.${n.test}`)), ': ',
      t('opinion.next.line', { minutes: number(n.minutes), percent: percent(n.settles) }), b && ` ${t(`opinion.next.${apart(n.apart)}`)}`))),
    o.next.length > 0 && h('p', { class: 'mute small', key: 'bench' }, t('opinion.next.bench')),
    o.idle && b && h('p', { key: 'idle' }, t('opinion.next.idle', { test: t(`next.${o.idle}`) })));
}

/** Whether a test tells the two first explanations apart; as the command line says it. */
const apart = (share) => (share >= 0.5 ? 'apart' : share >= 0.2 ? 'partly' : 'hardly');

function method(o) {
  if (!o.method.length) return null;
  const unsaid = o.method.filter((c) => c.state === 'unknown').map((c) => t(`opinion.unsaid.${c.key}`));
  return h('section', { key: 'method', class: 'half left' }, h('h2', null, t('opinion.method')),
    h('ul', { class: 'dashes' },
      o.method.filter((c) => c.state !== 'unknown').map((c) => h('li', { key: c.key, 'data-check': c.key }, t(`opinion.check.${c.key}`, { place: cylinders(c.cylinders ?? []) }))),
      unsaid.length > 0 && h('li', { key: 'unsaid' }, t('opinion.method.unsaid', { list: and(unsaid) }))));
}

function cautions(o) {
  return h('section', { key: 'cautions', class: 'notice caution half left' }, h('h2', null, t('opinion.cautions')),
    h('ul', null, o.cautions.map((c) => h('li', { key: c }, t(`opinion.care.${c}`)))));
}

function limits(o) {
  const known = o.limits.filter((v) => v.known);
  const [v] = known;
  return h('section', { key: 'limits', class: 'half' }, h('h2', null, t('opinion.limits')),
    h('table', { class: 'plain-table limits-table' },
      h('thead', null, h('tr', null, ['rule', 'found', 'asked', 'says'].map((c) => h('th', { scope: 'col', key: c }, t(`opinion.limits.${c}`))))),
      h('tbody', null, o.limits.map((r) => limitRow(r)))),
    v && v.lowest !== v.highest && h('p', { key: 'pair' }, t('opinion.limits.pair', { low: v.lowest, lowp: pressure(v.low_pa), high: v.highest, highp: pressure(v.high_pa) })),
    Math.abs(o.air - 1) > 0.005 && h('p', { key: 'air' }, t('opinion.air', { percent: Math.round(o.air * 100) })),
    h('p', { class: 'mute small' }, t('opinion.limits.hint')));
}

function limitRow(r) {
  const inPa = r.rule === 'difference' || r.rule === 'minimum';
  const show = (x) => (!r.known ? '–' : inPa ? pressure(x) : `${Math.round(x * 100)}\u00a0%`);
  const floor = r.floor_pa > 0 && r.value >= r.limit && r.low_pa < r.floor_pa; // the part that decides
  const says = !r.known ? t('opinion.limits.none') : t(r.passed ? 'limit.within' : 'limit.outside');
  return h('tr', { key: r.rule, class: r.known && !r.passed ? 'missed' : '' }, h('th', { scope: 'row' }, tFirst([`opinion.rule.${r.rule}`, `limit.${r.rule}`])), h('td', null, floor ? pressure(r.low_pa) : show(r.value)), h('td', null, floor ? pressure(r.floor_pa) : show(r.limit)), h('td', null, says));
}

// Columns of the readings, with what each shows.
const shows = [
  ['dry', (c) => pa(c.dry_pa)], ['first', (c) => pa(c.first_pa)], ['repeat', (c) => (c.repeats_pa ?? []).map(bare).join(' ')],
  ['wet', (c) => pa(c.wet_pa)], ['wet_first', (c) => pa(c.wet_first_pa)], ['second', (c) => pa(c.second_pa)], ['refit', (c) => pa(c.refit_pa)],
  ['leakage_percent', (c) => plain(c.leakage_percent)], ['heard', (c) => (c.heard ?? []).map((p) => t(`air.${p}`)).join(', ')],
  ['hump', (c) => plain(c.hump_percent)], ['idle', (c) => pa(c.idle_pa)], ['snap', (c) => pa(c.snap_pa)],
  ['lash_intake', (c) => plain(c.lash_intake_mm, 2)], ['lash_exhaust', (c) => plain(c.lash_exhaust_mm, 2)],
  ['strokes', (c) => plain(c.strokes)], ['rpm', (c) => plain(c.rpm)], ['volts', (c) => plain(c.volts, 1)],
  ['bore', (c) => c.bore ?? ''], ['dead', (c) => (c.dead ? t(`opinion.${c.dead}`) : '')], ['bank', (c) => plain(c.bank)],
];

const pa = (v) => (v === undefined ? '' : bare(v));
const plain = (v, digits = 0) => (v === undefined ? '' : number(v, digits));

function understood(o) {
  const r = o.readings;
  const used = shows.filter(([, of]) => r.cylinders.some((c) => of(c) !== ''));
  const given = givenOf(r.engine);
  return h('section', { key: 'understood', class: 'half' }, h('h2', null, t('opinion.understood')),
    h('table', { class: 'plain-table understood' },
      h('caption', null, t('opinion.in_unit', { unit })),
      h('thead', null, h('tr', null, h('th', { scope: 'col' }, t('opinion.column.cylinder')), used.map(([name]) => h('th', { scope: 'col', key: name }, t(`opinion.column.${name}`))))),
      h('tbody', null, r.cylinders.map((c) => h('tr', { key: c.cylinder }, h('th', { scope: 'row' }, String(c.cylinder)), used.map(([name, of]) => h('td', { key: name }, of(c) || '–')))))),
    h('ul', { class: 'dashes' },
      (r.notes ?? []).map((n, i) => h('li', { key: i, 'data-note': n.key }, note(n))),
      given.length > 0 && h('li', { key: 'given' }, t('opinion.given', { list: and(given) }))));
}

function note(n) {
  const key = n.key === 'unit_guessed' && n.unit === 'bar' ? 'unit_guessed_bar' : n.key;
  return t(`opinion.note.${key}`, { text: n.text ?? '', unit: n.unit ?? '', line: n.line ?? '', value: number(n.value ?? 0, 3) });
}

/** What was said about the whole engine, so that a slip is seen. */
function givenOf(e) {
  const out = [];
  const add = (key, value) => { if (value) out.push(t('opinion.given.one', { what: t(key).replace(/[¿?]/g, ''), value })); };
  if (e.layout) add('opinion.layout', t(`opinion.layout.${e.layout}`));
  add('opinion.ratio', plain(e.ratio, 2));
  add('opinion.altitude', e.altitude_m === undefined ? '' : `${number(e.altitude_m)} m`);
  for (const name of ['minimum', 'standard', 'difference']) add(`opinion.${name}`, e[`${name}_pa`] === undefined ? '' : pressure(e[`${name}_pa`]));
  add('opinion.rpm', plain(e.rpm));
  add('opinion.volts', plain(e.volts, 1));
  for (const [name, value] of [['throttle', e.throttle], ['plugs', e.plugs], ['equal', e.equal_strokes], ['warm', e.warm], ['two-stroke', e.two_stroke]]) if (value) add(`opinion.asked.${name}`, t(`opinion.${value}`));
  return [...out, ...(e.history ?? []).map((w) => t(`opinion.history.${w}`))];
}
