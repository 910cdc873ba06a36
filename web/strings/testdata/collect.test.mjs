// The Desk's collecting, under Node's own test runner, with a program in place of the
// second one that answers at once: what is tested is what the page makes of answers.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const app = new URL('../../shell/app/', import.meta.url);
const kept = new Map();
globalThis.localStorage = {
  getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => kept.set(key, value), removeItem: (key) => kept.delete(key),
};

const asked = [];
let meanwhile = () => {}; // happens while a question is on its way

/** What the second program would say. */
function answer(question) {
  asked.push(question);
  meanwhile(question);
  switch (question.do) {
    case 'begin': {
      const text = question.text || question.scenario;
      if (text.includes('broken')) return { error: { key: 'bad_scenario', params: { text: 'no engine' } } };
      if (text === 'unknown') return { error: { key: 'unknown_id', params: {} } };
      return { ok: { text } };
    }
    case 'find':
      if (question.sources.some((s) => s.text.includes('\u0001'))) return { error: { key: 'bad_request', params: { text: 'longer than 20971520 bytes' } } };
      return { ok: { hand_ins: question.sources.map(({ name, text }) => ({ source: name, form: 'file', text })) } };
    case 'collect': {
      if (question.hand_ins.some((one) => one.text.includes('\u0002'))) return { error: { key: 'bad_request', params: { text: 'longer than 20971520 bytes' } } };
      if (/broken|null/.test(question.class)) return { error: { key: 'bad_class', params: { text: 'students[0]: no name' } } };
      return { ok: { rows: question.hand_ins.map((hand) => row(hand, question.class)) } };
    }
    case 'table':
      if (/broken|null/.test(question.class)) return { error: { key: 'bad_class', params: { text: 'students[0]: no name' } } };
      return { ok: { rows: question.rows, picture: { hand_ins: question.rows.length, against: question.class }, csv: 'x' } };
    default: throw new Error(question.do);
  }
}

/** A hand-in here is {"who", "log"}; without a log it can't be read. */
function row({ source, text }, against) {
  const { who, log } = JSON.parse(text || '{}');
  return { source, status: log ? 'ok' : 'unreadable', holds: Boolean(log), who: who ?? '', scenario: 'job', log, percent: 50, against };
}

globalThis.Worker = class {
  constructor() { setTimeout(() => this.onmessage({ data: { ready: true } })); }

  postMessage({ id, text }) { setTimeout(() => this.onmessage({ data: { id, answer: JSON.stringify(answer(JSON.parse(text))) } })); }

  terminate() {}
};

const { useTables } = await import(new URL('i18n.js', app));
const en = JSON.parse(readFileSync(new URL('../en.json', import.meta.url), 'utf8'));
useTables('en', en, en);
const work = await import(new URL('office-collect-work.js', app));
const { wordOn, keepWord } = await import(new URL('office-collect-word.js', app));
const { droppedFiles, mailParts } = await import(new URL('office-collect-files.js', app));
const { box } = work;
const { keepClass } = await import(new URL('office-keep.js', app));
const { classTable, shown } = await import(new URL('office-table.js', app));
const { deskHead } = await import(new URL('office-head.js', app));

/** Presses the switch that hides names. */
function hide() {
  const found = (nodes) => nodes.flatMap((n) => (n.props?.['data-act'] === 'desk-hidden' ? [n] : found(n.kids ?? [])));
  found([deskHead(page)])[0].props.onclick();
}

const page = { redraw() {}, announce() {} };
const file = (name, data) => ({ name, file: new File([typeof data === 'string' ? data : JSON.stringify(data)], name) });
const group = (name, revision = 0, students = ['Ana']) => ({ name, secret: `of ${name}`, revision, students: students.map((who) => ({ name: who })) });

function begin() {
  work.holdAgainst(page, null, false);
  work.clear(page);
  Object.assign(box, { scenarios: [] });
  kept.clear();
  asked.length = 0;
  meanwhile = () => {};
}

test('a file that only looks like a class or a job spoils nobody else\'s hand-in', async () => {
  for (const bad of [{ secret: '00', students: [null] }, { secret: '00', students: [{ name: 'broken' }] }, { id: 'broken', engine: {} }, { id: 7, complaint: 'broken' }]) {
    begin();
    await work.take(page, [file('bad.json', bad), file('good.json', { who: 'Ana', log: '1' })]);
    assert.equal(box.reading, false);
    assert.equal(box.error, null, JSON.stringify(bad));
    assert.deepEqual(box.items.map((item) => item.source), ['bad.json', 'good.json'], 'what is of no use is named, too');
    assert.ok(box.items.every((item) => item.row), JSON.stringify(bad));
    assert.equal(box.group, null);
    assert.deepEqual(box.scenarios, []);
  }
});

test('a class among hand-ins does not take the place of the one that is held against', async () => {
  begin();
  await work.take(page, [file('class.json', group('Auto 2'))]);
  assert.equal(box.group.name, 'Auto 2');
  await work.take(page, [file('mine.json', group('Another'))]);
  assert.equal(box.group.name, 'Auto 2');
  assert.match(box.notes.join(), /another class/);
  await work.take(page, [file('mine.json', group('Another'))], true); // the instructor chose it
  assert.equal(box.group.name, 'Another');
  await work.take(page, [file('broken.json', group('broken'))], true);
  assert.equal(box.group.name, 'Another');
  assert.equal(box.error?.key, 'bad_class', 'and is told why not');
});

test('a job does not take the name of a known one', async () => {
  begin();
  const known = { id: 'known', engine: {} };
  await work.take(page, [file('job.json', known)]);
  assert.deepEqual(box.scenarios, [], 'the other program knows "known" with other contents');
  await work.take(page, [file('job.json', { id: 'unknown', engine: {} })]);
  await work.take(page, [file('job.json', { id: 'unknown', engine: {} })]);
  assert.equal(box.scenarios.length, 1, 'once is enough');
});

test('a decision is about one student, whoever else has the same log', async () => {
  begin();
  await work.take(page, [file('a.json', { who: 'Ana', log: '1' }), file('b.json', { who: 'Blas', log: '1' })]);
  await work.decide(page, box.items[0], { percent: 90, comment: 'was ill' });
  assert.ok(wordOn({ scenario: 'job', who: 'Ana', log: '1' }));
  work.clear(page);
  await work.take(page, [file('a.json', { who: 'Ana', log: '1' }), file('b.json', { who: 'Blas', log: '1' })]);
  assert.equal(box.items[0].row.override?.percent, 90, 'it is there when the same comes in again');
  assert.equal(box.items[1].row.override, null);
  await work.decide(page, box.items[0], null);
  assert.equal(wordOn(box.items[0].row), null);
});

test('a decision about what can\'t be read outlives another class', async () => {
  begin();
  await work.take(page, [file('a.json', { who: 'Ana' })]);
  await work.decide(page, box.items[0], { percent: 10, comment: 'seen on her screen' });
  assert.match(box.notes.join(), /until the page is closed/);
  await work.take(page, [file('class.json', group('Auto 2'))]);
  assert.equal(box.items[0].row.override?.percent, 10);
});

test('what another tab decided stays', () => {
  begin();
  keepWord({ scenario: 'job', who: 'Ana', log: '1' }, { percent: 1, comment: 'a' });
  kept.set('crankbay/overrides', JSON.stringify({ ...JSON.parse(kept.get('crankbay/overrides')), other: { percent: 2, comment: 'b' } }));
  keepWord({ scenario: 'job', who: 'Blas', log: '2' }, { percent: 3, comment: 'c' });
  assert.deepEqual(Object.values(JSON.parse(kept.get('crankbay/overrides'))).map((w) => w.percent), [1, 2, 3]);
});

test('another class chosen while it counts is counted too', async () => {
  begin();
  await work.take(page, [file('a.json', { who: 'Ana', log: '1' })]);
  let once = true;
  meanwhile = (question) => {
    if (question.do !== 'table' || question.rows.length === 0 || !once) return;
    once = false;
    work.holdAgainst(page, { name: 'Auto 2', text: JSON.stringify(group('Auto 2')) });
  };
  work.holdAgainst(page, { name: 'Auto 1', text: JSON.stringify(group('Auto 1')) });
  for (let i = 0; i < 200 && (box.busy || i < 5); i++) await new Promise((r) => setTimeout(r, 5));
  assert.equal(box.error, null);
  assert.match(box.items[0].row?.against ?? 'nothing', /Auto 2/);
  assert.match(box.picture.against, /Auto 2/);
});

test('a file that a disk does not give is named', async () => {
  begin();
  const entry = { name: 'torn.json', isFile: true, file: (_, reject) => reject(new Error('gone')) };
  await work.take(page, [...await droppedFiles({ items: [{ webkitGetAsEntry: () => entry }], files: [] }), file('good.json', { who: 'Ana', log: '1' })]);
  assert.match(box.notes.join(), /torn\.json could not be read/);
  assert.equal(box.items.length, 1);
});

test('a mail of nothing but boundaries is looked through in no time', () => {
  const bounds = Array.from({ length: 20000 }, (_, i) => `boundary="b${i}"`).join('\n');
  const mail = `Subject: x\nContent-Transfer-Encoding: base64\n${bounds}\n${'x'.repeat(200000)}`;
  assert.ok(mailParts(mail).length < 100);
});

test('a file that is too much takes no other with it', async () => {
  begin();
  await work.take(page, [file('a.json', { who: 'Ana', log: '1' }), file('noise', '\u0001\u0001'), file('more', '\u0002'), file('b.json', { who: 'Blas', log: '2' })]);
  assert.deepEqual(box.items.map((item) => [item.source, item.row?.status]), [['a.json', 'ok'], ['noise', 'unreadable'], ['more', 'unreadable'], ['b.json', 'ok']]);
  assert.equal(box.error, null);
});

test('of two lists of one class the newer one counts, whichever comes first', async () => {
  begin();
  const [first, second] = [group('Auto 2'), group('Auto 2', 1, ['Ana', 'Late'])];
  await work.take(page, [file('old.json', first)]);
  await work.take(page, [file('new.json', second)]);
  assert.deepEqual(box.group.students, ['Ana', 'Late'], 'the same class with one more needs no choosing');
  await work.take(page, [file('old.json', first)]);
  assert.deepEqual(box.group.students, ['Ana', 'Late']);
  assert.match(box.notes.join(), /old\.json is an older list/);
  await work.take(page, [file('old.json', first)], true);
  assert.deepEqual(box.group.students, ['Ana', 'Late'], 'not even when it was chosen');
  begin();
  keepClass({ id: 'of Auto 2', name: 'Auto 2', n: 2, text: JSON.stringify(second) });
  await work.take(page, [file('old.json', first)], true);
  assert.deepEqual(box.group.students, ['Ana', 'Late'], 'the one that is kept is newer');
});

test('three thousand hand-ins are drawn with hidden names, each line once', async () => {
  begin();
  const n = 3000;
  await work.take(page, [file('class.json', group('Auto 2', 0, Array.from({ length: 600 }, (_, i) => `Student ${i}`)))]);
  box.items.push(...Array.from({ length: n }, (_, i) => ({ id: i + 1, source: `${i}.json`, form: 'file', text: '', row: row({ source: `${i}.json`, text: JSON.stringify({ who: `Student ${n - 1 - i}`, log: String(i) }) }, '') })));
  let looks = 0;
  const list = box.items;
  box.items = new Proxy(list, { get: (target, name) => { if (name !== 'length') looks++; return Reflect.get(target, name); } });
  const lines = () => classTable(page, () => {}).kids[0].kids.at(-1).kids;
  const open = lines();
  assert.equal(open.length, n);
  assert.ok(lines().every((line, i) => line === open[i]), 'nothing changed: the same lines');
  hide();
  const closed = lines();
  assert.ok(closed.every((line, i) => line !== open[i]), 'every line hides its name');
  assert.ok(!JSON.stringify(closed.map((line) => line.kids)).includes('.json'), 'and its file');
  assert.deepEqual(['Student 7', 'Student 599', 'Student 2999', 'Student 600'].map(shown), ['Student 8', 'Student 600', 'Student 601', 'Student 3000'], 'by the roster, then as they came');
  looks = 0;
  list[5].row.override = { percent: 10, comment: 'x' };
  const again = lines();
  assert.equal(again.filter((line, i) => line !== closed[i]).length, 1, 'one line changed');
  assert.ok(looks < 20 * n, `${looks} looks at the list: not one at all of it for each line`);
  hide();
});
