// What lies on the bench around the engine: gauge stem and hose, battery,
// charger, remote switch, the plugs in the order they came out.

import { svg } from './dom.js';
import { Slot } from './wire.js';

/**
 * Draws the bench.
 * @param {{list: {number:number, cx:number, w:number}[], right:number}} columns
 * @returns {{under: SVGGElement, over: SVGGElement, look: function, move: function}}
 */
export function drawBench(columns) {
  const p = {
    hose: svg('path', { class: 'hose' }),
    end: svg('g', { class: 'hose-end' }, svg('path', { d: 'M-6 -9 h12 v10 h-2 v14 h-8 v-14 h-2 z', class: 'ink steel' })),
    charger: charger(),
    key: svg('g', { class: 'key' }),
  };
  const remote = remoteSwitch();
  p.remote = remote.el;
  p.button = remote.button;
  p.remoteWire = svg('path', { d: `M520 496 C480 500 500 420 ${columns.right + 50} 352`, class: 'wire' });
  p.plugs = new Map(columns.list.map((c) => [c.number, loosePlug(c)]));
  p.release = svg('rect', { x: 787, y: 334, width: 24, height: 14, rx: 2, class: 'ink go-fill' });
  const under = svg('g', {},
    svg('line', { x1: 16, x2: 944, y1: 520, y2: 520, class: 'bench-edge' }),
    battery(columns), p.charger, p.remoteWire, p.hose);
  const over = svg('g', {},
    svg('rect', { x: 765, y: 320, width: 18, height: 44, class: 'ink steel' }),
    svg('g', { 'data-hit': 'release' }, svg('rect', { x: 783, y: 320, width: 44, height: 44, class: 'hit' }), p.release),
    p.end, p.remote, ...p.plugs.values());
  return { under, over, look: (state) => look(p, columns, state), move: (snap) => move(p, snap) };
}

function battery(columns) {
  const sx = columns.right + 62;
  return svg('g', {},
    svg('path', { d: `M762 428 C762 392 640 400 ${sx} 342`, class: 'cable live' }),
    svg('path', { d: `M666 428 C666 408 620 450 560 446 S${columns.right + 2} 420 ${columns.right - 12} 400`, class: 'cable' }),
    svg('g', { 'data-hit': 'battery' },
      svg('rect', { x: 640, y: 440, width: 148, height: 80, class: 'ink tint' }),
      svg('path', { d: 'M640 460 h148', class: 'thin' }),
      svg('rect', { x: 655, y: 428, width: 22, height: 12, class: 'ink steel' }),
      svg('rect', { x: 751, y: 428, width: 22, height: 12, class: 'ink steel' }),
      svg('text', { x: 666, y: 484, class: 'post' }, '−'),
      svg('text', { x: 762, y: 484, class: 'post' }, '+'),
      svg('text', { x: 714, y: 504, class: 'label' }, '12 V')));
}

function charger() {
  return svg('g', { class: 'charger', 'data-hit': 'charger' },
    svg('path', { d: 'M762 432 C780 404 806 420 842 452', class: 'wire clip' }),
    svg('path', { d: 'M666 432 C690 396 820 392 858 452', class: 'wire clip' }),
    svg('rect', { x: 822, y: 452, width: 100, height: 68, class: 'ink tint2' }),
    svg('path', { d: 'M838 474 h68 M838 486 h68 M838 498 h68', class: 'rib' }));
}

function remoteSwitch() {
  const button = svg('circle', { cx: 580, cy: 496, r: 14, class: 'go-fill ink' });
  const el = svg('g', { class: 'remote', 'data-hit': 'switch' },
    svg('rect', { x: 520, y: 474, width: 92, height: 44, rx: 22, class: 'ink tint' }), button);
  return { el, button };
}

function loosePlug(c) {
  const tilt = ((c.number * 37) % 50) - 25;
  const g = svg('g', { class: 'loose-plug', 'data-tilt': tilt },
    svg('g', {},
      svg('rect', { x: -5, y: -58, width: 10, height: 22, class: 'ink paper' }),
      svg('path', { d: 'M-9 -36 h18 v10 h-18 z', class: 'ink tint2' }),
      svg('rect', { x: -6, y: -26, width: 12, height: 18, class: 'ink steel' }),
      svg('path', { d: 'M-5 -4 h9 v-4', class: 'wire' })),
    svg('text', { y: 18, class: 'label' }, String(c.number)));
  return g;
}

function look(p, columns, state) {
  const gauged = columns.list.find((c) => ['gauge', 'tester'].includes(state.plug(c.number).state));
  p.hose.setAttribute('d', gauged
    ? `M774 364 C774 424 640 440 606 356 C578 280 634 90 588 50 C548 16 ${gauged.cx} 8 ${gauged.cx} 94`
    : 'M774 364 C774 420 700 428 646 400 C616 386 606 396 606 414');
  p.end.setAttribute('transform', gauged ? `translate(${gauged.cx} 98)` : 'translate(606 422)');
  p.end.classList.toggle('gone', !state.gauge && !state.tester);
  p.release.classList.toggle('gone', state.tester > 0);
  for (const c of columns.list) {
    const plug = state.plug(c.number);
    const el = p.plugs.get(c.number);
    el.classList.toggle('gone', plug.state === 'in');
    const loose = plug.order === 'loose';
    el.setAttribute('transform', `translate(${loose ? 150 + c.number * 17 : c.cx} 502)`);
    el.firstChild.setAttribute('transform', loose ? `rotate(${el.dataset.tilt} 0 -28)` : 'rotate(0)');
  }
  p.charger.classList.toggle('connected', state.charger);
  const isRemote = state.switch === 'remote';
  p.remote.classList.toggle('gone', !isRemote);
  p.remoteWire.classList.toggle('gone', !isRemote);
}

function move(p, snap) {
  p.button.setAttribute('r', snap[Slot.Starter] ? '11' : '14');
  p.release.setAttribute('width', snap[Slot.Release] ? '16' : '24');
}
