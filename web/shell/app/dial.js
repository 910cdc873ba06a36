// The gauge's face: plain marks, upright numerals, a thin tapered needle. No
// number beside it; reading is the student's work.

import { svg } from './dom.js';

const START = -135; // degrees from upright at zero
const SWEEP = 270;
const PSI = 6894.757293168361;

/**
 * Where on the dial a share of the full scale lies, in degrees from upright.
 * The needle rests on its pins a little outside the scale.
 */
export function dialAngle(share) {
  return START + SWEEP * Math.min(1.02, Math.max(-0.015, share));
}

/**
 * The steps of a scale: numerals about every sixth of it, a longer mark halfway.
 * @param {number} range full scale
 * @param {number} graduation smallest division
 */
export function scaleSteps(range, graduation) {
  const wanted = range / 6;
  const ten = 10 ** Math.floor(Math.log10(wanted));
  const major = [1, 2, 2.5, 5, 10].map((f) => f * ten).find((step) => step >= wanted * 0.98);
  return { major, minor: graduation > 0 ? graduation : major / 10 };
}

/**
 * Draws the dial of a compression gauge around (0, 0).
 * @param {{range_psi:number, graduation_psi:number}} gauge
 * @param {number} r outer radius in drawing units
 * @returns {{el: SVGGElement, set: function(number)}} set moves the needle, Pa
 */
export function drawDial(gauge, r) {
  const range = gauge?.range_psi || 300;
  const dial = drawScale({ range, graduation: gauge?.graduation_psi || 0, unit: 'psi' }, r);
  return { el: dial.el, set: (pa) => dial.set(pa / (range * PSI)) };
}

/**
 * Draws a dial around (0, 0).
 * @param {{range:number, graduation:number, unit:string, middle?:number, isReversed?:boolean}} scale
 * middle: step of the longer marks; reversed: its highest number is where the needle rests
 * @param {number} r outer radius in drawing units
 * @returns {{el: SVGGElement, set: function(number)}} set moves the needle to a share of the sweep
 */
export function drawScale({ range, graduation, unit, middle = 0, isReversed = false }, r) {
  const { major, minor } = scaleSteps(range, graduation);
  const g = svg('g', { class: 'dial' });
  g.append(
    svg('circle', { r, class: 'dial-rim' }),
    svg('circle', { r: r * 0.93, class: 'dial-face' }),
    marks(range, major, minor, middle || major / 5, r),
    numerals(range, major, r, isReversed),
    svg('text', { y: r * 0.47, class: 'dial-unit', 'font-size': r * 0.12 }, unit),
  );
  const needle = svg('g', { class: 'dial-needle' },
    svg('path', { d: needlePath(r) }),
    svg('circle', { r: r * 0.07, class: 'dial-hub' }),
    svg('circle', { r: r * 0.02, class: 'dial-pin' }));
  g.append(needle);
  let shown = NaN;
  const set = (share) => {
    const angle = Math.round(dialAngle(share) * 20) / 20;
    if (angle === shown) return;
    shown = angle;
    needle.setAttribute('transform', `rotate(${angle})`);
  };
  set(0);
  return { el: g, set };
}

function needlePath(r) {
  const tip = r * 0.84;
  const w = r * 0.032;
  return `M0 ${-tip} L${w} 0 L${w * 1.5} ${r * 0.2} Q0 ${r * 0.26} ${-w * 1.5} ${r * 0.2} L${-w} 0 Z`;
}

function marks(range, major, minor, middle, r) {
  const g = svg('g');
  const count = Math.round(range / minor);
  for (let i = 0; i <= count; i++) {
    const value = i * minor;
    const kind = isMultiple(value, major) ? 'major' : isMultiple(value, middle) ? 'middle' : 'minor';
    const inner = { major: 0.78, middle: 0.81, minor: 0.845 }[kind];
    g.append(svg('line', {
      y1: -r * inner, y2: -r * 0.89, class: `mark-${kind}`, transform: `rotate(${dialAngle(value / range)})`,
    }));
  }
  return g;
}

function isMultiple(value, step) {
  const n = value / step;
  return Math.abs(n - Math.round(n)) < 1e-6;
}

function numerals(range, major, r, isReversed) {
  const g = svg('g', { class: 'dial-numerals', 'font-size': r * 0.145 });
  for (let value = 0; value <= range * 1.0001; value += major) {
    const a = (dialAngle(value / range) * Math.PI) / 180;
    g.append(svg('text', { x: Math.sin(a) * r * 0.62, y: -Math.cos(a) * r * 0.62 + r * 0.05 }, String(isReversed ? range - value : value)));
  }
  return g;
}

/**
 * A dial in an svg of its own.
 * @param {string} label what it is, for people who don't see it
 */
export function dialPicture(gauge, label) {
  const dial = drawDial(gauge, 150);
  const el = svg('svg', { viewBox: '-154 -154 308 308', role: 'img', 'aria-label': label, class: 'dial-picture' }, dial.el);
  return { el, set: dial.set };
}
