// The foot of the page: where help is, in the same order in every place.

import { h } from './dom.js';
import { t, lang } from './i18n.js';
import { address, isWhole } from './parts.js';

/**
 * The foot of every place. What it leads to are documents of their own; out of a
 * job they open in a tab of their own.
 * @param {Object} app
 */
export function foot(app) {
  if (!isWhole()) return null; // a package with one job has no other documents
  const aside = ['bay', 'debrief'].includes(app.state.place) ? '_blank' : null;
  const link = (name, key) => h('a', { class: 'plain', key: name, href: address(`${name}.${lang()}.html`), target: aside, 'data-act': `foot-${name}` }, t(key));
  return h('footer', { class: 'site-foot', key: 'foot' }, link('words', 'words.open'), link('model', 'model.open'), link('access', 'access.open'));
}
