// Confirming tests that are done with hands and eyes: the same test again, plugs,
// borescope, feelers, marks, the cooling system, the running engine.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number, pressure, gapText, lashText } from './format.js';
import { boreView, plugView, lashView, marksView, neckView, balanceView } from './looks.js';
import { coolingPicture } from './instruments.js';
import { fromMm, toMm, gapUnit, gapDigits } from './units.js';
import { row, toggle, button, cylinderRow, cylinderButtons, amountField, amountOf, cost, tray, turnRow, oilRow, timedRow } from './controls.js';

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

/** What one kind of look has found, the last of each cylinder: [cylinder, facts]. */
function finds(app, kind) {
  const of = new Map();
  for (const f of app.state.view.tests.found.filter((x) => x.kind === kind)) {
    const last = of.get(f.cylinder);
    of.set(f.cylinder, last && last[0].tick === f.tick && !last.some((x) => x.key === f.key) ? [...last, f] : [f]);
  }
  return [...of].sort((a, b) => a[0] - b[0]);
}

/** One drawing with its words under it. */
function figure(key, make, ...words) {
  return h('figure', { class: `look-figure ${key.split('-')[0]}-figure`, key }, h('div', { own: true, key, ref: (el) => el.replaceChildren(make()) }), h('figcaption', null, words));
}

function coolingPressure(app) {
  const last = finds(app, 'cooling-pressure').at(-1)?.[1][0];
  return [row(t('row.tool'), button(app, 'cooling-pressure', { kind: 'cooling-pressure' })), last && coolingDials(app, last.number)];
}

function coolingDials(app, perMinute) {
  const { start_pa: start, minutes } = app.state.view.tests.cooling;
  const { unit, lang, said } = app.state;
  const after = start - perMinute * minutes;
  return h('div', { class: 'looks', key: 'cooling' },
    [[start, t('cooling.start')], [after, t('cooling.after', { n: minutes })]].map(([pa, name], i) => figure(`dial-${i}-${pa}-${unit}-${lang}`, () => coolingPicture(pa, unit, name), name)),
    h('div', { class: 'row asked' }, h('button', { type: 'button', 'data-act': 'words.cooling', onclick: () => app.put('cooling', t('cooling.said', { start: pressure(start, unit), after: pressure(after, unit), n: minutes })) }, t('needle.words')),
      said.cooling && h('p', { class: 'words', 'data-said': 'cooling' }, said.cooling)));
}

function bubbles(app, s) {
  const last = finds(app, 'coolant-watch').at(-1)?.[1][0];
  return [row(t('row.tool'), toggle(app, 'coolant-watch', s.neck)), timedRow(app, s),
    last && figure(`neck-${last.key}-${app.state.lang}`, () => neckView(last.key === 'bubbles_cranked', t(`fact.${last.key}`)), t(`fact.${last.key}`))];
}

function powerBalance(app) {
  const { balance } = app.state.view.tests;
  return [row(t('row.engine'), button(app, 'power-balance', { kind: 'power-balance' })), balance && balanceTable(app, balance)];
}

function balanceTable(app, { rpm, without }) {
  const show = (value) => (value ? number(value) : t('balance.died'));
  return h('div', { class: 'looks', key: 'balance' },
    h('table', { class: 'readings plain-table' }, h('caption', null, t('balance.title')),
      h('thead', null, h('tr', null, h('th', { scope: 'col' }, t('column.off')), h('th', { scope: 'col' }, t('column.rpm')))),
      h('tbody', null, h('tr', { key: 0 }, h('th', { scope: 'row' }, '–'), h('td', null, show(rpm))),
        without.map((value, i) => h('tr', { key: i + 1 }, h('th', { scope: 'row' }, i + 1), h('td', null, show(value)))))),
    figure(`balance-${without.join()}-${app.state.lang}`, () => balanceView(rpm, without, t('balance.title'))));
}

function running(app, s) {
  const { bench } = app;
  return [
    cylinderRow(app, 'disable-one', (c) => s.disabled === c, (c) => ({ kind: 'disable-one', cylinder: c, choice: s.disabled === c ? 'enabled' : 'disabled' })),
    cylinderRow(app, 'hose-on', (c) => s.plug(c).state === 'gauge', (c) => ({ kind: 'hose-on', cylinder: c }), (c) => s.plug(c).state === 'in'),
    row(t('row.engine'), toggle(app, 'engine-run', s.running), button(app, 'snap', { kind: 'snap' }, !s.running), button(app, 'release', { kind: 'release' }, !s.hose)),
    row(t('row.read'), h('button', { type: 'button', 'data-act': 'words', onclick: bench.words }, t('needle.words'))),
    app.state.words && h('p', { class: 'words', key: 'words' }, app.state.words),
    app.state.view.tests.compare.release && h('p', { class: 'notice', key: 'released' }, t('running.released')),
  ];
}

function plugLook(app, s) {
  return [
    cylinderRow(app, 'plug-out', (c) => s.plug(c).state !== 'in', (c) => ({ kind: 'plug-out', cylinder: c, choice: app.state.order })),
    cylinderRow(app, 'plug-look', () => false, (c) => ({ kind: 'plug-look', cylinder: c }), (c) => s.plug(c).state === 'in'),
    h('div', { class: 'looks', key: 'plugs' }, finds(app, 'plug-look').map(([c, [f]]) => figure(`plug-${c}-${f.key}-${app.state.lang}`, () => plugView(f.key, t(`fact.${f.key}`, { cylinder: c })), t(`fact.${f.key}`, { cylinder: c })))),
  ];
}

function borescope(app, s) {
  return [
    cylinderRow(app, 'borescope', () => false, (c) => ({ kind: 'borescope', cylinder: c }), (c) => s.plug(c).state !== 'out'),
    h('div', { class: 'looks', key: 'bores' }, finds(app, 'borescope').map(([c, facts]) => {
      const words = facts.map((f) => t(`fact.${f.key}`, { cylinder: c })).join(' ');
      return figure(`bore-${c}-${facts.map((f) => f.key).join()}-${app.state.lang}`, () => boreView(facts.map((f) => f.key), words), words);
    })),
    h('p', { class: 'mute small', key: 'blind' }, t('bore.blind')),
  ];
}

function lash(app) {
  const { lash: asked } = app.state.view.tests;
  return [
    asked && h('p', { key: 'asked' }, t('lash.asked', { intake: gapText(asked.intake_mm), exhaust: gapText(asked.exhaust_mm), within: gapText(asked.within_mm) })),
    cylinderRow(app, 'lash-check', () => false, (c) => ({ kind: 'lash-check', cylinder: c })),
    h('div', { class: 'looks', key: 'gaps' }, finds(app, 'lash-check').map(([c, facts]) => {
      const words = facts.map((f) => lashText(f)).join(' ');
      const valves = facts.map((f) => ({ name: t(f.key.startsWith('lash_intake') ? 'column.lash_intake' : 'column.lash_exhaust'), gap: f.key.endsWith('_none') ? '' : gapText(f.number),
        kind: f.key.endsWith('_none') ? 'none' : f.key.endsWith('_wide') ? 'wide' : 'drags' }));
      return figure(`lash-${c}-${facts.map((f) => `${f.key}${f.number}`).join()}-${app.state.lang}-${app.state.system}`, () => lashView(valves, words), words);
    })),
    setLashRow(app, asked),
    setList(app),
  ];
}

/** Sets one kind of valve of a cylinder to what stands in the field, covers off. */
function setLashRow(app, asked) {
  if (!asked) return null;
  const valve = app.state.valve ?? 'exhaust';
  const name = `set-lash-${valve}-${gapUnit()}`;
  const usual = fromMm(valve === 'intake' ? asked.intake_mm : asked.exhaust_mm).toFixed(gapDigits());
  const mm = () => Math.round(toMm(amountOf(app, name, usual)) * 100) / 100;
  const { found, set } = app.state.view.tests;
  const isCovered = !set.length && !found.some((f) => f.kind === 'lash-check');
  return row(t('row.set-lash'),
    h('label', { class: 'inline' }, h('span', { class: 'hidden' }, t('lash.which')),
      h('select', { value: valve, name: 'valve', onchange: (e) => app.set({ valve: e.target.value }) },
        ['intake', 'exhaust'].map((v) => h('option', { value: v, selected: v === valve }, t(`valve.${v}`))))),
    amountField(app, 'set-lash', usual, gapUnit(), 0, 1, name),
    cylinderButtons(app, 'set-lash', (c) => set.some((x) => x.cylinder === c && x.valve === valve),
      (c) => ({ kind: 'set-lash', cylinder: c, choice: valve, number: mm() }), () => isCovered),
    cost(app, 'set-lash'));
}

/** What was set so far. */
function setList(app) {
  const { set } = app.state.view.tests;
  if (!set.length) return null;
  return h('div', { key: 'settings', class: 'settings', 'data-out': 'lash-set' },
    h('ul', null, set.map((x) => h('li', { key: `${x.cylinder}${x.valve}` }, t('lash.set', { cylinder: x.cylinder, valve: t(`valve.${x.valve}`), gap: gapText(x.mm) })))),
    h('p', { class: 'mute small' }, t('lash.after')));
}

function timingMarks(app) {
  const seen = app.state.view.tests.found.filter((f) => f.kind === 'timing-check');
  return [row(t('row.tool'), button(app, 'timing-check', { kind: 'timing-check' })), seen.length > 0 && marks(app, seen)];
}

/** Every cam wheel of the engine with its mark; teeth are counted, not told. */
function marks(app, seen) {
  const { engine } = app.state.view.scenario;
  const { teeth } = app.state.view.tests;
  const tick = seen.at(-1).tick;
  const offOf = (cam, bank) => {
    const f = seen.find((x) => x.tick === tick && x.key.startsWith(`timing_${cam}_`) && (engine.cams === 'block' || bank.includes(x.cylinder)));
    return f ? (f.key.endsWith('_late') ? f.number : -f.number) : 0;
  };
  const banks = engine.cams === 'block' ? engine.banks.slice(0, 1) : engine.banks;
  const several = banks.length > 1;
  return h('div', { class: 'looks', key: 'marks' }, banks.map((bank, i) => {
    const cams = (engine.cams === 'twin' ? ['intake', 'exhaust'] : ['intake']).map((cam) => ({ cam, off: offOf(cam, bank), name: engine.cams === 'twin' ? t(`cam.${cam}`) : t('cam.one') }));
    const words = cams.map(({ name, off }) => t(off > 0 ? 'cam.behind' : off < 0 ? 'cam.ahead' : 'cam.right', { cam: name, n: number(Math.abs(off), 1) })).join(' ');
    return figure(`marks-${i}-${cams.map((c) => c.off).join()}-${app.state.lang}`, () => marksView(cams, teeth, words), several && t('bank', { bank: i + 1 }), ' ', t('cam.wheel', { n: teeth }));
  }));
}

/** Panels by test. */
export const handPanels = {
  repeat, second_gauge: secondGauge, refit, wet, cooling_pressure: coolingPressure, bubbles, power_balance: powerBalance, running, plug_look: plugLook, borescope, lash,
  timing_marks: timingMarks,
};
