// What there is to hear, as words, for people who don't hear it.

import { t } from './i18n.js';
import { Slot } from './wire.js';

/**
 * Follows the snapshots and sets the caption of the Bay. Words change only when
 * what is heard changes.
 * @param {Object} app
 * @returns {function(Float64Array)}
 */
export function createCaptions(app) {
  return (snap) => {
    const text = heard(snap);
    if (text !== app.state.caption) app.set({ caption: text });
  };
}

function heard(snap) {
  if (snap[Slot.Running]) return t('heard.running');
  if (snap[Slot.Supply] > 0) return t('heard.tester', { cylinder: snap[Slot.Tester] });
  const turning = Math.abs(snap[Slot.Speed]) > 1;
  if (!turning) return '';
  const starter = t(snap[Slot.Starter] ? 'heard.starter' : 'heard.coast');
  return snap[Slot.Hiss] > 1e-6 ? `${starter} ${t('heard.hiss')}` : starter;
}
