// Small pieces of language that several places share.

import { t, lang } from './i18n.js';
import { showPa } from './units.js';

/** A number as the reader's language writes it, with at most `digits` decimals. */
export function number(value, digits = 0) {
  const locale = lang() === 'es' ? 'es-US' : 'en-US';
  return new Intl.NumberFormat(locale, { maximumFractionDigits: digits }).format(value);
}

/** A pressure with its unit. */
export function pressure(pa, unit) {
  return `${showPa(pa, unit)} ${unit}`;
}

/** 'cylinder 3', 'cylinders 2 and 3', or 'the whole engine'. */
export function cylinders(list) {
  const some = list.filter((c) => c > 0);
  if (some.length === 0) return t('cylinders.all');
  return t('cylinders.some', { n: some.length, list: and(some.map(String)) });
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
  claimed: 'family', answer: 'family', points_to: 'family', standing: 'standing', pattern: 'pattern', named: 'next',
  good_test: 'next', missing: 'evidence', cited: 'evidence', sure: 'sure', wanted: 'switch', used: 'switch', fault: 'method',
  caution: 'caution', field: 'short', item: 'card',
};

/**
 * One fact of the grader as text: a pressure in the reader's unit, a word by
 * its key, any other number with its unit.
 * @param {{name:string, value:number, unit:string, key?:string}} fact
 * @param {string} unit pressure unit of the reader
 */
export function factText(fact, unit) {
  if (fact.key) return fact.key === 'not_said' ? t('not_said') : t(`${words[fact.name] ?? 'word'}.${fact.key}`, { cylinder: '–' });
  if (fact.unit === 'Pa') return pressure(fact.value, unit);
  if (fact.unit === '%') return `${number(fact.value)} %`;
  return fact.unit ? `${number(fact.value, 1)} ${fact.unit}` : number(fact.value, 1);
}

/**
 * Puts facts into the sentences of a rule. Facts of one name become a list;
 * a sentence that asks for a fact that isn't there is left out.
 * @param {string} text
 * @param {Object[]} facts
 * @param {string} unit
 */
export function fillFacts(text, facts, unit) {
  const values = new Map();
  for (const fact of facts) {
    const list = values.get(fact.name) ?? [];
    const value = factText(fact, unit);
    if (!list.includes(value)) list.push(value);
    values.set(fact.name, list);
  }
  const names = (s) => [...s.matchAll(/\{([a-z_]+)\}/g)].map((m) => m[1]);
  const sentences = text.split(/(?<=[.?!]) +/);
  const whole = sentences.filter((s) => names(s).every((name) => values.has(name)));
  return (whole.length ? whole : sentences).join(' ')
    .replace(/\{([a-z_]+)\}/g, (_, name) => (values.has(name) ? and(values.get(name)) : '–'));
}
