// Files out of a zip archive, which is how many courses hand out what came in. Stored
// and deflated files are read; what is encrypted or packed otherwise comes back empty.

const MOST_FILES = 5000;
const MOST_IN_ALL = 256 << 20; // bytes unpacked: some hundred times a large class

/** Whether bytes begin as an archive does. */
export const isZip = (bytes) => bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;

/**
 * The files of an archive, in its order.
 * @param {Uint8Array} bytes
 * @param {number} most bytes of one file; a longer one comes back empty
 * @param {number} [inAll] bytes of all files together; what comes after them comes back empty
 * @returns {Promise<{name:string, bytes:Uint8Array}[]>} none when it is damaged
 */
export async function unzip(bytes, most, inAll = MOST_IN_ALL) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const files = [];
  try {
    for (const entry of entries(view, bytes)) {
      if (entry.name.endsWith('/') || entry.name.split('/').some((part) => part.startsWith('.') || part === '__MACOSX')) continue;
      const got = entry.size > Math.min(most, inAll) ? new Uint8Array() : await content(view, bytes, entry);
      inAll -= got.length;
      files.push({ name: entry.name, bytes: got });
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  return files;
}

/** What the directory at the end of the archive lists. */
function entries(view, bytes) {
  let end = bytes.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== 0x06054b50) end--;
  if (end < 0) return [];
  const list = [];
  let at = view.getUint32(end + 16, true);
  for (let n = Math.min(view.getUint16(end + 10, true), MOST_FILES); n > 0 && view.getUint32(at, true) === 0x02014b50; n--) {
    const nameLength = view.getUint16(at + 28, true);
    list.push({
      isSecret: (view.getUint16(at + 8, true) & 1) !== 0, method: view.getUint16(at + 10, true), packed: view.getUint32(at + 20, true), size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true), name: new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength)),
    });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return list;
}

async function content(view, bytes, { isSecret, method, packed, size, offset }) {
  if (isSecret || (method !== 0 && method !== 8)) return new Uint8Array();
  const from = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (method === 0) return packed === size ? bytes.slice(from, from + size) : new Uint8Array();
  return inflated(bytes.subarray(from, from + packed), size);
}

/** Never more than the directory says, whatever is packed. */
async function inflated(raw, size) {
  const out = new Uint8Array(size);
  let have = 0;
  const reader = new Blob([raw]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return have === size ? out : new Uint8Array();
      if (have + value.length > size) break;
      out.set(value, have);
      have += value.length;
    }
  } catch {
    return new Uint8Array(); // damaged
  }
  reader.cancel().catch(() => {});
  return new Uint8Array();
}
