// cmi5: the platform launches the page with an address that names its record store;
// statements and the memory of the attempt go there. This is the one package that
// speaks to another origin, and its policy allows that one alone (see lms-policy.js).
//
// Order and contents by the cmi5 specification, "Quartz" (1.0): the token is fetched
// once, launch data and preferences are read first, then initialized, completed, passed
// or failed, terminated.

import { duration, verdict } from './lms-scorm.js';

const verbs = {
  initialized: 'http://adlnet.gov/expapi/verbs/initialized', completed: 'http://adlnet.gov/expapi/verbs/completed',
  passed: 'http://adlnet.gov/expapi/verbs/passed', failed: 'http://adlnet.gov/expapi/verbs/failed',
  terminated: 'http://adlnet.gov/expapi/verbs/terminated',
};
const category = (id) => ({ id: `https://w3id.org/xapi/cmi5/context/categories/${id}`, objectType: 'Activity' });
const MASTERY = 'https://w3id.org/xapi/cmi5/context/extensions/masteryscore';
const STATE = 'crankbay'; // name of our document in the record store

/** What the launch address says, or null when something is missing. */
export function launchOf(search) {
  const q = new URLSearchParams(search);
  const launch = {};
  for (const name of ['endpoint', 'fetch', 'actor', 'registration', 'activityId']) {
    if (!q.get(name)) return null;
    launch[name] = q.get(name);
  }
  try {
    launch.actor = JSON.parse(launch.actor);
  } catch {
    return null;
  }
  if (!launch.endpoint.endsWith('/')) launch.endpoint += '/';
  return launch;
}

function uuid() {
  if (globalThis.crypto?.randomUUID) return crypto.randomUUID();
  const b = crypto.getRandomValues(new Uint8Array(16)); // a page without a secure context
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = [...b].map((x) => x.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/**
 * One statement.
 * @param {Object} launch
 * @param {Object} data LMS.LaunchData
 * @param {string} verb
 * @param {Object} [result]
 * @param {string[]} [categories] of context, beside cmi5
 */
export function statement(launch, data, verb, result, categories = [], extensions = null) {
  const template = structuredClone(data.contextTemplate ?? {});
  const activities = template.contextActivities ?? {};
  const own = ['cmi5', ...categories].map(category);
  const given = [activities.category ?? []].flat().filter((c) => !own.some((o) => o.id === c.id));
  const context = {
    ...template, registration: launch.registration, contextActivities: { ...activities, category: [...given, ...own] },
  };
  if (extensions) context.extensions = { ...(template.extensions ?? {}), ...extensions };
  return {
    id: uuid(), timestamp: new Date().toISOString(), actor: launch.actor,
    verb: { id: verbs[verb], display: { 'en-US': verb } },
    object: { objectType: 'Activity', id: launch.activityId },
    ...(result ? { result } : {}), context,
  };
}

/** The token is given out once; a page that is loaded again still has it. */
async function tokenOf(launch) {
  const key = `crankbay/cmi5/${launch.registration}/${launch.fetch}`;
  let kept = null;
  try {
    kept = sessionStorage.getItem(key);
  } catch {
    // a browser that keeps nothing: then it is asked for
  }
  if (kept) return kept;
  const answer = await (await fetch(launch.fetch, { method: 'POST', signal: AbortSignal.timeout(PATIENCE) })).json();
  if (!answer['auth-token']) throw new Error(`fetch: ${answer['error-text'] ?? 'no token'}`);
  try {
    sessionStorage.setItem(key, answer['auth-token']);
  } catch {
    // likewise
  }
  return answer['auth-token'];
}

const PATIENCE = 30000; // ms for one answer; what is kept is sent again with the next step

/** The record store of one launch. */
class Store {
  constructor(launch, token) {
    this.launch = launch;
    this.head = { Authorization: `Basic ${token}`, 'X-Experience-API-Version': '1.0.3' };
  }

  address(path, params) {
    return `${this.launch.endpoint}${path}?${new URLSearchParams(params)}`;
  }

  stateAddress(stateId) {
    const { activityId, actor, registration } = this.launch;
    return this.address('activities/state', { activityId, agent: JSON.stringify(actor), registration, stateId });
  }

  async get(url, refused = []) {
    const r = await fetch(url, { headers: this.head, signal: AbortSignal.timeout(PATIENCE) });
    if (r.status === 404 || refused.includes(r.status)) return '';
    if (!r.ok) throw new Error(`${url.split('?')[0]}: status ${r.status}`);
    return r.text();
  }

  async put(url, text, type) {
    const r = await fetch(url, { method: 'PUT', body: text, headers: { ...this.head, 'Content-Type': type }, signal: AbortSignal.timeout(PATIENCE) });
    if (!r.ok) throw new Error(`${url.split('?')[0]}: status ${r.status}`);
  }

  async send(s, keepalive = false) {
    const r = await fetch(this.address('statements', { statementId: s.id }), {
      method: 'PUT', body: JSON.stringify(s), headers: { ...this.head, 'Content-Type': 'application/json' }, keepalive, signal: AbortSignal.timeout(PATIENCE),
    });
    if (!r.ok) throw new Error(`${s.verb.display['en-US']}: status ${r.status}`);
  }
}

/** Language and sound; a store that has trouble with them is none the worse for the rest. */
async function likesOf(store, launch) {
  try {
    return JSON.parse(await store.get(
      store.address('agents/profile', { agent: JSON.stringify(launch.actor), profileId: 'cmi5LearnerPreferences' }), [403]) || '{}') ?? {};
  } catch (error) {
    console.warn(error);
    return {};
  }
}

/** cmi5. */
export function cmi5() {
  let store = null;
  let launch = null;
  let data = {};
  let records = false;
  let ended = false;
  let completed = false; // said once in a registration, whatever fails after it
  let chain = Promise.resolve(); // what is kept arrives in the order it was made

  return {
    begin: async () => {
      launch = launchOf(location.search);
      if (!launch) return null;
      store = new Store(launch, await tokenOf(launch));
      data = JSON.parse(await store.get(store.stateAddress('LMS.LaunchData')) || '{}');
      const likes = await likesOf(store, launch);
      await store.send(statement(launch, data, 'initialized'));
      records = (data.launchMode ?? 'Normal') === 'Normal';
      return {
        records, who: launch.actor.name ?? '', link: data.launchParameters ?? '', back: /^https?:/.test(data.returnURL ?? '') ? data.returnURL : '',
        language: String(likes.languagePreference ?? '').split(',')[0].trim(), audio: likes.audioPreference ?? '',
        suspended: records ? await store.get(store.stateAddress(STATE)) : '',
      };
    },
    save: (code) => {
      chain = chain.catch(() => {}).then(() => store.put(store.stateAddress(STATE), code, 'text/plain'));
      return chain;
    },
    report: async ({ barred, scaled, mark, seconds }) => {
      const took = duration(seconds);
      if (!completed) await store.send(statement(launch, data, 'completed', { completion: true, duration: took }, ['moveon']));
      completed = true;
      const mastery = data.masteryScore;
      const { won, tell } = verdict(barred, scaled, mastery ?? mark);
      const result = { success: won, duration: took };
      if (tell) result.score = { scaled, raw: Math.round(scaled * 1000) / 10, min: 0, max: 100 };
      await store.send(statement(launch, data, won ? 'passed' : 'failed', result, ['moveon'], mastery === undefined ? null : { [MASTERY]: mastery }));
    },
    end: finish,
  };

  async function finish({ seconds }) {
    if (!store || ended) return;
    ended = true;
    await store.send(statement(launch, data, 'terminated', { duration: duration(seconds) }), true).catch(() => {});
  }
}
