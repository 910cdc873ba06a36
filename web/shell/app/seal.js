// Seals hand-ins to an instructor's key, and opens them. The program that can is
// fetched when there is something to seal or to open; the page in one file has no
// room for it.

import { DeskError } from './desk.js';
import { isPacked } from './parts.js';
import { wasm } from './wasm.js';

let starting = null;

/** Whether this page can seal and open at all. */
export const canSeal = () => !isPacked();

/** What a sealed hand-in begins with. */
export const SEALED = 'CBS1.';

/** What a private key begins with. */
export const PRIVATE = 'CBK1.';

/**
 * A new pair of keys, made by chance.
 * @returns {Promise<{private:string, public:string}>}
 */
export const newKey = () => call('newKey');

/** The public half of a private key. Rejects with bad_key. */
export const publicOf = (key) => call('publicOf', key);

/** A text, sealed. Rejects with bad_key. */
export const seal = (key, text) => call('seal', key, text);

/** What was sealed, opened. Rejects with bad_seal: another key, or something was changed. */
export const open = (key, text) => call('open', key, text);

async function call(name, ...args) {
  const program = await (starting ??= begin());
  const { ok, error } = program[name](...args);
  if (error) throw new DeskError(error);
  return ok;
}

async function begin() {
  try {
    if (!canSeal()) throw new Error('seal.wasm');
    const go = new globalThis.Go();
    const { instance } = await WebAssembly.instantiateStreaming(await wasm('seal.wasm'), go.importObject);
    go.run(instance).catch(() => {}).then(() => { starting = null; });
    for (let i = 0; i < 200 && !globalThis.crankbaySeal; i++) await new Promise((r) => setTimeout(r, 10));
    if (!globalThis.crankbaySeal) throw new Error('seal.wasm did not start');
    return globalThis.crankbaySeal;
  } catch (error) {
    starting = null; // the next call tries again
    throw new DeskError({ key: canSeal() ? 'seal_unreachable' : 'seal_needs_site', params: { text: String(error?.message ?? error) } });
  }
}
