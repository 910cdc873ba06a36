// Starts the second program where it is called: in the Worker, or in the page
// where there are no Workers.

import { wasm } from './wasm.js';

/**
 * Fetches and starts the second program.
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<{ask: function(string, function(string), function(number, number))}>}
 */
export async function startDesk(folder = '') {
  if (globalThis.crankbayDesk) return globalThis.crankbayDesk;
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiateStreaming(await wasm('desk.wasm', folder), go.importObject);
  go.run(instance).catch(() => {}); // a crash shows itself at the next question
  for (let i = 0; i < 200 && !globalThis.crankbayDesk; i++) await new Promise((r) => setTimeout(r, 10));
  if (!globalThis.crankbayDesk) throw new Error('desk did not start');
  return globalThis.crankbayDesk;
}
