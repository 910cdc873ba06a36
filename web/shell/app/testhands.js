// Confirming tests that are done with hands and eyes: the same test again, plugs,
// borescope, feelers, marks, the cooling system, the running engine.

import { h } from './dom.js';
import { t } from './i18n.js';
import { row, toggle, button, cylinderRow, tray, turnRow, oilRow, timedRow } from './controls.js';

function hoseRows(app, s) {
  return [
    cylinderRow(app, 'hose-on', (c) => s.plug(c).state === 'gauge', (c) => ({ kind: 'hose-on', cylinder: c }), (c) => s.plug(c).state === 'in'),
    turnRow(app, s),
  ];
}

function repeat(app, s) {
  return hoseRows(app, s);
}

function secondGauge(app, s) {
  return [tray(app, 'gauge', s.gauge, app.state.view.scenario.gauges ?? []), row(t('row.prove'), button(app, 'gauge-prove', { kind: 'gauge-prove' })), hoseRows(app, s)];
}

function refit(app, s) {
  return [
    cylinderRow(app, 'plug-in', (c) => s.plug(c).state === 'in', (c) => ({ kind: 'plug-in', cylinder: c, choice: app.state.fit }), (c) => s.plug(c).state === 'gauge'),
    hoseRows(app, s),
    cylinderRow(app, 'plug-out', (c) => s.plug(c).state !== 'in', (c) => ({ kind: 'plug-out', cylinder: c, choice: app.state.order })),
  ];
}

function wet(app, s) {
  return [oilRow(app, s), hoseRows(app, s)];
}

function coolingPressure(app) {
  return row(t('row.tool'), button(app, 'cooling-pressure', { kind: 'cooling-pressure' }));
}

function bubbles(app, s) {
  return [row(t('row.tool'), toggle(app, 'coolant-watch', s.neck)), timedRow(app, s)];
}

function running(app, s) {
  const { bench } = app;
  return [
    cylinderRow(app, 'disable-one', (c) => s.disabled === c, (c) => ({ kind: 'disable-one', cylinder: c, choice: s.disabled === c ? 'enabled' : 'disabled' })),
    cylinderRow(app, 'hose-on', (c) => s.plug(c).state === 'gauge', (c) => ({ kind: 'hose-on', cylinder: c }), (c) => s.plug(c).state === 'in'),
    row(t('row.engine'), toggle(app, 'engine-run', s.running), button(app, 'snap', { kind: 'snap' }, !s.running), button(app, 'release', { kind: 'release' }, !s.hose)),
    row(t('row.read'), h('button', { type: 'button', 'data-act': 'words', onclick: bench.words }, t('needle.words'))),
    app.state.words && h('p', { class: 'words', key: 'words' }, app.state.words),
  ];
}

function plugLook(app, s) {
  return [
    cylinderRow(app, 'plug-out', (c) => s.plug(c).state !== 'in', (c) => ({ kind: 'plug-out', cylinder: c, choice: app.state.order })),
    cylinderRow(app, 'plug-look', () => false, (c) => ({ kind: 'plug-look', cylinder: c }), (c) => s.plug(c).state === 'in'),
  ];
}

function borescope(app, s) {
  return cylinderRow(app, 'borescope', () => false, (c) => ({ kind: 'borescope', cylinder: c }), (c) => s.plug(c).state !== 'out');
}

function lash(app) {
  return cylinderRow(app, 'lash-check', () => false, (c) => ({ kind: 'lash-check', cylinder: c }));
}

function timingMarks(app) {
  return row(t('row.tool'), button(app, 'timing-check', { kind: 'timing-check' }));
}

/** Panels by test. */
export const handPanels = {
  repeat, second_gauge: secondGauge, refit, wet, cooling_pressure: coolingPressure, bubbles, running, plug_look: plugLook, borescope, lash, timing_marks: timingMarks,
};
