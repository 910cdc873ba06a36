// Pressures are stored in Pa and shown in the reader's unit; numbers are read
// with a decimal point or a decimal comma.

const PA = { psi: 6894.757293168361, kPa: 1000, bar: 100000 };
const DIGITS = { psi: 1, kPa: 0, bar: 2 };

/** Pressure units of the switch. */
export const pressureUnits = Object.keys(PA);

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
