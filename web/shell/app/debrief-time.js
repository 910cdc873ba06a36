// Every cranking with the needle's trace, and the attempt step by step.

import { h, svg } from './dom.js';
import { t, tFirst, has } from './i18n.js';
import { toolText, duration, pressure, number, oil } from './format.js';
import { showPa, paPer } from './units.js';
import { grid } from './debrief-part.js';

const TRACE_SECONDS = 1 / 60; // between two places of a trace
const TICKS = 1200; // of a second

/** The part about the crankings. */
export function cranks(app, { runs }) {
  const list = runs.filter((r) => r.cylinder > 0 && r.trace.length > 0);
  if (list.length === 0) return h('p', { key: 'none' }, t('debrief.cranks.none'));
  const seconds = Math.max(...list.map((r) => r.trace.length)) * TRACE_SECONDS;
  const top = Math.max(...list.flatMap((r) => r.trace), 1e5);
  return h('div', { class: 'cranks', key: `cranks ${app.state.unit}` }, list.map((r) => crank(app, r, seconds, top)));
}

function crank(app, r, seconds, top) {
  const { unit } = app.state;
  const last = r.strokes[r.strokes.length - 1];
  const full = r.strokes.filter((s) => s.full).length;
  const facts = [t('debrief.when', { time: duration(r.minutes) }), t('debrief.cranks.strokes', { n: full }), `${number(r.rpm)} rpm`, r.oil_ml > 0 && oil(r.oil_ml), !r.throttle_open && t('throttle.shut').toLowerCase()].filter(Boolean);
  return h('figure', { class: 'crank', key: r.id, 'data-run': r.id },
    h('figcaption', null, h('b', null, t(r.oil_ml > 0 ? 'effect.on.wet' : 'effect.on.dry', { cylinder: r.cylinder })), last && `: ${pressure(last.shown_pa, unit)}`, h('span', { class: 'mute small block' }, facts.join(' · '))),
    h('div', { own: true, ref: (el) => el.append(trace(r, seconds, top, unit)) }),
    h('details', { class: 'folded' }, h('summary', null, t('debrief.cranks.table')),
      grid(null, ['stroke', 'time', 'dial', 'hose'].map((c) => t(`debrief.column.${c}`)), r.strokes.map((s, i) => [
        s.full ? i + 1 : t('debrief.cranks.part', { n: i + 1 }), `${number((s.tick - r.tick) / TICKS, 1)} s`, showPa(s.shown_pa, unit), showPa(s.true_pa, unit)]), { label: t('debrief.cranks.table') })));
}

const W = 320;
const H = 124;
const EDGE = { left: 34, right: 6, top: 22, bottom: 20 };

/** The needle over time; a ring at every stroke that could be read, a gap in it for a part stroke. */
function trace(r, seconds, top, unit) {
  const x = (s) => EDGE.left + ((W - EDGE.left - EDGE.right) * s) / seconds;
  const y = (pa) => H - EDGE.bottom - ((H - EDGE.top - EDGE.bottom) * pa) / top;
  const root = svg('svg', { viewBox: `0 0 ${W} ${H}`, class: 'trace', 'aria-hidden': 'true', focusable: 'false' });
  const step = { psi: 50, kPa: 400, bar: 4 }[unit] * paPer(unit);
  for (let pa = 0; pa <= top; pa += step) root.append(svg('line', { class: 'grid-fine', x1: EDGE.left, x2: W - EDGE.right, y1: y(pa), y2: y(pa) }), svg('text', { class: 'grid-text end', x: EDGE.left - 4, y: y(pa) + 4 }, showPa(pa, unit, 0)));
  root.append(svg('text', { class: 'grid-text end', x: EDGE.left - 4, y: 12 }, unit));
  for (let s = 0; s <= seconds; s += seconds > 12 ? 5 : 2) root.append(svg('text', { class: 'grid-text', x: x(s), y: H - 4 }, `${s} s`));
  const points = r.trace.map((pa, i) => `${x((i + 1) * TRACE_SECONDS).toFixed(1)},${y(pa).toFixed(1)}`);
  root.append(svg('polyline', { class: 'trace-line', points: points.join(' ') }));
  for (const s of r.strokes) root.append(svg('circle', { class: s.full ? 'stroke-dot' : 'stroke-dot part', cx: x((s.tick - r.tick) / TICKS), cy: y(s.shown_pa), r: 3 }));
  return root;
}

/** The part with the attempt step by step. */
export function timeline(app, result) {
  const list = (result.timeline ?? []).filter((e) => e.kind !== 'stroke');
  return h('details', { class: 'timeline', key: 'timeline' }, h('summary', null, t('debrief.timeline', { n: list.length })),
    h('ol', { tabindex: '0' }, list.map((e, i) => h('li', { key: i, class: isWarning(e) ? 'missed' : '' }, h('span', { class: 'when' }, duration(e.minutes)), ' ', h('span', null, eventText(app, e))))));
}

function isWarning(e) {
  return ['caution', 'hazard'].includes(e.kind);
}

function eventText(app, e) {
  const { kind, choice = '', cylinder = 0 } = e;
  if (isWarning(e) || kind === 'fact') return `${t(`notice.${kind}`)} ${t(`${kind}.${choice}`, { cylinder })}`;
  const what = tFirst([`event.${kind}.${choice}`, `event.${kind}`, `do.${kind}.${choice}`, `do.${kind}`, kind]);
  const detail = [choice && !has(`event.${kind}.${choice}`) && !has(`do.${kind}.${choice}`) ? choiceText(app, kind, choice) : '', cylinder > 0 ? t('cylinder', { cylinder }) : ''].filter(Boolean);
  return detail.length ? `${what}: ${detail.join(', ')}` : what;
}

function choiceText(app, kind, choice) {
  const { scenario } = app.state.view;
  const tool = [...(scenario.adapters ?? []), ...(scenario.gauges ?? [])].find((x) => x.id === choice);
  if (tool) return toolText(tool);
  const page = (scenario.pages ?? []).find((p) => p.id === choice);
  if (page) return t('spec.page', { code: page.engine_code });
  for (const root of [kind, 'family', 'next', 'evidence', 'sure', 'card', 'field', 'word', 'order', 'turn', 'fit']) if (has(`${root}.${choice}`)) return t(`${root}.${choice}`, { unit: '' });
  return choice;
}
