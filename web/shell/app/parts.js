// Where a file of the site comes from: beside the page, or out of the page itself
// when it was packed into one file that opens without a server.

const carried = new Map(); // parts handed over by the page, in a Worker

/** Takes over parts that another thread carries: name → ArrayBuffer. */
export function carry(parts) {
  for (const [name, buffer] of Object.entries(parts)) carried.set(name, buffer);
}

/** The document that carries parts: this one, or the one around this frame. */
function holder() {
  try {
    return [globalThis.document, globalThis.parent?.document].find((d) => d?.documentElement.hasAttribute('data-packed')) ?? null;
  } catch {
    return null; // a frame of somebody else's page
  }
}

/** Whether this page was packed into one file. */
export const isPacked = () => holder() !== null;

/** Whether this is the whole site, with every program, and not a package with one job. */
export const isWhole = () => isPacked() || document.querySelector('link[rel="manifest"]') !== null;

/**
 * The bytes of a part that the page itself carries.
 * @param {string} name as it lies in the site
 * @returns {ArrayBuffer|null} null when the page doesn't carry it
 */
export function part(name) {
  if (carried.has(name)) return carried.get(name);
  const text = holder()?.querySelector(`[data-part~="${name}"]`)?.textContent;
  return text === undefined ? null : dense(text);
}

/**
 * Bytes out of text that holds seven bits in each letter, highest first. Letters
 * that HTML wouldn't leave alone stand 256 higher.
 */
function dense(text) {
  const bytes = new Uint8Array(Math.floor((text.length * 7) / 8));
  let bits = 0;
  let have = 0;
  let to = 0;
  for (let i = 0; i < text.length; i++) {
    bits = ((bits << 7) | (text.charCodeAt(i) & 0x7f)) & 0xffff;
    have += 7;
    if (have >= 8) {
      have -= 8;
      bytes[to++] = bits >> have;
    }
  }
  return bytes.buffer;
}

const addresses = new Map();

/** Unpacks the pages that stand for themselves and travel in this one. */
export async function openDocuments() {
  if (!isPacked()) return;
  for (const el of document.querySelectorAll('[data-part$=".html.gz"]')) {
    const name = el.dataset.part.slice(0, -3);
    const bytes = await unpacked(part(`${name}.gz`)).arrayBuffer();
    addresses.set(name, URL.createObjectURL(new Blob([bytes], { type: 'text/html' })));
  }
}

/**
 * The address of a page that stands for itself, such as the teacher's guide.
 * @param {string} name as it lies in the site
 */
export function address(name) {
  return addresses.get(name) ?? name;
}

/**
 * The bytes of a file of the site.
 * @param {string} name as it lies in the site
 * @param {string} [folder] where the site lies, seen from the caller
 * @returns {Promise<ArrayBuffer>} rejects with the name and the reason
 */
export async function file(name, folder = '') {
  const inside = part(name) ?? part(`${name}.gz`);
  if (inside) return unpacked(inside).arrayBuffer();
  const answer = await fetch(`${folder}${name}`);
  if (!answer.ok) throw new Error(`${name}: ${answer.status}`);
  return answer.arrayBuffer();
}

/**
 * A streamed response of a file that lies in the site packed and plain: the packed
 * one where the browser can unpack it. A host may have unpacked it already.
 * @param {string} name as it lies in the site, without .gz
 * @param {string} [folder] where the site lies, seen from the caller
 * @param {string} [type]
 * @returns {Promise<Response>}
 */
export async function packed(name, folder = '', type = undefined) {
  const inside = part(`${name}.gz`);
  if (inside) return unpacked(inside, type);
  if (globalThis.DecompressionStream) {
    const answer = await fetch(`${folder}${name}.gz`).catch(() => null);
    if (answer?.ok) return unpacked(await answer.arrayBuffer(), type);
  }
  return unpacked(await file(name, folder), type);
}

/** A response with these bytes, unpacked if they are a gzip member. */
export function unpacked(buffer, type = 'application/octet-stream') {
  const head = new Uint8Array(buffer, 0, Math.min(2, buffer.byteLength));
  let body = new Response(buffer).body;
  if (head[0] === 0x1f && head[1] === 0x8b) body = body.pipeThrough(new DecompressionStream('gzip'));
  return new Response(body, { headers: { 'content-type': type } });
}
