// What comes back: hand-ins collected, replayed, graded, and what the class made of it.

import { h } from './dom.js';
import { t } from './i18n.js';
import { number } from './format.js';
import { saveFile } from './files.js';
import { keptClasses } from './office-keep.js';
import { keySection } from './office-key.js';
import { chosenFiles, droppedFiles } from './office-collect-files.js';
import { box, clear, followKey, holdAgainst, rows, run, stop, take, takePasted } from './office-collect-work.js';
import { classTable, shown } from './office-table.js';
import { openedRow, troubleOf } from './office-table-row.js';
import { paper, print } from './office-table-paper.js';

/** The section, as children of its panel. */
export function collectSection(app) {
  followKey(app);
  return [
    h('div', { class: 'collect collect-screen', key: 'collect' }, h('h2', { class: 'hidden' }, t('office.part.collect')),
      h('div', { class: 'collect-in' }, drop(app), h('div', { class: 'collect-with' }, against(app), keySection(app))),
      progress(app), notes(), ...(rows().length > 0 ? results(app) : [])),
    paper(app),
  ];
}

function drop(app) {
  const isPasting = box.isPasting ?? rows().length === 0;
  const over = (isOver) => (e) => {
    e.preventDefault();
    e.currentTarget.classList.toggle('over', isOver);
  };
  const chosen = (e) => {
    take(app, chosenFiles(e.target.files));
    e.target.value = '';
  };
  return h('section', { class: 'collect-drop', key: 'drop', 'aria-labelledby': 'collect-drop', ondragover: over(true), ondragleave: over(false),
    ondrop: async (e) => { over(false)(e); take(app, await droppedFiles(e.dataTransfer)); } },
    h('h3', { id: 'collect-drop' }, t('collect.drop')), h('p', { class: 'mute' }, t('collect.drop.hint')),
    h('div', { class: 'row' },
      h('label', { class: 'button file go' }, t('collect.files'), h('input', { type: 'file', multiple: true, name: 'collect-files', onchange: chosen })),
      h('label', { class: 'button file' }, t('collect.folder'), h('input', { type: 'file', webkitdirectory: true, name: 'collect-folder', onchange: chosen }))),
    h('details', { class: 'fold', key: 'paste', open: isPasting, ontoggle: (e) => { if (e.target.open !== isPasting) box.isPasting = e.target.open; } },
      h('summary', null, t('collect.paste')),
      h('label', { class: 'field' }, h('span', { class: 'hidden' }, t('collect.paste')), h('textarea', { id: 'collect-paste', rows: 3, spellcheck: 'false', autocapitalize: 'off' })),
      h('button', { type: 'button', 'data-act': 'collect-paste', onclick: () => pasted(app) }, t('collect.paste.take'))));
}

function pasted(app) {
  const field = document.getElementById('collect-paste');
  const text = field.value;
  if (text.trim() === '') return field.focus();
  field.value = '';
  return takePasted(app, text);
}

/** The class that hand-ins are held against. */
function against(app) {
  const kept = keptClasses();
  const { group } = box;
  const at = kept.findIndex((c) => c.text === group?.text);
  const choose = (e) => holdAgainst(app, e.target.value === '' ? null : kept[Number(e.target.value)] ?? group);
  return h('section', { key: 'against', 'aria-labelledby': 'collect-against' },
    h('h3', { id: 'collect-against' }, t('collect.against')),
    h('label', { class: 'field' }, h('span', { class: 'hidden' }, t('collect.against')),
      h('select', { name: 'collect-class', value: at >= 0 ? String(at) : group ? 'file' : '', onchange: choose },
        h('option', { key: 'none', value: '', selected: !group }, t('collect.against.none')),
        kept.map((c, i) => h('option', { key: c.id, value: String(i), selected: i === at }, `${c.name} (${c.n})`)),
        group && at < 0 && h('option', { key: 'file', value: 'file', selected: true }, t('collect.against.file', { name: group.name, n: group.students.length })))),
    h('label', { class: 'button file' }, t('collect.against.open'), h('input', { type: 'file', accept: '.json,application/json', name: 'collect-class-file', onchange: (e) => { take(app, chosenFiles(e.target.files), true); e.target.value = ''; } })),
    h('p', { class: 'mute small' }, t('collect.against.hint')));
}

function progress(app) {
  const left = box.items.filter((item) => !item.row).length;
  if (box.reading) return h('p', { class: 'notice', key: 'reading', role: 'status' }, t('collect.reading'));
  if (box.busy) {
    const text = t('collect.working', { done: number(box.done), of: number(box.of) });
    return h('div', { class: 'notice collect-progress', key: 'working' }, h('p', null, text),
      h('progress', { max: box.of || 1, value: box.done, 'aria-label': text }),
      h('button', { type: 'button', 'data-act': 'collect-stop', disabled: box.stopping, onclick: () => stop(app) }, t(box.stopping ? 'collect.stopping' : 'collect.stop')));
  }
  if (left > 0) return h('div', { class: 'notice collect-progress', key: 'stopped' }, h('p', null, t('collect.left', { n: left })), h('button', { type: 'button', 'data-act': 'collect-go-on', onclick: () => run(app) }, t('collect.go.on')));
  return null;
}

function notes() {
  return [box.notes.length > 0 && h('ul', { class: 'mute', key: 'notes' }, box.notes.map((text, i) => h('li', { key: i }, text))), box.error && troubleOf(box.error)];
}

function results(app) {
  const hands = {
    close: (item) => { Object.assign(box, { open: 0, editing: null }); app.redraw(); queueMicrotask(() => document.querySelector(`[data-row="${item.id}"]`)?.focus()); },
    print: (what) => print(app, what),
  };
  const openRow = (item) => {
    if (box.open === item.id) return hands.close(item);
    Object.assign(box, { open: item.id, editing: null, rowError: null });
    app.redraw();
    return queueMicrotask(() => { const title = document.getElementById('row-title'); title?.scrollIntoView({ block: 'nearest' }); title?.focus(); });
  };
  return [summary(app, hands), picture(app), classTable(app, openRow), openedRow(app, hands)];
}

function summary(app, hands) {
  const p = box.picture;
  return h('section', { class: 'collect-summary', key: 'summary', 'aria-labelledby': 'collect-summary' },
    h('h3', { id: 'collect-summary', 'data-out': 'summary' }, p ? t('collect.summary', { n: p.hand_ins, holds: p.graded, passed: p.passed, mean: number(p.mean_percent) }) : t('collect.counting')),
    rows().some(({ row }) => row.again > 1) && h('p', { key: 'several' }, t('collect.several')),
    p?.missing.length > 0 && h('p', { key: 'missing' }, t('handin.missing', { students: p.missing.map(shown).join(', ') })),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: 'go', 'data-act': 'collect-csv', disabled: !box.csv, onclick: () => saveFile(csvName(), `\ufeff${box.csv}`, 'text/csv') }, t('collect.csv')),
      h('button', { type: 'button', 'data-act': 'print-class', disabled: !p, onclick: () => hands.print('class') }, t('collect.print.class')),
      h('button', { type: 'button', 'data-act': 'print-reports', disabled: !p?.graded, onclick: () => hands.print('all') }, t('collect.print.reports')),
      h('button', { type: 'button', class: 'plain', 'data-act': 'collect-clear', disabled: box.busy, onclick: () => clear(app) }, t('collect.clear'))));
}

const csvName = () => `crankbay-${(box.group?.name ?? '').normalize('NFD').replace(/[\u0300-\u036f]/g, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'class'}.csv`;

/** What went wrong, the most frequent first; one of them shows whose it was. */
function picture(app) {
  const p = box.picture;
  if (!p || p.missteps.length === 0) return null;
  return h('section', { class: 'collect-picture', key: 'picture', 'aria-labelledby': 'collect-picture' },
    h('h3', { id: 'collect-picture' }, t('collect.missteps')), h('p', { class: 'mute small' }, t('collect.missteps.hint')),
    h('ul', { class: 'missteps' }, p.missteps.map(({ key, n }) => h('li', { key },
      h('button', { type: 'button', class: 'plain', 'data-act': 'misstep', 'data-choice': key, 'data-n': n, 'aria-pressed': String(box.misstep === key), onclick: () => { box.misstep = box.misstep === key ? '' : key; app.redraw(); } }, t(`misstep.${key}`)),
      h('span', { class: 'count' }, t('collect.count', { n, of: p.graded })),
      h('progress', { max: p.graded, value: n, 'aria-hidden': 'true', tabindex: '-1' })))),
    box.misstep && h('p', { key: 'only', role: 'status' }, t('collect.only', { what: t(`misstep.${box.misstep}`) }), ' ',
      h('button', { type: 'button', class: 'plain', 'data-act': 'misstep-all', onclick: () => { box.misstep = ''; app.redraw(); } }, t('collect.only.all'))));
}
