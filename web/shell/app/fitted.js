// Tools of the confirming tests in the page's own drawing, where they sit when they
// are fitted: tester, vacuum gauge, clamp meter, wrench.

import { svg } from './dom.js';
import { drawScale } from './dial.js';
import { Slot } from './wire.js';

const PSI = 6894.757293168361;
const CRANK = { x: 62, y: 366 };

/** The leakage tester in the gauge's place: what is lost, and the air it gets. */
export function drawTester() {
  const lost = drawScale({ range: 100, graduation: 2, unit: '%', middle: 10, isReversed: true }, 150);
  const supply = drawScale({ range: 150, graduation: 5, unit: 'psi' }, 46);
  supply.el.setAttribute('transform', 'translate(112 158)');
  const el = svg('g', { class: 'gone' }, svg('path', { d: 'M112 200 q10 24 58 20', class: 'air-line' }), lost.el, supply.el);
  return { el, set: (snap) => {
    lost.set(snap[Slot.Supply] > 0 ? snap[Slot.Held] / snap[Slot.Supply] : 0);
    supply.set(snap[Slot.Supply] / (150 * PSI));
  } };
}

/** Vacuum gauge, clamp and wrench. */
export function drawTools(columns) {
  const vacuum = drawScale({ range: 100, graduation: 10, unit: 'kPa' }, 34);
  const x = columns.right + 92;
  const gauge = svg('g', { class: 'gone' }, svg('path', { d: `M${x} 236 q0 -40 -62 -74`, class: 'thin-hose' }), vacuum.el);
  vacuum.el.setAttribute('transform', `translate(${x} 262)`);
  const amps = svg('text', { x: 0, y: -26, class: 'label strong' }, '');
  const clamp = svg('g', { class: 'gone', transform: `translate(${columns.right + 150} 392)` },
    svg('circle', { r: 11, class: 'jaws' }), svg('rect', { x: -27, y: -62, width: 54, height: 50, rx: 4, class: 'ink tint' }),
    svg('rect', { x: -22, y: -44, width: 44, height: 24, class: 'ink paper' }), amps);
  const handle = svg('line', { x1: CRANK.x, y1: CRANK.y, class: 'wrench-arm' });
  const wrench = svg('g', { class: 'gone', 'data-hit': 'wrench' }, handle,
    svg('circle', { cx: CRANK.x, cy: CRANK.y, r: 10, class: 'ink steel' }), svg('rect', { x: CRANK.x - 30, y: CRANK.y - 30, width: 60, height: 60, class: 'hit' }));
  return {
    under: gauge,
    over: svg('g', {}, clamp, wrench),
    look: (state) => {
      gauge.classList.toggle('gone', !state.vacuum);
      clamp.classList.toggle('gone', !state.clamp);
      wrench.classList.toggle('gone', !state.wrench);
    },
    move: (snap) => {
      vacuum.set(Number.isFinite(snap[Slot.Vacuum]) ? snap[Slot.Vacuum] / 1e5 : 0);
      const text = Number.isFinite(snap[Slot.Current]) ? `${Math.round(snap[Slot.Current])} A` : '';
      if (amps.textContent !== text) amps.textContent = text;
      const angle = snap[Slot.CrankAngle];
      handle.setAttribute('x2', (CRANK.x + 84 * Math.sin(angle)).toFixed(1));
      handle.setAttribute('y2', (CRANK.y + 84 * Math.cos(angle)).toFixed(1));
    },
  };
}
