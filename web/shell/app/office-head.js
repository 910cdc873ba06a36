// The head of the Desk: its sections and the two switches that every section keeps to,
// large for a projector and names hidden.

import { address } from './parts.js';
import { h } from './dom.js';
import { t, lang } from './i18n.js';
import { preference, keepPreference } from './store.js';

/** Sections of the Desk, in the order of a lesson. */
export const parts = ['job', 'class', 'collect'];

const head = { part: preference('desk-part', 'job'), large: preference('desk-large', false), hidden: preference('desk-hidden', false) };

function keep(app, name, value) {
  head[name] = value;
  keepPreference(`desk-${name}`, value);
  app.redraw();
}

/** The section that is open. */
export function openPart() {
  return parts.includes(head.part) ? head.part : parts[0];
}

/** Opens a section. */
export function showPart(app, part) {
  keep(app, 'part', part);
}

/** Whether everything is shown large, for a projector. */
export function isLarge() {
  return head.large;
}

/** Whether names may not be shown on the screen. */
export function namesHidden() {
  return head.hidden;
}

/**
 * A student as the screen may show them.
 * @param {string} who name, or name and number of the school
 * @param {number} n place in the list, from 1
 */
export function shownName(who, n) {
  return head.hidden ? t('office.number', { n }) : who;
}

/** Title, sections and switches. */
export function deskHead(app) {
  return h('div', { class: 'office-head' },
    h('div', null, h('h1', null, t('place.desk')), h('p', { class: 'lead' }, t('office.lead')),
      h('a', { class: 'plain', href: address(`guide.${lang()}.html`), target: '_blank', rel: 'noopener', 'data-act': 'guide' }, t('guide.tab'))),
    h('div', { class: 'office-switches', role: 'group', 'aria-label': t('office.switches') },
      toggle(app, 'large', 'office.large'), toggle(app, 'hidden', 'office.hide')),
    h('div', { class: 'office-parts', role: 'tablist', 'aria-label': t('office.parts') }, parts.map((part, i) => tab(app, part, i))));
}

function toggle(app, name, key) {
  return h('button', { type: 'button', class: 'toggle', key: name, 'data-act': `desk-${name}`, 'aria-pressed': String(head[name]), onclick: () => keep(app, name, !head[name]) }, t(key));
}

function tab(app, part, i) {
  const isOpen = part === openPart();
  return h('button', {
    type: 'button', role: 'tab', key: part, id: `desk-tab-${part}`, 'aria-controls': `desk-${part}`, 'data-act': 'desk-part', 'data-choice': part,
    'aria-selected': String(isOpen), tabindex: isOpen ? '0' : '-1',
    onclick: () => showPart(app, part), onkeydown: (event) => move(app, event, i),
  }, t(`office.part.${part}`));
}

function move(app, event, i) {
  const step = { ArrowRight: 1, ArrowLeft: -1, Home: -i, End: parts.length - 1 - i }[event.key];
  if (step === undefined) return;
  event.preventDefault();
  const part = parts[(i + step + parts.length) % parts.length];
  showPart(app, part);
  queueMicrotask(() => document.getElementById(`desk-tab-${part}`)?.focus());
}
