// Controls and instruments of each confirming test.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number } from './format.js';
import { trim, vacuumUnit, fromVacuum } from './units.js';
import { row, toggle, button, cylinderButtons, amountOf, amountField, turnRow, cost, throttleRow, timedRow } from './controls.js';
import { handPanels } from './testhands.js';
import { testerPicture, vacuumPicture } from './instruments.js';
import { drawStrip } from './paper.js';
import * as core from './core.js';

const places = ['throttle', 'tailpipe', 'oil_filler', 'coolant_neck', 'gasket_edge'];
const usualAir = { psi: 100, kPa: 700, bar: 7 };
const kPa = { psi: 6.894757293168361, kPa: 1, bar: 100 };

function leakage(app, s) {
  const { unit } = app.state;
  const air = { kind: 'air', choice: 'on', number: () => amountOf(app, `air-${unit}`, usualAir[unit]) * kPa[unit] };
  return [
    turnRow(app, s),
    row(t('row.tester'), cylinderButtons(app, 'tester-on', (c) => s.tester === c, (c) => ({ kind: 'tester-on', cylinder: c }), (c) => s.plug(c).state === 'in'),
      cost(app, 'tester-on'), button(app, 'tester-off', { kind: 'tester-off' }, !s.tester)),
    row(t('row.air'), amountField(app, 'air', usualAir[unit], unit, 0, 10, `air-${unit}`),
      h('button', { type: 'button', key: 'on', 'data-act': 'air.on', 'aria-pressed': s.air > 0 ? 'true' : null, onclick: () => app.bench.act({ ...air, number: air.number() }) }, t('do.air.on')),
      h('button', { type: 'button', key: 'off', 'data-act': 'air.off', class: s.air ? '' : 'idle', onclick: () => app.bench.act({ kind: 'air', choice: 'off' }) }, t('do.air.off'))),
    face(app, 'tester', `tester-${app.state.lang}`, () => testerPicture({ label: t('tester.label'), supply: t('tester.supply'), lost: t('tester.lost') })),
    words(app, 'tester'),
    listenRow(app, s),
    heardList(app),
  ];
}

function listenRow(app, s) {
  const listen = (choice, cylinder) => app.bench.act({ kind: 'listen', choice, ...(cylinder ? { cylinder } : {}) });
  const n = app.state.view.scenario.engine.cylinders;
  return row(t('row.listen'),
    places.map((place) => h('button', { type: 'button', key: place, 'data-act': 'listen', 'data-choice': place, class: s.air ? '' : 'idle', onclick: () => listen(place) }, t(`listen.${place}`))),
    h('span', { class: 'cylinders', key: 'holes', role: 'group', 'aria-label': t('listen.plug_hole') },
      h('span', { class: 'mute', 'aria-hidden': 'true' }, t('listen.plug_hole')),
      Array.from({ length: n }, (_, i) => i + 1).filter((c) => c !== s.tester).map((c) => h('button', {
        type: 'button', key: c, 'data-act': 'listen', 'data-choice': 'plug_hole', 'data-cylinder': c, class: s.air && s.plug(c).state !== 'in' ? '' : 'idle',
        'aria-label': t('listen.hole_of', { cylinder: c }), onclick: () => listen('plug_hole', c) }, String(c)))),
    cost(app, 'listen'));
}

/** What was heard of the air that is on, place by place. */
function heardList(app) {
  const { heard } = app.state.view.tests;
  if (!heard.length) return null;
  return h('ul', { class: 'heard-list', key: 'heard' }, heard.map((x, i) => h('li', { key: i },
    h('span', null, x.cylinder ? t('listen.hole_of', { cylinder: x.cylinder }) : t(`listen.${x.place}`)),
    h('b', null, t(x.air ? (x.place === 'coolant_neck' ? 'heard.bubbles' : 'heard.air') : 'heard.nothing')))));
}

/** An instrument's face. */
function face(app, name, key, make) {
  return h('div', { class: 'face', key: `face-${key}`, own: true, ref: (el) => {
    const picture = make();
    el.replaceChildren(picture.el);
    app.show(`face-${name}`, { move: picture.set });
  } });
}

/** Asks for an instrument in words. */
function words(app, what) {
  const said = app.state.said[what];
  return h('div', { class: 'row asked', key: `words-${what}` },
    h('button', { type: 'button', 'data-act': `words.${what}`, onclick: () => app.bench.say(what) }, t(`words.${what}`)),
    said && typeof said === 'string' && h('p', { class: 'words', key: 'said', 'data-said': what }, said));
}

function current(app, s) {
  return [
    row(t('row.tool'), toggle(app, 'clamp', s.clamp)),
    timedRow(app, s),
    comparing(app),
    paper(app),
  ];
}

/** Whether the humps of this engine can be compared at all, and which with which. */
function comparing(app) {
  const { how, groups } = app.state.view.tests.compare;
  if (!how) return null;
  return h('p', { class: 'notice', key: 'comparing', 'data-compare': how }, t(`strip.compare.${how}`, { groups: groups.map((g) => g.join('-')).join(', ') }));
}

/** The strip of paper with its range and its words. */
function paper(app) {
  const { view, isWhole } = app.state;
  const points = view.tests.strip;
  if (!points) return h('p', { class: 'mute', key: 'blank' }, t('strip.blank'));
  const order = (view.scenario.engine.firing_order ?? []).join('-');
  const key = `strip-${view.runs}-${points}-${isWhole}-${app.state.lang}`;
  return h('figure', { class: 'strip-figure', key: 'strip' },
    h('div', { class: 'strip-roll', key, own: true, tabindex: '0', role: 'group', 'aria-label': t('strip.label'), ref: (el) => unroll(el, isWhole) }),
    h('figcaption', { class: 'mute' }, t('strip.order', { order })),
    h('div', { class: 'row asked' },
      h('button', { type: 'button', class: 'toggle', 'data-act': 'strip-whole', 'aria-pressed': String(Boolean(isWhole)), onclick: () => app.set({ isWhole: !isWhole }) }, t('strip.whole')),
      h('button', { type: 'button', 'data-act': 'words.clamp', onclick: () => app.bench.say('clamp') }, t('words.clamp'))),
    stripWords(app));
}

function unroll(el, isWhole) {
  const strip = core.strip();
  if (!strip) return;
  el.replaceChildren(drawStrip(strip, { label: t('strip.picture', { seconds: number(strip.amps.length / strip.rate, 1) }), isWhole }));
  requestAnimationFrame(() => { el.scrollLeft = isWhole ? 0 : 230; });
}

function stripWords(app) {
  const said = app.state.said.clamp;
  if (!said) return null;
  if (!said.humps.length) return h('p', { class: 'words', key: 'said', 'data-said': 'clamp' }, t('strip.none'));
  return h('table', { class: 'readings plain-table', key: 'said', 'data-said': 'clamp' },
    h('caption', null, t('strip.said', { inrush: number(said.inrush_a), mean: number(said.mean_a) })),
    h('thead', null, h('tr', null, h('th', { scope: 'col' }, t('column.cylinder')), h('th', { scope: 'col' }, t('column.hump_a')))),
    said.tower > 0 && h('tfoot', null, h('tr', null, h('td', { colspan: 2 }, t('strip.tower', { cylinder: said.tower })))),
    h('tbody', null, said.humps.map((x) => h('tr', { key: x.cylinder }, h('th', { scope: 'row' }, x.cylinder), h('td', null, number(x.height_a))))));
}

function vacuum(app, s) {
  return [
    row(t('row.tool'), toggle(app, 'vacuum-gauge', s.vacuum)),
    throttleRow(app, s),
    timedRow(app, s),
    face(app, 'vacuum', `vacuum-${app.state.system}-${app.state.lang}`, () => vacuumPicture(t('vacuum.label'))),
    words(app, 'vacuum'),
  ];
}

/** What an instrument says when it is asked, for one who can't see it. */
export function saidText(what, answer) {
  const division = what === 'tester' ? 2 : vacuumUnit() === 'kPa' ? 2 : 0.5;
  const value = what === 'tester' ? answer.value : fromVacuum(answer.value);
  const unit = what === 'tester' ? '%' : vacuumUnit();
  const low = Math.floor(value / division + 1e-6) * division;
  const text = (x) => `${trim(x, 1)} ${unit}`;
  const key = value - low < division / 4 ? 'on' : low + division - value < division / 4 ? 'next' : 'between';
  return key === 'between' ? t('said.between', { low: text(low), high: text(low + division) }) : t('said.on', { value: text(key === 'on' ? low : low + division) });
}

/** Panels by test. */
export const panels = { ...handPanels, leakage, current, vacuum };
