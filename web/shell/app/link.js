// Reads the assignment that an address carries behind its #: the page's half of
// package scenarios/code, in the same whole numbers. Reading it here, and not in the
// core, keeps a seventieth of the core off everybody's wire. Vectors that both
// halves read hold them together.
//
// What comes out is a scenario file as text. The core checks it like any other.

import dictionary from './dictionary.js';

export const fragment = 'job1.';

/** Tells whether an address carries an assignment of any version. */
export function carriesJob(text) {
  return inside(text).version !== '';
}

/**
 * @param {string} text an address, a fragment, or what is left of one in a mail
 * @returns {{class:string, mode:string, who:string, seal:string, scenario:string}}
 * @throws {LinkError}
 */
export function readLink(text) {
  const body = bodyOf(text);
  const sum = ((body[0] << 24) | (body[1] << 16) | (body[2] << 8) | body[3]) >>> 0;
  const coder = new Coder();
  const prose = new Prose(coder);
  prose.learn(new TextEncoder().encode(dictionary));
  coder.start(masked(body.subarray(4), sum));
  const n = coder.length(0x7200);
  if (n > 1 << 17) throw new LinkError('damaged');
  const bytes = prose.read(n);
  if (coder.over() || checksum(bytes) !== sum) throw new LinkError('damaged');
  const all = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  const end = all.indexOf('\n');
  return { ...JSON.parse(all.slice(0, end)), scenario: all.slice(end + 1) };
}

/** What is wrong with a link: none, version, letter, cut, more, damaged. */
export class LinkError extends Error {
  constructor(key, params = {}) {
    super(`link: ${key}`);
    this.key = `link_${key}`;
    this.params = params;
  }
}

const between = /[ \t\r\n<>\u00a0\u200b\u00ad\ufeff]/g;

function inside(text) {
  const all = text.replace(between, '');
  const m = /^job([^.]{1,3})\.(.*)$/s.exec(all.slice(all.lastIndexOf('#') + 1));
  return m ? { version: m[1], part: m[2].replace(/[.,;)>"'=]+$/, '') } : { version: '', part: '' };
}

function bodyOf(text) {
  const { version, part } = inside(text);
  if (version === '') throw new LinkError('none');
  if (version !== '1') throw new LinkError('version', { version });
  const body = letters(part);
  if (body.length < 6) throw new LinkError('cut', { have: 0, want: 0 });
  const want = (body[0] << 8) | body[1];
  const have = body.length - 2;
  if (have < want) throw new LinkError('cut', { have, want });
  if (have > want) throw new LinkError('more', { have, want });
  return body.subarray(2);
}

const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';

function letters(text) {
  const out = [];
  let bits = 0;
  let have = 0;
  for (let i = 0; i < text.length; i++) {
    const v = signs.indexOf(text[i]);
    if (v < 0) throw new LinkError('letter', { at: i + 1 });
    bits = ((bits << 6) | v) & 0xffff;
    have += 6;
    if (have >= 8) {
      have -= 8;
      out.push((bits >> have) & 255);
    }
  }
  if (bits & ((1 << have) - 1) || have === 6) out.push(0);
  return Uint8Array.from(out);
}

function checksum(bytes) {
  let h = 2166136261;
  for (const b of bytes) h = Math.imul(h ^ b, 16777619);
  return h >>> 0;
}

function masked(data, seed) {
  return data.map((b, i) => b ^ (spread(hash(seed, i)) >>> 24));
}

function hash(h, x) {
  h = Math.imul(h ^ Math.imul(x, 0x9e3779b1), 0x85ebca6b);
  return (h ^ (h >>> 13)) >>> 0;
}

function spread(h) {
  return Math.imul(h ^ (h >>> 15), 0x2c1b3c6d) >>> 0;
}

const slotBits = 18;
const inputs = 8;
const foundBits = 16;

const curve = [
  1, 2, 3, 6, 10, 16, 27, 45, 73, 120, 194, 310, 488, 747, 1101, 1546, 2047,
  2549, 2994, 3348, 3607, 3785, 3901, 3975, 4022, 4050, 4068, 4079, 4085, 4089, 4092, 4093, 4094,
];

function squash(d) {
  const i = (d + 2048) >> 7;
  const rest = (d + 2048) & 127;
  return (curve[i] * (128 - rest) + curve[i + 1] * rest + 64) >> 7;
}

const logit = new Int16Array(4096).fill(2047);
for (let d = -2047, next = 0; d <= 2047; d++) for (const v = squash(d); next <= v; next++) logit[next] = d;

const clamp = (v, lo, hi) => Math.min(Math.max(v, lo), hi);

/** The arithmetic decoder with its mixture of predictions; see coder.go and model.go. */
class Coder {
  constructor() {
    this.chance = new Uint16Array(1 << slotBits).fill(1 << 15);
    this.seen = new Uint8Array(1 << slotBits);
    this.weights = new Int32Array(64 * inputs).fill(Math.trunc(65536 / 3));
    this.in = new Int32Array(inputs);
    this.where = new Uint32Array(inputs);
    this.data = null; // only learning
  }

  start(data) {
    this.data = data;
    this.at = 0;
    this.lo = 0;
    this.hi = 0xffffffff;
    this.have = 0;
    for (let i = 0; i < 4; i++) this.have = ((this.have << 8) | this.next()) >>> 0;
  }

  next() {
    this.at++;
    return this.at <= this.data.length ? this.data[this.at - 1] : 0;
  }

  over() {
    return this.at > this.data.length + 4;
  }

  split(bit, p) {
    if (!this.data) return bit;
    const mid = this.lo + Math.floor(((this.hi - this.lo) * p) / 65536);
    bit = this.have <= mid ? 1 : 0;
    if (bit) this.hi = mid;
    else this.lo = mid + 1;
    while (((this.lo ^ this.hi) >>> 24) === 0) {
      this.have = ((this.have << 8) | this.next()) >>> 0;
      this.lo = (this.lo << 8) >>> 0;
      this.hi = ((this.hi << 8) | 0xff) >>> 0;
    }
    return bit;
  }

  plain(n) {
    let out = 0;
    for (let i = 0; i < n; i++) out = out * 2 + this.split(0, 1 << 15);
    return out;
  }

  bit(bit, contexts, n) {
    let known = 0;
    for (let i = 0; i < n; i++) {
      const s = contexts[i] >>> (32 - slotBits);
      this.where[i] = s;
      const seen = this.seen[s];
      let v = logit[this.chance[s] >> 4];
      if (seen > 0) known++;
      if (seen < 2) v = Math.trunc((v * (1 + seen)) / 3);
      this.in[i] = v;
    }
    const w = known * inputs;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += this.weights[w + i] * this.in[i];
    const p = squash(clamp(Math.floor(sum / 65536), -2047, 2047));
    bit = this.split(bit, clamp((p << 4) + 8, 24, 65536 - 24));
    const miss = ((bit << 12) - p) * 10;
    for (let i = 0; i < n; i++) {
      this.weights[w + i] += (this.in[i] * miss + (1 << 13)) >> 14;
      this.learn(this.where[i], bit);
    }
    return bit;
  }

  learn(s, bit) {
    const chance = this.chance[s];
    const step = Math.trunc((((bit ? 65535 : 0) - chance) * 2) / (2 * this.seen[s] + 3));
    this.chance[s] = clamp(chance + step, 16, 65535 - 16);
    if (this.seen[s] < 60) this.seen[s]++;
  }

  symbol(n, ...contexts) {
    let node = 1;
    for (let i = 0; i < n; i++) {
      const at = contexts.map((x, k) => spread(hash((x + Math.imul(k, 0x3c6ef372)) >>> 0, node)));
      node = (node << 1) | this.bit(0, at, at.length);
    }
    return node - (1 << n);
  }

  length(...contexts) {
    const bits = Math.min(this.symbol(6, ...contexts), 40);
    if (bits < 2) return bits;
    const low = bits - 1;
    const top = Math.min(low, 3);
    const high = 2 ** top + this.symbol(top, ...contexts.map((x) => hash(x, bits + 100)));
    return high * 2 ** (low - top) + this.plain(low - top);
  }
}

/** Text predicted by what stands before it; see text.go. */
class Prose {
  constructor(coder) {
    this.coder = coder;
    this.done = [];
    this.found = new Int32Array(1 << foundBits);
    this.match = 0;
    this.run = 0;
    this.contexts = new Uint32Array(inputs);
    this.at = new Uint32Array(inputs);
  }

  learn(bytes) {
    for (const b of bytes) this.byte(b);
  }

  read(n) {
    const from = this.done.length;
    for (let i = 0; i < n && !this.coder.over(); i++) this.byte(0);
    return Uint8Array.from(this.done.slice(from));
  }

  before(n) {
    return n > this.done.length ? 0 : this.done[this.done.length - n];
  }

  byte(b) {
    let h = 0x51ed;
    let n = 0;
    for (let order = 0; order < 7; order++) {
      if (order !== 5) this.contexts[n++] = hash(h, order);
      h = hash(h, this.before(order + 1));
    }
    const expected = this.match > 0 ? this.done[this.match] : -1;
    let node = 1;
    for (let i = 7; i >= 0; i--) {
      for (let k = 0; k < n; k++) this.at[k] = spread(hash(this.contexts[k], node));
      const guess = expected >= 0 && (expected | 0x100) >> (i + 1) === node ? 1 + 2 * Math.min(this.run, 40) + ((expected >> i) & 1) : 0;
      this.at[n] = spread(hash(0x7777, guess));
      node = (node << 1) | this.coder.bit((b >> i) & 1, this.at, n + 1);
    }
    this.put(node & 255);
  }

  put(b) {
    if (this.match > 0 && this.done[this.match] === b) {
      this.match++;
      this.run++;
    } else {
      this.match = 0;
      this.run = 0;
    }
    this.done.push(b);
    if (this.done.length < 6) return;
    let h = 0;
    for (let i = 1; i <= 6; i++) h = hash(h, this.before(i));
    h = spread(h) >>> (32 - foundBits);
    if (this.match === 0) this.match = this.found[h];
    this.found[h] = this.done.length;
    if (this.match >= this.done.length) this.match = 0;
  }
}
