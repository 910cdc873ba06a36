// Starts a program beside the core where it is called: in a Worker, or in the page
// where there are no Workers.

import { file, unpacked } from './parts.js';
import { wasm } from './wasm.js';

// What each program calls itself.
const names = { desk: 'crankbayDesk', opinion: 'crankbayOpinion' };

/** The program that runs here already, or undefined. */
export const running = (program) => globalThis[names[program]];

/** Forgets a program that has crashed; the next question starts another. */
export const forget = (program) => { globalThis[names[program]] = undefined; };

/**
 * Fetches and starts a program.
 * @param {string} program 'desk' or 'opinion'
 * @param {function()} ended called when the program is over: it never ends by itself, so it has crashed
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<{ask: function(string, function(string), function(number, number)), library: ?function(Uint8Array)}>}
 */
export async function startDesk(program, ended, folder = '') {
  if (running(program)) return running(program);
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiateStreaming(await wasm(`${program}.wasm`, folder), go.importObject);
  go.run(instance).catch(() => {}).then(() => {
    forget(program);
    ended();
  });
  for (let i = 0; i < 200 && !running(program); i++) await new Promise((r) => setTimeout(r, 10));
  if (!running(program)) throw new Error(`${program} did not start`);
  return running(program);
}

/**
 * Hands a program the likelihood library, once, if it takes one.
 * @param {Object} program as startDesk returns it
 * @param {string} [folder] where the site lies, seen from the caller
 */
export async function supply(program, folder = '') {
  if (!program.library || program.supplied) return;
  const bytes = await unpacked(await file('library.bin', folder)).arrayBuffer();
  const trouble = program.library(new Uint8Array(bytes));
  if (trouble) throw new Error(`library.bin: ${trouble}`);
  program.supplied = true;
}
