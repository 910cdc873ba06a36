// A class set that was made: everybody's link, and, when asked for, the answers.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { cylinders, inert } from './format.js';
import { saveFile } from './files.js';
import { isPacked } from './parts.js';
import { faultText } from './debrief-inside.js';
import { copy, protects } from './office-job.js';
import { addressOf, fill, group, madeOf, startOver } from './office-group.js';
import { namesHidden, shownName } from './office-head.js';
import { showPa } from './units.js';

const PSI = 6894.757293168361; // Pa

/** The set with what can be done with it. */
export function madeSet(app) {
  const { set } = group;
  const made = madeOf();
  const n = set.answers.length;
  return h('div', { class: 'office-set', key: 'set' },
    h('div', { class: 'office-title' }, h('div', null, h('h2', { id: 'office-set', tabindex: '-1' }, set.name || t('office.class.unnamed')),
      h('p', { class: 'mute' }, [pick(made.scenario.title), pick(made.scenario.engine.name), made.mode ? t(`mode.${made.mode}`) : t('office.mode.free')].join(' · '))),
    h('button', { type: 'button', class: 'plain', 'data-act': 'another-class', onclick: () => startOver(app) }, t('office.class.another'))),
    h('p', { 'data-out': 'class-set', 'data-value': n }, t('office.made', { n }), ' ', t('office.pattern', { pattern: t(`pattern.${set.pattern}`) }), ' ', settled(set)),
    isPacked() && h('p', { class: 'notice caution', key: 'disk' }, t('office.link.disk')),
    group.note && h('p', { class: 'notice caution', key: 'note', role: 'status' }, t(group.note)),
    !group.kept && h('p', { class: 'notice caution', key: 'unkept' }, t('office.class.unkept')),
    acts(app, set),
    table(app, set), protects());
}

function settled({ supported, open }) {
  if (supported) return t('office.settled');
  return t(open ? 'office.settled.open' : 'office.settled.not');
}

function acts(app, set) {
  const button = (act, text, onclick, kind = '') => h('button', { type: 'button', class: kind || null, key: act, 'data-act': act, onclick }, text);
  const named = set.name ? set.name.normalize('NFD').replace(/[\u0300-\u036f]/g, '').toLowerCase().replace(/[^a-z0-9]+/g, '-') : 'class';
  const show = (view) => { fill(app, { view }); scrollTo(0, 0); queueMicrotask(() => document.getElementById('office-paper')?.focus()); };
  return h('div', { class: 'row office-acts', role: 'group', 'aria-label': t('office.class.do') },
    button('slips', t('office.slips'), () => show('slips'), 'go'), button('answer-sheet', t('office.answers.print'), () => show('answers')),
    button('links-csv', t('office.links'), () => saveFile(`crankbay-${named}-links.csv`, linksTable(set), 'text/csv')),
    button('save-class', t('office.class.save'), () => saveFile(`crankbay-${named}-class.json`, group.made)),
    button('change', t('office.class.change'), () => { fill(app, { changing: true }); queueMicrotask(() => document.getElementById('office-class')?.focus()); }),
    h('button', { type: 'button', class: 'toggle', key: 'answers', 'data-act': 'answers', 'aria-pressed': String(group.answers), onclick: () => fill(app, { answers: !group.answers }) }, t('office.answers')));
}

/** Links as a table that a spreadsheet or a mail merge reads. */
function linksTable(set) {
  const cell = (v) => {
    const safe = inert(v);
    return /[",;]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return `\ufeff${[['student', 'id', 'link'], ...set.answers.map((a) => [a.name, a.id ?? '', addressOf(a)])].map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`;
}

function table(app, set) {
  const { answers: open } = group;
  return h('div', { class: 'office-scroll', key: 'table', tabindex: '0', role: 'region', 'aria-label': t('office.table') },
    open && h('p', { class: 'notice caution', key: 'only' }, t('office.answers.only')),
    h('table', { class: 'office-table' }, h('thead', null, h('tr', null, [['student', 'office.student'], ['link', 'office.link'], ...(open ? [['inside', 'paper.inside'], ['answer', 'paper.answer'], ['dry', 'paper.dry']] : [])].map(([key, text]) => h('th', { scope: 'col', key }, t(text))))),
      h('tbody', null, set.answers.map((a, i) => row(app, a, i, open)))));
}

function row(app, a, i, open) {
  const who = shownName(a.who, i + 1);
  return h('tr', { key: a.variant },
    h('th', { scope: 'row' }, who, a.minutes > 0 && h('small', { class: 'mute block' }, t('paper.minutes', { n: a.minutes }), a.extra_time ? ` (${t('paper.extra', { n: a.extra_time })})` : '')),
    h('td', { class: 'office-links' }, h('button', { type: 'button', 'data-act': 'copy-link', 'aria-label': t('office.copy.of', { who }), onclick: () => copy(app, addressOf(a)) }, t('office.copy')),
      h('a', { class: 'plain', href: addressOf(a), target: '_blank', rel: 'noopener', 'data-out': 'link', 'aria-label': t('office.link.of', { who: namesHidden() ? who : a.who }) }, t('office.try.short'))),
    open && [h('td', { key: 'inside' }, insideOf(a)), h('td', { key: 'answer' }, answerText(a)), h('td', { key: 'dry', class: 'n' }, dialText(app, a.dry))]);
}

/** What is wrong in one variant. */
export function insideOf(a) {
  return a.faults.length ? a.faults.map((f) => `${faultText(f)}${numbers(f)}`).join('; ') : t('fault.none');
}

const units = { area_mm2: 'mm²', gap_mm: 'mm', lash_mm: 'mm', depth_mm: 'mm', width_mm: 'mm', diameter_mm: 'mm', volume_ml: 'ml', resistance_mohm: 'mΩ', drag_nm: 'N·m', friction_kpa: 'kPa', error_psi: 'psi', error_percent: '%', friction_psi: 'psi', deg_late: '°', altitude_m: 'm', ambient_c: '°C', reach_mm: 'mm' };

/** How bad a fault is, in the units of the file. */
function numbers(f) {
  return Object.keys(units).filter((name) => f[name] !== undefined).map((name) => `, ${f[name]} ${units[name]}`).join('');
}

/** The right answer in words. */
export function answerText({ key }) {
  return key.cylinders?.length ? `${t(`family.${key.family}`)}, ${cylinders(key.cylinders)}` : t(`family.${key.family}`);
}

/** Last strokes in the order of the cylinders. */
export function dialText(app, list) {
  return (list ?? []).map((r) => showPa(r.final_psi * PSI, app.state.unit, app.state.unit === 'bar' ? 1 : 0)).join(' · ');
}
