// Small pieces of language that several places share.

import { t, lang } from './i18n.js';
import { showPa, trim } from './units.js';

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

/**
 * A fact of the grader as text: pressures in the reader's unit, the rest as it is.
 * @param {{name:string, value:number, unit:string}} fact
 * @param {string} unit pressure unit of the reader
 */
export function fact(f, unit) {
  return t('fact.pair', { name: t(`fact.${f.name}`), value: factValue(f, unit) });
}

function factValue(f, unit) {
  if (f.unit === 'Pa') return pressure(f.value, unit);
  if (f.unit === 'kPa') return pressure(f.value * 1000, unit);
  if (f.unit === 'psi') return pressure(f.value * 6894.757293168361, unit);
  if (f.unit === '%') return `${trim(f.value, 1)} %`;
  if (f.unit === 'share') return `${trim(f.value * 100, 1)} %`;
  if (f.unit === '' || f.unit === undefined) return trim(f.value, 2);
  return `${trim(f.value, 2)} ${f.unit}`;
}
