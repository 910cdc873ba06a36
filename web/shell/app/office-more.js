// The rest of a job: the day, the tools, the procedure card, what the student is told,
// and how it is to be worked.

import { h } from './dom.js';
import { t } from './i18n.js';
import { choose, numberField, textField, tick, ticks } from './office-fields.js';
import { change, choices, draft } from './office-draft.js';
import { edit } from './office-faults.js';

const field = (app, id, key, at, name, lo, hi, unit = '', more = {}) => numberField(app, {
  id, label: t(key), value: at(draft.file)[name], lo, hi, unit, ...more, set: (v) => change(app, (file) => { at(file)[name] = v; }),
});

/** The day, and how the engine came in. */
export function day(app) {
  const { file } = draft;
  const of = (f) => f.conditions;
  const put = (work) => change(app, work);
  return [h('div', { class: 'office-grid', key: 'day' },
    field(app, 'day-ambient', 'office.day.ambient', of, 'ambient_c', -35, 50, '°C'),
    field(app, 'day-coolant', 'office.day.coolant', of, 'coolant_c', -35, 115, '°C'),
    field(app, 'day-air', 'office.day.air', of, 'ambient_kpa', 50, 110, 'kPa'),
    field(app, 'day-charge', 'office.day.charge', (f) => f.battery, 'charge', 0, 1),
    choose('day-gear', t('office.day.gear'), file.conditions.gear, ['park', 'neutral', 'drive'].map((g) => [g, t(`gear.${g}`)]), (v) => put((f) => { f.conditions.gear = v; }))),
  tick('day-nostart', t('office.day.nostart'), file.conditions.no_start === true, (on) => put((f) => {
    if (on) f.conditions.no_start = true;
    else delete f.conditions.no_start;
  })),
  h('h4', { key: 'method' }, t('office.method')), h('p', { class: 'mute', key: 'method-hint' }, t('office.method.hint')),
  tick('method-throttle', t('office.method.throttle'), file.method?.throttle === 'shut', (on) => edit(app, (f) => methodOf(f, on, f.method?.plugs === 'in'))),
  tick('method-plugs', t('office.method.plugs'), file.method?.plugs === 'in', (on) => edit(app, (f) => methodOf(f, f.method?.throttle === 'shut', on)))];
}

function methodOf(file, shut, inside) {
  if (shut || inside) file.method = { throttle: shut ? 'shut' : 'open', plugs: inside ? 'in' : 'out' };
  else delete file.method;
}

/** The tray: each gauge with its own errors, the adapters. */
export function tools(app) {
  return [h('p', { class: 'mute', key: 'hint' }, t('office.tools.hint')),
    draft.file.tools.gauges.map((g, i) => h('fieldset', { key: g.id, class: 'office-tool' }, h('legend', null, t('office.tools.gauge', { id: g.id })),
      h('div', { class: 'office-grid' }, [
        ['range_psi', 60, 1000, 'psi'], ['graduation_psi', 0.5, 50, 'psi'], ['zero_error_psi', -20, 20, 'psi'], ['span_error_percent', -10, 10, '%'], ['friction_psi', 0, 10, 'psi'],
      ].map(([name, lo, hi, unit]) => field(app, `gauge-${i}-${name}`, `office.tools.${name}`, (f) => f.tools.gauges[i], name, lo, hi, unit))))),
    h('fieldset', { key: 'adapters', class: 'office-tool' }, h('legend', null, t('office.tools.adapters')),
      draft.file.tools.adapters.map((a, i) => h('div', { key: a.id, class: 'office-grid' },
        field(app, `adapter-${i}-reach`, 'office.tools.reach', (f) => f.tools.adapters[i], 'reach_mm', 6, 40, 'mm'),
        tick(`adapter-${i}-ring`, t('office.tools.ring', { id: a.id }), a.o_ring, (on) => change(app, (f) => { f.tools.adapters[i].o_ring = on; })))))];
}

/** The procedure card, with the limits of the page the student has to find. */
export function card(app) {
  const { card: c } = draft.file;
  const of = (f) => f.card;
  const put = (name, v) => change(app, (f) => {
    f.card[name] = v;
    if (!f.card.lash_check) delete f.card.lash; // what can't be measured isn't asked for
  });
  const limit = (name, hi) => numberField(app, {
    id: `card-${name}`, label: t(`office.card.${name}`), value: c.limits[name], lo: 0, hi, unit: 'kPa', pressure: true,
    set: (v) => change(app, (f) => {
      const kPa = Math.round(v * 10) / 10;
      f.card.limits[name] = kPa;
      f.spec_pages.find((p) => p.id === f.right_page)[name] = kPa; // what the student looks up
    }),
  });
  return [h('p', { class: 'mute', key: 'hint' }, t('office.card.hint')),
    h('div', { class: 'office-grid', key: 'numbers' },
      field(app, 'card-coolant-min', 'office.card.coolant_min', of, 'coolant_min_c', -40, 130, '°C'), field(app, 'card-coolant-max', 'office.card.coolant_max', of, 'coolant_max_c', -40, 140, '°C'),
      field(app, 'card-strokes-min', 'office.card.strokes_min', of, 'strokes_min', 1, 30, '', { whole: true }), field(app, 'card-strokes-max', 'office.card.strokes_max', of, 'strokes_max', 1, 30, '', { whole: true }),
      field(app, 'card-oil', 'office.card.oil', of, 'oil_ml', 0, 50, 'ml'), limit('standard_kpa', 3000), limit('minimum_kpa', 3000), limit('difference_kpa', 1000),
      choose('card-rule', t('office.card.rule'), c.limits.rule, choices.list.rules.map((r) => [r, t(`limit.${r}`)]), (v) => change(app, (f) => { f.card.limits.rule = v; delete f.card.limits.ratio_min; })),
      choose('card-switch', t('office.card.switch'), c.switch, ['remote', 'key', 'either'].map((s) => [s, t(`office.switch.${s}`)]), (v) => put('switch', v))),
    h('div', { class: 'row', key: 'ticks' }, ['fuel_disable', 'ignition_disable', 'throttle_open', 'plugs_out', 'charger', 'lash_check'].map((name) => tick(`card-${name}`, t(`office.card.${name}`), c[name] === true, (on) => put(name, on))))];
}

/** What the customer says, in both languages. */
export function texts(app) {
  const { file } = draft;
  const one = (name, most, rows) => ['en', 'es'].map((lang) => textField(`text-${name}-${lang}`, t(`office.text.${name}.${lang}`), file[name][lang], most, (v) => change(app, (f) => {
    if (v) f[name][lang] = v;
    else delete f[name][lang];
  }), rows));
  return [h('p', { class: 'mute', key: 'hint' }, t('office.text.hint')), one('title', 80, 1), one('complaint', 1200, 3), one('history', 1200, 3)];
}

const usualWeights = { prepare: 20, measure: 25, record: 15, choose: 15, conclude: 25 };

/** How it is to be worked: ways of working, tests, help, points, time. */
export function work(app) {
  const w = draft.file.work ?? {};
  const { modes, tests, hide } = choices.list;
  const put = (name, value) => change(app, (f) => {
    const next = { ...f.work };
    if (value === null) delete next[name];
    else next[name] = value;
    if (Object.keys(next).length > 0) f.work = next;
    else delete f.work;
  }, true);
  const some = (list, all) => (list.length === all.length ? null : list);
  return [
    ticks('work-modes', t('office.work.modes'), modes.map((m) => [m, t(`mode.${m}`)]), w.modes ?? modes, (v) => put('modes', v.length === 0 ? null : some(v, modes))),
    ticks('work-tests', t('office.work.tests'), tests.map((x) => [x, t(`test.${x}`)]), w.tests ?? tests, (v) => put('tests', some(v, tests))),
    ticks('work-show', t('office.work.show'), hide.map((x) => [x, t(`office.show.${x}`)]), hide.filter((x) => !(w.hide ?? []).includes(x)), (v) => put('hide', v.length === hide.length ? null : hide.filter((x) => !v.includes(x)))),
    h('p', { class: 'mute', key: 'grade' }, t('office.work.grade')),
    tick('work-limit', t('office.work.limit'), w.minutes > 0, (on) => put('minutes', on ? 90 : null)),
    w.minutes > 0 && numberField(app, { id: 'work-minutes', label: t('office.work.minutes'), value: w.minutes, lo: 1, hi: 1440, unit: 'min', set: (v) => put('minutes', v) }),
    tick('work-weigh', t('office.work.weigh'), w.weights !== undefined, (on) => put('weights', on ? usualWeights : null)),
    w.weights && h('div', { class: 'office-grid', key: 'weights' }, Object.keys(usualWeights).map((row) => numberField(app, {
      id: `weight-${row}`, label: t(`row.grade.${row}`), value: w.weights[row], lo: 0, hi: 1000, unit: t('office.points'), set: (v) => put('weights', { ...w.weights, [row]: v }),
    })))];
}
