// A class set: a variant of one job for every student of a roster.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { begin, choices, draft } from './office-draft.js';
import { choose, fileButton, textField, textOf } from './office-fields.js';
import { catalogueOptions, sealTick, trouble } from './office-job.js';
import { publicKey } from './office-key.js';
import { changeSet, clearForm, fill, group, hasLesson, makeSet, openClass, paste, setExtra, stopMaking, takeFile, wake } from './office-group.js';
import { forgetClass, keptClasses, keptJobs } from './office-keep.js';
import { shownName } from './office-head.js';
import { parseNumber } from './units.js';
import { madeSet } from './office-set.js';
import { paper } from './office-paper.js';

/** The section, as children of its panel. */
export function classSection(app) {
  begin(app);
  if (choices.list) queueMicrotask(() => wake(app));
  if (choices.error) return trouble(choices.error, h('button', { type: 'button', 'data-act': 'desk-again', onclick: () => begin(app, true) }, t('office.again')));
  if (!choices.list) return h('p', { class: 'mute', role: 'status', key: 'wait' }, t('office.wait'));
  if (group.set && group.view !== 'list') return paper(app);
  if (group.set && !group.changing) return madeSet(app);
  return h('div', { class: 'office-columns', key: 'class' }, h('form', { class: 'office-form', novalidate: true, onsubmit: (e) => e.preventDefault() }, form(app)), h('div', { class: 'office-side' }, kept(app), secret()));
}

function form(app) {
  const { changing } = group;
  return [h('h2', { key: 'title', id: 'office-class', tabindex: '-1' }, t(changing ? 'office.class.change' : 'office.class')),
    h('p', { class: 'mute', key: 'lead' }, t(changing ? 'office.class.change.hint' : 'office.class.hint')),
    !changing && [h('h3', { key: 'l' }, t('office.class.lesson')), lesson(app)],
    h('h3', { key: 's' }, t('office.class.students')), roster(app), students(app),
    !changing && [h('h3', { key: 'h' }, t('office.class.how')), how(app)],
    group.error && trouble(group.error), group.busy && progress(app),
    h('div', { class: 'row', key: 'go' },
      h('button', { type: 'button', class: 'go', 'data-act': changing ? 'change-class' : 'make-class', disabled: group.busy !== null || group.students.length === 0 || !(changing || hasLesson()), onclick: () => (changing ? changeSet(app) : makeSet(app)) }, t(changing ? 'office.class.change.go' : 'office.class.make')),
      changing && h('button', { type: 'button', class: 'plain', 'data-act': 'change-back', onclick: () => fill(app, { changing: false }) }, t('office.back')),
      !changing && !group.busy && (group.roster || group.name || group.tags) && h('button', { type: 'button', class: 'plain', key: 'clear', 'data-act': 'class-clear', onclick: () => clearForm(app) }, t('office.class.clear')))];
}

/** How far the making has come, and the way out of it. */
function progress(app) {
  const { done, of } = group.busy;
  return h('div', { class: 'office-progress', key: 'busy' }, h('p', { role: 'status' }, of ? t('office.making', { done, of }) : t('office.wait')),
    h('progress', { max: of || 1, value: String(done), 'aria-label': t('office.class.make') }),
    h('button', { type: 'button', 'data-act': 'class-stop', onclick: () => stopMaking(app) }, t('collect.stop')));
}

function lesson(app) {
  const jobs = keptJobs();
  const own = [
    draft.file && ['draft', t('office.class.draft', { title: pick(draft.file.title) })],
    group.file && ['file', group.file.name],
    ...jobs.filter((j) => j.id !== draft.file?.id).map((j) => [`job:${j.id}`, pick(j.title)]),
  ].filter(Boolean);
  const options = [...(!draft.file && group.from === 'draft' ? [['draft', t('office.begin.choose')]] : []), ...(own.length ? [{ label: t('office.class.own'), options: own }] : []), ...catalogueOptions()];
  return h('div', { class: 'office-lesson', key: 'lesson' }, choose('class-from', t('office.class.from'), group.from, options, (from) => fill(app, { from })),
    fileButton('class-file', t('office.begin.file'), '.json,application/json', async (file) => fill(app, { file: { name: file.name, text: await textOf(file) }, from: 'file' })));
}

function roster(app) {
  const n = group.students.length;
  return h('div', { class: 'office-roster', key: 'roster' },
    h('div', { class: 'field' }, h('label', { for: 'class-roster' }, t('office.roster')),
      h('textarea', { id: 'class-roster', name: 'class-roster', rows: 6, value: group.roster, 'aria-describedby': 'class-roster-hint', autocomplete: 'off', spellcheck: 'false', oninput: (e) => paste(app, e.target.value) }),
      h('small', { class: 'mute', id: 'class-roster-hint' }, t('office.roster.hint'))),
    fileButton('class-roster-file', t('office.roster.file'), '.csv,.txt,.tsv,text/csv,text/plain', (file) => takeFile(app, file)),
    group.rosterError ? trouble(group.rosterError) : h('p', { role: 'status', key: 'n', 'data-out': 'roster', 'data-value': n }, n ? t('office.roster.n', { n }) : ''));
}

/** Everyone on the roster, with more time for who needs it. */
function students(app) {
  const { students: list } = group;
  if (list.length === 0) return null;
  return h('details', { class: 'fold office-fold', key: 'students' }, h('summary', null, h('h4', null, t('office.extra'))),
    h('p', { class: 'mute' }, t('office.extra.hint')),
    h('ul', { class: 'office-students' }, list.map((s, i) => h('li', { key: `${s.name} ${s.id ?? ''}` }, h('label', { for: `extra-${i}` }, shownName(s.id ? `${s.name} (${s.id})` : s.name, i + 1)),
      h('span', { class: 'office-value' }, h('input', { type: 'text', inputmode: 'numeric', id: `extra-${i}`, name: `extra-${i}`, value: String(s.extra_time ?? 0), onchange: (e) => takeExtra(app, i, e.target) }), h('span', { class: 'unit' }, '%'))))));
}

function takeExtra(app, i, input) {
  const v = Math.round(parseNumber(input.value || '0'));
  if (v >= 0 && v <= 300) setExtra(app, i, v);
  input.value = String(group.students[i].extra_time ?? 0); // what isn't from 0 to 300 is not taken
}

function how(app) {
  return h('div', { key: 'how' },
    textField('class-name', t('office.class.name'), group.name, 60, (name) => fill(app, { name })),
    choose('class-mode', t('office.mode'), group.mode, [['grade', t('mode.grade')], ['alone', t('mode.alone')], ['reasons', t('mode.reasons')], ['', t('office.mode.free')]], (mode) => fill(app, { mode })),
    sealTick('class-seal', group.seal !== '', (on) => fill(app, { seal: on ? publicKey() : '' })),
    textField('class-tags', t('office.tags'), group.tags, 600, (tags) => fill(app, { tags })), h('p', { class: 'small mute' }, t('office.tags.hint')));
}

/** Classes of this device, and one from a file. */
function kept(app) {
  const classes = keptClasses();
  const named = (c) => c.name || t('office.class.unnamed');
  return h('section', { class: 'office-out', key: 'kept', 'aria-labelledby': 'office-kept' }, h('h3', { id: 'office-kept' }, t('office.class.kept')),
    classes.length === 0 && h('p', { class: 'mute', key: 'none' }, t('office.saved.none')),
    h('ul', { class: 'jobs' }, classes.map((c) => h('li', { key: c.id, class: 'job' }, h('div', null, h('b', null, named(c)), h('p', { class: 'mute' }, t('office.roster.n', { n: c.n }))),
      h('div', { class: 'job-acts' },
        h('button', { type: 'button', 'data-act': 'open-class', 'aria-label': t('office.open.of', { title: named(c) }), onclick: () => openClass(app, c.text, c.id) }, t('office.open')),
        h('button', { type: 'button', class: 'plain', 'data-act': 'forget-class', 'aria-label': t(group.forgetting === c.id ? 'office.forget.sure.of' : 'office.forget.of', { title: named(c) }), onclick: () => forget(app, c) }, t(group.forgetting === c.id ? 'office.forget.sure' : 'office.forget')))))),
    group.forgetting && h('p', { class: 'notice caution', key: 'sure', role: 'status' }, t('office.forget.lost')),
    fileButton('class-open', t('office.class.open'), '.json,application/json', async (file) => openClass(app, await textOf(file))));
}

/** Forgets a class when it is asked for twice. */
function forget(app, c) {
  if (group.forgetting === c.id) forgetClass(c.id);
  fill(app, { forgetting: group.forgetting === c.id ? '' : c.id });
}

function secret() {
  return h('section', { class: 'office-out', key: 'secret' }, h('h3', null, t('office.secret')), h('p', null, t('office.secret.text')), h('p', null, t('office.secret.keep')));
}
