// The instructor's word on hand-ins, kept on this device for when they come in again.

import { keepPreference, preference } from './store.js';

const NAME = 'overrides';

/**
 * What a decision belongs to: the work of one student. Logs that are alike, a copied one
 * or one with nothing in it, are still two students' work.
 */
const keyOf = ({ scenario, who, log }) => (log ? [scenario ?? '', who ?? '', log].join('\n') : '');

/**
 * What was decided about a row, or null.
 * @param {{scenario:?string, who:string, log:?string}} row
 * @returns {?{percent:?number, comment:string}}
 */
export const wordOn = (row) => preference(NAME, {})[keyOf(row)] ?? null;

/**
 * Keeps what was decided; null takes it back. What another tab kept stays.
 * @returns {boolean} false when this device keeps nothing, or the row has no log to know it by
 */
export function keepWord(row, word) {
  const key = keyOf(row);
  if (!key) return false;
  const { [key]: before, ...others } = preference(NAME, {});
  return keepPreference(NAME, word ? { ...others, [key]: word } : others);
}
