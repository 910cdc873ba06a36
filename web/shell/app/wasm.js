// How a WebAssembly program is fetched, for the page, the drawing's frame and the
// Worker alike.

/**
 * A streamed response of a wasm file: the packed copy where the browser can
 * unpack it, else the plain one. A host may have unpacked it already.
 * @param {string} name
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<Response>}
 */
export async function wasm(name, folder = '') {
  if (globalThis.DecompressionStream) {
    const packed = await fetch(`${folder}${name}.gz`).catch(() => null);
    if (packed?.ok) return unpack(await packed.arrayBuffer());
  }
  const plain = await fetch(`${folder}${name}`);
  if (!plain.ok) throw new Error(`${name}: ${plain.status}`);
  return unpack(await plain.arrayBuffer());
}

function unpack(buffer) {
  const head = new Uint8Array(buffer, 0, Math.min(2, buffer.byteLength));
  let body = new Response(buffer).body;
  if (head[0] === 0x1f && head[1] === 0x8b) body = body.pipeThrough(new DecompressionStream('gzip'));
  return new Response(body, { headers: { 'content-type': 'application/wasm' } });
}
