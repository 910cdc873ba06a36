// The job on the Desk: a scenario file as an object, what it reads by the book, and
// what the evidence can do for its answer. The second program works both out; while it
// does, what is shown is marked as old.

import { ask } from './desk.js';
import { preference, keepPreference } from './store.js';
import { keepJob, keptJobs } from './office-keep.js';
import { publicKey } from './office-key.js';

const SETTLE = 50; // ms from a movement of a slider to the look; more movements wait for it
const WEIGH = 1000; // ms of rest before the long look

/** The job that is open, and what is known of it. */
export const draft = {
  file: preference('desk-draft', null), follows: preference('desk-follows', true), base: '',
  look: null, whole: false, // what it reads; whether wet test, leakage and the verdict are in it
  busy: '', error: null, openError: null, // '' open, quick or whole; what keeps it from being read, from being opened
  mode: preference('desk-mode', ''), seal: false, link: null, linkError: null, kept: null,
};

let edits = 0;
let soon = 0; // timer of the quick look
let rest = 0; // timer of the long one
let running = false;

/** All that can be chosen from: {kinds, families, …, engines, scenarios}; null until it is there. */
export const choices = { list: null, error: null, asking: false };

/** Asks once for what can be chosen, and looks at the job that was left here. */
export async function begin(app, again = false) {
  if (choices.list || choices.asking || (choices.error && !again)) return;
  choices.asking = true;
  choices.error = null;
  try {
    const faults = await ask('faults');
    choices.list = { ...faults, ...(await ask('engines')) };
    if (draft.file) look(app);
  } catch (error) {
    choices.error = error;
  }
  choices.asking = false;
  app.redraw();
}

/** The kind of a fault, with its numbers. */
export const kindOf = (name) => choices.list.kinds.find((k) => k.kind === name);

/** The job as the text of a file. */
export const draftText = () => `${JSON.stringify(draft.file, null, 2)}\n`;

/**
 * Opens a job to change: one of the catalogue, an engine with nothing wrong, or a file.
 * @param {{scenario?: string, engine?: string, text?: string}} from
 * @param {boolean} [same] keeps name and seed, for one that was saved
 * @returns {Promise<boolean>} false when it can't be read; draft.error says why
 */
export async function open(app, from, same = false) {
  draft.busy = 'open';
  app.redraw();
  try {
    const { text } = await ask('begin', from);
    draft.file = JSON.parse(text);
    draft.follows = true;
    if (!same) {
      const bytes = crypto.getRandomValues(new Uint32Array(2));
      draft.file.id = `own-${bytes[0].toString(16).padStart(8, '0')}`;
      draft.file.seed = String(bytes[1]);
    }
    Object.assign(draft, { error: null, openError: null, busy: '', look: null });
    fresh(app);
    return true;
  } catch (error) {
    Object.assign(draft, { openError: error, busy: '' });
    app.redraw();
    return false;
  }
}

/**
 * Puts the job that is open away; what nobody saved is kept on this device, so that
 * nothing is lost. Where the device keeps nothing that is said first, and the job goes
 * when it is asked for again.
 */
export function close(app) {
  if (draft.kept === null && keptText(draft.file.id) !== draftText()) {
    save(app);
    if (!draft.kept) return;
  }
  draft.file = null;
  Object.assign(draft, { look: null, error: null, link: null, kept: null });
  edits++;
  keepPreference('desk-draft', null);
  app.redraw();
}

/**
 * Changes the job.
 * @param {function(Object)} edit gets a copy of the file to work on
 * @param {boolean} [quietly] what it reads stays the same
 */
export function change(app, edit, quietly = false) {
  const file = structuredClone(draft.file);
  edit(file);
  draft.file = file;
  if (quietly) {
    keepPreference('desk-draft', file);
    Object.assign(draft, { link: null, kept: null });
    app.redraw();
  } else fresh(app);
}

function fresh(app) {
  edits++;
  keepPreference('desk-draft', draft.file);
  keepPreference('desk-follows', draft.follows);
  Object.assign(draft, { link: null, linkError: null, kept: null, whole: false, busy: 'quick' });
  clearTimeout(rest);
  soon ||= setTimeout(() => { soon = 0; look(app); }, SETTLE);
  app.redraw();
}

/** Reads the job by the book: the dry test at once, the rest when hands rest. */
async function look(app) {
  if (running || !draft.file) return; // the one on its way looks again
  running = true;
  let asOf;
  do {
    asOf = edits;
    draft.busy = 'quick';
    await take(app, asOf, true);
  } while (asOf !== edits && draft.file);
  running = false;
  if (!draft.file) return;
  clearTimeout(rest);
  if (!draft.error) rest = setTimeout(() => weigh(app), WEIGH);
  app.redraw();
}

/** Wet test, leakage, and whether the evidence can settle the answer. */
async function weigh(app) {
  if (running || !draft.file) return;
  running = true;
  const asOf = edits;
  draft.busy = 'whole';
  app.redraw();
  await take(app, asOf, false);
  running = false;
  if (asOf !== edits && draft.file) look(app);
  app.redraw();
}

async function take(app, asOf, quick) {
  try {
    const answer = await ask('look', { scenario: draftText(), quick });
    if (asOf !== edits) return; // it is about another job
    const kept = quick && draft.look && { wet: draft.look.wet, leakage: draft.look.leakage }; // old, until the long look
    Object.assign(draft, { look: { ...answer.look, ...kept }, whole: !quick, error: null, busy: '' });
  } catch (error) {
    if (asOf === edits) Object.assign(draft, { error, look: null, busy: '' });
  }
  app.redraw();
}

/** Has a link made, with its QR code. */
export async function makeLink(app) {
  draft.linkError = null;
  const asOf = edits;
  try {
    const made = await ask('link', { scenario: draftText(), mode: draft.mode, seal: draft.seal ? publicKey() : '', base: siteAddress() });
    if (asOf === edits) draft.link = { address: `${siteAddress()}#${made.link}`, square: made.square };
  } catch (error) {
    draft.linkError = error;
  }
  app.redraw();
  return draft.link !== null;
}

/** Keeps the job on this device; draft.kept says whether the device does. */
export function save(app) {
  draft.kept = keepJob({ id: draft.file.id, title: draft.file.title, text: draftText() });
  app.redraw();
}

const keptText = (id) => keptJobs().find((j) => j.id === id)?.text;

/** The address of the site, to which links are put. */
export function siteAddress() {
  return `${location.origin === 'null' ? 'file://' : location.origin}${location.pathname.replace(/index\.html$/, '')}`;
}
