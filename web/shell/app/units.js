// Everything is stored in SI and shown in the reader's units: the pressure in
// psi, kPa or bar, the rest US customary or metric. Numbers are read with a
// decimal point or a decimal comma.

const PA = { psi: 6894.757293168361, kPa: 1000, bar: 100000 };
const DIGITS = { psi: 1, kPa: 0, bar: 2 };

/** Pressure units of the switch. */
export const pressureUnits = Object.keys(PA);

/** Systems of the other units. */
export const systems = ['us', 'metric'];

let system = 'metric';

/** Installs the system that the functions below answer in. */
export function useSystem(name) {
  system = systems.includes(name) ? name : 'metric';
}

/**
 * The system of a browser that has not been told: shops in the United States
 * work in °F and lb-ft.
 * @param {string} locale like 'es-US'
 */
export function systemOf(locale) {
  return /^(en|es)-us\b|^en$/i.test(locale ?? '') ? 'us' : 'metric';
}

/** '°F' or '°C'. */
export function degreeUnit() {
  return system === 'us' ? '°F' : '°C';
}

/** °C to the reader's degrees. */
export function fromCelsius(c) {
  return system === 'us' ? c * 1.8 + 32 : c;
}

/** The reader's degrees to °C. */
export function toCelsius(number) {
  return system === 'us' ? (number - 32) / 1.8 : number;
}

const NM_PER_LBFT = 1.3558179483314004;

/** 'lb-ft' or 'N·m'. */
export function torqueUnit() {
  return system === 'us' ? 'lb-ft' : 'N·m';
}

/** N·m to the reader's unit. */
export function fromNm(nm) {
  return system === 'us' ? nm / NM_PER_LBFT : nm;
}

const PA_PER_INHG = 3386.389; // conventional inch of mercury at 0 °C
const MM_PER_INCH = 25.4;

/** 'inHg' or 'kPa': what a vacuum gauge is marked in. */
export function vacuumUnit() {
  return system === 'us' ? 'inHg' : 'kPa';
}

/** Pa below ambient to a number on the vacuum gauge. */
export function fromVacuum(pa) {
  return pa / (system === 'us' ? PA_PER_INHG : 1000);
}

/** A number on the vacuum gauge to Pa below ambient. */
export function toVacuum(number) {
  return number * (system === 'us' ? PA_PER_INHG : 1000);
}

/** 'in' or 'mm': what a feeler gauge is marked in. */
export function gapUnit() {
  return system === 'us' ? 'in' : 'mm';
}

/** mm to a number on the feeler gauge. */
export function fromMm(mm) {
  return system === 'us' ? mm / MM_PER_INCH : mm;
}

/** A number on the feeler gauge to mm. */
export function toMm(number) {
  return system === 'us' ? number * MM_PER_INCH : number;
}

/** Decimals that a feeler gauge is marked to. */
export function gapDigits() {
  return system === 'us' ? 3 : 2;
}

const ML_PER_SPOON = 15; // one tablespoon, common practice
const parts = [[0, ''], [1 / 4, '¼'], [1 / 3, '⅓'], [1 / 2, '½'], [2 / 3, '⅔'], [3 / 4, '¾'], [1, '']];

/** Milliliters as tablespoons with the nearest kitchen fraction: '1 ⅓'. */
export function spoons(ml) {
  const all = ml / ML_PER_SPOON;
  if (!(all >= 1 / 8)) return trim(all, 2);
  const whole = Math.floor(all);
  const best = parts.reduce((a, b) => (Math.abs(all - whole - b[0]) < Math.abs(all - whole - a[0]) ? b : a));
  return [best[0] === 1 ? whole + 1 : whole || '', best[1]].filter(Boolean).join(' ');
}

/** Pa in one of that unit. */
export function paPer(unit) {
  return PA[unit];
}

/** Pa to a number in the unit, unrounded. */
export function fromPa(pa, unit) {
  return pa / PA[unit];
}

/** A number in the unit to Pa. */
export function toPa(number, unit) {
  return number * PA[unit];
}

/**
 * Reads what a person types: '180', '12.5', '12,5', '1 250'. A single comma is
 * a decimal comma unless exactly three digits follow a nonzero group and the
 * number would otherwise be out of place; so '1,250' with `thousands` set is
 * 1250.
 * @param {string} text
 * @param {{thousands?: boolean}} [options]
 * @returns {number} NaN when it is not a number
 */
export function parseNumber(text, options = {}) {
  let s = String(text).trim().replace(/[\s\u00a0\u202f]/g, '');
  if (options.thousands && /^[1-9]\d{0,2},\d{3}$/.test(s)) s = s.replace(',', '');
  s = s.replace(',', '.');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(s) ? Number(s) : NaN;
}

/**
 * Writes a number with at most `digits` decimals and no trailing zeros.
 * @param {number} value
 * @param {number} digits
 */
export function trim(value, digits) {
  const text = value.toFixed(digits);
  const short = digits > 0 ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}

/** Pa as a number of the unit with the decimals a dial can give, or with `digits`. */
export function showPa(pa, unit, digits = DIGITS[unit]) {
  return trim(fromPa(pa, unit), digits);
}
