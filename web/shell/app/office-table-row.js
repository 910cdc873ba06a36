// One hand-in, opened: what it is, its grade line by line, the instructor's own word,
// and the ways on.

import { h } from './dom.js';
import { t, tFirst } from './i18n.js';
import { detailOf, number, quoted } from './format.js';
import { gates, rows as gradeRows } from './debrief-grade.js';
import { box, decide, whole } from './office-collect-work.js';
import { isSentence, overrideText, resultText, shown, sourceOf, studentOf } from './office-table.js';

/** The opened row, or nothing. */
export function openedRow(app, hands) {
  const item = box.items.find((x) => x.id === box.open && x.row);
  if (!item) return null;
  const { row } = item;
  return h('section', { class: 'collect-row', key: `row-${item.id}`, 'aria-labelledby': 'row-title' },
    h('div', { class: 'row-head' }, h('h3', { id: 'row-title', tabindex: '-1' }, shown(studentOf(row)), ' · ', resultText(row)),
      h('button', { type: 'button', class: 'plain', 'data-act': 'close-row', onclick: () => hands.close(item) }, t('collect.close'))),
    h('p', { 'data-out': 'is' }, isSentence(row)), ...more(row),
    h('div', { class: 'row' },
      row.holds && h('button', { type: 'button', key: 'print', 'data-act': 'print-report', onclick: () => hands.print(item.id) }, t('collect.print.report')),
      row.holds && row.handed_in && h('button', { type: 'button', key: 'debrief', 'data-act': 'row-debrief', onclick: () => debriefOf(app, item) }, t('collect.debrief'))),
    box.rowError && h('p', { class: 'notice error', key: 'error', role: 'alert' }, tFirst([`error.${box.rowError.key}`, 'error.other'], box.rowError.params)),
    overrideForm(app, item),
    row.grade && h('div', { class: 'row-grade', key: 'grade' }, gates(app, row.grade), gradeRows(app, row)));
}

function more(row) {
  return [
    row.same_as && h('p', { key: 'same', class: 'notice' }, t('handin.same_as', { source: sourceOf(row.same_as) })),
    row.grader && h('p', { key: 'grader', class: 'mute' }, t('collect.grader')),
    row.action && h('p', { key: 'action', class: 'mute' }, t('collect.action', { n: number(row.action) })),
    row.holds && row.grade && h('p', { key: 'spent', class: 'mute' }, `${t('collect.col.minutes')}: ${number(row.minutes)} · ${t('collect.col.hints')}: ${number(row.grade.hints)}`),
    row.text && !row.holds && h('p', { key: 'text', class: 'mute' }, quoted(row.text)),
    row.extra_time && h('p', { key: 'extra', class: 'mute' }, t('collect.extra', { percent: number(row.extra_time) })),
  ];
}

/** Opens the Debrief of it, as the student sees it. */
async function debriefOf(app, item) {
  box.rowError = null;
  try {
    const { attempt, scenario } = await whole(item);
    app.enterWith(attempt, scenario);
  } catch (error) {
    box.rowError = error;
    app.redraw();
  }
}

function overrideForm(app, item) {
  const { row } = item;
  const form = box.editing?.id === item.id ? box.editing : null;
  if (!form) {
    return h('div', { class: 'override', key: 'override' },
      row.override && h('p', { key: 'word', class: 'changed' }, overrideText(row)),
      h('button', { type: 'button', 'data-act': 'override', onclick: () => edit(app, item) }, t(row.override ? 'collect.override.edit' : 'collect.override.add')),
      row.override && h('button', { type: 'button', class: 'plain', key: 'back', 'data-act': 'override-back', onclick: () => decide(app, item, null) }, t('collect.override.back')));
  }
  const change = (name) => (e) => { form[name] = e.target.value; };
  return h('form', { class: 'override', key: 'form', novalidate: true, onsubmit: (e) => { e.preventDefault(); save(app, item); } },
    h('label', { class: 'field' }, h('span', null, t('collect.override.number')),
      h('input', { type: 'text', inputmode: 'decimal', name: 'override-percent', value: form.percent, 'aria-invalid': form.bad === 'percent' ? 'true' : null, 'aria-describedby': form.bad ? 'override-bad' : null, oninput: change('percent') })),
    h('label', { class: 'field' }, h('span', null, t('collect.override.why')),
      h('input', { type: 'text', name: 'override-comment', maxlength: 400, value: form.comment, 'aria-invalid': form.bad === 'comment' ? 'true' : null, 'aria-describedby': form.bad ? 'override-bad' : null, oninput: change('comment') })),
    form.bad && h('p', { class: 'notice error', id: 'override-bad', key: 'bad', role: 'alert' }, t(`collect.override.bad.${form.bad}`)),
    h('div', { class: 'row' }, h('button', { type: 'submit', class: 'go', 'data-act': 'override-save' }, t('collect.override.save')),
      h('button', { type: 'button', class: 'plain', 'data-act': 'override-leave', onclick: () => { box.editing = null; app.redraw(); } }, t('collect.override.leave'))));
}

function edit(app, item) {
  const { override } = item.row;
  box.editing = { id: item.id, percent: override?.percent === undefined || override.percent === null ? '' : String(override.percent), comment: override?.comment ?? '', bad: '' };
  app.redraw();
  queueMicrotask(() => document.querySelector('[name="override-percent"]')?.focus());
}

function save(app, item) {
  const { percent, comment } = box.editing;
  const typed = percent.trim().replace(',', '.');
  const value = typed === '' ? null : Number(typed);
  box.editing.bad = value !== null && !(value >= 0 && value <= 100) ? 'percent' : comment.trim() === '' ? 'comment' : '';
  if (box.editing.bad) {
    app.redraw();
    queueMicrotask(() => document.querySelector(`[name="override-${box.editing.bad}"]`)?.focus());
    return;
  }
  box.editing = null;
  decide(app, item, { percent: value, comment: comment.trim() });
}

/** Something that went wrong, as a sentence and what a program says of it. */
export function troubleOf(error) {
  const detail = detailOf(error);
  return h('p', { class: 'notice error', key: 'error', role: 'alert' }, tFirst([`error.${error.key}`, 'error.other'], error.params), detail && quoted(detail));
}
