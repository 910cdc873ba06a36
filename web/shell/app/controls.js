// The controls that panels are made of: a named row, a toggle, a button with what
// it costs, an amount, a button for each cylinder.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number, toolText } from './format.js';
import { parseNumber, spoons } from './units.js';

/** A named group of controls. */
export function row(name, ...kids) {
  return keyedRow(name, name, ...kids);
}

function keyedRow(key, name, ...kids) {
  return h('div', { class: 'row', role: 'group', 'aria-label': name, key },
    h('span', { class: 'row-name', 'aria-hidden': 'true' }, name), h('span', { class: 'row-acts' }, kids));
}

// Actions of the confirming tests: what they cost is said before they are done.
const weighed = new Set(['tester-on', 'tester-off', 'listen', 'clamp', 'vacuum-gauge', 'disable-one', 'engine-run', 'lash-check', 'set-lash', 'timing-check',
  'borescope', 'cooling-pressure', 'coolant-watch', 'power-balance', 'turn-by-hand', 'plug-look', 'plug-in']);

let isWeighing = false;

/** Builds what shows the costs of its actions. */
export function weighing(build) {
  isWeighing = true;
  try {
    return build();
  } finally {
    isWeighing = false;
  }
}

/** Bench minutes of an action of the confirming tests, 0 for none. */
function minutesOf(app, kind) {
  return isWeighing && weighed.has(kind) ? app.state.view.tests.costs[kind] ?? 0 : 0;
}

/** Bench minutes of an action as its button says them; nothing for none. */
export function cost(app, kind) {
  const minutes = minutesOf(app, kind);
  return minutes ? h('small', { class: 'cost', key: 'cost' }, ` ${t('time.minutes', { m: number(minutes, 1) })}`) : null;
}

/** A button whose pressed state is a state of the bench; putting it on may cost time. */
export function toggle(app, kind, isOn, on = 'on', off = 'off') {
  return h('button', { type: 'button', class: 'toggle', 'aria-pressed': String(isOn), 'data-act': kind, key: kind,
    onclick: () => app.bench.act({ kind, choice: isOn ? off : on }) }, t(`do.${kind}`), !isOn && cost(app, kind));
}

/** Something that is done once and then has been done. */
export function once(app, kind, isDone) {
  return h('button', { type: 'button', class: 'toggle', 'data-act': kind, 'aria-pressed': String(isDone), key: kind,
    onclick: () => app.bench.act({ kind }) }, t(`do.${kind}`), cost(app, kind));
}

/** A plain button. */
export function button(app, key, action, isIdle = false) {
  return h('button', { type: 'button', class: isIdle ? 'idle' : '', 'data-act': key, key, onclick: () => app.bench.act(action) },
    t(`do.${key}`), cost(app, action.kind));
}

/** One of a few, side by side. */
export function pickOne(app, kind, current, choices) {
  return h('span', { class: 'segments', role: 'group', key: kind, 'aria-label': t(`do.${kind}`) },
    choices.map((choice) => h('button', { type: 'button', key: choice, 'data-act': `${kind}.${choice}`, 'aria-pressed': String(current === choice),
      onclick: () => current !== choice && app.bench.act({ kind, choice }) }, t(`${kind}.${choice}`))));
}

/** A number and the button that uses it. */
export function amount(app, kind, usual, unit, lo, hi) {
  return h('span', { class: 'amount', key: kind },
    amountField(app, kind, usual, unit, lo, hi),
    h('button', { type: 'button', 'data-act': kind, onclick: () => app.bench.act({ kind, number: amountOf(app, kind, usual) }) }, t(`do.${kind}`)));
}

/** A number for an action, with its unit; name tells apart what has several units. */
export function amountField(app, kind, usual, unit, lo, hi, name = kind) {
  return h('label', { class: 'inline amount-field', key: `field-${name}` }, h('span', { class: 'hidden' }, t('amount', { what: t(`do.${kind}`), unit })),
    h('input', { type: 'text', inputmode: 'decimal', name: `amount-${kind}`, value: app.state.amounts[name] ?? String(usual), size: 4, 'data-lo': lo, 'data-hi': hi,
      onchange: (e) => { app.state.amounts[name] = e.target.value; app.redraw(); } }), h('span', { 'aria-hidden': 'true' }, unit));
}

/** What stands in an amount field; -1 for no number, of which the bench says what is wrong. */
export function amountOf(app, name, usual) {
  const value = parseNumber(app.state.amounts[name] ?? String(usual));
  return Number.isFinite(value) ? value : -1;
}

/** A row with a button for each cylinder. */
export function cylinderRow(app, kind, isDone, action, isIdle) {
  const each = minutesOf(app, kind);
  const name = each ? t('row.costs', { what: t(`do.${kind}`), time: t('time.minutes', { m: number(each, 1) }) }) : t(`do.${kind}`);
  return keyedRow(kind, name, cylinderButtons(app, kind, isDone, action, isIdle));
}

/** A button for each cylinder. */
export function cylinderButtons(app, kind, isDone, action, isIdle = () => false, note = () => '') {
  const n = app.state.view.scenario.engine.cylinders;
  return h('span', { class: 'cylinders', key: `of-${kind}` }, Array.from({ length: n }, (_, i) => i + 1).map((c) => h('button', {
    type: 'button', key: c, class: isIdle(c) ? 'idle' : '', 'data-act': kind, 'data-cylinder': c,
    'aria-pressed': isDone(c) ? 'true' : null, 'aria-label': t('do.on', { what: t(`do.${kind}`), cylinder: c }),
    onclick: () => { app.state.touched = c; app.bench.act(action(c)); },
  }, String(c), note(c) && h('small', null, note(c)))));
}

/** A row with one button for each tool of a kind. Another gauge has to be fetched. */
export function tray(app, kind, current, tools) {
  const fetched = (tool) => kind === 'gauge' && current && tool.id !== current && app.state.view.scenario.card.minutes?.second_gauge;
  return row(t(`do.${kind}`),
    tools.map((tool) => h('button', { type: 'button', key: tool.id, class: 'toggle', 'data-act': kind, 'data-choice': tool.id, 'aria-pressed': String(current === tool.id),
      onclick: () => app.bench.act({ kind, choice: tool.id }) }, toolText(tool),
      fetched(tool) && h('small', { class: 'cost', key: 'cost' }, ` ${t('time.minutes', { m: number(fetched(tool), 1) })}`))));
}

/** Where the crank is turned to by hand, and the wrench that this leaves on its bolt. */
export function turnRow(app, s) {
  const stop = app.state.stop;
  return row(t('do.turn-by-hand'),
    h('label', { class: 'inline' }, h('span', { class: 'hidden' }, t('turn.where')),
      h('select', { value: stop, name: 'stop', onchange: (e) => app.set({ stop: e.target.value }) },
        ['bdc', 'tdc', 'overlap'].map((c) => h('option', { value: c, selected: c === stop }, t(`turn.${c}`))))),
    cylinderButtons(app, 'turn-by-hand', () => false, (c) => ({ kind: 'turn-by-hand', cylinder: c, choice: stop })), toggle(app, 'wrench', s.wrench));
}

/** The throttle held open or let go. */
export function throttleRow(app, s) {
  return row(t('row.throttle'), pickOne(app, 'throttle', s.throttle, ['open', 'pedal', 'shut']));
}

/** Oil into a cylinder. */
export function oilRow(app, s) {
  return row(t('do.oil'),
    amountField(app, 'oil', 10, 'ml', 0, 50), h('span', { class: 'mute small', key: 'spoons', 'data-out': 'spoons' }, amountOf(app, 'oil', 10) > 0 && t('oil.spoons', { spoons: spoons(amountOf(app, 'oil', 10)) })),
    cylinderButtons(app, 'oil', () => false, (c) => ({ kind: 'oil', cylinder: c, number: amountOf(app, 'oil', 10) }),
      (c) => s.plug(c).state !== 'out', (c) => (s.oil(c) ? t('oil.in', { ml: number(s.oil(c), 1) }) : '')));
}

/** Cranking for long enough, by one press. */
export function timedRow(app, s) {
  return row(t('row.crank'), h('button', { type: 'button', 'data-act': 'crank-5', class: s.starter ? 'lit' : '', onclick: () => app.bench.timed(5) }, t('crank.timed', { n: 5 })));
}
