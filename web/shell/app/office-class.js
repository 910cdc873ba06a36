// A class set: a variant of one job for every student of a roster.

import { h } from './dom.js';
import { t } from './i18n.js';

/** The section, as children of its panel. */
export function classSection() {
  return [h('h2', { key: 'title' }, t('office.part.class'))];
}
