// How a WebAssembly program is fetched, for the page, the drawing's frame and the
// Worker alike.

import { packed } from './parts.js';

/**
 * A streamed response of a wasm file: the packed copy where the browser can
 * unpack it, else the plain one. A host may have unpacked it already.
 * @param {string} name
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<Response>}
 */
export const wasm = (name, folder = '') => packed(name, folder, 'application/wasm');
