// The part of the Debrief that gets the attempt to whoever grades it.

import { h } from './dom.js';
import { t } from './i18n.js';
import { quoted, number } from './format.js';
import { square } from './square.js';
import { codeCopied, copyCode, giveTrouble, handInLeft, isOwed, isSealed, saveHandIn, saveOpen, showCode, shownCode } from './handin.js';
import { canSeal } from './seal.js';

/** Where it stands, and the ways out. */
export function handInSection(app) {
  const { hand, result, giving } = app.state;
  const code = result.isShown ? shownCode(app) : null;
  return h('section', { class: 'leave', key: 'leave', 'aria-labelledby': 'leave-title' },
    h('h2', { id: 'leave-title' }, t(hand?.owed ? 'give.title' : 'debrief.keep')),
    standing(hand), sealing(app),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: isOwed(hand) || !hand?.owed ? 'go' : null, 'data-act': 'download-attempt', onclick: () => saveHandIn(app) }, t(isSealed(app) ? 'give.file.sealed' : 'give.file')),
      h('button', { type: 'button', 'data-act': 'show-code', 'aria-expanded': String(Boolean(code)), onclick: () => showCode(app) }, t(isSealed(app) ? 'give.code.sealed' : 'give.code'))),
    giving && h('p', { class: 'mute', key: 'giving', role: 'status' }, t('give.working')),
    trouble(app), code && codeBox(app, code), others(app));
}

function standing(hand) {
  if (!hand?.owed) return h('p', { class: 'mute', key: 'hint' }, t('debrief.keep.hint'));
  if (isOwed(hand)) return h('p', { class: 'notice caution', key: 'owed', 'data-out': 'handed', 'data-value': '' }, h('b', null, t('give.not')), ' ', t('give.not.hint'));
  return h('p', { class: 'notice', key: 'left', 'data-out': 'handed', 'data-value': hand.left }, h('b', null, t(`give.left.${hand.left}`)), hand.left !== 'platform' && [' ', t('give.left.hint')]);
}

function sealing(app) {
  if (!app.state.hand?.seal) return null;
  if (!canSeal()) return h('p', { class: 'mute small', key: 'seal' }, t('error.seal_needs_site'));
  return h('label', { class: 'inline', key: 'seal' },
    h('input', { type: 'checkbox', name: 'sealing', checked: app.state.sealing, onchange: (e) => app.set({ sealing: e.target.checked, giveError: null, copied: '' }) }),
    h('span', null, t('give.seal')));
}

function trouble(app) {
  const { giveError } = app.state;
  if (!giveError) return null;
  const [text, detail] = giveTrouble(giveError);
  return h('p', { class: 'notice error', key: 'trouble', role: 'alert' }, text, detail && quoted(detail));
}

function codeBox(app, { code, square: rows }) {
  const { copied } = app.state;
  return h('div', { class: 'code-box', key: isSealed(app) ? 'sealed' : 'open' },
    h('label', { class: 'field' }, h('span', null, t('give.code.is', { count: number(code.length) })),
      h('textarea', { id: 'hand-code', readonly: true, rows: 4, spellcheck: 'false', value: code, 'data-out': 'code', oncopy: (e) => codeCopied(app, e) })),
    h('button', { type: 'button', 'data-act': 'copy-code', onclick: () => copyCode(app) }, t('give.copy')),
    copied && h('p', { class: 'mute', key: 'copied', role: 'status' }, t(copied === 'yes' ? 'give.copied' : 'give.copy.not')),
    rows ? h('div', { class: 'square-box', key: 'square', own: true, ref: (el) => el.append(square(rows, t('give.square'))) })
      : h('p', { class: 'mute small', key: 'nosquare' }, t('give.nosquare')),
    h('p', { class: 'mute small' }, t('give.code.hint')),
    isOwed(app.state.hand) && h('div', { class: 'row', key: 'arrived' }, h('p', null, t('give.shown.ask')),
      h('button', { type: 'button', 'data-act': 'code-arrived', onclick: () => arrived(app) }, t('give.shown'))));
}

function arrived(app) {
  handInLeft(app, 'shown');
  queueMicrotask(() => document.querySelector('[data-act="copy-code"]')?.focus()); // the button is gone
}

function others(app) {
  return h('div', { class: 'row', key: 'others' },
    isSealed(app) && h('button', { type: 'button', key: 'own', class: 'plain', 'data-act': 'download-open', onclick: () => saveOpen(app) }, t('give.own')),
    app.state.result.grade && h('button', { type: 'button', key: 'report', class: 'plain', 'data-act': 'download-report', onclick: () => app.download() }, t('debrief.report')),
    h('button', { type: 'button', key: 'print', class: 'plain', 'data-act': 'print', onclick: () => print() }, t('debrief.print')),
    h('button', { type: 'button', class: 'plain', 'data-act': 'yard', onclick: () => app.go('yard') }, t('debrief.yard')));
}
