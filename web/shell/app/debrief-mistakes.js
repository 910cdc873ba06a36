// Which mistake changed which reading by how much. Each number is the difference of
// two attempts: the one handed in, and the same one played again without the mistake.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number, pressure, fillFacts, duration, cylinders } from './format.js';
import { showPa, fromVacuum, vacuumUnit } from './units.js';
import { grid } from './debrief-part.js';

/** The part about mistakes. */
export function mistakes(app, { mistakes: { list, together }, readings: read }) {
  if (list.length === 0) return h('p', { key: 'none' }, t(read.some((r) => r.run > 0) ? 'debrief.mistakes.none' : 'debrief.mistakes.unread'));
  return h('div', { key: 'mistakes' }, h('p', { class: 'mute' }, t('debrief.mistakes.hint')),
    h('ul', { class: 'mistakes' }, list.map((m) => mistake(app, m))),
    list.length > 1 && together.length > 0 && h('details', { class: 'folded', key: 'together' }, h('summary', null, t('debrief.mistakes.together')),
      table(app, together)));
}

function mistake(app, m) {
  const largest = m.effects[0];
  return h('li', { key: m.key, 'data-mistake': m.key, 'data-delta': largest?.delta ?? 0, 'data-first-delta': largest?.first_delta ?? 0, 'data-cylinder': largest?.cylinder ?? 0 },
    h('h3', null, said(app, m)),
    h('div', null, effect(app, largest), verdict(app, m),
      h('p', { class: 'mute small' }, t('debrief.when', { time: duration(m.minutes) }), m.cylinders.length > 0 && ` · ${cylinders(m.cylinders)}`, m.corrected && ` · ${t('debrief.mistakes.corrected')}`)),
    m.effects.length > 1 && h('details', { class: 'folded', key: 'all' }, h('summary', null, t('debrief.mistakes.all', { n: m.effects.length })), table(app, m.effects)));
}

/** One mistake as the one thing to take away. */
export function mistakeText(app, m) {
  return h('div', { key: 'mistake' }, h('p', null, said(app, m)), effect(app, m.effects[0]), verdict(app, m));
}

function said(app, m) {
  return fillFacts(t(`mistake.${m.key}`), m.facts ?? [], app.state.unit);
}

/** What the largest effect was, in a sentence. */
function effect(app, e) {
  if (!e) return h('p', { class: 'mute', key: 'effect' }, t('effect.none'));
  const value = (v) => amount(app, e, v);
  const last = e.delta !== 0 && t(e.delta < 0 ? 'effect.cost' : 'effect.added',
    { delta: value(Math.abs(e.delta)), what: t(`effect.on.${e.on}`, { cylinder: e.cylinder }), before: value(e.before), after: value(e.after) });
  const first = e.first_delta !== 0 && t(e.delta === 0 ? 'effect.first.only' : 'effect.first',
    { what: t(`effect.on.${e.on}`, { cylinder: e.cylinder }), before: value(e.first_before), after: value(e.first_after) });
  return h('p', { key: 'effect', 'data-out': 'effect' }, h('b', null, last || first), last && first && ` ${first}`);
}

function amount(app, e, v) {
  if (e.on === 'vacuum') return inVacuum(v);
  return e.unit === '%' ? `${number(v)} %` : pressure(v, app.state.unit);
}

/** A vacuum as its gauge is marked. */
const inVacuum = (v) => `${number(fromVacuum(v), 1)} ${vacuumUnit()}`;

/** That the card's rule would have said something else. */
function verdict(app, { verdict: v }) {
  if (!v) return null;
  return h('p', { key: 'verdict' }, t(v.before.passed ? 'effect.turned.out' : 'effect.turned.in', { rule: t(`limit.${v.before.rule}`) }));
}

/** All readings that a mistake changed. */
function table(app, list) {
  const { unit } = app.state;
  const cell = (e, v) => (e.on === 'vacuum' ? inVacuum(v) : e.unit === '%' ? `${number(v)} %` : showPa(v, unit));
  const sign = (e, v) => (v === 0 ? '0' : `${v > 0 ? '+' : '−'}${cell(e, Math.abs(v))}`);
  return grid(t('debrief.mistakes.caption', { unit }), ['reading', 'read', 'without', 'difference', 'first'].map((c) => t(`debrief.column.${c}`)),
    list.map((e) => [t(`effect.on.${e.on}`, { cylinder: e.cylinder }), cell(e, e.before), cell(e, e.after), sign(e, e.delta), e.first_delta ? sign(e, e.first_delta) : '–']));
}
