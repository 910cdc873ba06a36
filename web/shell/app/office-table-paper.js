// What the Desk prints of a class: the class sheet, and a report for each student. On
// the screen they are not there.

import { h } from './dom.js';
import { t, lang } from './i18n.js';
import { duration, number } from './format.js';
import { lineText, neverText } from './debrief-grade.js';
import { box } from './office-collect-work.js';
import { graded, isSentence, isText, overrideText, resultText, shown, sorted, sourceOf, studentOf } from './office-table.js';

/** What is to be printed just now, or nothing. */
export function paper(app) {
  if (!box.printing) return null;
  const items = box.printing === 'all' ? sorted().filter(({ row }) => row.holds) : box.items.filter((item) => item.id === box.printing && item.row);
  return h('div', { class: 'collect-paper', key: 'paper' }, box.printing === 'class' ? classSheet() : items.map((item) => report(app, item)));
}

/** Prints, and takes the paper away again. */
export function print(app, what) {
  box.printing = what;
  app.redraw();
  setTimeout(() => {
    globalThis.print();
    box.printing = '';
    app.redraw();
  });
}

const today = () => new Intl.DateTimeFormat(lang() === 'es' ? 'es-US' : 'en-US', { dateStyle: 'long' }).format(new Date());

function head(title) {
  return [h('p', { class: 'print-head', key: 'head' }, h('b', null, 'Crankbay'), ' · ', t('print.simulated')), h('h2', { key: 'title' }, title)];
}

function classSheet() {
  const { picture, group } = box;
  const { row: top } = sorted().find(({ row }) => row.grade) ?? { row: null };
  return h('section', { class: 'print-page', key: 'class' }, head(t('collect.sheet', { name: group?.name || t('collect.noclass') })),
    h('p', null, today(), ' · ', t('collect.summary', { n: picture.hand_ins, holds: picture.graded, passed: picture.passed, mean: number(picture.mean_percent) })),
    h('table', { class: 'print-grid' }, h('thead', null, h('tr', null, ['student', 'is', 'result', ...graded].map((c) => h('th', { scope: 'col', key: c }, t(`collect.col.${c}`), graded.includes(c) && top && [h('br', { key: 'br' }), h('small', { key: 'of' }, t('collect.of', { of: number(top.grade.rows.find((r) => r.name === c)?.out_of ?? 0) }))])))),
      h('tbody', null, sorted().map(({ id, row }) => h('tr', { key: id }, h('th', { scope: 'row' }, shown(studentOf(row))),
        h('td', { class: 'word' }, isText(row), row.owner && ` (${shown(row.owner)})`, row.same_as && [h('br', { key: 'br2' }), h('small', { key: 'same' }, t('handin.same_as', { source: sourceOf(row.same_as) }))], row.override && [h('br', { key: 'br' }), h('small', { key: 'override' }, overrideText(row))]),
        h('td', null, resultText(row), row.override && ' *'), graded.map((name) => h('td', { key: name }, number(row.grade?.rows.find((r) => r.name === name)?.points ?? 0, 1), !row.grade && '–')))))),
    picture.missing.length > 0 && h('p', { key: 'missing' }, t('handin.missing', { students: picture.missing.map(shown).join(', ') })),
    picture.missteps.length > 0 && h('div', { key: 'missteps' }, h('h3', null, t('collect.missteps')),
      h('ul', { class: 'print-mind' }, picture.missteps.slice(0, 10).map(({ key, n }) => h('li', { key }, `${t(`misstep.${key}`)}: ${t('collect.count', { n, of: picture.graded })}`)))),
    h('p', { class: 'print-foot' }, t('collect.proves')));
}

function report(app, { id, row }) {
  const { grade } = row;
  const missed = grade.gates.filter((line) => !line.passed);
  return h('section', { class: 'print-page report', key: id }, head(t('collect.report', { student: shown(studentOf(row)) })),
    h('p', null, [box.group?.name, row.mode && t(`mode.${row.mode}`), t('facts.time'), duration(row.minutes), today()].filter(Boolean).join(' · ')),
    h('p', null, h('b', null, resultText(row)), ' · ', t('debrief.points', { points: number(grade.points, 1), of: number(grade.out_of, 1) }), ' · ', t(row.pass ? 'debrief.pass' : 'debrief.nopass'), grade.hints > 0 && ` · ${t('debrief.hints', { n: grade.hints })}`),
    row.override && h('p', { key: 'override', class: 'print-word' }, overrideText(row)),
    row.status !== 'ok' && h('p', { key: 'is' }, isSentence(row)),
    missed.length > 0 && h('div', { key: 'gates' }, h('h3', null, t('debrief.gates')), h('ul', { class: 'print-mind' }, missed.map((line, i) => h('li', { key: i }, lineText(app, line))))),
    h('div', { class: 'print-rows' }, grade.rows.map((r) => reportRow(app, r))),
    h('p', { class: 'print-foot' }, t('collect.proves')));
}

function reportRow(app, row) {
  const never = row.lines.filter((line) => line.never);
  const missed = row.lines.filter((line) => !line.passed && !line.never);
  return h('div', { key: row.name, class: 'print-part' }, h('h3', null, t(`row.grade.${row.name}`), ' · ', t('debrief.of', { points: number(row.points, 1), of: number(row.out_of, 1) })),
    missed.length + never.length > 0 ? h('ul', { class: 'print-mind', key: 'missed' }, missed.map((line) => h('li', { key: line.rule }, lineText(app, line))),
      never.length > 0 && h('li', { key: 'never' }, neverText(never))) : h('p', { key: 'all' }, t('collect.all.kept')));
}
