// The class table: one line for each hand-in, sorted by any column, opened by its name.

import { h } from './dom.js';
import { t, lang } from './i18n.js';
import { number } from './format.js';
import { namesHidden, shownName } from './office-head.js';
import { box, rows } from './office-collect-work.js';

/** The five rows of a grade. */
export const graded = ['prepare', 'measure', 'record', 'choose', 'conclude'];

const columns = ['student', 'is', 'result', ...graded, 'minutes', 'hints'];

/** Statuses from what is as it should be to what can't be read. */
const order = ['ok', 'open', 'wrong_mode', 'not_on_roster', 'other_student', 'wrong_variant', 'changed', 'version', 'unknown', 'sealed', 'differs', 'impossible', 'unreadable'];

/** Whom a row belongs to, as far as it says. */
export const studentOf = (row) => row.student || row.who || '';

/** A student as the screen may show them. Numbers follow the roster, then the order of arrival. */
export function shown(label) {
  if (!label) return t('collect.nobody');
  if (!namesHidden()) return label;
  return shownName(label, placeOf(label));
}

const places = { group: null, items: null, seen: 0, of: new Map() };

/** The number of a student. What has one keeps it until everything is cleared or held against another class. */
function placeOf(label) {
  const { group, items } = box;
  if (places.group !== group || places.items !== items) Object.assign(places, { group, items, seen: 0, of: new Map((group?.students ?? []).map((name, i) => [name, i + 1])) });
  const add = (name) => { if (name && !places.of.has(name)) places.of.set(name, places.of.size + 1); };
  for (; places.seen < items.length && items[places.seen].row; places.seen++) add(studentOf(items[places.seen].row));
  add(label); // of a row before which others are still waiting
  return places.of.get(label);
}

/** Where a row came from; a file's name may name its student. */
export const sourceOf = (source) => (namesHidden() ? t('collect.file.number', { n: arrivals().get(source) ?? 0 }) : source);

const arrived = { items: null, seen: 0, of: new Map() };

/** When each source came, from 1. */
function arrivals() {
  const { items } = box;
  if (arrived.items !== items) Object.assign(arrived, { items, seen: 0, of: new Map() });
  for (; arrived.seen < items.length; arrived.seen++) if (!arrived.of.has(items[arrived.seen].source)) arrived.of.set(items[arrived.seen].source, arrived.seen + 1);
  return arrived.of;
}

/** What a hand-in is, in two or three words, with the tick where there is one. */
export function isText(row) {
  const word = t(`collect.is.${row.status}`);
  return row.tick ? t('collect.is.tick', { is: word, tick: number(row.tick) }) : word;
}

/** What a hand-in is, in a sentence. */
export function isSentence(row) {
  const mode = (id) => (row.status === 'wrong_mode' ? t(`mode.${id}`) : id);
  return t(`handin.${row.status}`, {
    student: shown(studentOf(row)), owner: shown(row.owner), tick: number(row.tick ?? 0), what: t('collect.model'), then: mode(row.then), now: mode(row.now),
  });
}

/** The percent that count: the instructor's where there are some. */
export const counts = (row) => row.override?.percent ?? (row.holds ? row.percent : null);

/** The percent in words, with what the replay gave where they differ. */
export function resultText(row) {
  const value = counts(row);
  if (value === null) return '–';
  return `${number(value)} %`;
}

/** What the instructor changed, or '' where nothing. */
export function overrideText(row) {
  const { override } = row;
  if (!override) return '';
  if (override.percent === null) return t('collect.override.comment', { comment: override.comment });
  return t('collect.override.percent', { percent: number(override.percent, 1), replay: row.holds ? `${number(row.percent)} %` : '–', comment: override.comment });
}

const points = (row, name) => row.grade?.rows.find((r) => r.name === name);

function value(item, by) {
  const { row } = item;
  switch (by) {
    case 'student': return studentOf(row) ? shown(studentOf(row)) : null;
    case 'is': return order.indexOf(row.status);
    case 'result': return counts(row);
    case 'minutes': return row.holds ? row.minutes : null;
    case 'hints': return row.grade?.hints ?? null;
    default: return points(row, by)?.points ?? null;
  }
}

/** Rows as they are sorted now; what has no value comes last either way. */
export function sorted() {
  const { by, isDown } = box.sort;
  const list = rows().filter(({ row }) => !box.misstep || row.missteps?.includes(box.misstep));
  const { compare: words } = new Intl.Collator(lang(), { numeric: true });
  const compare = (a, b) => (typeof a === 'string' ? words(a, b) : a - b);
  return list.map((item) => [value(item, by), item]).sort(([a, x], [b, y]) => {
    if (a === null || b === null) return (a === null) - (b === null) || x.id - y.id;
    return (isDown ? compare(b, a) : compare(a, b)) || x.id - y.id;
  }).map(([, item]) => item);
}

function sortBy(app, by) {
  const { sort } = box;
  box.sort = sort.by === by ? { by, isDown: !sort.isDown } : { by, isDown: !['student', 'is'].includes(by) };
  app.redraw();
}

/** The table. */
export function classTable(app, openRow) {
  return h('div', { class: 'wide collect-wide', key: 'table', tabindex: '0', role: 'group', 'aria-label': t('collect.table') },
    h('table', { class: 'collect-table', 'data-out': 'collected' }, h('caption', { class: 'hidden' }, t('collect.table')),
      h('thead', null, h('tr', null, columns.map((c) => head(app, c)))),
      h('tbody', null, sorted().map((item) => lineOf(item, openRow)))));
}

function head(app, name) {
  const { by, isDown } = box.sort;
  const isIt = by === name;
  return h('th', { scope: 'col', key: name, class: `of-${name}${graded.includes(name) || name === 'minutes' || name === 'hints' ? ' of-point' : ''}`, 'aria-sort': isIt ? (isDown ? 'descending' : 'ascending') : null },
    h('button', { type: 'button', class: 'plain', 'data-act': 'sort', 'data-choice': name, onclick: () => sortBy(app, name) }, t(`collect.col.${name}`),
      h('span', { class: 'arrow', 'aria-hidden': 'true' }, isIt ? (isDown ? '↓' : '↑') : '')));
}

/** What bars a pass beside the points. */
function whyNot(row) {
  const low = row.holds && !row.override ? row.grade?.low ?? [] : [];
  return low.length > 0 && h('small', { class: 'block mute', key: 'low' }, t('debrief.low', { rows: low.map((name) => t(`collect.col.${name}`)).join(', ') }));
}

const drawn = new WeakMap(); // item → {sign, node}: thousands of lines are drawn once

/** The line of an item as it was drawn, unless something in it is another. */
function lineOf(item, openRow) {
  const { row } = item;
  const sign = JSON.stringify([lang(), box.open === item.id, shown(studentOf(row)), row.owner && shown(row.owner), sourceOf(row.source), row.again, row.same_as, row.override, row.status]);
  const before = drawn.get(item);
  if (before?.sign === sign && before.row === row) return before.node;
  const node = line(item, openRow);
  drawn.set(item, { sign, row, node });
  return node;
}

function line(item, openRow) {
  const { row } = item;
  const isOpen = box.open === item.id;
  return h('tr', { key: item.id, class: `${row.holds ? '' : 'unheld'} ${isOpen ? 'is-open' : ''}`.trim() || null, 'data-status': row.status, 'data-percent': row.holds ? row.percent.toFixed(1) : '' },
    h('th', { scope: 'row' }, h('button', { type: 'button', class: 'headline', 'data-act': 'open-row', 'data-row': item.id, 'aria-expanded': String(isOpen), onclick: () => openRow(item) }, shown(studentOf(row))),
      h('small', { class: 'mute source' }, sourceOf(row.source))),
    h('td', { class: 'of-is' }, h('span', { class: ['ok', 'open'].includes(row.status) ? 'is-fine' : 'is-other' }, isText(row)), row.holds && !row.override && h('span', { class: 'mute', key: 'pass' }, `, ${t(row.pass ? 'collect.pass' : 'collect.nopass')}`), whyNot(row), row.owner && h('small', { class: 'block mute', key: 'owner' }, t('collect.owner', { owner: shown(row.owner) })),
      row.again > 1 && h('small', { class: 'block mute', key: 'again' }, t('handin.again', { n: row.again })),
      row.same_as && h('small', { class: 'block mute', key: 'same' }, t('handin.same_as', { source: sourceOf(row.same_as) }))),
    h('td', { class: 'of-result' }, h('b', null, resultText(row)),
      row.override && h('small', { class: 'block changed', key: 'override' }, overrideText(row))),
    graded.map((name) => h('td', { key: name, class: 'of-point' }, points(row, name) ? number(points(row, name).points, 1) : '')),
    h('td', { class: 'of-point' }, row.holds ? number(row.minutes) : ''), h('td', { class: 'of-point' }, row.grade ? number(row.grade.hints) : ''));
}
