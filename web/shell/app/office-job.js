// One job: composed, tried by the book, handed out.

import { h } from './dom.js';
import { t, tFirst, pick } from './i18n.js';
import { detailOf, quoted } from './format.js';
import { saveFile } from './files.js';
import { isPacked } from './parts.js';
import { square } from './square.js';
import { begin, choices, close, draft, draftText, makeLink, open, save } from './office-draft.js';
import { answer, faults } from './office-faults.js';
import { card, day, texts, tools, work } from './office-more.js';
import { choose, fileButton, fold, forgetBad, textOf, tick } from './office-fields.js';
import { keptJobs, forgetJob } from './office-keep.js';
import { fill, group, startOver } from './office-group.js';
import { publicKey } from './office-key.js';
import { reads, strip } from './office-reads.js';
import { showPart } from './office-head.js';

/** The section, as children of its panel. */
export function jobSection(app) {
  begin(app);
  if (choices.error) return trouble(choices.error, h('button', { type: 'button', 'data-act': 'desk-again', onclick: () => begin(app, true) }, t('office.again')));
  if (!choices.list) return h('p', { class: 'mute', role: 'status', key: 'wait' }, t('office.wait'));
  if (!draft.file) return beginning(app);
  return [h('div', { class: 'office-columns', key: 'job' },
    h('form', { class: 'office-form', novalidate: true, onsubmit: (e) => e.preventDefault() }, form(app), strip(app)),
    h('div', { class: 'office-side' }, reads(app), out(app)))];
}

/** One sentence about an error, and the program's own words. */
export function trouble(error, ...kids) {
  const detail = detailOf(error);
  return h('div', { class: 'notice error', key: 'trouble', role: 'alert' }, h('p', null, tFirst([`error.${error.key}`, 'error.other'], error.params), ' ', detail && !tFirst([`error.${error.key}`]).includes('{text}') && quoted(detail)), kids);
}

/** Options of the scenarios of the catalogue, by engine, with what is wrong. */
export function catalogueOptions() {
  const { engines, scenarios } = choices.list;
  return engines.map((e) => ({ label: pick(e.name), options: scenarios.filter((s) => s.engine === e.id).map((s) => [s.id, `${t(`family.${s.family}`)}: ${pick(s.title)}`]) }));
}

function beginning(app) {
  const { engines } = choices.list;
  return h('div', { class: 'office-begin', key: 'begin' },
    h('h2', null, t('office.begin')), h('p', { class: 'mute' }, t('office.begin.hint')),
    draft.openError && trouble(draft.openError),
    draft.busy === 'open' && h('p', { role: 'status', class: 'mute', key: 'busy' }, t('office.wait')),
    from(app, 'scenario', catalogueOptions()), from(app, 'engine', engines.map((e) => [e.id, pick(e.name)])),
    h('div', { class: 'row' }, fileButton('begin-file', t('office.begin.file'), '.json,application/json', async (file) => start(app, { text: await textOf(file) }, true))),
    saved(app));
}

const chosen = { scenario: '', engine: '' };

/** A list and the button that takes what is chosen: a list alone would act on every arrow key. */
function from(app, what, options) {
  return h('div', { class: 'office-take', key: what },
    choose(`begin-${what}`, t(`office.begin.${what}`), chosen[what], [['', t('office.begin.choose')], ...options], (v) => { chosen[what] = v; app.redraw(); }),
    h('button', { type: 'button', 'data-act': `begin-${what}`, disabled: !chosen[what], 'aria-label': t(`office.begin.take.${what}`), onclick: () => start(app, { [what]: chosen[what] }) }, t('office.begin.take')));
}

async function start(app, from, same = false) {
  forgetBad();
  if (!(await open(app, from, same))) return;
  app.announce(t('office.begun', { title: pick(draft.file.title) }));
  queueMicrotask(() => document.getElementById('office-job')?.focus());
}

function saved(app) {
  const jobs = keptJobs();
  return h('section', { key: 'saved' }, h('h3', null, t('office.saved')),
    jobs.length === 0 && h('p', { class: 'mute', key: 'none' }, t('office.saved.none')),
    h('ul', { class: 'jobs' }, jobs.map((j) => h('li', { key: j.id, class: 'job' }, h('b', null, pick(j.title)),
      h('div', { class: 'job-acts' },
        h('button', { type: 'button', 'data-act': 'open-job', 'aria-label': t('office.open.of', { title: pick(j.title) }), onclick: () => start(app, { text: j.text }, true) }, t('office.open')),
        h('button', { type: 'button', class: 'plain', 'data-act': 'forget-job', 'aria-label': t('office.forget.of', { title: pick(j.title) }), onclick: () => { forgetJob(j.id); app.redraw(); } }, t('office.forget')))))));
}

function form(app) {
  const { file } = draft;
  return [h('div', { class: 'office-title', key: 'title' },
    h('div', null, h('h2', { id: 'office-job', tabindex: '-1' }, pick(file.title)), h('p', { class: 'mute' }, pick(file.engine.name))),
    h('button', { type: 'button', class: 'plain', 'data-act': 'another-job', onclick: () => { forgetBad(); close(app); } }, t('office.another'))),
  fold('faults', t('office.faults'), true, faults(app)), fold('answer', t('office.answer'), false, answer(app)),
  fold('work', t('office.work'), false, work(app)), fold('texts', t('office.text'), false, texts(app)),
  fold('day', t('office.day'), false, day(app)), fold('tools', t('office.tools'), false, tools(app)), fold('card', t('office.card'), false, card(app))];
}

/** Goes on to a class of this job, from its beginning; a class that is kept makes way. */
function toClass(app) {
  if (group.set && group.kept) startOver(app);
  if (!group.set) fill(app, { from: 'draft' });
  showPart(app, 'class');
  queueMicrotask(() => {
    scrollTo(0, 0);
    document.getElementById('office-class')?.focus();
  });
}

/** Keeping it and handing it out. */
function out(app) {
  const { modes } = choices.list;
  const allowed = draft.file.work?.modes ?? modes;
  if (draft.mode && !allowed.includes(draft.mode)) draft.mode = '';
  return h('section', { class: 'office-out', key: 'out', 'aria-labelledby': 'office-out' }, h('h3', { id: 'office-out' }, t('office.out')),
    choose('job-mode', t('office.mode'), draft.mode, [['', t('office.mode.free')], ...allowed.map((m) => [m, t(`mode.${m}`)])], (v) => { draft.mode = v; draft.link = null; app.redraw(); }),
    sealTick('job-seal', draft.seal, (on) => { Object.assign(draft, { seal: on, link: null }); app.redraw(); }),
    h('div', { class: 'row' },
      h('button', { type: 'button', class: 'go', 'data-act': 'job-link', onclick: async () => { if (await makeLink(app)) app.announce(t('office.linked')); } }, t('office.link.make')),
      h('button', { type: 'button', 'data-act': 'job-class', onclick: () => toClass(app) }, t('office.toclass')),
      h('button', { type: 'button', 'data-act': 'job-save', onclick: () => save(app) }, t('office.save')),
      h('button', { type: 'button', 'data-act': 'job-file', onclick: () => saveFile(`crankbay-${draft.file.id}.json`, draftText()) }, t('office.file'))),
    draft.kept !== null && h('p', { key: 'kept', role: 'status', class: draft.kept ? 'mute' : 'notice caution' }, t(draft.kept ? 'office.kept' : 'office.unkept')),
    draft.linkError && trouble(draft.linkError), draft.link && link(app), protects());
}

/** Whether hand-ins are sealed to the instructor's key, where there is one. */
export function sealTick(id, on, set) {
  if (!publicKey()) return h('p', { class: 'small mute', key: id }, t('office.seal.none'));
  return [tick(id, t('office.seal'), on, set), h('p', { class: 'small mute', key: `${id}-hint` }, t('office.seal.hint'))];
}

function link(app) {
  const { address, square: rows } = draft.link;
  return h('div', { class: 'office-link', key: 'link' },
    h('div', { class: 'field' }, h('label', { for: 'job-address' }, t('office.link')), h('input', { type: 'text', id: 'job-address', readonly: true, value: address, 'data-out': 'job-link' })),
    h('div', { class: 'row' }, h('button', { type: 'button', 'data-act': 'copy', onclick: () => copy(app, address) }, t('office.copy')),
      h('a', { class: 'plain', href: address, target: '_blank', rel: 'noopener', 'data-act': 'try-job' }, t('office.try'))),
    isPacked() && h('p', { class: 'small notice caution', key: 'disk' }, t('office.link.disk')),
    rows ? h('div', { class: 'office-square', own: true, key: address, ref: (el) => el.append(square(rows, t('office.square'))) }) : h('p', { key: 'long', class: 'small mute' }, t('office.square.long')));
}

/** Copies a text, or says that the browser doesn't allow it. */
export async function copy(app, text) {
  try {
    await navigator.clipboard.writeText(text);
    app.announce(t('office.copied'));
  } catch {
    app.announce(t('office.copy.denied'));
  }
}

/** What a link protects, and what it does not. */
export function protects() {
  return h('details', { class: 'fold office-fold', key: 'protects' }, h('summary', null, h('h4', null, t('office.protect'))),
    h('ul', { class: 'dashes' }, ['office.protect.own', 'office.protect.replay', 'office.protect.key', 'office.protect.person'].map((key) => h('li', { key }, t(key)))));
}
