// Faces of the other instruments: the leakage tester's two dials and the vacuum
// gauge. Plain scales; a needle is read, not told.

import { svg } from './dom.js';
import { drawScale } from './dial.js';
import { vacuumUnit, toVacuum, fromPa } from './units.js';
import { Slot } from './wire.js';

const PSI = 6894.757293168361;
const SUPPLY_PSI = 150;

/**
 * The leakage tester: the air it gets, and the share of it that the cylinder loses.
 * @param {{label: string, supply: string, lost: string}} words
 * @returns {{el: SVGElement, set: function(Float64Array)}}
 */
export function testerPicture(words) {
  const supply = drawScale({ range: SUPPLY_PSI, graduation: 5, unit: 'psi' }, 110);
  const lost = drawScale({ range: 100, graduation: 2, unit: '%', middle: 10, isReversed: true }, 150);
  supply.el.setAttribute('transform', 'translate(-164 40)');
  lost.el.setAttribute('transform', 'translate(104 0)');
  const el = svg('svg', { viewBox: '-278 -154 536 336', role: 'img', 'aria-label': words.label, class: 'dial-picture tester-picture' },
    supply.el, lost.el,
    svg('text', { x: -164, y: 174, class: 'label' }, words.supply), svg('text', { x: 104, y: 174, class: 'label' }, words.lost));
  const set = (snap) => {
    supply.set(snap[Slot.Supply] / (SUPPLY_PSI * PSI));
    lost.set(snap[Slot.Supply] > 0 ? Math.min(1, snap[Slot.Held] / snap[Slot.Supply]) : 0);
  };
  return { el, set };
}

/** The second dial of the tester alone, for a narrow page. */
export function lostPicture(label) {
  const lost = drawScale({ range: 100, graduation: 2, unit: '%', middle: 10, isReversed: true }, 150);
  const el = svg('svg', { viewBox: '-154 -154 308 308', role: 'img', 'aria-label': label, class: 'dial-picture' }, lost.el);
  return { el, set: (snap) => lost.set(snap[Slot.Supply] > 0 ? Math.min(1, snap[Slot.Held] / snap[Slot.Supply]) : 0) };
}

/** The vacuum gauge, in inches of mercury or kPa as the reader measures. */
export function vacuumPicture(label) {
  const unit = vacuumUnit();
  const range = unit === 'kPa' ? 100 : 30;
  const dial = drawScale({ range, graduation: unit === 'kPa' ? 2 : 0.5, middle: unit === 'kPa' ? 10 : 1, unit }, 150);
  const el = svg('svg', { viewBox: '-154 -154 308 308', role: 'img', 'aria-label': label, class: 'dial-picture' }, dial.el);
  return { el, set: (snap) => dial.set(Number.isFinite(snap[Slot.Vacuum]) ? snap[Slot.Vacuum] / toVacuum(range) : 0) };
}

const coolingScales = { psi: { range: 30, graduation: 0.5, middle: 1 }, kPa: { range: 200, graduation: 5, middle: 10 }, bar: { range: 2, graduation: 0.05, middle: 0.1 } };

/** The dial of a cooling system tester, standing still. */
export function coolingPicture(pa, unit, label) {
  const dial = drawScale({ ...coolingScales[unit], unit }, 150);
  dial.set(fromPa(pa, unit) / coolingScales[unit].range);
  return svg('svg', { viewBox: '-154 -154 308 308', role: 'img', 'aria-label': label, class: 'dial-picture' }, dial.el);
}
