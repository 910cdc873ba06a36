// The Second opinion: readings of a real engine in, what they allow to be said out.
// This module holds what was written and asks; the form and the answer are drawn by
// opinion-form.js and opinion-result.js.

import { h } from './dom.js';
import { t, tFirst } from './i18n.js';
import { ask } from './desk.js';
import { preference, keepPreference } from './store.js';
import { detailOf, quoted } from './format.js';
import { columns, form } from './opinion-form.js';
import { result } from './opinion-result.js';

const KEPT = 'opinion';
let edits = 0; // changes of the form: an answer is about the one it was asked for

/** What is written when nothing is written. */
const blank = () => ({ text: '', count: 4, cells: {}, said: {}, history: [], typing: false });

const paper = { ...blank(), ...preference(KEPT, {}) };
const shown = { answer: null, trouble: null, error: null, working: false, rows: null };

/** The page of the Second opinion. */
export function opinion(app) {
  return h('main', { class: 'opinion', id: 'main', key: 'opinion', tabindex: '-1' },
    h('h1', null, t('place.opinion')),
    h('p', { class: 'lead' }, t('opinion.lead'), ' ', t('opinion.private')),
    h('div', { class: 'opinion-grid' },
      h('form', { class: 'opinion-form', novalidate: true, onsubmit: (e) => { e.preventDefault(); give(app); } }, form(paper, { ...hands(app), said: said() })),
      h('div', { class: 'opinion-side' }, shown.answer ? result(shown.answer) : empty(app))));
}

/** What hands can do on the form. */
function hands(app) {
  const keep = (change) => {
    edits++;
    Object.assign(paper, change);
    keepPreference(KEPT, paper);
    app.redraw();
  };
  return {
    write: (text) => keep({ text }),
    type: (column, cylinder, value) => keep({ cells: { ...paper.cells, [`${column}/${cylinder}`]: value } }),
    count: (count) => keep({ count }),
    say: (name, value) => keep({ said: { ...paper.said, [name]: value } }),
    tell: (word, on) => keep({ history: [...paper.history.filter((w) => w !== word), ...(on ? [word] : [])] }),
    unfold: (typing) => keep({ typing }),
    open: async (file) => {
      if (!file) return;
      try {
        keep({ text: await file.text() });
      } catch (error) {
        shown.error = error; // the disk took it away meanwhile
        app.redraw();
        return;
      }
      give(app);
    },
    give: () => give(app),
    clear: () => {
      Object.assign(shown, { answer: null, trouble: null, error: null, rows: null });
      keep(blank());
      document.querySelector('[data-opinion="text"]')?.focus();
    },
    working: shown.working,
    trouble: shown.trouble,
  };
}

// Readings that show what can be pasted; invented.
const examples = [
  ['opinion.try.line', '150 148 95 151'],
  ['opinion.try.wet', 'cylinder;dry (psi);wet (psi)\n1;172;190\n2;118;165\n3;170;187\n4;174;190'],
  ['opinion.try.v8', 'layout: V\nbanks: 1-3-5-7/2-4-6-8\n165, 162, 168, 60, 164, 75, 166, 163 psi'],
];

/** Until there is an answer: what one gets, and examples. */
function empty(app) {
  return h('section', { class: 'opinion-empty', key: 'empty' },
    h('h2', null, t('opinion.get')),
    h('ul', { class: 'dashes' }, ['opinion.get.causes', 'opinion.get.next', 'opinion.get.limits', 'opinion.get.doubt'].map((key) => h('li', { key }, t(key)))),
    h('h2', null, t('opinion.try')),
    h('div', { class: 'row' }, examples.map(([key, text]) => h('button', { key, type: 'button', 'data-act': 'opinion-example', onclick: () => { hands(app).write(text); give(app); } }, t(key)))));
}

/** What keeps the readings from being read, or the program from answering. */
function said() {
  if (shown.working) return h('p', { class: 'notice', key: 'working', role: 'status', 'aria-busy': 'true' }, t('opinion.working'));
  if (shown.trouble) return h('p', { class: 'notice error', key: 'trouble', role: 'alert', 'data-out': 'opinion-trouble' }, troubleText(shown.trouble, shown.rows));
  if (!shown.error) return null;
  const detail = detailOf(shown.error);
  return h('div', { class: 'notice error', key: 'error', role: 'alert' },
    h('p', null, tFirst([`error.${shown.error.key}`, 'error.other'], shown.error.params), detail && quoted(detail)));
}

/**
 * One sentence about what can't be read.
 * @param {Object} trouble as the second program says it
 * @param {number[]|null} rows the cylinder of each line where the table was typed
 */
export function troubleText(trouble, rows = null) {
  const short = (v) => String(Math.round(v * 100) / 100);
  const bound = (v) => `${short(v)} ${trouble.unit ?? ''}`.trim();
  const high = trouble.key === 'unit_needed' ? short(trouble.high) : bound(trouble.high);
  const what = t(`opinion.trouble.${trouble.key}`, { text: trouble.text ?? '', low: bound(trouble.low), high });
  if (trouble.name) return t('opinion.trouble.field', { name: trouble.name, what });
  const begun = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  if (!trouble.line) return begun(what);
  if (!rows) return begun(t('opinion.trouble.line', { line: trouble.line, column: trouble.column, what }));
  const cylinder = rows[trouble.line - 2];
  return begun(cylinder ? t('opinion.trouble.field', { name: t('cylinder', { cylinder }), what }) : what);
}

/** Asks for the opinion and shows it. */
async function give(app) {
  if (shown.working) return;
  const { text, rows } = asked();
  const asOf = edits;
  Object.assign(shown, { working: true, trouble: null, error: null, rows });
  app.redraw();
  try {
    const answer = await ask('opinion', { text, said: saidNow() });
    if (asOf === edits) Object.assign(shown, { answer: answer.opinion ?? null, trouble: answer.trouble ?? null }); // else it is about other readings
  } catch (error) {
    shown.error = error;
    shown.answer = null;
  }
  shown.working = false;
  app.redraw();
  if (!shown.answer || asOf !== edits) return;
  app.announce(t('opinion.done'));
  queueMicrotask(() => document.querySelector('[data-out="opinion"] h2')?.focus());
}

/** The readings as a text: what was pasted, else what was typed. */
function asked() {
  if (paper.text.trim()) return { text: paper.text, rows: null };
  const quotedCell = (s) => (/[;"\n\r]/.test(s) ? `"${s.replace(/["\n\r]/g, ' ')}"` : s);
  const cell = (column, c) => quotedCell(String(paper.cells[`${column}/${c}`] ?? '').trim());
  const rows = [];
  const lines = [['cylinder', ...columns].join(';')];
  for (let c = 1; c <= paper.count; c++) {
    rows.push(c);
    lines.push([c, ...columns.map((column) => cell(column, c))].join(';'));
  }
  return { text: lines.join('\n'), rows };
}

/** What the form says beside the readings, each with what the form calls it. */
function saidNow() {
  const names = {
    unit: 'opinion.unit', layout: 'opinion.layout', banks: 'opinion.banks', ratio: 'opinion.ratio', altitude: 'opinion.altitude',
    minimum: 'opinion.minimum', standard: 'opinion.standard', difference: 'opinion.difference', rpm: 'opinion.rpm', volts: 'opinion.volts',
    throttle: 'opinion.asked.throttle', plugs: 'opinion.asked.plugs', equal: 'opinion.asked.equal', warm: 'opinion.asked.warm',
    'two-stroke': 'opinion.asked.two-stroke',
  };
  const all = Object.entries(names).filter(([name]) => paper.said[name]).map(([name, key]) => ({ name, value: paper.said[name], as: t(key) }));
  if (!paper.text.trim()) all.push({ name: 'cylinders', value: String(paper.count), as: t('opinion.cylinders') });
  if (paper.history.length) all.push({ name: 'history', value: paper.history.join(', '), as: t('opinion.history') });
  return all;
}
