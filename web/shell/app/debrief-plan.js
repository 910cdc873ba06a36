// The cheapest way to have told what was wrong, against all that reads the same.

import { h } from './dom.js';
import { t, has } from './i18n.js';
import { and, number, pressure, cylinders } from './format.js';
import { fromMm, gapDigits, gapUnit } from './units.js';
import { faultText } from './debrief-inside.js';

/** The part about the cheapest way. */
export function plan(app, { plan: p }) {
  if (p.rivals.length === 0) return h('p', { key: 'none' }, t('debrief.plan.none'));
  return h('div', { key: 'plan' },
    h('p', null, t(`debrief.plan.shape.${p.shape}`, { n: p.suspects.length, where: cylinders(p.suspects) }), ' ', t('debrief.plan.rivals', { list: names(p, p.rivals.map((_, i) => i)) })),
    h('ol', { class: 'steps' }, p.steps.map((s) => h('li', { key: s.test, 'data-test': s.test }, h('h3', null, testName(s), h('span', { class: 'points' }, t('time.minutes', { m: number(s.minutes) }))),
      h('p', null, shows(app, s), ' ', out(p, s))))),
    p.left.length > 0 && h('p', { key: 'left' }, t('debrief.plan.left', { list: names(p, p.left) }), p.elsewhere.map((x) => ` ${t('debrief.plan.elsewhere', { test: lower(t(`next.${x}`)) })}`)),
    p.minutes > 0 && h('p', { key: 'sum' }, h('b', null, t('debrief.plan.sum', { time: t('time.minutes', { m: number(p.minutes) }) }))),
    yours(p), others(app, p));
}

function testName({ test }) {
  return test === 'dry' ? t('debrief.plan.dry') : t(`next.${test}`);
}

function names(p, list) {
  const seen = [...new Set(list.map((i) => rivalName(p.rivals[i])))];
  return and(seen);
}

function rivalName({ family, faults }) {
  const text = faults.length ? faultText(faults[0], false) : t(has(`noun.${family}`) ? `noun.${family}` : `family.${family}`);
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** What a test rules out. */
function out(p, { rules_out: list }) {
  if (list.length === 0) return t('debrief.plan.nothing');
  return list.length === p.rivals.length && list.length > 1 ? t('debrief.plan.out.all') : t('debrief.plan.out', { list: names(p, list) });
}

/** What a test shows on this engine, in words. */
function shows(app, s) {
  return s.shows.filter((x) => x.name !== 'rpm' || x.means === 'slow').map((x) => shown(app, x)).join(' ');
}

function shown(app, x) {
  const value = x.unit === 'psi' ? pressure(Math.abs(x.value) * 6894.757, app.state.unit)
    : x.unit === 'mm' ? `${number(fromMm(x.value), gapDigits())} ${gapUnit()}` : `${number(x.value)} ${x.unit}`;
  if (x.unit === '' && x.means && !has(`shown.${x.name}.${x.means}`)) return x.means.split(' ').filter((f) => has(`fact.${f}`)).map((f) => t(`fact.${f}`, { cylinder: x.cylinder || 1 })).join(' ');
  return t(`shown.${x.name}.${x.means}`, { cylinder: x.cylinder, value });
}

function yours(p) {
  const y = p.yours;
  const said = (tests) => and(tests.map((test) => (test === 'dry' ? t('debrief.plan.dry.short') : lower(t(`next.${test}`)))));
  const list = y.tests.length ? said(y.tests) : t('debrief.plan.yours.none');
  return h('p', { key: 'yours', 'data-out': 'yours' }, t('debrief.plan.yours', { list, time: t('time.minutes', { m: number(y.minutes) }) }), ' ', y.nothing.length > 0 && `${t('debrief.plan.nothing.yours', { list: said(y.nothing) })} `,
    t(`debrief.plan.${y.verdict}`, { list: names(p, y.open), next: lower(t(`next.${y.next}`)) }));
}

const lower = (s) => s.charAt(0).toLowerCase() + s.slice(1);

/** Every other test by itself: what it costs, what it shows and what it tells apart. */
function others(app, p) {
  const rest = p.table.filter((s) => !p.steps.some((x) => x.test === s.test));
  if (rest.length === 0) return null;
  return h('details', { class: 'folded', key: 'others' }, h('summary', null, t('debrief.plan.others', { n: rest.length })),
    h('ul', { class: 'steps' }, rest.map((s) => h('li', { key: s.test }, h('h3', null, testName(s), h('span', { class: 'points' }, t('time.minutes', { m: number(s.minutes) }))),
      h('p', null, shows(app, s), ' ', out(p, s))))));
}
