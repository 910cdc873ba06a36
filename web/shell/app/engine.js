// The engine and what lies around it as one inline drawing: side elevation,
// true number of cylinders, banks side by side, the gauge on the right. It is
// built once per scenario; look() follows the slow state, move() each frame.

import { svg } from './dom.js';
import { drawDial } from './dial.js';
import { Slot, Cyl, at } from './wire.js';
import { drawBench } from './benchtop.js';
import { drawTester, drawTools } from './fitted.js';

const LEFT = 112;
const WIDTH = 392;
const GAP = 24;
const Y = { coil: 62, cover: 90, head: 134, block: 196, case: 348, sump: 396, floor: 440 };
const THROW = 34;

/** The whole drawing, and the part of it that a narrow page shows. */
const FULL = '0 0 960 530';
const NARROW = '8 16 612 514';
const CRANK = 372;

/**
 * Draws a scenario's engine.
 * @param {{layout:string, cylinders:number, banks:number[][]}} engine
 * @param {Object} gauge the gauge in use, for its scale
 * @param {function(Object)} onHit {target, cylinder?, phase?} when something is touched
 */
export function drawEngine(engine, gauge, onHit) {
  const columns = place(engine);
  const root = svg('svg', { viewBox: FULL, class: 'engine', 'aria-hidden': 'true', focusable: 'false' });
  const parts = { columns, root, cylinders: new Map() };
  root.append(body(columns), front(parts), rear(parts));
  for (const c of columns.list) root.append(cylinder(parts, c));
  const dial = drawDial(gauge, 150);
  const tester = drawTester();
  for (const el of [dial.el, tester.el]) {
    el.setAttribute('transform', 'translate(774 172)');
    el.setAttribute('data-hit', 'gauge');
  }
  const bench = drawBench(columns);
  const tools = drawTools(columns);
  root.append(tools.under, bench.under, dial.el, tester.el, bench.over, tools.over);
  touch(root, onHit);
  fit(root);
  return {
    el: root,
    look: (state, seen) => {
      look(parts, bench, state, seen);
      tools.look(state);
      dial.el.classList.toggle('gone', state.tester > 0);
      dial.el.classList.toggle('untaken', !state.gauge);
      tester.el.classList.toggle('gone', !state.tester);
    },
    move: (snap) => {
      dial.set(snap[Slot.Needle]);
      tester.set(snap);
      tools.move(snap);
      move(parts, bench, snap);
    },
    needle: dial.set,
  };
}

/** A narrow page has its own dial above; it shows the engine alone. */
function fit(root) {
  const narrow = matchMedia('(max-width: 860px)');
  const apply = () => root.setAttribute('viewBox', narrow.matches ? NARROW : FULL);
  narrow.addEventListener('change', apply);
  apply();
}

/** Columns of the cylinders from left to right, bank by bank. */
function place(engine) {
  const banks = engine.layout === 'inline' || !(engine.banks?.length > 1)
    ? [engine.banks?.[0] ?? Array.from({ length: engine.cylinders }, (_, i) => i + 1)]
    : engine.banks;
  const n = banks.reduce((sum, b) => sum + b.length, 0);
  const w = (WIDTH - GAP * (banks.length - 1)) / n;
  const list = [];
  const groups = [];
  let x = LEFT;
  for (const bank of banks) {
    groups.push({ x, width: w * bank.length });
    for (const number of bank) {
      list.push({ number, x, cx: x + w / 2, w });
      x += w;
    }
    x += GAP;
  }
  return { list, groups, w, right: LEFT + WIDTH };
}

function body(columns) {
  const g = svg('g');
  for (const { x, width } of columns.groups) {
    g.append(
      svg('rect', { x, y: Y.block, width, height: Y.case - Y.block, class: 'ink tint' }),
      svg('rect', { x: x - 6, y: Y.head, width: width + 12, height: Y.block - Y.head, class: 'ink tint2' }),
      svg('path', { d: `M${x} ${Y.head} v-36 q0 -8 8 -8 h${width - 16} q8 0 8 8 v36 z`, class: 'ink tint' }),
      svg('line', { x1: x + 8, x2: x + width - 8, y1: 150, y2: 150, class: 'rail' }),
    );
  }
  const right = columns.right;
  g.append(
    svg('rect', { x: LEFT - 8, y: Y.case, width: WIDTH + 16, height: Y.sump - Y.case, class: 'ink tint2' }),
    svg('path', { d: `M${LEFT + 8} ${Y.sump} h${WIDTH - 16} l-20 ${Y.floor - Y.sump - 8} q-3 8 -12 8 h${-(WIDTH - 80)} q-9 0 -12 -8 z`, class: 'ink tint2' }),
    svg('path', { d: `M${right - 46} ${Y.cover} v-9 h28 v9`, class: 'ink tint2' }), // oil filler
  );
  return g;
}

function front(parts) {
  const g = svg('g');
  parts.pulley = svg('g', {},
    svg('circle', { r: 50, class: 'ink steel' }), svg('circle', { r: 37, class: 'thin none' }),
    svg('path', { d: 'M0 -50 v12', class: 'stroke-strong' }),
    ...[45, 135, 225, 315].map((a) => svg('path', { d: 'M0 -12 v-18', class: 'thin', transform: `rotate(${a})` })));
  g.append(
    svg('path', { d: 'M80 112 q0 -10 10 -10 h14 v318 h-14 q-10 0 -10 -10 z', class: 'ink tint' }),
    ...[150, 190, 230, 270, 310].map((y) => svg('line', { x1: 85, x2: 99, y1: y, y2: y, class: 'rib' })),
    svg('path', { d: 'M80 150 h-20 v-16 h-8 v32 h28', class: 'ink tint2' }), // coolant neck
    svg('g', { transform: 'translate(62 366)' }, parts.pulley),
    svg('circle', { cx: 62, cy: 366, r: 7, class: 'ink paper' }));
  return g;
}

function rear(parts) {
  const x = parts.columns.right;
  parts.plate = svg('line', { x1: -17, x2: 17, class: 'throttle-plate' });
  return svg('g', {},
    svg('rect', { x: x + 8, y: 292, width: 20, height: 134, class: 'ink steel' }),
    svg('rect', { x: x + 28, y: 362, width: 82, height: 40, rx: 6, class: 'ink tint2' }),
    svg('rect', { x: x + 36, y: 342, width: 52, height: 20, rx: 3, class: 'ink tint' }),
    svg('g', { 'data-hit': 'throttle' },
      svg('path', { d: `M${x + 6} 142 h44 v44 h-44 z M${x + 50} 136 h12 v56 h-12 z`, class: 'ink tint' }),
      svg('g', { transform: `translate(${x + 28} 164)` }, parts.plate)));
}

function cylinder(parts, c) {
  const bore = c.w * 0.64;
  const p = {};
  p.outline = svg('rect', { x: c.x + 1.5, y: Y.block, width: c.w - 3, height: Y.case - Y.block, class: 'column' });
  p.ribs = svg('g', {}, ...[226, 258, 290].map((y) => svg('line', { x1: c.x + c.w * 0.2, x2: c.x + c.w * 0.8, y1: y, y2: y, class: 'rib' })));
  p.section = section(p, c, bore);
  p.well = svg('circle', { cx: c.cx, cy: 108, r: Math.min(10, c.w * 0.2), class: 'well' });
  p.coil = svg('path', { d: `M${c.cx - 9} ${Y.coil} h18 v20 h-3 v34 h-12 v-34 h-3 z`, class: 'ink steel coil' });
  p.lead = svg('path', { d: `M${c.cx} ${Y.coil} v-10 h${c.w * 0.35}`, class: 'wire' });
  p.hit = svg('rect', { x: c.x, y: 44, width: c.w, height: Y.block - 44, class: 'hit', 'data-hit': 'plug', 'data-cylinder': c.number });
  const text = svg('text', { x: c.cx, y: 131, class: 'cylinder-number' }, String(c.number));
  parts.cylinders.set(c.number, p);
  return svg('g', {}, p.outline, p.ribs, p.section, injector(c), p.well, p.lead, p.coil, text, p.hit);
}

function injector(c) {
  return svg('g', { class: 'injector' },
    svg('path', { d: `M${c.cx} 150 v26`, class: 'stroke-body' }),
    svg('path', { d: `M${c.cx + 3} 156 h9 v9 h-9`, class: 'connector' }));
}

function section(p, c, bore) {
  const x = c.cx - bore / 2;
  p.gas = svg('rect', { x, y: Y.block, width: bore, height: 1, class: 'gas' });
  p.piston = svg('g', {},
    svg('rect', { x: x + 1, width: bore - 2, height: 40, class: 'ink steel' }),
    ...[7, 13, 19].map((y) => svg('line', { x1: x, x2: x + bore, y1: y, y2: y, class: 'ring' })),
    svg('circle', { cx: c.cx, cy: 27, r: 4.5, class: 'ink paper' }));
  p.rod = svg('line', { class: 'rod' });
  p.pin = svg('circle', { r: 6, class: 'ink paper' });
  p.intake = valve(c.cx - bore * 0.25, bore);
  p.exhaust = valve(c.cx + bore * 0.25, bore);
  return svg('g', { class: 'section' },
    svg('rect', { x, y: Y.block, width: bore, height: Y.case - Y.block, class: 'ink paper' }),
    svg('path', { d: `M${x} ${Y.case - 1} h${bore} l6 10 v${Y.sump - Y.case - 12} h${-bore - 12} v${-(Y.sump - Y.case - 12)} z`, class: 'paper ink open-bottom' }),
    svg('circle', { cx: c.cx, cy: CRANK, r: Math.min(20, c.w * 0.3), class: 'thin web' }),
    p.gas, p.rod, p.piston, p.pin, p.intake, p.exhaust);
}

function valve(x, bore) {
  const w = bore * 0.2;
  return svg('g', {},
    svg('line', { x1: x, x2: x, y1: 146, y2: 192, class: 'stem' }),
    svg('path', { d: `M${x - w} 196 L${x - 2} 188 H${x + 2} L${x + w} 196 Z`, class: 'valve' }));
}

function touch(root, onHit) {
  const send = (event, phase) => {
    const el = event.target.closest('[data-hit]');
    if (el) onHit({ target: el.dataset.hit, cylinder: Number(el.dataset.cylinder) || 0, phase });
  };
  root.addEventListener('pointerdown', (e) => { if (e.target.closest('[data-hit="switch"]')) send(e, 'down'); });
  root.addEventListener('click', (e) => { if (!e.target.closest('[data-hit="switch"]')) send(e, undefined); });
}

function look(parts, bench, state, seen) {
  for (const [number, p] of parts.cylinders) {
    const plug = state.plug(number);
    const isSeen = number === seen.cylinder;
    p.outline.classList.toggle('selected', isSeen);
    p.section.classList.toggle('shown', isSeen && seen.section);
    p.ribs.classList.toggle('gone', isSeen && seen.section);
    p.coil.classList.toggle('gone', plug.state !== 'in');
    p.lead.classList.toggle('gone', plug.state !== 'in' || state.ignition === 'disabled');
    p.well.classList.toggle('fitted', plug.state === 'gauge' || plug.state === 'tester');
    p.well.classList.toggle('gone', plug.state === 'in');
    p.coil.classList.toggle('unplugged', state.ignition === 'disabled');
  }
  parts.root.classList.toggle('fuel-off', state.fuel === 'disabled');
  bench.look(state);
}

function move(parts, bench, snap) {
  const turn = (snap[Slot.CrankAngle] * 180) / Math.PI;
  parts.pulley.setAttribute('transform', `rotate(${turn.toFixed(1)})`);
  parts.plate.setAttribute('transform', `rotate(${(80 - 76 * snap[Slot.Throttle]).toFixed(0)})`);
  for (const [number, p] of parts.cylinders) {
    if (p.section.classList.contains('shown')) moveSection(parts, p, number, snap);
  }
  bench.move(snap);
}

function moveSection(parts, p, number, snap) {
  const c = parts.columns.list.find((col) => col.number === number);
  const angle = snap[at(number, Cyl.Angle)];
  const top = Y.block + 7 + snap[at(number, Cyl.Travel)] * 2 * THROW;
  const pinX = c.cx + Math.sin(angle) * Math.min(THROW, c.w * 0.26);
  const pinY = CRANK - Math.cos(angle) * THROW;
  p.piston.setAttribute('transform', `translate(0 ${top.toFixed(1)})`);
  p.gas.setAttribute('height', (top - Y.block).toFixed(1));
  const over = (snap[at(number, Cyl.Pressure)] - 1e5) / 12e5;
  p.gas.setAttribute('fill-opacity', Number.isFinite(over) ? (0.15 + 0.8 * Math.min(1, Math.max(0, over))).toFixed(2) : '0');
  for (const [key, value] of [['x1', c.cx], ['y1', top + 27], ['x2', pinX], ['y2', pinY]]) p.rod.setAttribute(key, value.toFixed(1));
  p.pin.setAttribute('cx', pinX.toFixed(1));
  p.pin.setAttribute('cy', pinY.toFixed(1));
  lift(p.intake, snap[at(number, Cyl.IntakeLift)]);
  lift(p.exhaust, snap[at(number, Cyl.ExhaustLift)]);
}

function lift(el, metres) {
  el.setAttribute('transform', `translate(0 ${(metres * 1600).toFixed(1)})`);
}
