// The grade with what it rests on: five rows of lines, the safety gates, and what
// each limit rule says.

import { h } from './dom.js';
import { t } from './i18n.js';
import { and, number, pressure, fillFacts, duration } from './format.js';

/** Gates that were not kept in full, or one line that nothing dangerous happened. */
export function gates(app, grade) {
  const list = grade.gates ?? [];
  const missed = list.filter((line) => !line.passed);
  const kept = list.filter((line) => line.passed && !line.never);
  const never = list.filter((line) => line.never);
  return h('section', { key: 'gates', class: 'gates', 'data-out': 'gates' }, h('h2', null, t('debrief.gates')),
    missed.length === 0 ? kept.length > 0 && h('p', { class: 'kept', key: 'safe' }, h('span', { class: 'mark' }, t('mark.safe')), ' ', t('debrief.gates.kept'))
      : h('ul', { class: 'lines', key: 'missed' }, missed.map((line, i) => h('li', { key: i, class: 'missed' }, h('span', { class: 'mark' }, t('mark.danger')), h('div', null, lineText(app, line))))),
    never.length > 0 && h('p', { class: 'mute', key: 'never' }, t('gates.never', { list: names(never) })),
    kept.length > 0 && h('details', { class: 'kept-lines', key: 'kept' }, h('summary', null, t('debrief.gates.all', { n: kept.length })),
      h('ul', { class: 'lines' }, kept.map((line, i) => h('li', { key: i, class: 'kept' }, h('span', { class: 'mark' }, t('mark.safe')), h('div', null, lineText(app, line)))))));
}

/** Names of what lines are about, as a list. */
function names(lines) {
  return and(lines.map((line) => t(`rule.${line.rule}.name`)));
}

/** A danger as the one thing to take away. */
export function hazardOf(app, line) {
  return h('div', { key: 'hazard' }, lineText(app, line), h('p', { class: 'mute' }, t('debrief.most.hazard')));
}

/** The five rows, each with what cost points, what gave them, and what was never begun. */
export function rows(app, { grade }) {
  return h('div', { class: 'rows', key: 'rows' }, (grade.rows ?? []).map((row) => rowSection(app, row)));
}

function rowSection(app, row) {
  const lines = row.lines ?? [];
  const never = lines.filter((line) => line.never);
  const missed = lines.filter((line) => !line.passed && !line.never);
  const kept = lines.filter((line) => line.passed && !line.never);
  return h('section', { key: row.name, class: 'grade-row' },
    h('h3', null, h('span', null, t(`row.grade.${row.name}`)), h('span', { class: 'points' }, t('debrief.of', { points: number(row.points, 1), of: number(row.out_of, 1) }))),
    missed.length + never.length > 0 && h('ul', { class: 'lines', key: 'missed' }, missed.map((line) => gradeLine(app, line)), never.length > 0 && neverLine(never)),
    kept.length > 0 && h('details', { class: 'kept-lines', key: 'kept' },
      h('summary', null, t('debrief.kept', { n: kept.length })), h('ul', { class: 'lines' }, kept.map((line) => gradeLine(app, line)))));
}

function gradeLine(app, line) {
  return h('li', { key: line.rule, class: line.passed ? 'kept' : 'missed' }, mark(line), h('div', null, lineText(app, line)),
    pointsText(line) && h('span', { class: 'points', key: 'points' }, pointsText(line)));
}

/** What a line gave of its share, or took off its whole row. */
function pointsText(line) {
  if (line.out_of > 0) return t('debrief.of', { points: number(line.points, 1), of: number(line.out_of, 1) });
  return line.points < 0 ? t('line.off', { points: number(-line.points, 1) }) : '';
}

/** Everything that was never begun, in one sentence. */
export function neverText(lines) {
  return t('line.never', { list: names(lines) });
}

/** All that was never begun in one line: nothing there was done wrong. */
function neverLine(lines) {
  const of = lines.reduce((sum, line) => sum + line.out_of, 0);
  return h('li', { key: 'never', class: 'never' }, h('span', { class: 'mark' }, t('mark.never')), h('div', null, h('p', null, neverText(lines))),
    h('span', { class: 'points' }, t('debrief.of', { points: number(0), of: number(of, 1) })));
}

function mark(line) {
  return h('span', { class: 'mark' }, t(line.passed ? 'mark.kept' : line.points > line.out_of / 20 ? 'mark.partly' : 'mark.missed'));
}

/** What a rule has to say, with its facts in the sentence and when it was. */
export function lineText(app, line) {
  if (line.never) return h('p', { key: 'text' }, neverText([line]));
  const own = line.cylinder && !(line.facts ?? []).some((f) => f.name === 'cylinder') ? [{ name: 'cylinder', value: line.cylinder, unit: '' }] : [];
  const text = t(`rule.${line.rule}.${line.passed ? 'passed' : 'failed'}`);
  return h('p', { key: 'text' }, fillFacts(text, [...(line.facts ?? []), ...own], app.state.unit), why(line),
    line.minutes > 0 && h('span', { class: 'mute small' }, ` (${t('debrief.when', { time: duration(line.minutes) })})`));
}

/** Why a rule that was kept gives less than its share. */
function why(line) {
  const fact = (name) => (line.facts ?? []).find((f) => f.name === name)?.value;
  if (fact('noted') !== undefined) return ` ${t('line.noted', { noted: fact('noted'), all: fact('all') })}`;
  if (fact('read')) return ` ${t('line.read', { read: fact('read'), all: fact('all') })}`;
  return line.passed && line.out_of > 0 && line.points < line.out_of ? ` ${t('line.nearly')}` : '';
}

/** Every limit rule side by side: on the student's readings and on the true ones. */
export function limits(app, { grade, truth }) {
  const list = (grade.rules ?? []).map((r, i) => [r, truth.rules?.[i]]).filter(([r, real]) => r.known || real?.known);
  if (list.length === 0) return h('p', { key: 'none' }, t('debrief.limits.none'));
  const yours = list.find(([r]) => r.known)?.[0];
  const real = list.find(([, r]) => r?.known)?.[1];
  return h('div', { key: 'limits' },
    h('dl', { class: 'pairs' }, [['yours', yours], ['true', real]].map(([who, r]) => r && h('div', { key: who }, h('dt', null, t(`limits.${who}`)), h('dd', null, extremes(app, r))))),
    h('table', { class: 'plain-table limit-table' }, h('caption', { class: 'hidden' }, t('debrief.part.limits')),
      h('thead', null, h('tr', null, ['rule', 'yours', 'true'].map((c) => h('th', { scope: 'col', key: c }, t(`limits.${c}`))))),
      h('tbody', null, list.map(([r, other]) => h('tr', { key: r.rule }, h('th', { scope: 'row' }, t(`limit.${r.rule}`), r.counts && h('b', null, ' ', t('limit.counts'))), said(r), said(other))))));
}

function extremes(app, r) {
  const { unit } = app.state;
  return t('limit.pair', { low: r.lowest, lowp: pressure(r.low_pa, unit), high: r.highest, highp: pressure(r.high_pa, unit) });
}

/** What one rule says of one set of readings. */
function said(r) {
  if (!r?.known) return h('td', { class: 'mute' }, t('limits.unknown'));
  return h('td', { class: r.passed ? 'kept' : 'missed' }, h('span', { class: 'mark' }, t(r.passed ? 'limit.within' : 'limit.outside')));
}
