// One job: composed, tried by the book, handed out.

import { h } from './dom.js';
import { t } from './i18n.js';

/** The section, as children of its panel. */
export function jobSection() {
  return [h('h2', { key: 'title' }, t('office.part.job'))];
}
