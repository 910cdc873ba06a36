// The adapters to learning platforms against independent programs: a SCORM run-time
// (scorm-again), and a validator of statements (xapi-validation) with a record store
// that holds the rules of cmi5 besides.

import test from 'node:test';
import assert from 'node:assert/strict';
import { createRequire } from 'node:module';
import { existsSync } from 'node:fs';

const npm = new URL('../../../testdata/npm/', import.meta.url);
const installed = existsSync(new URL('node_modules/scorm-again', npm));
const skip = installed ? false : 'the npm packages are not installed (npm ci in testdata/npm)';
if (skip && process.env.CI) throw new Error(skip);
const need = createRequire(new URL('package.json', npm));

const app = new URL('../../shell/app/', import.meta.url);
const scorm = await import(new URL('lms-scorm.js', app));
const { Scorm12API, Scorm2004API } = skip ? {} : await import(new URL('node_modules/scorm-again/dist/esm/scorm-again.js', npm));
const { cmi5, launchOf, statement } = await import(new URL('lms-cmi5.js', app));

const done = { barred: false, scaled: 0.8125, mark: 0.7, seconds: 3725 };

/** A run-time of scorm-again, hung into a window two frames up. */
function platform(kind, settings = {}) {
  const api = kind === 'API' ? new Scorm12API({ autocommit: false, ...settings }) : new Scorm2004API({ autocommit: false, ...settings });
  const top = { [kind]: api };
  top.parent = top;
  globalThis.parent = { parent: top };
  return api;
}

/** What was written, also where a page may not read it back. */
const written = (api) => JSON.parse(JSON.stringify(api.cmi));

test('SCORM 1.2: status, score, time, suspend', { skip }, async () => {
  const api = platform('API');
  api.cmi.core.student_name = 'Núñez, Ana';
  const a = scorm.scorm12();
  const got = a.begin();
  assert.deepEqual([got.records, got.who, got.suspended], [true, 'Ana Núñez', '']);
  assert.equal(api.cmi.core.lesson_status, 'incomplete');
  a.save('CB1.abc');
  assert.equal(api.cmi.suspend_data, 'CB1.abc');
  a.end({ seconds: 65, finished: false });
  assert.equal(written(api).core.exit, 'suspend');
  assert.equal(written(api).core.session_time, '00:01:05');
  assert.equal(api.isTerminated(), true);
  a.end({ seconds: 65, finished: false }); // twice does nothing

  const second = platform('API');
  second.loadFromJSON({ cmi: { core: { entry: 'resume', lesson_status: 'incomplete' }, suspend_data: 'CB1.abc' } });
  const b = scorm.scorm12();
  assert.equal(b.begin().suspended, 'CB1.abc');
  b.report(done);
  assert.equal(second.cmi.core.lesson_status, 'passed');
  assert.deepEqual([second.cmi.core.score.raw, second.cmi.core.score.min, second.cmi.core.score.max].map(String), ['81.3', '0', '100']);
  b.end({ seconds: 3725, finished: true });
  assert.equal(written(second).core.session_time, '01:02:05');
  assert.equal(written(second).core.exit, '');
});

test('SCORM 1.2: the limit of 4,096 is ours to hold', { skip }, () => {
  const api = platform('API');
  const a = scorm.scorm12();
  a.begin();
  a.save('x'.repeat(scorm.LIMIT12));
  assert.throws(() => a.save('x'.repeat(scorm.LIMIT12 + 1)), /at most 4096/);
  assert.equal(api.cmi.suspend_data.length, 4096, 'what was kept stays');
});

test('SCORM: what bars a pass fails it, and hides a score only if that would pass; the platform may ask for more', { skip }, () => {
  for (const [kind, make, status, raw] of [
    ['API', scorm.scorm12, (api) => api.cmi.core.lesson_status, (api) => api.cmi.core.score.raw],
    ['API_1484_11', scorm.scorm2004, (api) => api.cmi.success_status, (api) => api.cmi.score.raw],
  ]) {
    let api = platform(kind);
    let a = make();
    a.begin();
    a.report({ ...done, barred: true });
    assert.equal(status(api), 'failed');
    assert.equal(String(raw(api)), '');
    api = platform(kind);
    a = make();
    a.begin();
    a.report({ ...done, barred: true, scaled: 0.41 });
    assert.equal(status(api), 'failed');
    assert.equal(String(raw(api)), '41', 'a score that fails anyway is told');
    api = platform(kind);
    if (kind === 'API') api.cmi.student_data.mastery_score = '90';
    else api.cmi.scaled_passing_score = '0.9';
    a = make();
    a.begin();
    a.report(done);
    assert.equal(status(api), 'failed', kind);
    api = platform(kind);
    a = make();
    a.begin();
    a.report({ ...done, mark: 0.85 });
    assert.equal(status(api), 'failed', 'by the mark of the package');
  }
});

test('SCORM 2004: status, score, time, suspend', { skip }, () => {
  const api = platform('API_1484_11');
  api.cmi.learner_name = 'Peña, José';
  api.cmi.learner_preference.language = 'es-MX';
  api.cmi.learner_preference.audio_level = '0';
  const a = scorm.scorm2004();
  const got = a.begin();
  assert.deepEqual([got.records, got.who, got.language, got.audio], [true, 'José Peña', 'es-MX', 'off']);
  assert.equal(api.cmi.completion_status, 'incomplete');
  a.save('y'.repeat(3500));
  assert.throws(() => a.save('y'.repeat(scorm.LIMIT2004 + 1)), /at most 64000/);
  a.report(done);
  assert.deepEqual([api.cmi.completion_status, api.cmi.success_status], ['completed', 'passed']);
  assert.deepEqual([api.cmi.score.scaled, api.cmi.score.raw, api.cmi.score.min, api.cmi.score.max].map(String), ['0.8125', '81.3', '0', '100']);
  a.end({ seconds: 3725, finished: true });
  assert.equal(written(api).session_time, 'PT1H2M5S');
});

test('SCORM: looking around records nothing, and without a platform there is none', { skip }, () => {
  const api = platform('API');
  api.cmi.core.lesson_mode = 'browse';
  assert.equal(scorm.scorm12().begin().records, false);
  assert.equal(api.cmi.core.lesson_status, 'not attempted');
  globalThis.parent = undefined;
  assert.equal(scorm.scorm12().begin(), null);
  assert.equal(scorm.scorm2004().begin(), null);
  const hostile = { get API() { throw new Error('another origin'); } };
  globalThis.parent = hostile;
  assert.equal(scorm.findAPI('API'), null);
});

/** A platform of few words: it keeps what `keeps` names and answers with empty texts. */
function quiet(kind, keeps = () => true) {
  const kept = {};
  const names = kind === 'API' ? ['LMSInitialize', 'LMSGetValue', 'LMSSetValue', 'LMSCommit', 'LMSFinish', 'LMSGetLastError'] : ['Initialize', 'GetValue', 'SetValue', 'Commit', 'Terminate', 'GetLastError'];
  const [, get, set, , end] = names;
  const api = Object.fromEntries(names.map((name) => [name, () => '']));
  Object.assign(api, { [get]: (name) => kept[name], [set]: (name, value) => { if (keeps(name)) kept[name] = value; return ''; }, [end]: () => { throw new Error('no longer there'); } });
  const top = { [kind]: api };
  top.parent = top;
  globalThis.parent = { parent: top };
  return kept;
}

test('SCORM: a platform that answers with empty texts and throws at the end is believed what it keeps', { skip }, (context) => {
  context.mock.method(console, 'warn', () => {});
  for (const [kind, make, data, status, score] of [['API', scorm.scorm12, 'cmi.suspend_data', 'cmi.core.lesson_status', 'cmi.core.score.raw'], ['API_1484_11', scorm.scorm2004, 'cmi.suspend_data', 'cmi.success_status', 'cmi.score.raw']]) {
    const kept = quiet(kind);
    kept[data] = 'CB1.before';
    const a = make();
    const got = a.begin();
    assert.deepEqual([got.records, got.suspended, got.who, got.language], [true, 'CB1.before', '', '']);
    a.save('CB1.abc');
    assert.equal(kept[data], 'CB1.abc');
    a.report(done);
    assert.deepEqual([kept[status], kept[score]], ['passed', '81.3'], 'no mark of theirs: that of the package');
    a.end({ seconds: 1, finished: true }); // throws nothing
    for (const nonsense of [' ', 'n/a', '-1', '250']) {
      const odd = quiet(kind);
      Object.assign(odd, { 'cmi.student_data.mastery_score': nonsense, 'cmi.scaled_passing_score': nonsense });
      const b = make();
      b.begin();
      b.report({ ...done, scaled: 0.2 });
      assert.equal(odd[status], 'failed', `a mark of "${nonsense}" is none`);
    }
    quiet(kind, () => false);
    const c = make();
    assert.equal(c.begin().suspended, '');
    assert.throws(() => c.save('CB1.abc'), /suspend_data/, 'who keeps nothing is not said to');
    assert.throws(() => c.report(done));
    const thrower = quiet(kind);
    globalThis.parent.parent[kind] = new Proxy({}, { get: () => () => { throw new Error('gone'); } });
    const d = make();
    assert.equal(d.begin(), null, 'who does not even begin is no platform');
    d.end({ seconds: 1, finished: false });
    assert.deepEqual(thrower, {});
  }
});

const actor = { objectType: 'Agent', name: 'Ana', account: { homePage: 'https://school.example', name: '17' } };
const launch = {
  endpoint: 'https://records.example/xapi/', fetch: 'https://school.example/fetch?k=1', actor: JSON.stringify(actor),
  registration: '3e7f5f3a-0b65-4a55-9a2b-2d8a2fd6b0aa', activityId: 'https://school.example/act/7',
};

/** A record store: keeps what comes, and answers like one. */
function recordStore(data, likes = null) {
  const store = { statements: [], state: '', fetched: 0, asked: [] };
  globalThis.sessionStorage = { kept: {}, getItem(k) { return this.kept[k] ?? null; }, setItem(k, v) { this.kept[k] = v; } };
  globalThis.location = { search: `?${new URLSearchParams(launch)}`, assign() {} };
  globalThis.fetch = async (url, { method = 'GET', body, headers = {} } = {}) => {
    const u = new URL(url);
    store.asked.push(`${method} ${u.pathname}`);
    const answer = (status, text = '') => ({ ok: status < 400, status, text: async () => text, json: async () => JSON.parse(text) });
    if (url === launch.fetch) {
      store.fetched++;
      return answer(200, store.fetched > 1 ? '{"error-code":"1","error-text":"used"}' : '{"auth-token":"dG9rZW4="}');
    }
    assert.equal(headers.Authorization, 'Basic dG9rZW4=');
    assert.equal(headers['X-Experience-API-Version'], '1.0.3');
    if (u.pathname.endsWith('activities/state')) {
      assert.equal(u.searchParams.get('registration'), launch.registration);
      if (u.searchParams.get('stateId') === 'LMS.LaunchData') return answer(200, JSON.stringify(data));
      if (method === 'PUT') store.state = body;
      return store.state === '' ? answer(404) : answer(200, store.state);
    }
    if (u.pathname.endsWith('agents/profile')) return likes ? answer(200, JSON.stringify(likes)) : answer(403);
    store.statements.push(JSON.parse(body));
    return answer(204);
  };
  return store;
}

const data = {
  contextTemplate: {
    contextActivities: { grouping: [{ id: 'https://school.example/au/1', objectType: 'Activity' }] },
    extensions: { 'https://w3id.org/xapi/cmi5/context/extensions/sessionid': 's-1' },
  },
  launchMode: 'Normal', masteryScore: 0.7, moveOn: 'CompletedAndPassed', launchParameters: 'job1.AAAA', returnURL: 'https://school.example/back',
};

test('cmi5: order and contents of what is recorded', { skip }, async () => {
  const store = recordStore(data, { languagePreference: 'es-MX,en', audioPreference: 'off' });
  const a = cmi5();
  const got = await a.begin();
  assert.deepEqual(
    [got.records, got.who, got.language, got.audio, got.link, got.back], [true, 'Ana', 'es-MX', 'off', 'job1.AAAA', 'https://school.example/back']);
  await Promise.all([a.save('CB1.one'), a.save('CB1.two')]);
  assert.equal(store.state, 'CB1.two', 'in the order they were made');
  await a.report(done);
  await a.end({ seconds: 3725 });
  await a.end({ seconds: 3725 });
  const check = need('xapi-validation').default;
  for (const s of store.statements) {
    assert.deepEqual(check(s), [], JSON.stringify(s));
    assert.deepEqual(s.actor, actor);
    assert.equal(s.object.id, launch.activityId);
    assert.equal(s.context.registration, launch.registration);
    assert.equal(s.context.extensions['https://w3id.org/xapi/cmi5/context/extensions/sessionid'], 's-1', 'the template is copied, not written over');
    assert.deepEqual(s.context.contextActivities.grouping, data.contextTemplate.contextActivities.grouping);
    assert.ok(s.context.contextActivities.category.some((c) => c.id === 'https://w3id.org/xapi/cmi5/context/categories/cmi5'));
    assert.match(s.timestamp, /Z$/);
  }
  const verbs = store.statements.map((s) => s.verb.id.split('/').pop());
  assert.deepEqual(verbs, ['initialized', 'completed', 'passed', 'terminated']);
  const [, completed, passed, terminated] = store.statements;
  const moveon = (s) => s.context.contextActivities.category.some((c) => c.id.endsWith('/moveon'));
  assert.deepEqual([completed.result.completion, completed.result.duration, moveon(completed)], [true, 'PT1H2M5S', true]);
  assert.deepEqual(passed.result, { success: true, duration: 'PT1H2M5S', score: { scaled: 0.8125, raw: 81.3, min: 0, max: 100 } });
  assert.equal(passed.context.extensions['https://w3id.org/xapi/cmi5/context/extensions/masteryscore'], 0.7);
  assert.ok(moveon(passed) && !moveon(terminated));
  assert.equal(terminated.result.duration, 'PT1H2M5S');
  assert.equal(new Set(store.statements.map((s) => s.id)).size, 4);
});

test('cmi5: the mark decides; what bars a pass hides a score that would pass', { skip }, async () => {
  let store = recordStore({ ...data, masteryScore: 0.9 });
  let a = cmi5();
  await a.begin();
  await a.report(done);
  let last = store.statements.at(-1);
  assert.equal(last.verb.id, 'http://adlnet.gov/expapi/verbs/failed');
  assert.ok(last.result.score.scaled < 0.9 && last.result.success === false);
  store = recordStore(data);
  a = cmi5();
  await a.begin();
  await a.report({ ...done, barred: true });
  last = store.statements.at(-1);
  assert.equal(last.verb.id, 'http://adlnet.gov/expapi/verbs/failed');
  assert.equal(last.result.score, undefined);
  store = recordStore(data);
  a = cmi5();
  await a.begin();
  await a.report({ ...done, barred: true, scaled: 0.41 });
  assert.equal(store.statements.at(-1).result.score.scaled, 0.41, 'a score that fails anyway is told');
});

test('cmi5: a page that is loaded again, one to look around, and none', { skip }, async () => {
  const store = recordStore({ ...data, launchMode: 'Browse' });
  store.state = 'CB1.kept';
  assert.equal((await cmi5().begin()).records, false);
  const again = await cmi5().begin();
  assert.equal(store.fetched, 1, 'the token is given out once');
  assert.equal(again.suspended, '');
  globalThis.location.search = '';
  assert.equal(await cmi5().begin(), null);
  globalThis.location.search = `?${new URLSearchParams({ ...launch, actor: '{' })}`;
  assert.equal(await cmi5().begin(), null);
  assert.equal(launchOf(''), null);
  assert.equal(statement({ registration: 'r', activityId: 'a', actor }, {}, 'initialized').context.contextActivities.category.length, 1);
});

test('cmi5: preferences that can\'t be read take nothing else with them', { skip }, async (context) => {
  context.mock.method(console, 'warn', () => {});
  const store = recordStore(data);
  globalThis.location.search = `?${new URLSearchParams(launch)}`;
  const { fetch } = globalThis;
  globalThis.fetch = (url, more) => (url.includes('agents/profile') ? { ok: false, status: 500, text: async () => 'oops' } : fetch(url, more));
  const a = cmi5();
  const got = await a.begin();
  assert.deepEqual([got.records, got.language, got.audio], [true, '', '']);
  assert.equal(store.statements.length, 1);
});
