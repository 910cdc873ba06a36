// What stays on the device, under Node's own test runner.

import test from 'node:test';
import assert from 'node:assert/strict';

const held = new Map();
globalThis.localStorage = {
  getItem: (key) => held.get(key) ?? null, setItem: (key, value) => held.set(key, value), removeItem: (key) => held.delete(key),
  key: (i) => [...held.keys()][i] ?? null, get length() { return held.size; },
};
const { keepAttempt, attempts, dropSame } = await import(new URL('../../shell/app/store.js', import.meta.url));

test('practice makes way for newer practice, and never what somebody waits for', () => {
  let clock = 0;
  Date.now = () => ++clock;
  const keep = (scenario, more = {}) => assert.ok(keepAttempt({ scenario, mode: 'alone', custom: '', who: '', file: '{}', ...more }));
  keep('assigned', { custom: '{"id":"job-1"}' });
  keep('for-the-grade', { mode: 'grade' });
  for (let i = 0; i < 20; i++) keep(`practice-${i}`);
  const left = attempts().map((a) => a.scenario);
  assert.ok(left.includes('assigned') && left.includes('for-the-grade'), left.join());
  assert.equal(left.length, 2 + 12);
  assert.equal(left[0], 'practice-19', 'newest first');
  assert.ok(!left.includes('practice-7'));
});

test('the Debrief of another attempt at the same job leaves the one that is unfinished here', () => {
  held.clear();
  keepAttempt({ scenario: 'one', mode: 'alone', custom: '', who: '', file: '{"digest":"mine"}' });
  dropSame({ scenario: 'one', mode: 'alone', file: '{"digest":"theirs"}' });
  dropSame({ scenario: 'one', mode: 'grade', file: '{"digest":"mine"}' });
  assert.equal(attempts().length, 1);
  dropSame({ scenario: 'one', mode: 'alone', file: '{"digest":"mine"}' });
  assert.equal(attempts().length, 0);
});
