// What the page says in words: to a screen reader, as notices, and of an instrument that
// somebody asked about.

import { t, has } from './i18n.js';
import { newsText } from './bench.js';
import { pressure, detailOf } from './format.js';
import { saidText } from './testpanels.js';
import { Slot } from './wire.js';

const ELSEWHERE = 1000; // Pa: a needle that has moved so far is no longer where it was put into words
const MOST_NOTICES = 8; // every caution of one act has room

/**
 * @param {Object} app
 * @returns {{announce: function(string), tell: function(Object), moved: function(Float64Array), offers: Object}}
 * what the page itself uses, and what its parts get as the app's
 */
export function createVoice(app) {
  const { state, set } = app;
  let noticeId = 0;
  let wordsAt = 0; // where the needle stood when it was put into words

  /** Says one sentence to a screen reader. */
  function announce(text) {
    const place = document.getElementById('said');
    place.textContent = place.textContent === text ? `${text}\u00a0` : text;
  }

  /** Puts a notice where it is seen; the same one stands there once. */
  function tell(item) {
    const why = state.view?.mode === 'reasons' && has(`${item.kind}.${item.key}.why`) ? t(`${item.kind}.${item.key}.why`) : '';
    const text = newsText(item);
    if (state.notices.some((n) => n.kind === item.kind && n.text === text)) return;
    const detail = item.kind === 'error' ? detailOf(item) : '';
    const label = item.kind === 'fact' && /^(no_)?air_/.test(item.key) && item.key !== 'air_at_coolant_neck' ? 'heard' : item.kind;
    state.notices.push({ id: ++noticeId, kind: item.kind, label, text, why, detail });
    state.notices.splice(0, Math.max(0, state.notices.length - MOST_NOTICES));
  }

  function hush() {
    state.notices = [];
  }

  function needleWords({ lo_pa: lo, hi_pa: hi }) {
    const { unit } = state;
    const text = hi <= 0 ? t('needle.zero') : lo === hi ? t('needle.on', { value: pressure(lo, unit) })
      : t('needle.between', { low: pressure(lo, unit), high: pressure(hi, unit) });
    wordsAt = app.bench.snap[Slot.Needle];
    set({ words: text });
    announce(text);
  }

  /** Takes words of the needle back that are about another place. */
  function moved(snap) {
    if (state.words && Math.abs(snap[Slot.Needle] - wordsAt) > ELSEWHERE) set({ words: '' });
  }

  /** Words that something was asked for. */
  function put(what, text) {
    set({ said: { ...state.said, [what]: text } });
    announce(text);
  }

  /** What another instrument says in words; the strip of the current says a table. */
  function said(what, answer) {
    const text = what === 'clamp' ? answer : saidText(what, answer);
    set({ said: { ...state.said, [what]: text } });
    announce(what === 'clamp' ? t(answer.humps.length ? 'strip.said' : 'strip.none', { inrush: answer.inrush_a, mean: answer.mean_a }) : text);
  }

  return { announce, tell, moved, offers: { announce, tell, hush, needleWords, put, said } };
}
