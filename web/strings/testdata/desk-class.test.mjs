// Jobs and classes on the Desk, under Node's own test runner, with a program in place of the
// second one that answers at once.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const app = new URL('../../shell/app/', import.meta.url);
const kept = new Map();
globalThis.localStorage = {
  getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => kept.set(key, value), removeItem: (key) => kept.delete(key),
};
globalThis.document = { documentElement: { hasAttribute: () => false }, getElementById: () => null, querySelector: () => null };
globalThis.location = { origin: 'https://school.example', pathname: '/bay/' };

/** What the second program would say: a roster is names, one a line; "?" is none. */
function answer(question) {
  switch (question.do) {
    case 'faults': case 'engines': return { ok: {} };
    case 'look': return { error: { key: 'bad_scenario', params: {} } };
    case 'begin': return { ok: { text: '{}' } };
    case 'roster':
      if (question.text.includes('?')) return { error: { key: 'bad_roster', params: { text: 'line 1: no name' } } };
      return { ok: { students: question.text.split('\n').map((name) => ({ name })) } };
    case 'class': if (question.class && !question.students) return { ok: { class: question.class, name: 'x', answers: [] } };
      return { ok: { class: JSON.stringify({ students: question.students }), name: question.name, answers: [] } };
    default: throw new Error(question.do);
  }
}

globalThis.Worker = class {
  constructor() { setTimeout(() => this.onmessage({ data: { ready: true } })); }

  postMessage({ id, text }) { setTimeout(() => this.onmessage({ data: { id, answer: JSON.stringify(answer(JSON.parse(text))) } })); }

  terminate() {}
};

const { useTables } = await import(new URL('i18n.js', app));
const en = JSON.parse(readFileSync(new URL('../en.json', import.meta.url), 'utf8'));
useTables('en', en, en);
const { group, openClass, paste, makeSet, changeSet, fill, startOver } = await import(new URL('office-group.js', app));
const { open, close, draft, choices } = await import(new URL('office-draft.js', app));
const { card } = await import(new URL('office-more.js', app));
const { keepClass, keptClasses } = await import(new URL('office-keep.js', app));

const page = { redraw() {}, announce() {} };
const rest = () => new Promise((r) => setTimeout(r, 450)); // longer than letters have to rest
const names = () => group.made && JSON.parse(group.made).students.map((s) => s.name);

test('a set is made for the roster as it was typed last', async () => {
  startOver(page);
  fill(page, { from: 'catalogue' });
  paste(page, 'Ana');
  await rest();
  paste(page, 'Ana\nBlas');
  await makeSet(page); // before the letters have rested
  assert.deepEqual(names(), ['Ana', 'Blas']);
  paste(page, 'Ana\nBlas\nCora');
  await changeSet(page);
  assert.deepEqual(names(), ['Ana', 'Blas', 'Cora']);
});

test('no set is made of an earlier roster where the one in the field can\'t be read', async () => {
  startOver(page);
  fill(page, { from: 'catalogue' });
  paste(page, 'Ana');
  await rest();
  paste(page, '?');
  await makeSet(page);
  assert.equal(group.made, null);
  assert.equal(group.busy, null);
  assert.equal(group.rosterError.key, 'bad_roster');
  await rest();
  await makeSet(page);
  assert.equal(group.made, null);
});

test('a new class makes no old one go', () => {
  kept.clear();
  for (let i = 0; i < 60; i++) assert.ok(keepClass({ id: `class-${i}`, name: 'x', n: 1, text: '{}' }));
  assert.equal(keptClasses().length, 60);
  keepClass({ id: 'class-3', name: 'y', n: 1, text: '{}' });
  assert.equal(keptClasses().length, 60);
});

test('a job that this device can\'t keep is not put away without a word', async () => {
  kept.clear();
  const { setItem } = globalThis.localStorage;
  globalThis.localStorage.setItem = () => { throw new Error('full'); };
  assert.ok(await open(page, { scenario: 'one' }));
  close(page);
  assert.notEqual(draft.file, null);
  assert.equal(draft.kept, false, 'the page says so');
  close(page);
  assert.equal(draft.file, null, 'asked twice');
  globalThis.localStorage.setItem = setItem;
  assert.ok(await open(page, { scenario: 'one' }));
  close(page);
  assert.equal(draft.file, null);
  assert.match(kept.get('crankbay/jobs'), /own-/);
});

test('an engine whose lash is not measured asks for none', () => {
  choices.list = { rules: ['within'] };
  const numbers = { coolant_min_c: 80, coolant_max_c: 100, strokes_min: 5, strokes_max: 8, oil_ml: 10, limits: { standard_kpa: 1, minimum_kpa: 1, difference_kpa: 1 } };
  draft.file = { card: { ...numbers, lash_check: true, lash: { intake_mm: 0.25, exhaust_mm: 0.4, within_mm: 0.05 } } };
  const found = (nodes) => nodes.flatMap((n) => (n.props?.id === 'card-lash_check' ? [n] : found(n.kids ?? [])));
  const [tick] = found(card({ ...page, state: { unit: 'psi' } }).flat(9));
  tick.props.onchange({ target: { checked: false } });
  assert.deepEqual(draft.file.card, { ...numbers, lash_check: false });
  draft.file = null;
});

test('a class file that is older than what is kept does not take its place', async () => {
  startOver(page);
  kept.clear();
  const text = (revision, ...list) => JSON.stringify({ secret: '00112233445566', revision, students: list.map((name) => ({ name })) });
  await openClass(page, text(0, 'Ana'));
  await openClass(page, text(2, 'Ana', 'Late'));
  assert.equal(group.note, '');
  assert.equal(keptClasses().length, 1, 'the newer one takes the place of the older');
  await openClass(page, text(1, 'Ana'));
  assert.deepEqual(names(), ['Ana', 'Late'], 'the kept one is opened');
  assert.equal(group.note, 'office.class.older', 'and that is said');
  assert.match(group.roster, /Late/);
  await openClass(page, text(2, 'Ana', 'Later'));
  assert.deepEqual([names(), group.note], [['Ana', 'Later'], 'office.class.twin']);
  assert.deepEqual(keptClasses().map((c) => JSON.parse(c.text).students.at(-1).name).sort(), ['Late', 'Later'], 'changed on two devices: both stay');
  for (const last of ['Late', 'Later', 'Late']) await openClass(page, text(2, 'Ana', last));
  assert.equal(keptClasses().length, 2);
});

test('no cell of a table is a formula, by the list that the command line is held to', async () => {
  const { inert } = await import(new URL('format.js', app));
  const cells = JSON.parse(readFileSync(new URL('../../../testdata/vectors/cells.json', import.meta.url), 'utf8'));
  for (const [cell, safe] of cells) assert.equal(inert(cell), safe, JSON.stringify(cell));
});
