// A part of the Debrief: its title, and what stands there while it is worked out.

import { h } from './dom.js';
import { t, tFirst } from './i18n.js';
import { detailOf, quoted } from './format.js';

/** A titled part of the page. */
export function part(name, ...kids) {
  return h('section', { class: `part part-${name}`, key: name, 'aria-labelledby': `part-${name}` },
    h('h2', { id: `part-${name}`, tabindex: '-1' }, t(`debrief.part.${name}`)), ...kids);
}

/** What is asked of the desk by itself; the other parts come with the grade. */
export const asked = ['mistakes', 'inside', 'plan'];

/**
 * What stands in a part that isn't worked out: how far it is, or why it didn't come.
 * @returns {Object|null} null when its content can be shown
 */
export function waiting(app, name) {
  const { result } = app.state;
  if (!asked.includes(name) || result[name]) return null;
  const { error, done = 0, of = 0 } = result.work?.[name] ?? {};
  if (error) {
    const detail = detailOf(error);
    return h('div', { class: 'notice error', key: 'error', role: 'alert' },
      h('p', null, tFirst([`error.${error.key}`, 'error.other'], error.params), detail && quoted(detail)),
      h('button', { type: 'button', 'data-act': 'part-again', 'data-choice': name, onclick: () => app.askPart(name) }, t('debrief.again')));
  }
  const label = t(`debrief.working.${name}`);
  return h('div', { class: 'notice working', key: 'working', 'aria-busy': 'true' }, h('p', null, label),
    h('progress', { 'aria-label': label, max: of || 1, value: of ? done : undefined }));
}

/** A table: [key of the column's title, ...] and rows of cells, the first one a title. */
export function grid(caption, columns, rows, props = {}) {
  const reach = columns.length > 3 ? { tabindex: '0', role: 'group', 'aria-label': caption ?? props.label } : {}; // it may have to be scrolled sideways
  return h('div', { class: 'wide', key: props.key, ...reach }, h('table', { class: 'plain-table' },
    caption && h('caption', null, caption),
    h('thead', null, h('tr', null, columns.map((c, i) => h('th', { scope: 'col', key: i }, c)))),
    h('tbody', null, rows.map((cells, i) => h('tr', { key: i }, cells.map((c, k) => (k === 0 ? h('th', { scope: 'row', key: k }, c) : h('td', { key: k }, c))))))));
}
