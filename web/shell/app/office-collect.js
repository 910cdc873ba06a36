// What comes back: hand-ins collected, replayed, graded.

import { h } from './dom.js';
import { t } from './i18n.js';

/** The section, as children of its panel. */
export function collectSection() {
  return [h('h2', { key: 'title' }, t('office.part.collect'))];
}
