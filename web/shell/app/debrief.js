// The Debrief: at a glance how it went and the one thing to take away; under it
// what the hands did to the readings, the readings against the truth, what was
// inside, what would have told it sooner, every line of the grade, every cranking
// and the attempt step by step. The grade comes first, the rest as it is worked out.

import { address } from './parts.js';
import { h, svg } from './dom.js';
import { t, tFirst, pick, lang } from './i18n.js';
import { number, detailOf, duration, quoted } from './format.js';
import { part, waiting } from './debrief-part.js';
import { handInSection } from './handin-section.js';
import { gates, hazardOf, limits, lineText, rows } from './debrief-grade.js';
import { mistakeText, mistakes } from './debrief-mistakes.js';
import { readings } from './debrief-readings.js';
import { inside } from './debrief-inside.js';
import { plan } from './debrief-plan.js';
import { cranks, timeline } from './debrief-time.js';

/** The page of the Debrief. */
export function debrief(app) {
  const { view, result } = app.state;
  return h('main', { class: 'debrief', id: 'main', key: 'debrief', tabindex: '-1' },
    h('h1', null, t('debrief.title')),
    onPaper(view),
    h('p', { class: 'lead' }, pick(view.scenario.complaint)),
    result.grade ? whole(app, result) : h('div', { class: 'debrief-wait', key: 'wait' }, ungraded(app, result), handInSection(app)));
}

/** Whose attempt it is, for whoever holds the print. */
function onPaper(view) {
  return h('p', { class: 'print-only', key: 'head' }, h('b', null, 'Crankbay'), ' · ', t('print.simulated'), ' · ', t('print.who'), ' ', h('b', null, view.who || '____________'),
    ` · ${pick(view.scenario.title)} · ${pick(view.scenario.engine.name)} · ${t(`mode.${view.mode}`)} · ${t('facts.time')} ${duration(view.state.minutes)}`);
}

/** Until the grade is there: that it is being worked out, or why it is not. */
function ungraded(app, { error }) {
  if (!error) return h('p', { class: 'notice', key: 'working', role: 'status', 'aria-busy': 'true' }, t('debrief.working'));
  const detail = detailOf(error);
  return h('div', { class: 'notice error', key: 'error', role: 'alert' },
    h('p', null, tFirst([`error.${error.key}`, 'error.other'], error.params), detail && quoted(detail)),
    h('button', { type: 'button', 'data-act': 'grade-again', onclick: () => app.grade() }, t('debrief.again')));
}

// The parts under the first look, in their order.
const parts = [
  ['mistakes', mistakes], ['readings', readings], ['inside', inside], ['plan', plan], ['rows', rows], ['limits', limits], ['cranks', cranks],
  ['timeline', timeline],
];

function whole(app, result) {
  return h('div', { class: 'debrief-whole', key: 'whole' },
    h('div', { class: 'debrief-grid' },
      h('div', { class: 'debrief-score' }, score(result.grade), most(app, result), gates(app, result.grade)),
      h('div', { class: 'debrief-side' }, glance(result.grade), handInSection(app))),
    h('nav', { class: 'jump', 'aria-label': t('debrief.jump') },
      parts.map(([name]) => h('button', { type: 'button', class: 'plain', key: name, 'data-act': 'jump', 'data-choice': name, onclick: () => jump(name), onfocus: (e) => e.target.scrollIntoView({ block: 'nearest', inline: 'center' }) }, t(`debrief.part.${name}`)))),
    parts.map(([name, content]) => part(name, (name !== 'inside' && waiting(app, name)) || content(app, result))),
    h('p', { class: 'model-link', key: 'model' }, h('a', { class: 'plain', href: address(`model.${lang()}.html`), target: '_blank', rel: 'noopener', 'data-act': 'model' }, t('model.tab'))));
}

function jump(name) {
  const title = document.getElementById(`part-${name}`);
  title?.scrollIntoView();
  title?.focus({ preventScroll: true });
}

function score(grade) {
  return h('section', { class: 'score' },
    h('p', { class: 'verdict', 'data-out': 'pass', 'data-value': String(grade.pass) }, t(grade.pass ? 'debrief.pass' : 'debrief.nopass')),
    h('p', null, t('debrief.points', { points: number(grade.points, 1), of: number(grade.out_of, 1) }), ' ', grade.hints > 0 && t('debrief.hints', { n: grade.hints })),
    !grade.pass && grade.pass_mark > 0 && h('p', { key: 'needs' }, t('debrief.needs', { needed: number(grade.pass_mark * grade.out_of, 1), row: number(100 * grade.row_mark) })),
    grade.low.length > 0 && h('p', { key: 'low', 'data-out': 'low' }, t('debrief.low', { rows: grade.low.map((name) => t(`row.grade.${name}`)).join(', ') })),
    h('p', { class: 'mute small' }, t('debrief.simulated')));
}

/** The one thing to take away. */
function most(app, result) {
  const { kind, line, mistake } = result.mistakes?.most ?? result.most;
  const found = result.mistakes?.list.find((m) => m.key === mistake);
  return h('section', { class: `most ${kind}`, 'data-out': 'most', 'data-kind': kind, 'data-mistake': mistake },
    h('h2', null, t('debrief.most')),
    kind === 'mistake' && found && mistakeText(app, found),
    kind === 'hazard' && hazardOf(app, line),
    kind === 'line' && lineText(app, line),
    kind === 'clean' && h('p', null, t('debrief.most.clean')));
}

/** The five rows in five lines. */
function glance(grade) {
  return h('table', { class: 'glance' }, h('caption', { class: 'hidden' }, t('debrief.part.rows')),
    h('tbody', null, grade.rows.map((row) => h('tr', { key: row.name, 'data-row': row.name, 'data-points': row.points },
      h('th', { scope: 'row' }, t(`row.grade.${row.name}`)),
      h('td', { class: 'bar', 'aria-hidden': 'true', own: true, ref: (el) => el.append(bar(row)) }),
      h('td', { class: 'points' }, t('debrief.of', { points: number(row.points, 1), of: number(row.out_of, 1) }))))));
}

function bar(row) {
  const share = row.out_of > 0 ? (100 * row.points) / row.out_of : 0;
  return svg('svg', { viewBox: '0 0 100 8', preserveAspectRatio: 'none', focusable: 'false' },
    svg('rect', { class: 'bar-all', width: 100, height: 8 }), svg('rect', { class: 'bar-got', width: share, height: 8 }));
}

// On paper nothing is folded away.
addEventListener('beforeprint', () => {
  for (const d of document.querySelectorAll('.debrief details')) d.open = true;
});
