// The class on the Desk: its roster, the set that was made for it, and what keeps it.

import { ask } from './desk.js';
import { choices, draft, draftText, siteAddress } from './office-draft.js';
import { keepClass, keptJobs, sameClass } from './office-keep.js';
import { t } from './i18n.js';

const REST = 350; // ms after the last letter of the roster

/** A class of which nothing was made yet. */
const blank = () => ({
  from: 'draft', file: null, name: '', mode: 'grade', tags: '', seal: '', roster: '', students: [], rosterError: null,
  id: '', set: null, made: null, changing: false, view: 'list', answers: false, kept: true, note: '', forgetting: '', busy: null, error: null,
});

/** The class: what was written into the form; set and made once there is one. */
export const group = blank();

let timer = 0; // until the roster is read, 0 when it was or is being
let reading = 0;
let read = Promise.resolve(); // the reading that was begun last

/** Forgets the class on the screen; what is kept stays. */
export function startOver(app) {
  Object.assign(group, blank());
  app.redraw();
}

/** Changes the form. */
export function fill(app, change) {
  Object.assign(group, change);
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
    if (mine === reading) fill(app, { rosterError: error });
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
  begin(app);
  if (!(await hasRoster(app))) return fill(app, { busy: null }); // the field says why
  try {
    const secret = [...crypto.getRandomValues(new Uint8Array(32))].map((b) => b.toString(16).padStart(2, '0')).join('');
    const tags = group.tags.split(/[;\n]/).map((s) => s.trim()).filter(Boolean);
    await take(app, { scenario: await lesson(), students: group.students, name: group.name, mode: group.mode, seal: group.seal, tags, secret }, secret.slice(0, 12));
  } catch (error) {
    fill(app, { busy: null, error });
  }
}

/** Gives a class that was made another roster; nobody else's link changes. */
export async function changeSet(app) {
  if (group.busy) return;
  begin(app);
  if (!(await hasRoster(app))) return fill(app, { busy: null });
  try {
    await take(app, { class: group.made, students: group.students }, group.id);
  } catch (error) {
    fill(app, { busy: null, error });
  }
}

/**
 * Opens a class that was kept, or a class file.
 * @param {string} text
 * @param {string} id of what is kept; empty for a file
 */
export async function openClass(app, text, id = '') {
  if (group.busy) return;
  begin(app);
  try {
    const { secret } = JSON.parse(text);
    const there = id ? null : sameClass(text);
    let own = id || (there?.kept.id ?? String(secret).slice(0, 12));
    if (there?.isNewer) text = there.kept.text; // nobody's late student gets lost
    else if (there?.isOther) own = `${own}-${Date.now().toString(36)}`; // beside the one that is kept
    await take(app, { class: text }, own);
    const { students } = JSON.parse(text);
    fill(app, { note: there?.isNewer ? 'office.class.older' : there?.isOther ? 'office.class.twin' : '', students: students.map(({ name, id: number, extra_time: extra }) => ({ name, ...(number && { id: number }), extra_time: extra ?? 0 })), roster: asText(students), rosterError: null });
  } catch (error) {
    fill(app, { busy: null, error: error instanceof SyntaxError ? { key: 'not_a_class', params: {} } : error });
  }
}

function begin(app) {
  fill(app, { busy: { done: 0, of: 0 }, error: null });
}

async function take(app, body, id) {
  const set = await ask('class', { ...body, base: siteAddress() }, (done, of) => fill(app, { busy: { done, of } }));
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
