// One cylinder in section, turned by hand: a slider of the crank's angle moves
// piston and valves, and says what the model has for this place: pressure, what leaks
// by which path, what a sound engine would have. Nothing moves by itself.

import { svg } from './dom.js';
import { t } from './i18n.js';
import { number, pressure } from './format.js';
import { showPa, paPer } from './units.js';

/** Ways out of a cylinder, in the order of the core's flows. */
export const paths = ['rings', 'intake', 'exhaust', 'gasket', 'coolant', 'outside'];

const FEW = 0.02; // g/s; below it nothing is drawn or said
const MUCH = 3; // g/s; from there on an arrow grows no more

/**
 * Fills an element with section, curve and controls.
 * @param {Object} app
 * @param {Element} el
 * @param {Object} seen what the desk answered
 */
export function mountLook(app, el, seen) {
  const picture = drawSection(app.state.view.scenario.engine, seen);
  const curve = drawCurve(seen, app.state.unit);
  const facts = element('dl', { class: 'look-facts' });
  const slider = element('input', { type: 'range', min: Math.ceil(seen.deg[0]), max: Math.floor(seen.deg[seen.deg.length - 1]), step: 1, name: 'angle', 'aria-label': t('debrief.inside.angle') });
  const at = () => Number(slider.value);
  const move = (deg) => {
    slider.value = String(Math.round(deg));
    app.state.result.deg = at();
    const i = nearest(seen.deg, at());
    picture.move(i);
    curve.move(i);
    say(facts, app.state.unit, seen, i);
    slider.setAttribute('aria-valuetext', `${angleText(seen.deg[i])}, ${pressure(seen.pressure_pa[i] - seen.ambient_pa, app.state.unit)}`);
  };
  slider.addEventListener('input', () => move(at()));
  const button = (name, to) => {
    const b = element('button', { type: 'button', 'data-act': 'turn', 'data-choice': name }, t(`debrief.turn.${name}`));
    b.addEventListener('click', () => move(to()));
    return b;
  };
  const buttons = element('div', { class: 'row' }, button('back', () => at() - 10), button('on', () => at() + 10), button('top', () => 0));
  if (seen.lost) buttons.append(button('lost', () => seen.lost_deg));
  el.replaceChildren(element('div', { class: 'look-picture' }, picture.el), element('div', { class: 'look-side' }, curve.el, curve.legend,
    element('label', { class: 'look-slider' }, element('span', {}, t('debrief.inside.angle')), slider), buttons, facts));
  move(app.state.result.deg ?? (seen.lost ? seen.lost_deg : -60));
}

function element(tag, attrs = {}, ...kids) {
  const el = document.createElement(tag);
  for (const name in attrs) el.setAttribute(name, attrs[name]);
  el.append(...kids);
  return el;
}

function nearest(list, deg) {
  let best = 0;
  for (let i = 1; i < list.length; i++) if (Math.abs(list[i] - deg) < Math.abs(list[best] - deg)) best = i;
  return best;
}

/** '30° before top center of compression' */
function angleText(deg) {
  const n = number(Math.abs(deg));
  return Math.round(deg) === 0 ? t('angle.top') : t(deg < 0 ? 'angle.before' : 'angle.after', { n });
}

function say(facts, unit, seen, i) {
  const gauge = (pa) => pressure(pa - seen.ambient_pa, unit);
  const leaks = paths.map((path, k) => [path, seen.flows_g_s[k][i]]).filter(([, flow]) => Math.abs(flow) >= FEW);
  const lines = [
    [t('debrief.look.at'), angleText(seen.deg[i])],
    [t('debrief.look.pressure'), gauge(seen.pressure_pa[i])],
    [t('debrief.look.sound'), gauge(seen.sound_pa[i])],
    [t('debrief.look.hose'), pressure(seen.hose_pa[i], unit)],
    [t('debrief.look.flow'), leaks.length ? leaks.map(([path, flow]) => t(flow > 0 ? 'debrief.look.out' : 'debrief.look.in', { path: t(`path.${path}`), flow: number(Math.abs(flow), 2) })).join('; ') : t('debrief.look.noflow')],
  ];
  facts.replaceChildren(...lines.map(([term, value]) => element('div', {}, element('dt', {}, term), element('dd', {}, value))));
}

const W = 440;
const H = 220;
const EDGE = { left: 38, right: 8, top: 10, bottom: 24 };
const FROM = -180;
const TO = 180;

/** Pressure over the crank's angle, from bottom to bottom, beside the sound engine's. */
function drawCurve(seen, unit) {
  const top = Math.max(...seen.pressure_pa, ...seen.sound_pa) - seen.ambient_pa;
  const x = (deg) => EDGE.left + ((W - EDGE.left - EDGE.right) * (deg - FROM)) / (TO - FROM);
  const y = (pa) => H - EDGE.bottom - ((H - EDGE.top - EDGE.bottom) * Math.max(0, pa - seen.ambient_pa)) / (top * 1.05);
  const root = svg('svg', { viewBox: `0 0 ${W} ${H}`, class: 'curve', 'aria-hidden': 'true', focusable: 'false' });
  const step = { psi: 50, kPa: 500, bar: 5 }[unit] * paPer(unit);
  for (let pa = 0; pa <= top; pa += step) root.append(svg('line', { class: 'grid-fine', x1: EDGE.left, x2: W - EDGE.right, y1: y(pa + seen.ambient_pa), y2: y(pa + seen.ambient_pa) }), svg('text', { class: 'grid-text end', x: EDGE.left - 4, y: y(pa + seen.ambient_pa) + 4 }, showPa(pa, unit, 0)));
  for (const deg of [-180, -90, 0, 90, 180]) root.append(svg('text', { class: 'grid-text', x: Math.min(x(deg), W - 16), y: H - 6 }, `${deg}°`));
  const line = (column) => seen.deg.map((deg, i) => [deg, column[i]]).filter(([deg]) => deg >= FROM && deg <= TO).map(([deg, pa]) => `${x(deg).toFixed(1)},${y(pa).toFixed(1)}`).join(' ');
  if (seen.lost) root.append(svg('line', { class: 'lost-line', x1: x(seen.lost_deg), x2: x(seen.lost_deg), y1: EDGE.top, y2: H - EDGE.bottom }));
  root.append(svg('polyline', { class: 'sound-line', points: line(seen.sound_pa) }), svg('polyline', { class: 'trace-line', points: line(seen.pressure_pa) }));
  const cursor = svg('line', { class: 'cursor', y1: EDGE.top, y2: H - EDGE.bottom });
  const dot = svg('circle', { class: 'cursor-dot', r: 4 });
  root.append(cursor, dot);
  const legend = element('p', { class: 'mute small curve-legend' }, t('debrief.curve.legend', { unit }));
  return { el: root, legend, move: (i) => {
    const deg = Math.min(TO, Math.max(FROM, seen.deg[i]));
    cursor.setAttribute('x1', x(deg));
    cursor.setAttribute('x2', x(deg));
    dot.setAttribute('cx', x(deg));
    dot.setAttribute('cy', y(seen.pressure_pa[i]));
  } };
}

const CX = 130;
const DECK = 118;
const BORE = 100; // of the picture; everything else in proportion

/** The section: walls, head, valves, piston, rod and crank, gas and leaks. */
function drawSection(engine, seen) {
  const mm = BORE / (engine.bore_mm || 86);
  const throwPx = ((engine.stroke_mm || 86) * mm) / 2;
  const rod = Math.min((engine.rod_mm || 145) * mm, 150);
  const crown = 34; // pin under the crown
  const axis = DECK + crown + rod + throwPx;
  const height = axis + throwPx + 18;
  const root = svg('svg', { viewBox: `0 0 260 ${Math.round(height)}`, class: 'section-picture', 'aria-hidden': 'true', focusable: 'false' });
  const left = CX - BORE / 2;
  const right = CX + BORE / 2;
  const gas = svg('rect', { class: 'gas', x: left, width: BORE });
  const piston = svg('g');
  const rodLine = svg('line', { class: 'rod' });
  const throwLine = svg('line', { class: 'rod' });
  const pin = svg('circle', { class: 'paper ink', r: 5 });
  const leaks = svg('g', { class: 'leaks' });
  const valves = [valve(CX - 25, 'intake'), valve(CX + 25, 'exhaust')];
  const foot = DECK + throwPx * 2 + crown + 24;
  piston.append(svg('rect', { class: 'steel ink', x: left + 1, y: 0, width: BORE - 2, height: crown + 22 }), ...[8, 14, 20].map((y) => svg('line', { class: 'ring', x1: left, x2: right, y1: y, y2: y })), svg('circle', { class: 'paper ink', cx: CX, cy: crown, r: 6 }));
  root.append(gas, head(left, right), walls(left, right, foot), svg('circle', { class: 'none ink', cx: CX, cy: axis, r: throwPx + 10 }), svg('circle', { class: 'tint ink', cx: CX, cy: axis, r: 9 }),
    piston, throwLine, rodLine, pin, ...valves.map((v) => v.el), svg('path', { class: 'hose', d: `M${CX} ${DECK - 44} V28 C${CX} 12 ${CX + 30} 10 ${CX + 60} 10 H252` }), svg('rect', { class: 'steel ink', x: CX - 6, y: DECK - 46, width: 12, height: 36 }), leaks);
  const move = (i) => {
    const deg = (seen.deg[i] * Math.PI) / 180;
    const y = DECK + seen.travel[i] * throwPx * 2;
    piston.setAttribute('transform', `translate(0 ${y.toFixed(1)})`);
    gas.setAttribute('y', DECK - 12);
    gas.setAttribute('height', Math.max(1, y - DECK + 12).toFixed(1));
    gas.setAttribute('opacity', (0.18 + (0.82 * (seen.pressure_pa[i] - seen.ambient_pa)) / Math.max(seen.sound_peak_pa, 1)).toFixed(2));
    const px = CX + throwPx * Math.sin(deg);
    const py = axis - throwPx * Math.cos(deg);
    set(rodLine, { x1: CX, y1: y + crown, x2: px, y2: py });
    set(throwLine, { x1: CX, y1: axis, x2: px, y2: py });
    set(pin, { cx: px, cy: py });
    valves[0].lift(seen.intake_mm[i] * mm);
    valves[1].lift(seen.exhaust_mm[i] * mm);
    leaks.replaceChildren(...paths.flatMap((path, k) => arrows(path, seen.flows_g_s[k][i], { left, right, y })));
  };
  return { el: root, move };
}

function set(el, attrs) {
  for (const name in attrs) el.setAttribute(name, typeof attrs[name] === 'number' ? attrs[name].toFixed(1) : attrs[name]);
}

function head(left, right) {
  const g = svg('g');
  g.append(svg('path', { class: 'tint ink', d: `M${left - 22} ${DECK} V46 H${right + 22} V${DECK} H${right} V${DECK - 12} H${left} V${DECK} Z` }));
  for (const [x, out] of [[CX - 25, -1], [CX + 25, 1]]) {
    const edge = CX + out * (BORE / 2 + 22);
    g.append(svg('path', { class: 'paper ink', d: `M${x - 12} ${DECK - 12} C${x - 12} ${DECK - 34} ${x + out * 14} ${DECK - 46} ${edge} ${DECK - 48} V${DECK - 26} C${x + out * 26} ${DECK - 28} ${x + 12} ${DECK - 24} ${x + 12} ${DECK - 12} Z` }));
  }
  return g;
}

function walls(left, right, foot) {
  const g = svg('g');
  for (const [x, w] of [[left - 22, 22], [right, 22]]) {
    g.append(svg('rect', { class: 'tint2 ink', x, y: DECK, width: w, height: foot - DECK }),
      svg('rect', { class: 'jacket', x: x + 6, y: DECK + 9, width: w - 12, height: (foot - DECK) * 0.6, rx: 5 })); // coolant
  }
  g.append(svg('line', { class: 'stroke-strong', x1: left - 22, x2: left, y1: DECK, y2: DECK }), svg('line', { class: 'stroke-strong', x1: right, x2: right + 22, y1: DECK, y2: DECK }));
  return g;
}

function valve(x, name) {
  const g = svg('g', { class: `valve-${name}` });
  g.append(svg('line', { class: 'stem', x1: x, x2: x, y1: 30, y2: DECK - 12 }), svg('path', { class: 'valve', d: `M${x - 15} ${DECK - 9} L${x - 9} ${DECK - 15} H${x + 9} L${x + 15} ${DECK - 9} Z` }));
  return { el: g, lift: (px) => g.setAttribute('transform', `translate(0 ${px.toFixed(1)})`) };
}

// Where a flow leaves the cylinder, and which way out is.
const ways = {
  rings: ({ left, right, y }) => [[left + 3, y + 10, 90], [right - 3, y + 10, 90]],
  intake: () => [[CX - 44, DECK - 37, 190]],
  exhaust: () => [[CX + 44, DECK - 37, -10]],
  gasket: ({ left }) => [[left, DECK, 180]], // into the neighbor's bore
  coolant: ({ right }) => [[right, DECK + 3, 55]], // into the jacket
  outside: ({ right }) => [[right, DECK, 0]], // past the wall
};

/** An arrow on the path of a flow, the way it goes; the more flows, the longer and stouter. */
function arrows(path, flow, at) {
  if (Math.abs(flow) < FEW) return [];
  const size = Math.min(1, Math.sqrt(Math.abs(flow) / MUCH));
  const long = { coolant: 14, rings: 8, gasket: 12, outside: 20 }[path] ?? 10;
  const length = long + 22 * size;
  const tip = 4 + 3 * size;
  const d = `M0 0 H${(length - 2).toFixed(1)} M${(length - tip).toFixed(1)} ${-tip.toFixed(1)} L${length.toFixed(1)} 0 L${(length - tip).toFixed(1)} ${tip.toFixed(1)}`;
  return ways[path](at).map(([x, y, turn]) => svg('path', { class: 'leak-arrow', 'data-path': path, d, 'stroke-width': (1.8 + 2.2 * size).toFixed(1),
    transform: `translate(${x} ${y.toFixed(1)}) rotate(${turn})${flow < 0 ? ` translate(${length.toFixed(1)} 0) scale(-1 1)` : ''}` }));
}
