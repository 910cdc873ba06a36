// What the hands can do, grouped as the work goes. Nothing is locked: an
// impossible act is refused by the bench with its reason; what makes no sense
// at the moment is only drawn fainter.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number } from './format.js';
import { row, toggle, once, button, pickOne, amount, cylinderRow, tray, turnRow, oilRow, throttleRow } from './controls.js';
import { tests } from './testbench.js';

/** Stages of the work, in order. */
export const stages = ['safe', 'open', 'gauge', 'crank', 'tests', 'back'];

/** The panels of all stages; the chosen one is shown. */
export function stagePanels(app, s) {
  const build = { safe, open, gauge, crank, tests, back };
  return stages.map((id) => h('div', { class: 'stage', role: 'tabpanel', id: `stage-${id}`, 'aria-labelledby': `tab-${id}`, key: id, hidden: app.state.stage !== id },
    build[id](app, s)));
}

function safe(app, s) {
  return [
    row(t('row.body'), toggle(app, 'glasses', s.glasses), once(app, 'belts-check', s.belts), once(app, 'fluids-check', s.fluids)),
    row(t('row.car'), pickOne(app, 'gear', s.gear, ['park', 'neutral', 'drive']), toggle(app, 'brake', s.brake), toggle(app, 'chocks', s.chocks)),
    row(t('row.spark'), toggle(app, 'fuel', s.fuel === 'disabled', 'disabled', 'enabled'),
      toggle(app, 'ignition', s.ignition === 'disabled', 'disabled', 'enabled'), toggle(app, 'charger', s.charger)),
    row(t('row.heat'), amount(app, 'warm-up', 10, t('unit.min'), 1, 30), amount(app, 'cool-down', 30, t('unit.min'), 1, 240)),
  ];
}

function open(app, s) {
  const order = app.state.order;
  return [
    row(t('row.wells'), once(app, 'wells-blow', s.wells)),
    row(t('row.order'),
      ['ordered', 'loose'].map((o) => h('label', { class: 'inline', key: o },
        h('input', { type: 'radio', name: 'order', checked: order === o, onchange: () => app.set({ order: o }) }), t(`order.${o}`)))),
    cylinderRow(app, 'plug-out', (c) => s.plug(c).state !== 'in', (c) => ({ kind: 'plug-out', cylinder: c, choice: order })),
    cylinderRow(app, 'plug-look', () => false, (c) => ({ kind: 'plug-look', cylinder: c }), (c) => s.plug(c).state === 'in'),
    throttleRow(app, s),
  ];
}

function gauge(app, s) {
  const { scenario } = app.state.view;
  const inHand = s.plugs.some((p) => p.state !== 'in');
  const plug = scenario.engine.plug;
  return [
    plug && inHand && h('p', { class: 'mute', key: 'plug' }, t('plug.thread', { thread: number(plug.thread_mm, 1), reach: number(plug.reach_mm, 1) })),
    tray(app, 'adapter', s.adapter, scenario.adapters ?? []),
    tray(app, 'gauge', s.gauge, scenario.gauges ?? []),
    row(t('row.prove'), button(app, 'gauge-prove', { kind: 'gauge-prove' })),
    cylinderRow(app, 'hose-on', (c) => s.plug(c).state === 'gauge', (c) => ({ kind: 'hose-on', cylinder: c }), (c) => s.plug(c).state === 'in'),
    row(t('row.hose'), button(app, 'hose-off', { kind: 'hose-off' }, !s.hose), button(app, 'release', { kind: 'release' }, !s.hose)),
  ];
}

function crank(app, s) {
  return [
    row(t('row.switch'), pickOne(app, 'switch', s.switch, ['remote', 'key'])),
    throttleRow(app, s),
    row(t('row.meters'), toggle(app, 'voltmeter', s.voltmeter), toggle(app, 'tachometer', s.tachometer)),
    turnRow(app, s),
    oilRow(app, s),
    row(t('row.wait'), amount(app, 'wait', 5, t('unit.min'), 1, 60)),
    app.state.view.mode === 'alone' && row(t('row.help'), button(app, 'section', { kind: 'section' }), button(app, 'hint', { kind: 'hint' })),
  ];
}

function back(app, s) {
  const { fit } = app.state;
  return [
    row(t('row.fit'),
      ['hand', 'wrench'].map((f) => h('label', { class: 'inline', key: f },
        h('input', { type: 'radio', name: 'fit', checked: fit === f, onchange: () => app.set({ fit: f }) }), t(`fit.${f}`)))),
    cylinderRow(app, 'plug-in', (c) => s.plug(c).state === 'in', (c) => ({ kind: 'plug-in', cylinder: c, choice: fit }), (c) => s.plug(c).state === 'gauge'),
    row(t('row.tighten'), button(app, 'plug-torque', { kind: 'plug-torque' }), button(app, 'plug-leads-on', { kind: 'plug-leads-on' })),
    row(t('row.reconnect'), button(app, 'throttle.shut', { kind: 'throttle', choice: 'shut' }, s.throttle === 'shut'),
      button(app, 'ignition.enabled', { kind: 'ignition', choice: 'enabled' }, s.ignition === 'enabled'),
      button(app, 'fuel.enabled', { kind: 'fuel', choice: 'enabled' }, s.fuel === 'enabled')),
    row(t('row.finish'), button(app, 'engine-start', { kind: 'engine-start' }), button(app, 'codes-clear', { kind: 'codes-clear' })),
  ];
}
