// How a WebAssembly program is fetched, for the page, the drawing's frame and the
// Worker alike.

import { file, part, unpacked } from './parts.js';

const TYPE = 'application/wasm';

/**
 * A streamed response of a wasm file: the packed copy where the browser can
 * unpack it, else the plain one. A host may have unpacked it already.
 * @param {string} name
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<Response>}
 */
export async function wasm(name, folder = '') {
  const inside = part(`${name}.gz`);
  if (inside) return unpacked(inside, TYPE);
  if (globalThis.DecompressionStream) {
    const packed = await fetch(`${folder}${name}.gz`).catch(() => null);
    if (packed?.ok) return unpacked(await packed.arrayBuffer(), TYPE);
  }
  return unpacked(await file(name, folder), TYPE);
}
