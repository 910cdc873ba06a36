// Small pieces of language that several places share.

import { h } from './dom.js';
import { t, tFirst, has, lang } from './i18n.js';
import { showPa, fromCelsius, degreeUnit, fromNm, torqueUnit, spoons, fromMm, gapUnit, gapDigits } from './units.js';

/** What the core said in English, as a quotation under a sentence of the page. */
export function quoted(text) {
  return h('span', { class: 'detail', key: 'detail' }, t('error.detail'), ' ', h('q', { lang: 'en' }, text));
}

/** What a program says of an error in its own words, which are English. */
export function detailOf(error) {
  return error.params?.text ?? (has(`error.${error.key}`) ? '' : error.message ?? '');
}

/** A number as the reader's language writes it, with at most `digits` decimals. */
export function number(value, digits = 0) {
  const locale = lang() === 'es' ? 'es-US' : 'en-US';
  const key = `${locale}${digits}`;
  if (!formats.has(key)) formats.set(key, new Intl.NumberFormat(locale, { maximumFractionDigits: digits }));
  return formats.get(key).format(value);
}

const formats = new Map(); // making one takes longer than a thousand numbers

/** A pressure with its unit. */
export function pressure(pa, unit) {
  return `${showPa(pa, unit)} ${unit}`;
}

/** What a gauge or an adapter of the tray says on itself. */
export function toolText(tool) {
  if (tool.range_psi) return t('gauge.range', { range: number(tool.range_psi), step: number(tool.graduation_psi, 1) });
  return t(tool.o_ring ? 'adapter.ring' : 'adapter.plain', { thread: number(tool.thread_mm, 1), reach: number(tool.reach_mm, 1) });
}

/** A feeler's thickness as it is marked on it. */
export function gapText(mm) {
  return `${fromMm(mm).toFixed(gapDigits())} ${gapUnit()}`;
}

/** What a feeler in a valve's gap says: which one drags. */
export function lashText({ key, cylinder, number: mm }) {
  return t(`seen.${key}`, { cylinder, gap: gapText(mm) });
}

/** A temperature in the reader's unit. */
export function temperature(celsius) {
  return `${number(fromCelsius(celsius))} ${degreeUnit()}`;
}

/** A torque in the reader's unit. */
export function torque(nm) {
  return `${number(fromNm(nm))} ${torqueUnit()}`;
}

/** An amount of oil, in tablespoons too. */
export function oil(ml) {
  return t('oil.amount', { ml: number(ml, 1), spoons: spoons(ml) });
}

/** 'cylinder 3', 'cylinders 2 and 3', or 'the whole engine'. */
export function cylinders(list) {
  const some = list.filter((c) => c > 0);
  if (some.length === 0) return t('cylinders.all');
  return t('cylinders.some', { n: some.length, list: and(some.map(String)) });
}

/** The same as it stands behind a verb or 'on': 'los cilindros 2 y 3'. */
export function theCylinders(list) {
  const some = list.filter((c) => c > 0);
  return some.length === 0 ? t('cylinders.all') : t('cylinders.the', { n: some.length, list: and(some.map(String)) });
}

/** 'a, b and c' in the reader's language. */
export function and(items) {
  if (items.length < 2) return items.join('');
  const last = items[items.length - 1];
  return t('list.and', { first: items.slice(0, -1).join(', '), last });
}

/**
 * Bench minutes as '1 h 25 min'.
 * @param {number} minutes
 */
export function duration(minutes) {
  const whole = Math.round(minutes);
  if (whole < 60) return t('time.minutes', { m: whole });
  return t('time.hours', { h: Math.floor(whole / 60), m: whole % 60 });
}

// Where the word of a fact is found; other facts carry numbers.
const words = {
  claimed: 'family', first: 'family', answer: 'family', points_to: 'family', standing: 'standing', pattern: 'pattern', named: 'next',
  good_test: 'next', absent: 'short', match: 'match', left: 'left', missing: 'evidence', spoiled: 'evidence', cited: 'evidence', sure: 'sure', wanted: 'switch', used: 'switch', fault: 'method',
  caution: 'caution', field: 'short', item: 'card', test: 'next', better: 'next', where: 'air', why: 'why',
};

// Words that stand as titles elsewhere and inside a sentence here.
const titles = new Set(['family', 'next', 'switch']);

function inSentence(root, text) {
  return titles.has(root) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/**
 * One fact of the grader as text: a pressure in the reader's unit, a word by
 * its key, any other number with its unit.
 * @param {{name:string, value:number, unit:string, key?:string}} fact
 * @param {string} unit pressure unit of the reader
 */
export function factText(fact, unit) {
  if (fact.name === 'written' && fact.value === 0 && !fact.key) return t('not_said');
  if (fact.key === 'not_said') return t('not_said');
  if (fact.key) {
    const root = words[fact.name] ?? 'word';
    const text = tFirst([root === 'next' || root === 'family' ? `noun.${fact.key}` : '', `${root}.${fact.key}`, `hazard.${fact.key}`].filter(Boolean), { cylinder: number(fact.value) });
    return words[fact.name] === 'card' ? t('quote', { text }) : inSentence(words[fact.name], text); // some cards hold a comma
  }
  if (fact.unit === 'Pa' && fact.name === 'wanted' && unit === 'psi') return `${showPa(fact.value, unit, 0)} ${unit}`; // a page's round kPa
  if (fact.unit === 'Pa') return pressure(fact.value, unit);
  if (fact.unit === '°C') return temperature(fact.value);
  if (fact.unit === 'N·m') return torque(fact.value);
  if (fact.unit === 'ml') return oil(fact.value);
  if (fact.unit === '°') return `${number(fact.value, 1)}°`;
  if (fact.unit === 'rpm') return `${number(fact.value)} rpm`;
  if (fact.unit === '%') return `${number(fact.value)} %`;
  return fact.unit ? `${number(fact.value, 1)} ${fact.unit}` : number(fact.value, 1);
}

/**
 * Puts facts into the sentences of a rule. Facts of one name become a list; a
 * sentence that asks for a fact that isn't there is left out. Sentences about
 * what was found on a cylinder are said once for each.
 * @param {string} text
 * @param {Object[]} facts
 * @param {string} unit
 */
export function fillFacts(text, facts, unit) {
  const { shared, records } = splitRecords(facts, unit);
  const names = (s) => [...s.matchAll(/\{([a-z_]+)\}/g)].map((m) => m[1]);
  const own = new Set(records.flatMap((r) => r.map((f) => f.name)).filter((name) => name !== 'cylinder'));
  const all = valuesOf(facts, unit);
  const out = [];
  let group = [];
  const flush = () => {
    for (const record of group.length ? records : []) {
      const values = valuesOf([...shared, ...record], unit);
      for (const s of group) if (names(s).every((n) => values.has(n))) out.push(put(s, values));
    }
    group = [];
  };
  const sentences = withoutAsides(text, names, all).split(/(?<=[.?!]) +/);
  for (const s of sentences) {
    if (records.length > 1 && names(s).some((n) => own.has(n))) {
      group.push(s);
      continue;
    }
    flush();
    if (names(s).every((n) => all.has(n))) out.push(put(s, all));
  }
  flush();
  return out.length ? out.join(' ') : put(text, all);
}

/** An aside in brackets goes when its facts aren't there. */
function withoutAsides(text, names, values) {
  return text.replace(/ ?\([^()]*\)/g, (aside) => (names(aside).every((n) => values.has(n)) ? aside : ''));
}

/** Words make a list; whole sentences follow one another. */
function listed(items) {
  return items.every((s) => /[.?!]$/.test(s)) ? items.join(' ') : and(items);
}

function put(sentence, values) {
  const text = sentence.replace(/\{([a-z_]+)\}/g, (_, name) => (values.has(name) ? listed(values.get(name)) : '–'));
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Facts by name as texts, each once; cylinders say their place too. */
function valuesOf(facts, unit) {
  const values = new Map();
  const add = (name, value) => {
    const list = values.get(name) ?? [];
    if (!list.includes(value)) list.push(value);
    values.set(name, list);
  };
  for (const fact of facts) {
    add(fact.name, factText(fact, unit));
  }
  for (const name of new Set(facts.map((fact) => fact.name).filter((s) => /(^|_)cylinder$/.test(s)))) {
    const places = [...new Set(facts.filter((fact) => fact.name === name).map((fact) => fact.value))];
    values.set(name.replace(/cylinder$/, 'place'), [cylinders(places)]);
    values.set(name.replace(/cylinder$/, 'there'), [theCylinders(places)]);
  }
  return values;
}

// Facts about the cylinder named before them; others are about the whole rule.
const ofOne = new Set(['field', 'written', 'other', 'strokes', 'wet_strokes', 'temperature', 'speed', 'oil', 'out', 'fault', 'reading', 'share', 'why', 'leak', 'where', 'wanted']);

/** Parts the facts into those of the rule and those of each cylinder. */
function splitRecords(facts, unit) {
  const shared = [];
  const records = [];
  for (const fact of facts) {
    if (fact.name === 'cylinder') records.push([fact]);
    else if (records.length && ofOne.has(fact.name)) records[records.length - 1].push(fact);
    else shared.push(fact);
  }
  return { shared, records: together(records, unit) };
}

/** One record for all cylinders of which the same is to be said. */
function together(records, unit) {
  const groups = new Map();
  for (const [cylinder, ...rest] of records) {
    const says = rest.map((fact) => `${fact.name}=${factText(fact, unit)}`).join(';');
    const group = groups.get(says);
    if (group) group.splice(group.length - rest.length, 0, cylinder);
    else groups.set(says, [cylinder, ...rest]);
  }
  return [...groups.values()];
}

/**
 * A cell that no spreadsheet takes for a formula, whichever sign its cells are separated
 * by; held to the same list as the command line's.
 */
export function inert(text) {
  const cell = text.split(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/).filter(Boolean).join(' ');
  if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(cell)) return cell;
  return cell.replace(/(^|[;|])([\s\p{Cf}"]*)(?=[=+\-@＝＋－＠﹢﹣﹦﹫])/gu, "$1$2'");
}
