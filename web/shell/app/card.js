// The procedure card of an engine: what it asks for, what its tests cost, what to
// mind. The Bay shows it beside the work, and it is printed with the job sheet.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number, temperature, torque, oil, toolText, gapText } from './format.js';
import { showPa } from './units.js';
import { groups, costOf } from './tests.js';

/** Cautions that belong to every card; the reasons say more than the warnings. */
export const cautions = ['no_glasses', 'belts_unchecked', 'not_blocked', 'fuel_live', 'ignition_live', 'throttle_before_disabled', 'hot_engine', 'hot_cap',
  'wrench_left_on', 'tester_under_air', 'much_oil', 'starter_hot'];

/** The card's part of the job sheet: marks of the student's own, then what it asks for. */
export function card(app, view) {
  const ticks = new Set(view.sheet?.ticks ?? []);
  return h('section', null, h('h3', null, t('sheet.card')),
    h('ul', { class: 'card' }, (view.scenario.card.items ?? []).map((id) => h('li', { key: id }, h('label', null,
      h('input', { type: 'checkbox', 'data-tick': id, checked: ticks.has(id),
        onchange: (e) => app.bench.act({ kind: 'card-tick', choice: id, number: e.target.checked ? 1 : 0 }) }),
      h('span', null, t(`card.${id}`)))))),
    pairs(asks(view)),
    h('details', { class: 'card-more', key: 'costs' }, h('summary', null, t('card.costs')), pairs(testCosts(app))),
    h('details', { class: 'card-more', key: 'mind' }, h('summary', null, t('card.mind')), cautionList()),
    h('p', { class: 'row', key: 'print' }, h('button', { type: 'button', 'data-act': 'print', onclick: () => print() }, t('card.print'))));
}

/** Names and what stands beside them. */
export function pairs(list) {
  return h('dl', { class: 'asks' }, list.map(([key, name, value]) => h('div', { key }, h('dt', null, name), h('dd', null, value))));
}

/** The cautions in a list. */
export function cautionList() {
  return h('ul', { class: 'card-mind' }, cautions.map((key) => h('li', { key }, t(`caution.${key}.why`))));
}

/** What each confirming test costs: [key, name, cost]. */
export function testCosts(app) {
  return groups.flatMap(([, tests]) => tests).map((test) => [test, t(`test.${test}`), costOf(app, test)]);
}

/** What the card of this engine asks for: [key, name, figure]. */
export function asks(view) {
  const { card: c, engine } = view.scenario;
  const yes = (is, key) => t(is ? `asks.${key}.yes` : `asks.${key}.no`);
  const { lash } = view.tests;
  return [
    ['coolant', t('asks.range', { low: temperature(c.coolant_min_c), high: temperature(c.coolant_max_c) })],
    c.fuel_disable === c.ignition_disable ? ['disable', yes(c.fuel_disable, 'disable')] : ['disable', t(c.fuel_disable ? 'asks.disable.fuel' : 'asks.disable.ignition')],
    ['switch', engine.key ? t(`asks.key.${engine.key}`) : c.switch === 'either' ? t('asks.either') : t(`switch.${c.switch}`)],
    ['throttle', t(`throttle.${!c.throttle_open ? 'shut' : c.throttle_by === 'pedal' ? 'pedal' : 'open'}`)],
    ['plugs', yes(c.plugs_out, 'plugs')],
    ['strokes', t('asks.range', { low: c.strokes_min, high: c.strokes_max })],
    ['oil', c.oil_ml ? t('asks.oil.amount', { amount: oil(c.oil_ml), low: number(c.oil_ml_min, 1), high: number(c.oil_ml_max, 1) }) : t('asks.oil.none')],
    ['charger', yes(c.charger, 'charger')],
    ['thread', toolText(c)],
    ['torque', torque(c.plug_torque_nm)],
    engine.threads_max_c > 0 && ['threads', t('asks.threads.why')],
    ['lash', lash ? t('asks.lash.gap', { intake: gapText(lash.intake_mm), exhaust: gapText(lash.exhaust_mm), within: gapText(lash.within_mm) }) : t('asks.lash.none')],
    ['limits', limitsText(c.limits)],
  ].filter(Boolean).map(([key, value]) => [key, t(`asks.${key}`), value]);
}

/** The limits once a page was looked up, with the rule that applies them. */
function limitsText(limits) {
  if (!limits) return t('asks.limits.none');
  const figures = ['standard', 'minimum', 'difference'].filter((k) => limits[`${k}_kpa`])
    .map((k) => `${t(`spec.${k}`)} ${number(limits[`${k}_kpa`])} kPa (${showPa(limits[`${k}_kpa`] * 1000, 'psi', 0)} psi)`);
  return [...figures, t(`limit.${limits.rule}`)].join('; ');
}
