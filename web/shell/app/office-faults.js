// What is wrong with the job's engine and tools, and the answer that goes with it.

import { h } from './dom.js';
import { t } from './i18n.js';
import { choose, slider, tick, ticks } from './office-fields.js';
import { change, choices, draft, kindOf } from './office-draft.js';

// Kinds in the order of the list of the second program, by what they are of.
const groups = [
  ['valves', ['exhaust_seat_leak', 'intake_seat_leak', 'bent_valve', 'exhaust_lash', 'intake_lash', 'weak_spring', 'intake_lift', 'exhaust_lift', 'cam_timing', 'stuck_phaser', 'release_cam', 'interference']],
  ['pistons', ['worn_rings', 'stuck_ring', 'broken_ring', 'broken_land', 'scored_bore', 'holed_piston', 'dry_bore', 'washed_bore']],
  ['head', ['gasket_between', 'gasket_to_coolant', 'gasket_to_outside', 'cracked_head', 'carbon', 'carbon_flake', 'liquid_in_cylinder']],
  ['cranking', ['weak_battery', 'discharged_battery', 'cold', 'cable_resistance', 'ground_resistance', 'dragging_starter', 'tight_engine', 'thick_oil']],
  ['air', ['restricted_exhaust', 'restricted_intake', 'vacuum_leak', 'altitude']],
  ['tools', ['tip_valve_leak', 'tip_valve_at_gauge_end', 'release_leak', 'missing_o_ring', 'wrong_reach', 'zero_error', 'span_error', 'sticky_needle']],
];

// How bad a fault is when it is new [unit of the file]: plain to see, not yet absurd.
const usual = {
  area_mm2: 2, gap_mm: 0.3, lash_mm: -0.4, share: 0.4, teeth_late: 1, wheel_teeth: 40, deg_late: 20, recess_mm: 3, lift_mm: 0.6, from_deg: -150,
  to_deg: -60, below_rpm: 600, depth_mm: 0.15, width_mm: 10, diameter_mm: 4, volume_ml: 6, charge: 0.5, age_factor: 3, ambient_c: -15,
  resistance_mohm: 8, drag_nm: 1, friction_kpa: 150, kv40_mm2_s: 220, kv100_mm2_s: 22, altitude_m: 2000, reach_mm: 12.7, error_psi: 8, error_percent: -8, friction_psi: 8,
};

const special = { restricted_exhaust: { area_mm2: 60 }, restricted_intake: { area_mm2: 60 }, liquid_in_cylinder: { volume_ml: 20 }, exhaust_lift: { share: 0 }, intake_lift: { share: 0.05 }, vacuum_leak: { area_mm2: 40 } };

/** A new fault of a kind, on a place that this engine has. */
function newFault(file, kind, before = {}) {
  const k = kindOf(kind);
  const f = { kind };
  if (k.of === 'cylinder' || k.of === 'cylinders') f.cylinder = before.cylinder ?? before.cylinders?.[0] ?? Math.min(2, file.engine.cylinders);
  if (k.of === 'neighbours') f.cylinders = pairs(file)[0] ?? [1, 2];
  if (k.of === 'cams') Object.assign(f, { cam: file.engine.cams === 'twin' ? 'intake' : 'both', bank: 0 });
  if (k.of === 'gauge') f.gauge = file.tools.gauges[0].id;
  if (k.of === 'adapter') f.adapter = (fitting(file)[0] ?? file.tools.adapters[0]).id;
  if (k.which) f[k.which] = k.choice[0];
  for (const n of k.numbers) f[n.name] = Math.min(n.hi, Math.max(n.lo, special[kind]?.[n.name] ?? usual[n.name] ?? n.lo));
  return f;
}

const fitting = (file) => file.tools.adapters.filter((a) => a.reach_mm === file.engine.plug.reach_mm && a.thread_mm === file.engine.plug.thread_mm);

/** Neighbours in one bank, front to rear. */
function pairs(file) {
  return file.engine.banks.flatMap((bank) => bank.slice(1).map((c, i) => [bank[i], c]));
}

/** Whether an engine can have a fault at all. */
const possible = (file, kind) => kind !== 'gasket_between' || pairs(file).length > 0;

/** Where a fault sits, as a list of cylinders; none is the whole engine. */
function placeOf(file, f) {
  if (f.cylinders) return f.cylinders;
  if (f.cylinder) return [f.cylinder];
  return f.bank ? file.engine.banks[f.bank - 1] : [];
}

/** The answer that goes with the faults: of the first that tells, with all places of its family. */
function answerOf(file) {
  const told = file.faults.map((f) => ({ f, answer: kindOf(f.kind).answer })).filter((x) => x.answer.family !== 'sound');
  const method = { 'shut out': 'throttle_shut', 'shut in': 'throttle_shut', 'open in': 'plugs_in' }[`${file.method?.throttle} ${file.method?.plugs}`];
  if (told.length === 0) {
    return { family: 'sound', cylinders: [], ...(method && { accept: [{ family: 'method_or_gauge' }], next_tests: ['none', 'repeat', ...(method === 'throttle_shut' ? ['open_throttle'] : [])], method_fault: method }) };
  }
  const { family, next_tests: tests, accept = [], method_fault: fault } = told[0].answer;
  const places = told.filter((x) => x.answer.family === family).map((x) => placeOf(file, x.f));
  const all = places.some((p) => p.length === 0) ? [] : [...new Set(places.flat())].sort((a, b) => a - b);
  const good = accept.filter((f) => (f === 'sound' ? told.every((x) => x.answer.family === family) : file.card.lash_check)).map((f) => ({ family: f, ...(f !== 'sound' && all.length > 0 && { cylinders: all }) }));
  const over = method ?? fault;
  return { family, cylinders: all, ...(good.length > 0 && { accept: good }), ...(tests.length > 0 && { next_tests: tests }), ...(over && { method_fault: over }) };
}

/** Changes faults, or how the engine came in; the answer goes along unless the author wants another. */
export function edit(app, work, moved = null) {
  change(app, (file) => {
    work(file);
    if (!draft.follows) return;
    if (moved && file.faults.length === 1) move(file.key, moved);
    else file.key = answerOf(file);
  });
}

/** The answer moves with the only fault; what else counts as right moves too. */
function move(key, { from, to }) {
  const go = (list) => list?.map((c) => (c === from ? to : c)).sort((a, b) => a - b);
  key.cylinders = go(key.cylinders);
  for (const a of key.accept ?? []) a.cylinders = go(a.cylinders);
}

/** The faults, each with its place and its sliders. */
export function faults(app) {
  const { file } = draft;
  return [h('ol', { class: 'office-faults', key: 'faults' }, file.faults.map((f, i) => fault(app, file, f, i))),
    file.faults.length === 0 && h('p', { class: 'mute', key: 'none' }, t('fault.none')),
    file.faults.length < 16 && h('div', { class: 'office-take', key: 'add' },
      h('div', { class: 'field' }, h('label', { for: 'fault-add' }, t('office.faults.add')),
        h('select', { id: 'fault-add', name: 'fault-add', value: next.kind, onchange: (e) => { next.kind = e.target.value; app.redraw(); } },
          h('option', { value: '', key: 'none', selected: next.kind === '' }, t('office.faults.choose')), kindOptions(file, next.kind))),
      h('button', { type: 'button', 'data-act': 'fault-add', disabled: !next.kind, 'aria-label': t('office.faults.add'), onclick: () => add(app) }, t('office.add')))];
}

const next = { kind: '' }; // of the fault that is to be added

function add(app) {
  const { kind } = next;
  next.kind = '';
  edit(app, (file) => file.faults.push(newFault(file, kind)));
  queueMicrotask(() => document.getElementById(`fault-${draft.file.faults.length - 1}-kind`)?.focus());
}

const kindText = (kind) => t(kind === 'cam_timing' ? 'office.faults.cams' : `fault.${kind}`);

function kindOptions(file, chosen = '') {
  return groups.map(([group, kinds]) => h('optgroup', { key: group, label: t(`office.kinds.${group}`) },
    kinds.filter((k) => choices.list.kinds.some((x) => x.kind === k) && possible(file, k)).map((k) => h('option', { key: k, value: k, selected: k === chosen }, kindText(k)))));
}

function fault(app, file, f, i) {
  const id = `fault-${i}`;
  const k = kindOf(f.kind);
  return h('li', { key: `${i}`, class: 'office-fault', 'data-fault': f.kind },
    h('fieldset', null, h('legend', null, t('office.faults.n', { n: i + 1 })),
      h('div', { class: 'office-grid' },
        h('div', { class: 'field', key: 'kind' }, h('label', { for: `${id}-kind` }, t('office.faults.kind')),
          h('select', { id: `${id}-kind`, name: `${id}-kind`, value: f.kind, onchange: (e) => edit(app, (x) => { x.faults[i] = newFault(x, e.target.value, f); }) }, kindOptions(file, f.kind))),
        place(app, file, f, i, k),
        k.which && choose(`${id}-which`, t('office.faults.which'), f[k.which], k.choice.map((c) => [c, t(`office.which.${c}`)]), (v) => edit(app, (x) => { x.faults[i][k.which] = v; }, { from: 0, to: 0 }))),
      k.numbers.map((n) => slider(app, {
        id: `${id}-${n.name}`, label: t(`office.number.${n.name}`), value: f[n.name], lo: n.lo, hi: n.hi, unit: n.unit, whole: n.whole,
        set: (v) => change(app, (x) => { x.faults[i][n.name] = v; }),
      })),
      h('button', { type: 'button', class: 'plain', 'data-act': 'fault-off', 'aria-label': t('office.faults.off.n', { n: i + 1 }), onclick: () => edit(app, (x) => x.faults.splice(i, 1)) }, t('office.faults.off'))));
}

function place(app, file, f, i, k) {
  const id = `fault-${i}-place`;
  const n = file.engine.cylinders;
  const to = (work, moved) => edit(app, (x) => work(x.faults[i]), moved);
  const one = Array.from({ length: n }, (_, c) => [String(c + 1), String(c + 1)]);
  if (k.of === 'cylinder' || k.of === 'cylinders') {
    const all = k.of === 'cylinders' ? [['0', t('office.faults.all')], ...one] : one;
    return choose(id, t('office.cylinder'), String(f.cylinder ?? 0), all, (v) => to((x) => {
      if (v === '0') delete x.cylinder;
      else x.cylinder = Number(v);
    }, f.cylinder && v !== '0' ? { from: f.cylinder, to: Number(v) } : null));
  }
  if (k.of === 'neighbours') return choose(id, t('office.faults.pair'), f.cylinders.join('-'), pairs(file).map((p) => [p.join('-'), p.join(' – ')]), (v) => to((x) => { x.cylinders = v.split('-').map(Number); }));
  if (k.of === 'gauge') return choose(id, t('office.faults.tool'), f.gauge, file.tools.gauges.map((g) => [g.id, g.id]), (v) => to((x) => { x.gauge = v; }));
  if (k.of === 'adapter') return choose(id, t('office.faults.tool'), f.adapter, file.tools.adapters.map((a) => [a.id, a.id]), (v) => to((x) => { x.adapter = v; }));
  return k.of === 'cams' ? cams(id, file, f, to) : null;
}

function cams(id, file, f, to) {
  const { cams: kind, banks } = file.engine;
  return [kind === 'twin' && choose(`${id}-cam`, t('office.faults.cam'), f.cam, ['intake', 'exhaust', 'both'].map((c) => [c, t(`office.which.${c}`)]), (v) => to((x) => { x.cam = v; })),
    kind !== 'block' && banks.length > 1 && choose(`${id}-bank`, t('office.faults.bank'), String(f.bank), [['0', t('office.faults.banks')], ...banks.map((b, i) => [String(i + 1), `${i + 1} (${b.join(', ')})`])], (v) => to((x) => { x.bank = Number(v); }))];
}

/** The answer that the grade is made by. */
export function answer(app) {
  const { key, engine } = draft.file;
  const list = Array.from({ length: engine.cylinders }, (_, c) => [c + 1, String(c + 1)]);
  const set = (work) => {
    draft.follows = false;
    change(app, (file) => work(file.key));
  };
  return [h('p', { class: 'mute', key: 'hint' }, t('office.answer.hint')),
    tick('key-follows', t('office.answer.follows'), draft.follows, (on) => {
      draft.follows = on;
      change(app, (file) => { if (on) file.key = answerOf(file); });
    }),
    choose('key-family', t('office.answer.family'), key.family, choices.list.families.map((f) => [f, t(`family.${f}`)]), (v) => set((k) => { k.family = v; })),
    ticks('key-cylinders', t('office.answer.cylinders'), list, key.cylinders, (v) => set((k) => { k.cylinders = v; })),
    ticks('key-next', t('office.answer.next'), choices.list.next_tests.filter((x) => x !== 'none').map((x) => [x, t(`next.${x}`)]), key.next_tests ?? [], (v) => set((k) => {
      if (v.length > 0) k.next_tests = v;
      else delete k.next_tests;
    })),
    (key.accept ?? []).length > 0 && h('p', { key: 'accept' }, t('office.answer.accept', { list: key.accept.map((a) => `${t(`family.${a.family}`)}${a.cylinders?.length ? ` (${a.cylinders.join(', ')})` : ''}`).join('; ') }), ' ',
      h('button', { type: 'button', class: 'plain', 'data-act': 'key-alone', onclick: () => set((k) => { delete k.accept; }) }, t('office.answer.alone')))];
}
