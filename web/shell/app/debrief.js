// The Debrief: the grade with what it rests on, the safety gates, what was
// inside the engine, and the attempt step by step.

import { address } from './parts.js';
import { h } from './dom.js';
import { t, tFirst, has, pick, lang } from './i18n.js';
import { number, pressure, toolText, fillFacts, cylinders, duration, detailOf, quoted } from './format.js';
import { showPa, toPa } from './units.js';

/** The page of the Debrief. */
export function debrief(app) {
  const { view, result } = app.state;
  return h('main', { class: 'debrief', id: 'main', key: 'debrief', tabindex: '-1' },
    h('h1', null, t('debrief.title')),
    h('p', { class: 'lead' }, pick(view.scenario.complaint)),
    result.grade ? whole(app, view, result) : h('div', { class: 'debrief-wait', key: 'wait' }, waiting(app, result), leave(app)));
}

function whole(app, view, result) {
  const { grade } = result;
  return h('div', { class: 'debrief-grid', key: 'whole' },
    h('div', { class: 'debrief-score' }, score(grade), gates(app, grade)),
    h('div', { class: 'debrief-side' }, leave(app), inside(app, view, result), timeline(app, result)),
    h('div', { class: 'debrief-rows' }, (grade.rows ?? []).map((row) => rowSection(app, row)), limits(app, grade)));
}

/** Until the grade is there: that it is being worked out, or why it is not. */
function waiting(app, { error }) {
  if (!error) return h('p', { class: 'notice', key: 'working', role: 'status', 'aria-busy': 'true' }, t('debrief.working'));
  const detail = detailOf(error);
  return h('div', { class: 'notice error', key: 'error', role: 'alert' },
    h('p', null, tFirst([`error.${error.key}`, 'error.other'], error.params), detail && quoted(detail)),
    h('button', { type: 'button', 'data-act': 'grade-again', onclick: () => app.grade() }, t('debrief.again')));
}

function score(grade) {
  return h('section', { class: 'score' },
    h('p', { class: 'verdict' }, t(grade.pass ? 'debrief.pass' : 'debrief.nopass')),
    h('p', null, t('debrief.points', { points: number(grade.points, 1), of: number(grade.out_of, 1) }), ' ', grade.hints > 0 && t('debrief.hints', { n: grade.hints })),
    !grade.pass && grade.pass_mark > 0 && h('p', { key: 'needs' }, t('debrief.needs', { needed: number(grade.pass_mark * grade.out_of, 1) })),
    h('p', { class: 'mute small' }, t('debrief.simulated')));
}

function gates(app, grade) {
  const list = grade.gates ?? [];
  if (list.length === 0) return null;
  return h('section', { key: 'gates' }, h('h2', null, t('debrief.gates')),
    h('ul', { class: 'lines' }, list.map((line, i) => h('li', { key: i, class: line.passed ? 'kept' : 'missed' },
      h('span', { class: 'mark' }, t(line.passed ? 'mark.safe' : 'mark.danger')), h('div', null, lineText(app, line))))));
}

function rowSection(app, row) {
  const lines = row.lines ?? [];
  const missed = lines.filter((line) => !line.passed);
  const kept = lines.filter((line) => line.passed);
  return h('section', { key: row.name, class: 'grade-row' },
    h('h2', null, h('span', null, t(`row.grade.${row.name}`)), h('span', { class: 'points' }, t('debrief.of', { points: number(row.points, 1), of: number(row.out_of, 1) }))),
    missed.length > 0 && h('ul', { class: 'lines', key: 'missed' }, missed.map((line) => gradeLine(app, line))),
    kept.length > 0 && h('details', { class: 'kept-lines', key: 'kept' },
      h('summary', null, t('debrief.kept', { n: kept.length })), h('ul', { class: 'lines' }, kept.map((line) => gradeLine(app, line)))));
}

function gradeLine(app, line) {
  return h('li', { key: line.rule, class: line.passed ? 'kept' : 'missed' }, mark(line), h('div', null, lineText(app, line)),
    !line.passed && line.out_of > 0 && h('span', { class: 'points' }, t('debrief.of', { points: number(line.points, 1), of: number(line.out_of, 1) })));
}

function mark(line) {
  return h('span', { class: 'mark' }, t(line.passed ? 'mark.kept' : line.points > 0 ? 'mark.partly' : 'mark.missed'));
}

/** What a rule has to say, with its facts in the sentence. */
function lineText(app, line) {
  const own = line.cylinder && !(line.facts ?? []).some((f) => f.name === 'cylinder') ? [{ name: 'cylinder', value: line.cylinder, unit: '' }] : [];
  const facts = [...(line.facts ?? []), ...own];
  const text = t(`rule.${line.rule}.${line.passed ? 'passed' : 'failed'}`);
  const when = !line.passed && line.tick > 0 ? minutesAt(app, line.tick) : null;
  return h('p', null, fillFacts(text, facts, app.state.unit),
    when !== null && h('span', { class: 'mute small' }, ` (${t('debrief.when', { time: duration(when) })})`));
}

/** Bench minutes of a tick, from the timeline. */
function minutesAt(app, tick) {
  const list = app.state.result.timeline ?? [];
  const event = list.find((e) => e.tick >= tick) ?? list[list.length - 1];
  return event ? event.minutes : null;
}

function limits(app, grade) {
  const list = (grade.rules ?? []).filter((r) => r.known);
  if (list.length === 0) return null;
  return h('section', { key: 'limits' }, h('h2', null, t('debrief.limits')),
    h('ul', { class: 'lines' }, list.map((r) => h('li', { key: r.rule, class: r.passed ? 'kept' : 'missed' }, h('span', { class: 'mark' }, t(r.passed ? 'limit.within' : 'limit.outside')),
      h('p', null, t(`limit.${r.rule}`), r.counts && h('b', null, ' ', t('limit.counts')),
        h('span', { class: 'mute small block' }, t('limit.pair', { low: r.lowest, lowp: pressure(r.low_pa, app.state.unit), high: r.highest, highp: pressure(r.high_pa, app.state.unit) })))))));
}

function leave(app) {
  return h('section', { class: 'leave' }, h('h2', null, t('debrief.keep')), h('p', { class: 'mute' }, t('debrief.keep.hint')),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: 'go', 'data-act': 'download-attempt', onclick: () => app.download('attempt') }, t('debrief.attempt')),
      app.state.result.grade && h('button', { type: 'button', key: 'report', 'data-act': 'download-report', onclick: () => app.download('report') }, t('debrief.report')),
      h('button', { type: 'button', 'data-act': 'yard', onclick: () => app.go('yard') }, t('debrief.yard'))));
}

function inside(app, view, result) {
  const truth = result.truth ?? {};
  const { unit } = app.state;
  const faults = truth.faults ?? [];
  const method = view.scenario.handed_over?.length && truth.key?.method_fault;
  return h('section', null, h('h2', null, t('debrief.inside')),
    h('ul', { class: 'faults' }, faults.map((f, i) => h('li', { key: i }, faultText(f)))),
    faults.length === 0 && h('p', { key: 'none' }, t('fault.none')),
    method && h('p', { key: 'method' }, t('debrief.truth.method', { fault: t(`method.${method}`) })),
    (truth.readings ?? []).length > 0 && h('table', { class: 'readings plain-table', key: 'true' }, h('caption', null, t('debrief.true', { unit })),
      h('thead', null, h('tr', null, ['cylinder', 'first', 'last'].map((c) => h('th', { scope: 'col', key: c }, t(`column.${c}`))))),
      h('tbody', null, truth.readings.map((r) => h('tr', { key: r.cylinder }, h('th', { scope: 'row' }, r.cylinder), h('td', null, inUnit(r, 'first', unit)), h('td', null, inUnit(r, 'final', unit)))))),
    h('a', { key: 'model', class: 'plain', href: address(`model.${lang()}.html`), target: '_blank', rel: 'noopener', 'data-act': 'model' }, t('model.tab')));
}

function inUnit(reading, name, unit) {
  return showPa(toPa(reading[`${name}_psi`], 'psi'), unit, unit === 'psi' ? 0 : undefined);
}

// Faults of cylinders that mean all of them when none is named; what is left is of the engine or a tool.
const wherever = new Set(['exhaust_lash', 'intake_lash', 'weak_spring', 'worn_rings', 'dry_bore', 'washed_bore', 'carbon']);

function faultText(f) {
  const list = f.cylinders?.length ? f.cylinders : f.cylinder ? [f.cylinder] : [];
  if (f.kind === 'cam_timing') {
    const n = Math.abs(f.teeth_late);
    const where = f.bank ? t('fault.bank', { bank: f.bank }) : t('cylinders.all');
    return `${t(f.teeth_late < 0 ? 'fault.cam_timing.early' : 'fault.cam_timing.late', { n, cam: t(`cam.${f.cam}`) })} · ${where}`;
  }
  const part = list.length > 0 || wherever.has(f.kind);
  return part ? `${t(`fault.${f.kind}`)} · ${cylinders(list)}` : t(`fault.${f.kind}`);
}

function timeline(app, result) {
  const list = (result.timeline ?? []).filter((e) => e.kind !== 'stroke');
  return h('details', { class: 'timeline' }, h('summary', null, t('debrief.timeline', { n: list.length })),
    h('ol', null, list.map((e, i) => h('li', { key: i, class: isWarning(e) ? 'missed' : '' }, h('span', { class: 'when' }, duration(e.minutes)), ' ', eventText(app, e)))));
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
