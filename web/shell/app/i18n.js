// Texts by key, in the language of the reader. Only two devices: `{name}` is
// replaced by a parameter, and an entry {one, other} is chosen by parameter n.

import { file } from './parts.js';

let table = {};
let spare = {};
let language = 'en';

/** Languages the page speaks, in the order of the switch. */
export const languages = ['en', 'es'];

/**
 * Puts the parameters into one entry.
 * @param {string|{one:string,other:string}} entry
 * @param {Object} [params] `n` chooses between one and other
 * @returns {string}
 */
export function fill(entry, params = {}) {
  const text = typeof entry === 'string' ? entry : Number(params.n) === 1 ? entry.one : entry.other;
  return text.replace(/\{([a-z_]+)\}/g, (whole, name) => (name in params ? String(params[name]) : whole));
}

/** Installs the tables: the reader's and the one to fall back on. */
export function useTables(lang, own, fallback) {
  language = lang;
  table = own;
  spare = fallback || {};
}

/** The language in use, 'en' or 'es'. */
export function lang() {
  return language;
}

/** Whether a text of that key exists. */
export function has(key) {
  return key in table || key in spare;
}

/**
 * The text of a key with its parameters. A key without a text shows itself, so
 * that a hole is seen and not hidden.
 */
export function t(key, params) {
  const entry = table[key] ?? spare[key];
  return entry === undefined ? key : fill(entry, params);
}

/** The first of the keys that has a text, else the last key itself. */
export function tFirst(keys, params) {
  return t(keys.find(has) ?? keys[keys.length - 1], params);
}

/** Picks the reader's language from a text that a scenario brings along. */
export function pick(text) {
  if (text === null || text === undefined) return '';
  if (typeof text === 'string') return text;
  return text[language] || text.en || text.es || '';
}

/**
 * Loads a language (and English to fall back on) from the strings folder.
 * @param {string} wanted
 */
export async function loadLanguage(wanted) {
  const name = languages.includes(wanted) ? wanted : 'en';
  const [own, english] = await Promise.all([read(name), name === 'en' ? null : read('en')]);
  useTables(name, own, english || own);
  document.documentElement.lang = name;
}

const loaded = new Map();

async function read(name) {
  if (!loaded.has(name)) {
    loaded.set(name, JSON.parse(new TextDecoder().decode(await file(`strings/${name}.json`))));
  }
  return loaded.get(name);
}
