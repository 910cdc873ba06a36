// A QR code out of the rows of noughts and ones that the desk answers with.

import { svg } from './dom.js';

const QUIET = 4; // modules of white around it, which a camera needs

/**
 * Draws a code, black on white in the dark too.
 * @param {string[]} rows
 * @param {string} label what it is, for who can't see it
 * @returns {SVGElement}
 */
export function square(rows, label) {
  const size = rows.length + 2 * QUIET;
  let d = '';
  rows.forEach((row, y) => {
    for (const run of row.matchAll(/1+/g)) d += `M${run.index + QUIET} ${y + QUIET}h${run[0].length}v1h-${run[0].length}z`;
  });
  return svg('svg', { viewBox: `0 0 ${size} ${size}`, class: 'square', role: 'img', 'aria-label': label, 'shape-rendering': 'crispEdges' },
    svg('rect', { class: 'square-paper', width: size, height: size }), svg('path', { class: 'square-ink', d }));
}
