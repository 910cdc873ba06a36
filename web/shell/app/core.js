// The only door to the simulation core. Calls go in as JSON strings and come
// back as objects; a core that has broken down is rebuilt from the saved attempt.

import { isPacked, packed } from './parts.js';
import { wasm } from './wasm.js';

/** An error of somebody's data (a wrong file, an unknown scenario), with its key. */
export class CoreError extends Error {
  constructor(error) {
    super(error.message || error.key);
    this.key = error.key;
    this.params = error.params || {};
  }
}

let ready = null;
let onRebuilt = null;
let lastSave = '';
let lastScenario = '';

/** Called with the new view after the core had to be rebuilt. */
export function whenRebuilt(handler) {
  onRebuilt = handler;
}

/** Loads and starts the core once. */
export function start() {
  ready ??= launch();
  return ready;
}

async function launch() {
  if (globalThis.crankbay) return; // already here: a page that brings its core along
  const go = new globalThis.Go();
  const scenarios = isPacked() ? null : packed('catalogue.txt').then((answer) => answer.text());
  scenarios?.catch(() => {}); // waited for below
  const { instance } = await WebAssembly.instantiateStreaming(await wasm('core.wasm'), go.importObject);
  const done = go.run(instance);
  done.catch(() => {}); // a crash shows itself at the next call
  for (let i = 0; i < 200 && !globalThis.crankbay; i++) await new Promise((r) => setTimeout(r, 10));
  if (!globalThis.crankbay) throw new Error('core did not start');
  if (scenarios) call('carry', await scenarios);
}

function call(name, ...args) {
  let text;
  try {
    text = globalThis.crankbay[name](...args);
  } catch (cause) {
    throw new Broken(cause);
  }
  const value = typeof text === 'string' ? JSON.parse(text) : text;
  if (value?.error) {
    if (value.error.key === 'core_panic') throw new Broken(value.error.params?.text);
    throw new CoreError(value.error);
  }
  return value;
}

class Broken extends Error {}

const SOON = 2000; // ms
let rebuilding = false;
let rebuiltAt = -Infinity;

/**
 * Starts a fresh core with the attempt as it was last saved. One that breaks
 * down again at once is given up, and the page goes back to the Yard.
 */
async function rebuild() {
  if (rebuilding) return;
  rebuilding = true;
  globalThis.crankbay = undefined;
  ready = null;
  let view = null;
  try {
    if (performance.now() - rebuiltAt < SOON) lastSave = '';
    await start();
    if (lastSave) view = call('resume', lastSave, lastScenario);
  } catch (error) {
    console.error('core cannot be rebuilt', error);
  }
  if (!view) lastSave = '';
  rebuiltAt = performance.now();
  rebuilding = false;
  onRebuilt?.(view);
}

/** Runs a call; a breakdown starts the rebuild and gives `fallback`. */
function guarded(fallback, name, ...args) {
  if (rebuilding) return fallback;
  try {
    return call(name, ...args);
  } catch (error) {
    if (!(error instanceof Broken)) throw error;
    console.error('core broke down', error);
    rebuild();
    return fallback;
  }
}

/** All scenarios that the site carries. */
export const catalogue = () => guarded([], 'catalogue');
/** Opens a scenario: {scenario|scenario_file, mode, who}. */
export function open(request) {
  const view = guarded(null, 'open', JSON.stringify(request));
  lastSave = ''; // nothing of this attempt is saved yet
  lastScenario = request.scenario_file ? JSON.stringify(request.scenario_file) : '';
  return view;
}

/**
 * Takes up an attempt where it was left; file is its JSON text, scenario that
 * of a scenario the catalogue doesn't carry.
 */
export function resume(file, scenario = '') {
  const view = guarded(null, 'resume', file, scenario);
  lastSave = file;
  lastScenario = scenario;
  return view;
}

/** Does one action: {kind, cylinder?, number?, choice?, text?}. */
export const act = (action) => guarded({ ok: false, rebuilt: true }, 'act', JSON.stringify(action));
/** Lets n ticks of bench time pass; says how many really passed. */
export const advance = (n) => guarded(0, 'advance', n);
/** One compression stroke with the starter held. */
export const stroke = () => guarded({ ticks: 0 }, 'stroke');
/** Fills the array with the snapshot of this moment. */
export const snapshot = (array) => guarded(0, 'snapshot', array);
/** n mono samples at 24 kHz of the cranking just done. */
export const sound = (n) => guarded(null, 'sound', n);
/** Everything slow: state, sheet, scenario. */
export const view = () => guarded(null, 'view');
/** Where the needle stands, in words; this is logged. */
export const needle = () => guarded(null, 'needle');
/** Another instrument in words: 'tester', 'vacuum', 'clamp'; this is logged. */
export const words = (what) => guarded(null, 'words', what);
/** The strip of the starter current: {rate, amps, tops}. */
export const strip = () => guarded(null, 'strip');
/** Ends the attempt: {file}. */
export const handIn = () => guarded(null, 'handIn');
/** Shows a cylinder in section where that is allowed. */
export const select = (cylinder) => guarded(null, 'select', cylinder);

/** The attempt as JSON text, kept for a rebuild too. */
export function save() {
  const value = guarded(null, 'save');
  if (value !== null) lastSave = typeof value === 'string' ? value : JSON.stringify(value);
  return lastSave;
}
