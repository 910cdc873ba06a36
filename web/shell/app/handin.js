// How an attempt gets from this device to whoever grades it: as a file or as a short
// code, open or sealed. Until it has left, the page says so and keeps it.

import { ask } from './desk.js';
import { t, tFirst } from './i18n.js';
import { dropAttempt, dropHandIn, keepAttempt, keepHandIn } from './store.js';
import { canSeal, seal } from './seal.js';
import { fileName, saveFile } from './files.js';
import { detailOf } from './format.js';

/**
 * Whether somebody waits for this hand-in and hasn't got it.
 * @param {?Object} hand as it is kept, or null
 */
export const isOwed = (hand) => Boolean(hand?.owed) && !hand.left;

/**
 * Keeps an attempt that was handed in just now. Somebody waits for one that was
 * assigned or is for the grade; others are practice.
 * @param {Object} kept what is kept beside the file, and the file
 * @returns {Object} the hand-in
 */
export function beginHandIn(kept) {
  const hand = { ...kept, owed: kept.custom !== '' || kept.mode === 'grade', graded: false, left: '' };
  const isKept = keepHandIn(hand);
  if (isKept) dropAttempt(kept);
  else {
    dropAttempt(kept); // its room may be what is missing
    if (!keepHandIn(hand)) keepAttempt(kept);
  }
  return hand;
}

/** Notes something about the open hand-in; what is graded and has left is forgotten. */
export function noteHandIn(app, change) {
  const { hand } = app.state;
  if (!hand) return;
  Object.assign(hand, change);
  if (hand.graded && !isOwed(hand)) dropHandIn(hand);
  else keepHandIn(hand);
  app.redraw();
}

/**
 * The attempt has left the device.
 * @param {Object} app
 * @param {'file'|'code'|'shown'|'platform'} how shown: the student says that somebody's camera has it
 */
export function handInLeft(app, how) {
  noteHandIn(app, { left: how });
  if (app.state.hand) app.announce(t(`give.left.${how}`));
}

/** Whether what leaves is sealed. */
export const isSealed = (app) => Boolean(app.state.hand?.seal) && app.state.sealing && canSeal();

/** What can't be done just now: a sentence, and what a program says of it. */
export const giveTrouble = (error) => [tFirst([`error.${error.key}`, 'error.other'], error.params), detailOf(error)];

/** Has the short code of an attempt made, unless it is there. */
export async function askCode(result) {
  result.code ??= await ask('code', { attempt: result.file });
  return result.code;
}

/** Does one thing at a time, and says what went wrong with it. */
async function give(app, what) {
  const { result } = app.state;
  if (app.state.giving) return;
  app.set({ giving: true, giveError: null });
  const change = { giving: false };
  try {
    await what(result);
  } catch (error) {
    change.giveError = error;
  }
  if (app.state.result === result) app.set(change);
}

/** Saves the hand-in as a file: sealed if it is to be. */
export function saveHandIn(app) {
  if (!isSealed(app)) {
    saveOpen(app);
    handInLeft(app, 'file');
    return null;
  }
  const name = nameOf(app, 'sealed').replace(/json$/, 'txt');
  return give(app, async (result) => {
    saveFile(name, `${await seal(app.state.hand.seal, result.file)}\n`, 'text/plain');
    if (app.state.result === result) handInLeft(app, 'file');
  });
}

/** Saves the attempt as it is, for whoever worked it. */
export const saveOpen = (app) => saveFile(nameOf(app), app.state.result.file);

function nameOf(app, word = '') {
  const { view, who, result } = app.state;
  return fileName(view.scenario.engine.id, view.who ?? who, result.file, word);
}

/** Shows the short code, sealed if it is to be. Nobody has it by that: it has to be copied, or a camera's owner asked. */
export const showCode = (app) => give(app, async (result) => {
  const { code } = await askCode(result);
  if (isSealed(app)) result.sealed ??= await sealCode(app.state.hand.seal, code);
  if (app.state.result !== result) return;
  result.isShown = true;
  app.redraw();
});

async function sealCode(key, code) {
  const text = await seal(key, code);
  const { square } = await ask('square', { text }).catch(() => ({ square: null })); // too long for one: it can be copied
  return { code: text, square };
}

/** What is shown as the code just now. */
export const shownCode = (app) => (isSealed(app) ? app.state.result.sealed : app.state.result.code) ?? null;

/** Copies the code; where a page may not, it is marked to be copied by hand. */
export async function copyCode(app) {
  const { code } = shownCode(app);
  const box = document.getElementById('hand-code');
  let copied = false;
  try {
    await navigator.clipboard.writeText(code);
    copied = true;
  } catch {
    box.focus();
    box.select();
    copied = document.execCommand('copy');
  }
  app.set({ copied: copied ? 'yes' : 'no' });
  if (copied) handInLeft(app, 'code');
  else app.announce(t('give.copy.not'));
}

/** The code was copied with the browser's own means. */
export function codeCopied(app, { target }) {
  if (target.selectionEnd - target.selectionStart === target.value.length && isOwed(app.state.hand)) handInLeft(app, 'code');
}

/** Asks before the tab is closed over work that nobody has got. */
export function guardLeaving(app) {
  addEventListener('beforeunload', (event) => {
    if (isOwed(app.state.hand)) event.preventDefault();
  });
}
