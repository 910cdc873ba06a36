// Collecting: what came in, what it is held against, and the work of playing it all
// again, some at a time, so that it can be watched and stopped.

import { ask } from './desk.js';
import { t } from './i18n.js';
import { open as unseal, publicOf } from './seal.js';
import { kindOfFile } from './files.js';
import { isKey, privateKey, takeKey, whenKeyChanges } from './office-key.js';
import { keepWord, wordOn } from './office-collect-word.js';
import { chunks, textsOf } from './office-collect-files.js';
import { keptClasses, sameClass } from './office-keep.js';

const BATCH = 3; // hand-ins between two looks at whether to stop

/** Everything about what was collected. */
export const box = fresh();

function fresh() {
  return {
    items: [], // {id, source, form, text, word, row}: row is what came of it, once it is known
    group: null, chosen: false, scenarios: [], keys: [], busy: false, reading: false, stopping: false, done: 0, of: 0, error: null, notes: [],
    picture: null, csv: '', open: 0, sort: { by: 'student', isDown: false }, misstep: '', printing: '', editing: null,
  };
}

let lastId = 0;

/** Starts with nothing; decisions are kept for when the same comes in again. */
export function clear(app) {
  Object.assign(box, fresh(), { group: box.group, chosen: box.chosen, scenarios: box.scenarios, keys: box.keys });
  app.redraw();
}

/** Rows that are there, in the order they came. */
export const rows = () => box.items.filter((item) => item.row);

/**
 * Hands in files: attempts, codes, classes, scenarios, keys.
 * @param {Object} app
 * @param {{name:string, file:File}[]} files
 * @param {boolean} [isClass] the instructor chose them to be held against
 */
export async function take(app, files, isClass = false) {
  if (files.length === 0) return;
  Object.assign(box, { reading: true, error: null, notes: [] });
  app.redraw();
  const texts = [];
  for (const file of files) {
    try {
      texts.push(...(await textsOf(file)));
    } catch {
      box.notes.push(t('collect.unread', { name: file.name }));
    }
  }
  await takeTexts(app, texts, isClass);
}

/** Hands in what was pasted. */
export const takePasted = (app, text) => {
  Object.assign(box, { error: null, notes: [] });
  return takeTexts(app, [{ name: t('collect.pasted.name'), text }]);
};

async function takeTexts(app, texts, isClass = false) {
  box.reading = true;
  const sources = [];
  for (const source of texts) if (!(await special(app, source, isClass))) sources.push(source);
  for (const some of chunks(sources)) {
    try {
      add(await found(some));
    } catch (error) {
      box.error = error; // the others are looked at all the same
    }
  }
  box.reading = false;
  app.redraw();
  await run(app, box.error);
}

/** The hand-ins in sources. One that is too much to be looked at comes back as none, named. */
async function found(sources) {
  try {
    return (await ask('find', { sources })).hand_ins;
  } catch (error) {
    if (error.key !== 'bad_request') throw error;
    if (sources.length === 1) return [{ source: sources[0].name, form: 'none', text: '' }];
    const all = [];
    for (const source of sources) all.push(...(await found([source])));
    return all;
  }
}

/**
 * What isn't a hand-in but helps with them. A student's file may look like one too, so
 * nothing takes the place of what the instructor has, and what can't be read is looked
 * at like any other hand-in.
 */
async function special(app, source, isClass) {
  const { name, text } = source;
  if (isKey(text)) return tookKey(app, name, text);
  if (!text.trimStart().startsWith('{')) return false;
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    return false;
  }
  if (Array.isArray(data.students) && data.secret) return tookClass(app, source, data, isClass);
  return kindOfFile(data) === 'scenario' && tookJob(name, text, data);
}

const told = (key, params) => {
  const text = t(key, params);
  if (!box.notes.includes(text)) box.notes.push(text);
  return true;
};

async function tookKey(app, name, text) {
  const mine = privateKey();
  if (mine && mine !== text.trim()) return tookOther(name, text.trim());
  await takeKey(app, text);
  return privateKey() === text.trim() && told('collect.took.key', { name });
}

/** A further key opens what was sealed to it; links go on with the instructor's own. */
async function tookOther(name, key) {
  try {
    await publicOf(key);
  } catch {
    return false;
  }
  if (!box.keys.includes(key)) box.keys.push(key);
  again((row) => row.status === 'sealed');
  return told('collect.key.other', { name });
}

async function tookClass(app, { name, text }, data, isClass) {
  const { group } = box;
  const held = group && JSON.parse(group.text);
  if (held?.secret === data.secret) { // of two lists of one class the newer one
    if ((held.revision ?? 0) > (data.revision ?? 0)) return told('collect.class.older', { name });
  } else if (group && group.text !== text && !isClass) return told('collect.class.other', { name, held: box.group.name });
  try {
    await ask('table', { rows: [], class: text });
  } catch (error) {
    if (isClass) box.error = error;
    return isClass;
  }
  const there = sameClass(text);
  if (there?.isNewer) {
    holdAgainst(app, there.kept, false);
    return told('collect.class.older', { name });
  }
  holdAgainst(app, { name: data.name || name, text }, false);
  return told('collect.took.class', { name: box.group.name });
}

async function tookJob(name, text, { id }) {
  try {
    const { text: own } = await ask('begin', { text });
    const known = await ask('begin', { scenario: String(id) }).catch(() => null);
    if (known && known.text !== own) return false; // the name of a known job with something else in it
  } catch {
    return false;
  }
  if (!box.scenarios.includes(text)) box.scenarios.push(text);
  again((row) => ['unknown', 'changed'].includes(row.status));
  return told('collect.took.job', { name });
}

/**
 * Chooses the class that hand-ins are held against; all are worked out anew.
 * @param {Object} app
 * @param {?{name:string, text:string}} group null for none
 */
export function holdAgainst(app, group, start = true) {
  box.group = group && { ...group, students: studentsOf(group) };
  if (start) box.chosen = true;
  again(() => true);
  if (start) run(app);
}

const studentsOf = ({ text }) => JSON.parse(text).students.map((s) => (s.id ? `${s.name} (${s.id})` : s.name));

/**
 * Engines of a class set are unknown without their class. Where nobody has chosen one, the
 * class on this device that has most of these names is taken, and that is said.
 */
function findClass(app) {
  const names = rows().filter(({ row }) => row.status === 'unknown' && row.scenario?.startsWith('job-')).map(({ row }) => row.who);
  if (box.group || box.chosen || names.length === 0) return;
  const fits = keptClasses().map((group) => {
    const students = new Set(studentsOf(group));
    return { group, n: names.filter((who) => students.has(who)).length };
  });
  const best = fits.reduce((a, b) => (b.n > a.n ? b : a), { n: 0 });
  if (2 * best.n < names.length) return void told('collect.class.missing', { n: names.length });
  holdAgainst(app, best.group, false);
  told('collect.class.found', { name: best.group.name });
}

function again(which) {
  for (const item of box.items) if (item.row && which(item.row)) item.row = null;
}

function add(found) {
  const known = new Set(box.items.map((item) => `${item.source}\n${item.text}`));
  let twice = 0;
  for (const { source, form, text } of found) {
    if (known.has(`${source}\n${text}`)) twice++;
    else box.items.push({ id: ++lastId, source, form, text, row: null });
  }
  if (twice > 0) box.notes.push(t('collect.twice', { n: twice }));
}

/**
 * Works off what isn't worked out yet, unless somebody stops it.
 * @param {Object} app
 * @param {?Error} [error] what went wrong before, which stays to be read
 */
export async function run(app, error = null) {
  if (box.busy) return;
  Object.assign(box, { busy: true, stopping: false, error, done: 0, of: waiting().length });
  app.redraw();
  try {
    do {
      for (let todo = next(); todo.length > 0 && !box.stopping; todo = next()) {
        await batch(app, todo);
        app.redraw();
      }
      await sum();
      if (!box.stopping) findClass(app);
    } while (waiting().length > 0 && !box.stopping); // something came in meanwhile
  } catch (trouble) {
    box.error = trouble;
  }
  box.busy = false;
  if (!box.stopping && box.of > 0) app.announce(t('collect.done', { n: box.of }));
  app.redraw();
}

const waiting = () => box.items.filter((item) => !item.row);

const next = () => waiting().slice(0, BATCH);

/** Stops after the hand-ins that are being worked on. */
export function stop(app) {
  box.stopping = true;
  app.redraw();
}

async function batch(app, items) {
  const opened = await Promise.all(items.map(opening));
  const { group, scenarios: { length } } = box;
  const before = box.done;
  box.of = before + waiting().length; // more may have come in
  const list = await rowsOf(opened, (done) => { box.done = before + done; app.redraw(); });
  box.done = before + items.length;
  if (box.group !== group || box.scenarios.length !== length) return; // held against something else meanwhile: once more
  items.forEach((item, i) => {
    const row = { ...list[i], form: item.form };
    if (opened[i].why) row.text = opened[i].why;
    item.row = row;
    row.override = item.word ?? wordOn(row);
  });
}

/** What comes of hand-ins. One that is too much to be looked at can't be read, and stops no other. */
async function rowsOf(opened, progress) {
  const hands = opened.map(({ source, form, text }) => ({ source, form, text }));
  try {
    return (await ask('collect', { hand_ins: hands, class: box.group?.text ?? '', scenarios: box.scenarios }, progress)).rows;
  } catch (error) {
    if (error.key !== 'bad_request') throw error;
    if (hands.length === 1) return [{ source: hands[0].source, status: 'unreadable', holds: false, who: '', text: error.params.text ?? '' }];
    const all = [];
    for (const one of opened) all.push(...(await rowsOf([one])));
    return all;
  }
}

/** A sealed hand-in is opened with the first key that is the one. */
async function opening(item) {
  const keys = [privateKey(), ...box.keys].filter(Boolean);
  if (item.form !== 'sealed' || keys.length === 0) return item;
  try {
    const text = await keys.reduce((before, key) => before.catch(() => unseal(key, item.text)), Promise.reject(new Error('no key')));
    const { hand_ins: [first, ...more] } = await ask('find', { sources: [{ name: item.source, text }] });
    if (more.length > 0 || first.form === 'sealed') return { ...item, form: 'none', text: '' };
    return { ...item, form: first.form, text: first.text };
  } catch (error) {
    return { ...item, why: error.params?.text ?? '' };
  }
}

/** Holds the rows against each other, counts, and has the table written. */
async function sum() {
  const { group } = box;
  const list = rows().map((item) => item.row);
  const answer = await ask('table', { rows: list.map(slim), class: group?.text ?? '', scenarios: box.scenarios });
  list.forEach((row, i) => {
    const { again: time, same_as: same } = answer.rows[i];
    Object.assign(row, { again: time, same_as: same });
  });
  if (box.group === group) Object.assign(box, { picture: answer.picture, csv: answer.csv });
}

/** A row without what only its own page shows: hundreds of them travel at once. */
function slim(row) {
  const { sheet, grade, ...plain } = row;
  if (!grade) return plain;
  return { ...plain, grade: { points: grade.points, out_of: grade.out_of, hints: grade.hints, pass: grade.pass, rows: grade.rows.map(({ lines, ...r }) => r) } };
}

/**
 * The instructor's word on a row; it stands beside what the replay gave.
 * @param {?{percent:?number, comment:string}} override null takes it back
 */
export async function decide(app, item, override) {
  item.word = override; // also where there is no log to know it by
  item.row.override = override;
  if (!keepWord(item.row, override) && override) told('collect.override.unkept');
  box.csv = ''; // the old table isn't handed out any more
  app.redraw();
  try {
    await sum();
  } catch (error) {
    box.error = error;
  }
  app.redraw();
}

/** What is needed to look further into one: the attempt and its scenario as texts. */
export async function whole(item) {
  const { source, text, form } = await opening(item);
  return ask('report', { source: { name: source, text: form === 'none' ? '' : text }, number: 0, class: box.group?.text ?? '', scenarios: box.scenarios });
}

/** Another key may open what was sealed. */
export function followKey(app) {
  whenKeyChanges(() => {
    again((row) => row.status === 'sealed');
    if (!box.reading) run(app);
  });
}
