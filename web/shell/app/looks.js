// What looking finds, drawn: the bore through a borescope, plugs, feelers in the
// valve gaps, timing marks. Each drawing says what it shows to those who don't see it.

import { svg } from './dom.js';

function picture(viewBox, label, ...kids) {
  return svg('svg', { viewBox, role: 'img', 'aria-label': label, class: 'look' }, ...kids);
}

/** Evenly strewn places inside a circle, always the same. */
function strewn(n, r) {
  return Array.from({ length: n }, (_, i) => {
    const a = i * 2.39996; // the golden angle
    const d = r * Math.sqrt((i + 0.5) / n);
    return [Math.cos(a) * d, Math.sin(a) * d];
  });
}

/**
 * The bore as a borescope shows it from the plug hole.
 * @param {string[]} found keys of what was found: bore_carbon, bore_liquid, bore_hole, bore_scored
 * @param {string} label
 */
export function boreView(found, label) {
  const sees = (key) => found.includes(key);
  const wall = svg('g', {}, svg('circle', { r: 96, class: 'ink tint' }));
  for (let i = 0; i < 48; i++) {
    const a = (i * Math.PI) / 24;
    const twist = i % 2 ? 0.14 : -0.14; // hone marks cross
    wall.append(svg('line', { x1: Math.cos(a) * 95, y1: Math.sin(a) * 95, x2: Math.cos(a + twist) * 74, y2: Math.sin(a + twist) * 74, class: 'hone' }));
  }
  if (sees('bore_scored')) {
    for (const a of [0.5, 0.58, 0.63, 0.74]) wall.append(svg('line', { x1: Math.cos(a) * 95, y1: Math.sin(a) * 95, x2: Math.cos(a) * 74, y2: Math.sin(a) * 74, class: 'score-line' }));
  }
  const crown = svg('g', {}, svg('circle', { r: 73, class: 'ink steel' }), svg('path', { d: 'M-52 -20 a26 26 0 0 1 46 -14 M6 -34 a26 26 0 0 1 46 14', class: 'thin' }));
  if (sees('bore_carbon')) {
    crown.append(svg('circle', { r: 70, class: 'carbon-coat' }), ...strewn(70, 66).map(([x, y], i) => svg('circle', { cx: x, cy: y, r: 1.5 + (i % 3), class: 'carbon' })));
  }
  if (sees('bore_liquid')) {
    crown.append(svg('path', { d: 'M-40 18 C-44 40 -10 60 22 52 C52 46 58 22 34 14 C10 6 -34 -4 -40 18 z', class: 'puddle' }), svg('path', { d: 'M-20 26 q16 14 40 6', class: 'shine' }));
  }
  if (sees('bore_hole')) crown.append(svg('path', { d: 'M14 -18 l8 -5 9 3 4 8 -3 9 -9 5 -8 -4 -4 -8 z', class: 'hole' }));
  return picture('-100 -100 200 200', label, wall, crown);
}

/**
 * The nose of a plug.
 * @param {string} key plug_normal, plug_oily, plug_oiled, plug_wet, plug_wet_fuel, plug_steamed
 * @param {string} label
 */
export function plugView(key, label) {
  const isOily = key === 'plug_oily' || key === 'plug_oiled';
  const isWet = key.startsWith('plug_wet') || key === 'plug_oiled';
  const nose = { plug_normal: 'nose-tan', plug_steamed: 'nose-clean' }[key] ?? (isOily ? 'nose-black' : 'nose-tan');
  return picture('-40 -60 80 120', label,
    svg('path', { d: 'M-22 -56 h44 v22 h-44 z', class: 'ink steel' }),
    ...[-28, -20, -12, -4].map((y) => svg('path', { d: `M-19 ${y} h38`, class: 'thread' })),
    svg('path', { d: 'M-18 -34 h36 v38 h-36 z', class: `ink ${isOily ? 'shell-black' : 'tint2'}` }),
    ...[-28, -20, -12, -4].map((y) => svg('path', { d: `M-18 ${y} l36 -4`, class: 'thin' })),
    svg('path', { d: 'M-9 4 L-5 24 H5 L9 4 z', class: `ink ${nose}` }),
    svg('path', { d: 'M-2 24 h4 v7 h-4 z M15 4 v36 h-16', class: 'electrode' }),
    ...(isWet ? [[-14, 14], [11, 30], [-6, 42], [2, 50]].map(([x, y]) => svg('path', { d: `M${x} ${y} q-4 6 0 8 q4 -2 0 -8 z`, class: 'drop' })) : []));
}

/**
 * A feeler in a valve's gap: its blade says how thick it is.
 * @param {{name:string, gap:string, kind:'drags'|'none'|'wide'}[]} valves
 * @param {string} label
 */
export function lashView(valves, label) {
  const one = (v, i) => svg('g', { transform: `translate(${i * 150 + 60} 0)` },
    svg('path', { d: 'M-26 -46 a26 26 0 0 1 52 0 q0 14 -10 24 q-8 10 -16 10 q-8 0 -16 -10 q-10 -10 -10 -24 z', class: 'ink steel' }),
    svg('circle', { cy: -46, r: 7, class: 'ink paper' }),
    svg('path', { d: v.kind === 'wide' ? 'M-20 8 h40 v10 h-40 z M-5 18 h10 v60 h-10 z' : v.kind === 'none' ? 'M-20 -11 h40 v10 h-40 z M-5 -1 h10 v79 h-10 z' : 'M-20 -6 h40 v10 h-40 z M-5 4 h10 v74 h-10 z', class: 'ink tint2' }),
    ...[26, 38, 50, 62].map((y) => svg('path', { d: `M-17 ${y} L17 ${y + 8}`, class: 'spring' })),
    v.kind === 'none'
      ? svg('path', { d: 'M24 -12 h52 v12 h-52 z', class: 'ink paper' })
      : svg('path', { d: v.kind === 'wide' ? 'M-34 -6 h110 v12 h-110 z' : 'M-34 -12 h110 v6 h-110 z', class: 'ink paper' }),
    svg('text', { x: 0, y: 98, class: 'label' }, v.name),
    svg('text', { x: 46, y: 20, class: 'gap-text' }, v.gap));
  return picture('-20 -80 330 186', label, ...valves.map(one));
}

/**
 * Cam wheels with their marks beside the pointer.
 * @param {{name:string, off:number}[]} cams off: teeth behind the pointer, negative ahead
 * @param {number} teeth of a wheel
 * @param {string} label
 */
export function marksView(cams, teeth, label) {
  const pitch = (2 * Math.PI) / teeth;
  const R = 200; // only the top of the wheel is seen
  const at = (a, r) => `${(Math.sin(a) * r).toFixed(1)} ${(R - Math.cos(a) * r).toFixed(1)}`;
  const one = (cam, i) => {
    const g = svg('g', { transform: `translate(${i * 250 + 125} 36)` });
    let rim = '';
    for (let k = -3; k <= 3; k++) {
      for (const [side, r] of [[-0.3, R - 12], [-0.16, R], [0.16, R], [0.3, R - 12]]) rim += `${rim ? 'L' : 'M'}${at((k + side) * pitch, r)} `;
    }
    g.append(svg('path', { d: `${rim}L${at(3.3 * pitch, R - 56)} A${R - 56} ${R - 56} 0 0 0 ${at(-3.3 * pitch, R - 56)} z`, class: 'ink steel' }));
    // The wheel turns clockwise: behind is on the left of the pointer.
    const a = -cam.off * pitch;
    g.append(svg('path', { d: `M${at(a, R - 4)} L${at(a, R - 34)}`, class: 'wheel-mark' }),
      svg('path', { d: 'M0 -4 l-9 -26 h18 z', class: 'ink go-fill' }),
      svg('text', { y: 108, class: 'label' }, cam.name));
    return g;
  };
  return picture(`0 0 ${cams.length * 250} 156`, label, ...cams.map(one));
}

/** The coolant neck from above, with what rises in it. */
export function neckView(isBubbling, label) {
  return picture('-60 -60 120 120', label,
    svg('circle', { r: 52, class: 'ink tint2' }), svg('circle', { r: 42, class: 'coolant' }),
    ...(isBubbling ? strewn(14, 34).map(([x, y], i) => svg('circle', { cx: x, cy: y, r: 2 + (i % 4), class: 'bubble' })) : []));
}

/** Speeds as bars, one for all cylinders and one without each. */
export function balanceView(rpm, without, label) {
  const w = 40;
  const most = rpm * 1.05;
  const bar = (value, i, name) => svg('g', { transform: `translate(${i * (w + 16) + 20} 0)` },
    svg('rect', { y: 140 - (value / most) * 130, width: w, height: (value / most) * 130, class: i ? 'ink tint2' : 'ink steel' }),
    svg('text', { x: w / 2, y: 158, class: 'label' }, name));
  return picture(`0 0 ${(without.length + 1) * (w + 16) + 30} 166`, label,
    svg('line', { x1: 8, x2: (without.length + 1) * (w + 16) + 20, y1: 140 - (rpm / most) * 130, y2: 140 - (rpm / most) * 130, class: 'grid-main' }),
    bar(rpm, 0, '–'), ...without.map((v, i) => bar(v, i + 1, String(i + 1))));
}
