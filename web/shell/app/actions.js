// What the hands can do, grouped as the work goes. Nothing is locked: an
// impossible act is refused by the bench with its reason; what makes no sense
// at the moment is only drawn fainter.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number, toolText } from './format.js';
import { parseNumber, spoons } from './units.js';

/** Stages of the work, in order. */
export const stages = ['safe', 'open', 'gauge', 'crank', 'back'];

/** The panels of all stages; the chosen one is shown. */
export function stagePanels(app, s) {
  const build = { safe, open, gauge, crank, back };
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

function throttleRow(app, s) {
  return row(t('row.throttle'), pickOne(app, 'throttle', s.throttle, ['open', 'pedal', 'shut']));
}

function turnRow(app, s) {
  const stop = app.state.stop;
  return row(t('do.turn-by-hand'),
    h('label', { class: 'inline' }, h('span', { class: 'hidden' }, t('turn.where')),
      h('select', { value: stop, name: 'stop', onchange: (e) => app.set({ stop: e.target.value }) },
        ['bdc', 'tdc'].map((c) => h('option', { value: c, selected: c === stop }, t(`turn.${c}`))))),
    cylinderButtons(app, 'turn-by-hand', () => false, (c) => ({ kind: 'turn-by-hand', cylinder: c, choice: stop })), toggle(app, 'wrench', s.wrench));
}

function oilRow(app, s) {
  return row(t('do.oil'),
    amountField(app, 'oil', 10, 'ml', 0, 50), h('span', { class: 'mute small', key: 'spoons', 'data-out': 'spoons' }, amountOf(app, 'oil', 10) > 0 && t('oil.spoons', { spoons: spoons(amountOf(app, 'oil', 10)) })),
    cylinderButtons(app, 'oil', () => false, (c) => ({ kind: 'oil', cylinder: c, number: amountOf(app, 'oil', 10) }),
      (c) => s.plug(c).state !== 'out', (c) => (s.oil(c) ? t('oil.in', { ml: number(s.oil(c), 1) }) : '')));
}

function row(name, ...kids) {
  return h('div', { class: 'row', role: 'group', 'aria-label': name, key: name },
    h('span', { class: 'row-name', 'aria-hidden': 'true' }, name), h('span', { class: 'row-acts' }, kids));
}

/** A button whose pressed state is a state of the bench. */
function toggle(app, kind, isOn, on = 'on', off = 'off') {
  return h('button', { type: 'button', class: 'toggle', 'aria-pressed': String(isOn), 'data-act': kind, key: kind,
    onclick: () => app.bench.act({ kind, choice: isOn ? off : on }) }, t(`do.${kind}`));
}

/** Something that is done once and then has been done. */
function once(app, kind, isDone) {
  return h('button', { type: 'button', class: 'toggle', 'data-act': kind, 'aria-pressed': String(isDone), key: kind,
    onclick: () => app.bench.act({ kind }) }, t(`do.${kind}`));
}

function button(app, key, action, isIdle = false) {
  return h('button', { type: 'button', class: isIdle ? 'idle' : '', 'data-act': key, key, onclick: () => app.bench.act(action) }, t(`do.${key}`));
}

function pickOne(app, kind, current, choices) {
  return h('span', { class: 'segments', role: 'group', key: kind, 'aria-label': t(`do.${kind}`) },
    choices.map((choice) => h('button', { type: 'button', key: choice, 'data-act': `${kind}.${choice}`, 'aria-pressed': String(current === choice),
      onclick: () => current !== choice && app.bench.act({ kind, choice }) }, t(`${kind}.${choice}`))));
}

function amount(app, kind, usual, unit, lo, hi) {
  return h('span', { class: 'amount', key: kind },
    amountField(app, kind, usual, unit, lo, hi),
    h('button', { type: 'button', 'data-act': kind, onclick: () => app.bench.act({ kind, number: amountOf(app, kind, usual) }) }, t(`do.${kind}`)));
}

function amountField(app, kind, usual, unit, lo, hi) {
  return h('label', { class: 'inline amount-field' }, h('span', { class: 'hidden' }, t('amount', { what: t(`do.${kind}`), unit })),
    h('input', { type: 'text', inputmode: 'decimal', name: `amount-${kind}`, value: app.state.amounts[kind] ?? String(usual), size: 4, 'data-lo': lo, 'data-hi': hi,
      onchange: (e) => { app.state.amounts[kind] = e.target.value; app.redraw(); } }), h('span', { 'aria-hidden': 'true' }, unit));
}

function amountOf(app, kind, usual) {
  const value = parseNumber(app.state.amounts[kind] ?? String(usual));
  return Number.isFinite(value) ? value : -1; // the bench says what is wrong with it
}

function cylinderRow(app, kind, isDone, action, isIdle) {
  return row(t(`do.${kind}`), cylinderButtons(app, kind, isDone, action, isIdle));
}

function cylinderButtons(app, kind, isDone, action, isIdle = () => false, note = () => '') {
  const n = app.state.view.scenario.engine.cylinders;
  return h('span', { class: 'cylinders' }, Array.from({ length: n }, (_, i) => i + 1).map((c) => h('button', {
    type: 'button', key: c, class: isIdle(c) ? 'idle' : '', 'data-act': kind, 'data-cylinder': c,
    'aria-pressed': isDone(c) ? 'true' : null, 'aria-label': t('do.on', { what: t(`do.${kind}`), cylinder: c }),
    onclick: () => { app.state.touched = c; app.bench.act(action(c)); },
  }, String(c), note(c) && h('small', null, note(c)))));
}

function tray(app, kind, current, tools) {
  return row(t(`do.${kind}`),
    tools.map((tool) => h('button', { type: 'button', key: tool.id, class: 'toggle', 'data-act': kind, 'data-choice': tool.id, 'aria-pressed': String(current === tool.id),
      onclick: () => app.bench.act({ kind, choice: tool.id }) }, toolText(tool))));
}
