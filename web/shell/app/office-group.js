// The class on the Desk: its roster, the set that was made for it, and what keeps it.

import { ask, stopDesk } from './desk.js';
import { choices, draft, draftText, siteAddress } from './office-draft.js';
import { keepClass, keptJobs, sameClass } from './office-keep.js';
import { preference, keepPreference } from './store.js';
import { t } from './i18n.js';

const REST = 350; // ms after the last letter of the roster

/** A class of which nothing was made yet. */
const blank = () => ({
  from: 'draft', file: null, name: '', mode: 'grade', tags: '', seal: '', roster: '', students: [], rosterError: null,
  id: '', set: null, made: null, changing: false, view: 'list', answers: false, kept: true, note: '', forgetting: '', busy: null, error: null,
});

const DRAFT = 'desk-class';
const written = ['from', 'file', 'name', 'mode', 'tags', 'roster', 'students']; // what a reload must not lose

/** The class: what was written into the form, in another visit too; set and made once there is one. */
export const group = { ...blank(), ...inDraft() };

/** What was written and not made, as far as it can be what this page wrote. */
function inDraft() {
  const kept = preference(DRAFT, {});
  const isIt = ['from', 'name', 'mode', 'tags', 'roster'].every((name) => typeof kept[name] === 'string') && Array.isArray(kept.students) && kept.students.every((s) => typeof s?.name === 'string');
  return isIt ? Object.fromEntries(written.map((name) => [name, kept[name]])) : {};
}

let unread = group.roster !== ''; // what was written in another visit
let making = 0; // the set that is being made, or was last

let timer = 0; // until the roster is read, 0 when it was or is being
let reading = 0;
let read = Promise.resolve(); // the reading that was begun last

/** Empties the form. */
export function clearForm(app) {
  keepPreference(DRAFT, {});
  startOver(app);
}

/** Leaves the class on the screen for what was written before; what is kept stays. */
export function startOver(app) {
  clearTimeout(timer);
  timer = 0;
  reading++; // a roster that is being read is nobody's any more
  Object.assign(group, blank(), inDraft());
  app.redraw();
}

/** Reads the roster of another visit, once. */
export function wake(app) {
  if (!unread) return;
  unread = false;
  const isGone = group.from.startsWith('job:') && !keptJobs().some((j) => `job:${j.id}` === group.from);
  if (isGone) group.from = 'draft';
  readNow(app);
}

/** Changes the form. */
export function fill(app, change) {
  Object.assign(group, change);
  if (!group.set && written.some((name) => name in change)) keepPreference(DRAFT, Object.fromEntries(written.map((name) => [name, group[name]])));
  app.redraw();
}

/** Takes a roster as it was pasted; it is read when the letters rest. */
export function paste(app, roster) {
  fill(app, { roster });
  clearTimeout(timer);
  timer = setTimeout(() => readNow(app), REST);
}

/** Reads the roster as it stands in the field. */
function readNow(app) {
  clearTimeout(timer);
  timer = 0;
  read = readRoster(app, { text: group.roster });
}

/** Whether there is a roster to make a set for: what was typed last, not what was read before. */
async function hasRoster(app) {
  if (timer) readNow(app);
  await read;
  return !group.rosterError && group.students.length > 0;
}

/** Takes a roster out of a file, whatever its encoding. */
export async function takeFile(app, file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = '';
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  read = readRoster(app, { file: btoa(text) });
  await read;
  if (!group.rosterError) fill(app, { roster: asText(group.students) });
}

/** A roster as a person would paste it. */
function asText(students) {
  const head = students.some((s) => s.id) ? `${t('office.roster.head')}\n` : '';
  const cell = (v) => (/[;"\n]/.test(v) ? `"${v.replaceAll('"', '""')}"` : v);
  return head + students.map((s) => [s.name, ...(head ? [s.id ?? ''] : [])].map(cell).join(';')).join('\n');
}

async function readRoster(app, body) {
  const mine = ++reading;
  if (body.text !== undefined && !body.text.trim()) {
    fill(app, { students: [], rosterError: null });
    return;
  }
  try {
    const { students } = await ask('roster', body);
    if (mine !== reading) return;
    const before = new Map(group.students.map((s) => [`${s.name}\n${s.id ?? ''}`, s.extra_time]));
    for (const s of students) s.extra_time ??= before.get(`${s.name}\n${s.id ?? ''}`) ?? 0;
    fill(app, { students, rosterError: null });
  } catch (error) {
    if (mine === reading && error.key !== 'desk_stopped') fill(app, { rosterError: error });
  }
}

/** More time for one student, in percent. */
export function setExtra(app, i, percent) {
  fill(app, { students: group.students.map((s, k) => (k === i ? { ...s, extra_time: percent } : s)) });
}

/** The text of the scenario that the set is made of. */
async function lesson() {
  if (group.from === 'draft' && draft.file) return draftText();
  if (group.from === 'file') return group.file.text;
  const job = keptJobs().find((j) => `job:${j.id}` === group.from);
  if (job) return job.text;
  return (await ask('begin', { scenario: group.from })).text;
}

/** Makes the set: a variant for every student, each tried by the book. */
export async function makeSet(app) {
  if (group.busy) return;
  const mine = begin(app);
  const isRead = await hasRoster(app);
  if (mine !== making) return;
  if (!isRead) return fill(app, { busy: null }); // the field says why
  try {
    const secret = [...crypto.getRandomValues(new Uint8Array(32))].map((b) => b.toString(16).padStart(2, '0')).join('');
    const tags = group.tags.split(/[;\n]/).map((s) => s.trim()).filter(Boolean);
    await take(app, { scenario: await lesson(), students: group.students, name: group.name, mode: group.mode, seal: group.seal, tags, secret }, secret.slice(0, 12), mine);
  } catch (error) {
    failed(app, error, mine);
  }
}

/** Gives a class that was made another roster; nobody else's link changes. */
export async function changeSet(app) {
  if (group.busy) return;
  const mine = begin(app);
  const isRead = await hasRoster(app);
  if (mine !== making) return;
  if (!isRead) return fill(app, { busy: null });
  try {
    await take(app, { class: group.made, students: group.students }, group.id, mine);
  } catch (error) {
    failed(app, error, mine);
  }
}

/**
 * Opens a class that was kept, or a class file.
 * @param {string} text
 * @param {string} id of what is kept; empty for a file
 */
export async function openClass(app, text, id = '') {
  if (group.busy) return;
  const mine = begin(app);
  try {
    const { secret } = JSON.parse(text);
    const there = id ? null : sameClass(text);
    let own = id || (there?.kept.id ?? String(secret).slice(0, 12));
    if (there?.isNewer) text = there.kept.text; // nobody's late student gets lost
    else if (there?.isOther) own = `${own}-${Date.now().toString(36)}`; // beside the one that is kept
    await take(app, { class: text }, own, mine);
    if (mine !== making) return;
    const { students } = JSON.parse(text);
    fill(app, { note: there?.isNewer ? 'office.class.older' : there?.isOther ? 'office.class.twin' : '', students: students.map(({ name, id: number, extra_time: extra }) => ({ name, ...(number && { id: number }), extra_time: extra ?? 0 })), roster: asText(students), rosterError: null });
  } catch (error) {
    failed(app, error instanceof SyntaxError ? { key: 'not_a_class', params: {} } : error, mine);
  }
}

function begin(app) {
  fill(app, { busy: { done: 0, of: 0 }, error: null });
  return ++making;
}

function failed(app, error, mine) {
  if (mine === making) fill(app, { busy: null, error });
}

/** Gives up the set that is being made; nothing of it is kept, what was written stays. */
export function stopMaking(app) {
  if (!group.busy) return;
  making++;
  stopDesk();
  fill(app, { busy: null });
  app.announce(t('office.stopped'));
  queueMicrotask(() => document.querySelector('[data-act="make-class"], [data-act="change-class"]')?.focus());
}

async function take(app, body, id, mine) {
  const set = await ask('class', { ...body, base: siteAddress() }, (done, of) => { if (mine === making) fill(app, { busy: { done, of } }); });
  if (mine !== making) return;
  if (!body.class) keepPreference(DRAFT, {}); // it was made
  const { students } = JSON.parse(set.class);
  fill(app, {
    set, made: set.class, id, note: '', busy: null, changing: false, view: 'list', answers: false,
    kept: keepClass({ id, name: set.name, n: students.length, text: set.class }),
  });
  app.announce(t('office.made', { n: students.length }));
  queueMicrotask(() => document.getElementById('office-set')?.focus());
}

/** What the set was made of, out of its file. */
export function madeOf() {
  const { scenario, mode, tags, seal } = JSON.parse(group.made);
  return { scenario, mode, tags: tags ?? [], seal };
}

/** The whole address of one student's link. */
export const addressOf = (answer) => `${siteAddress()}#${answer.link}`;

/** Whether there is something to make a set of. */
export const hasLesson = () => choices.list !== null && (group.from !== 'draft' || draft.file !== null);
