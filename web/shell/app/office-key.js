// The instructor's pair of keys: the public half travels in links, the private half
// opens what was sealed to it. Both are made and kept in this browser.

import { h } from './dom.js';
import { t, tFirst } from './i18n.js';
import { keepPreference, preference } from './store.js';
import { canSeal, newKey, PRIVATE, publicOf } from './seal.js';
import { saveFile } from './files.js';
import { detailOf, quoted } from './format.js';

const NAME = 'seal-key';

const box = { pair: preference(NAME, null), busy: false, error: null, forgetting: false, copied: '', changed: () => {} };

/** The public key for links, or '' when there is none. */
export const publicKey = () => box.pair?.public ?? '';

/** The private key, or '' when there is none. */
export const privateKey = () => box.pair?.private ?? '';

/** Has a function called when there is another key. */
export const whenKeyChanges = (call) => { box.changed = call; };

/** Whether a text is a private key, as its file holds it. */
export const isKey = (text) => text.trimStart().startsWith(PRIVATE) && text.length < 1000;

function keep(pair) {
  box.pair = pair;
  box.forgetting = false;
  box.copied = '';
  keepPreference(NAME, pair);
  box.changed();
}

async function work(app, what) {
  if (box.busy) return;
  Object.assign(box, { busy: true, error: null });
  app.redraw();
  try {
    keep(await what());
  } catch (error) {
    box.error = error;
  }
  box.busy = false;
  app.redraw();
}

const make = (app) => work(app, async () => ({ ...(await newKey()), saved: false }));

/** Takes a private key over; a wrong one is said in the section of the key. */
export const takeKey = (app, text) => work(app, async () => {
  const pair = { private: text.trim(), public: await publicOf(text), saved: true };
  if (box.pair && !box.pair.saved && box.pair.private !== pair.private) saveKey(); // nobody has got it yet
  return pair;
});

/** The section about the key. */
export function keySection(app) {
  return h('details', { class: 'fold', key: 'key', open: box.isOpen ?? false, ontoggle: (e) => { box.isOpen = e.target.open; } },
    h('summary', null, t('key.title'), ' ', h('span', { class: 'mute', 'data-out': 'key' }, t(state()))),
    h('div', { class: 'key-box' }, h('p', null, t('key.what')),
      !canSeal() && h('p', { class: 'notice', key: 'site' }, t('error.seal_needs_site')),
      canSeal() && (box.pair ? own(app) : none(app)), trouble(),
      h('p', { class: 'mute small' }, t('key.losing'))));
}

const state = () => (!box.pair ? 'key.none' : box.pair.saved ? 'key.have' : 'key.unsaved');

function none(app) {
  return h('div', { class: 'row', key: 'none' },
    h('button', { type: 'button', 'data-act': 'key-make', disabled: box.busy, onclick: () => make(app) }, t('key.make')), opener(app));
}

function own(app) {
  return h('div', { key: 'own', class: 'key-own' },
    !box.pair.saved && h('p', { class: 'notice caution', key: 'unsaved' }, t('key.save.now')),
    h('label', { class: 'field' }, h('span', null, t('key.public')),
      h('input', { type: 'text', readonly: true, value: box.pair.public, 'data-out': 'public-key', onfocus: (e) => e.target.select() })),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: box.pair.saved ? null : 'go', 'data-act': 'key-save', onclick: () => save(app) }, t('key.save')), opener(app),
      h('button', { type: 'button', class: 'plain', 'data-act': 'key-forget', onclick: () => forget(app) }, t(box.forgetting ? 'key.forget.sure' : 'key.forget'))));
}

function opener(app) {
  return h('label', { class: 'button file', key: 'opener' }, t('key.open'),
    h('input', { type: 'file', accept: '.txt,text/plain', name: 'key-file', onchange: async (e) => {
      const [file] = e.target.files;
      if (file) await takeKey(app, await file.slice(0, 1000).text());
      e.target.value = '';
    } }));
}

const saveKey = () => saveFile('crankbay-key.txt', `${box.pair.private}\n`, 'text/plain');

function save(app) {
  saveKey();
  keep({ ...box.pair, saved: true });
  app.redraw();
}

/** Two touches: what was sealed to a key that is gone stays shut. */
function forget(app) {
  if (box.forgetting) keep(null);
  else box.forgetting = true;
  app.redraw();
}

function trouble() {
  if (!box.error) return null;
  const detail = detailOf(box.error);
  return h('p', { class: 'notice error', key: 'trouble', role: 'alert' }, tFirst([`error.${box.error.key}`, 'error.other'], box.error.params), detail && quoted(detail));
}
