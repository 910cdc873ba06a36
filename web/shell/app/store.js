// What stays on this device: preferences and unfinished attempts. Everything
// is under one name space, and a device that refuses storage loses nothing but
// the memory.

const ROOT = 'crankbay/';
const ATTEMPT = `${ROOT}attempt/`;
const HANDIN = `${ROOT}handin/`;
const KEEP = 12; // unfinished attempts that are practice

function place() {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null; // blocked by the browser's settings
  }
}

function read(key) {
  try {
    const text = place()?.getItem(key);
    return text ? JSON.parse(text) : null;
  } catch {
    return null;
  }
}

function write(key, value) {
  try {
    place()?.setItem(key, JSON.stringify(value));
    return place() !== null;
  } catch {
    return false; // full or forbidden
  }
}

/** One preference: language, unit, mode, who, muted, captions. */
export function preference(name, fallback) {
  return read(ROOT + name) ?? fallback;
}

/** Keeps one preference; false when this device keeps nothing. */
export function keepPreference(name, value) {
  return write(ROOT + name, value);
}

/**
 * Keeps an unfinished attempt; the newest of a scenario and way of working
 * replaces the one before.
 * @param {{scenario:string, mode:string, who:string, title:Object, file:string, custom?:Object}} attempt
 * @returns {boolean} false when this device keeps nothing
 */
export function keepAttempt(attempt) {
  const key = attemptKey(attempt);
  const kept = write(key, { ...attempt, saved: Date.now() });
  for (const old of attempts().filter(isPractice).slice(KEEP)) dropAttempt(old);
  return kept;
}

/** What nobody waits for makes way for newer practice. */
const isPractice = ({ mode, custom }) => mode !== 'grade' && !custom;

/** Unfinished attempts, newest first. */
export const attempts = () => kept(ATTEMPT);

function kept(root) {
  const store = place();
  if (!store) return [];
  const found = [];
  for (let i = 0; i < store.length; i++) {
    const key = store.key(i);
    const value = key?.startsWith(root) ? read(key) : null;
    if (value?.file) found.push(value);
  }
  return found.sort((a, b) => b.saved - a.saved);
}

/**
 * Keeps an attempt that was handed in, until it is graded and has left the device.
 * A second one of the same scenario stands beside the first.
 * @param {{scenario:string, mode:string, file:string, seal:string, owed:boolean, graded:boolean, left:string}} hand
 * @returns {boolean} false when this device keeps nothing
 */
export function keepHandIn(hand) {
  hand.saved ??= Date.now();
  return write(handInKey(hand), hand);
}

/** Attempts that were handed in and are still kept, newest first. */
export const handIns = () => kept(HANDIN);

/** Forgets a hand-in. */
export const dropHandIn = (hand) => place()?.removeItem(handInKey(hand));

function handInKey(hand) {
  return `${HANDIN}${hand.scenario}/${hand.mode}/${hand.saved}`;
}

/** Forgets one attempt. */
export function dropAttempt(attempt) {
  place()?.removeItem(attemptKey(attempt));
}

/** Forgets an unfinished attempt if it is this very one: somebody else's at the same job stays. */
export function dropSame({ scenario, mode, file }) {
  const mine = attempts().find((a) => a.scenario === scenario && a.mode === mode);
  if (mine && digestOf(mine.file) === digestOf(file)) dropAttempt(mine);
}

const digestOf = (file) => JSON.parse(file).digest;

function attemptKey(attempt) {
  return `${ATTEMPT}${attempt.scenario}/${attempt.mode}`;
}

let letGo = null; // gives back the attempt that this tab holds

/**
 * Takes an attempt for this tab alone, until leaveAttempt or the tab is closed.
 * @returns {Promise<boolean>} false when another tab has it open
 */
export async function holdAttempt(attempt) {
  leaveAttempt();
  const locks = globalThis.navigator?.locks;
  if (!locks) return true; // an old browser: nothing to ask
  return new Promise((resolve) => {
    locks.request(attemptKey(attempt), { ifAvailable: true }, (lock) => {
      resolve(lock !== null);
      return lock && new Promise((done) => { letGo = done; });
    }).catch(() => resolve(true)); // not allowed here: nothing is known
  });
}

/** Gives the attempt of this tab back. */
export function leaveAttempt() {
  letGo?.();
  letGo = null;
}
