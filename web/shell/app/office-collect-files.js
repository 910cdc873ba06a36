// What an instructor drops on the Desk, as texts: files, folders, archives, mails with
// what hangs on them.

import { isZip, unzip } from './office-collect-zip.js';

const MOST = 4 << 20; // bytes of one file; the longest attempt is shorter
const CHUNK = 4 << 20; // characters
const MOST_BOUNDS = 50; // of one mail: each is looked for in all of it
const MOST_ZIP = 64 << 20;

/** Files out of a drop, with those in dropped folders; one that the disk doesn't give has no file. */
export async function droppedFiles(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  if (entries.length === 0) return [...transfer.files].map((file) => ({ name: file.name, file }));
  const found = [];
  for (const entry of entries) await walk(entry, '', found);
  return found;
}

async function walk(entry, folder, found) {
  if (entry.name.startsWith('.')) return; // what systems leave behind
  const name = folder + entry.name;
  if (entry.isFile) {
    found.push({ name, file: await new Promise((resolve) => { entry.file(resolve, () => resolve(null)); }) });
    return;
  }
  const reader = entry.createReader();
  for (;;) { // it hands out a hundred at a time
    const some = await new Promise((resolve) => { reader.readEntries(resolve, () => resolve(null)); });
    if (some === null) found.push({ name, file: null });
    if (!some?.length) return;
    for (const one of some.sort((a, b) => a.name.localeCompare(b.name))) await walk(one, `${name}/`, found);
  }
}

/** Files as a field of the page has them. */
export const chosenFiles = (list) => [...list].filter((file) => !file.name.startsWith('.')).map((file) => ({ name: file.webkitRelativePath || file.name, file }))
  .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }));

/**
 * The texts of a file: its own; of an archive those of its files, of a mail those of its
 * parts. What is no text comes back empty, so that it is named and not lost.
 * @param {{name:string, file:File}} item
 * @returns {Promise<{name:string, text:string}[]>}
 */
export async function textsOf({ name, file }) {
  if (isZip(new Uint8Array(await file.slice(0, 4).arrayBuffer())) && file.size <= MOST_ZIP) {
    const files = await unzip(new Uint8Array(await file.arrayBuffer()), MOST);
    return files.length > 0 ? files.flatMap((inner) => read(`${name}/${inner.name}`, inner.bytes)) : [{ name, text: '' }];
  }
  if (file.size > MOST) return [{ name, text: '' }];
  return read(name, new Uint8Array(await file.arrayBuffer()));
}

function read(name, bytes) {
  const text = decoded(bytes);
  const parts = mailParts(text);
  return parts.length > 0 ? parts.map((part, i) => ({ name: part.name ? `${name}: ${part.name}` : i === 0 ? name : `${name}: ${i + 1}`, text: part.text })) : [{ name, text }];
}

function decoded(bytes) {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (a === 0xfe && b === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  const text = new TextDecoder().decode(bytes);
  return text.includes('\0') ? '' : text;
}

/** Texts by as many as are taken apart at once. */
export function chunks(sources) {
  const all = [];
  let size = Infinity;
  for (const source of sources) {
    if (size + source.text.length > CHUNK) {
      all.push([]);
      size = 0;
    }
    all.at(-1).push(source);
    size += source.text.length;
  }
  return all;
}

const encodings = /^content-transfer-encoding:\s*(base64|quoted-printable)/im;

/**
 * The parts of a mail as it is saved that hold something to read. A mail that nothing
 * was packed in is read as it is.
 */
export function mailParts(text) {
  if (!/^(from|received|return-path|date|subject|to|mime-version|x-[a-z-]+|delivered-to):/im.test(text.slice(0, 4000)) || !encodings.test(text)) return [];
  const bounds = [...new Set([...text.matchAll(/boundary="?([^"\r\n;]+)"?/gi)].map((m) => m[1]))].slice(0, MOST_BOUNDS);
  let parts = [text];
  for (const bound of bounds) parts = parts.flatMap((p) => p.split(`--${bound}`));
  return parts.map(part).filter((p) => p.text.trim() !== '' && !p.isMarkup);
}

function part(text) {
  const at = text.search(/\r?\n\r?\n/);
  const head = at < 0 ? '' : text.slice(0, at);
  const body = at < 0 ? '' : text.slice(at).trim();
  const how = encodings.exec(head)?.[1].toLowerCase();
  const name = /(?:file)?name="?([^"\r\n;]+)"?/i.exec(head)?.[1] ?? '';
  return { name, isMarkup: /content-type:\s*text\/html/i.test(head), text: how === 'base64' ? unpacked(body) : how === 'quoted-printable' ? unquoted(body) : body.replace(/^--$/, '') };
}

function unpacked(body) {
  try {
    return decoded(Uint8Array.from(atob(body.replace(/[^A-Za-z0-9+/=]/g, '')), (c) => c.charCodeAt(0)));
  } catch {
    return '';
  }
}

function unquoted(body) {
  const plain = body.replace(/=\r?\n/g, '');
  const bytes = [];
  for (let i = 0; i < plain.length; i++) {
    const hex = plain[i] === '=' ? /^[0-9A-F]{2}/i.exec(plain.slice(i + 1, i + 3))?.[0] : null;
    if (hex) i += 2;
    bytes.push(...(hex ? [parseInt(hex, 16)] : new TextEncoder().encode(plain[i])));
  }
  return new TextDecoder().decode(Uint8Array.from(bytes));
}
