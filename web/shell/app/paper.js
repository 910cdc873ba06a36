// The starter current on a strip of paper: inrush, then a hump for each
// compression, with a mark under the humps of cylinder 1.

import { svg } from './dom.js';

const SECOND = 240; // drawing units
const HEIGHT = 260;
const TOP = 12;
const FOOT = 34;
const LEFT = 46;

/**
 * What the paper shows in height.
 * @param {{rate:number, amps:number[]}} strip
 * @param {boolean} isWhole the inrush too, not only the humps
 * @returns {{low:number, high:number, step:number}} A
 */
export function heights(strip, isWhole) {
  const from = isWhole ? 0 : Math.min(strip.rate, Math.max(0, strip.amps.length - 1));
  const part = strip.amps.slice(from);
  const most = part.reduce((a, b) => Math.max(a, b), 0);
  const least = isWhole ? 0 : part.reduce((a, b) => Math.min(a, b), most);
  const step = [5, 10, 20, 50, 100, 200].find((s) => (most - least) / s <= 8) ?? 500;
  return { low: Math.floor(least / step) * step, high: Math.max(Math.ceil((most + 1) / step) * step, least + step), step };
}

/**
 * Draws the strip.
 * @param {{rate:number, amps:number[], tops:{at:number, cylinder:number}[]}} strip
 * @param {{label:string, isWhole:boolean}} how
 * @returns {SVGElement}
 */
export function drawStrip(strip, how) {
  const { low, high, step } = heights(strip, how.isWhole);
  const seconds = strip.amps.length / strip.rate;
  const width = LEFT + seconds * SECOND + 12;
  const y = (a) => TOP + (HEIGHT * (high - Math.min(high, Math.max(low, a)))) / (high - low);
  const x = (i) => LEFT + (i / strip.rate) * SECOND;
  const root = svg('svg', {
    viewBox: `0 0 ${width.toFixed(0)} ${TOP + HEIGHT + FOOT}`, width: width.toFixed(0), height: TOP + HEIGHT + FOOT, class: 'strip-paper', role: 'img', 'aria-label': how.label,
  });
  root.append(grid({ low, high, step, seconds, width, x: (s) => LEFT + s * SECOND, y }), feet(strip, x));
  let d = '';
  strip.amps.forEach((a, i) => { d += `${i ? 'L' : 'M'}${x(i).toFixed(1)} ${y(a).toFixed(1)}`; });
  root.append(svg('path', { d, class: 'ink-line' }));
  return root;
}

function grid({ low, high, step, seconds, width, x, y }) {
  const g = svg('g');
  for (let a = low; a <= high; a += step / 5) {
    const main = Math.abs(a / step - Math.round(a / step)) < 1e-6;
    g.append(svg('line', { x1: LEFT, x2: width - 12, y1: y(a), y2: y(a), class: main ? 'grid-main' : 'grid-fine' }));
    if (main) g.append(svg('text', { x: LEFT - 6, y: y(a) + 5, class: 'grid-text end' }, String(Math.round(a))));
  }
  for (let tenths = 0; tenths <= seconds * 10 + 1e-9; tenths++) {
    const s = tenths / 10;
    g.append(svg('line', { x1: x(s), x2: x(s), y1: y(high), y2: y(low), class: tenths % 5 ? 'grid-fine' : 'grid-main' }));
    if (tenths % 10 === 0) g.append(svg('text', { x: x(s), y: TOP + HEIGHT + 30, class: 'grid-text' }, `${s} s`));
  }
  return g;
}

/** Marks where piston 1 stands at the top of its compression. */
function feet(strip, x) {
  const g = svg('g');
  for (const top of strip.tops.filter((p) => p.cylinder === 1)) {
    const at = x(top.at);
    g.append(svg('path', { d: `M${at.toFixed(1)} ${TOP + HEIGHT} l-5 9 h10 z`, class: 'foot' }),
      svg('text', { x: at + 9, y: TOP + HEIGHT + 11, class: 'grid-text start' }, '1'));
  }
  return g;
}
