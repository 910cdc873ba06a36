// The Yard: what there is to practise, and what was left unfinished.

import { address, isWhole } from './parts.js';
import { h } from './dom.js';
import { t, pick, lang } from './i18n.js';
import { duration, quoted } from './format.js';
import { isOwed } from './handin.js';

const modes = ['reasons', 'alone', 'grade'];

/** The engine somebody who is here for the first time starts with: nothing is wrong with it. */
const FIRST = 'sound-inline-four';

/**
 * The page of the Yard.
 * @param {Object} app state and actions of the page
 */
export function yard(app) {
  const due = owed(app);
  return h('main', { class: 'yard', id: 'main', key: 'yard', tabindex: '-1' },
    h('h1', null, t('yard.title')),
    h('p', { class: 'lead' }, t('yard.lead')),
    newer(app),
    assigned(app),
    h('div', { class: 'yard-grid' },
      h('div', { class: 'yard-open' }, due, unfinished(app) ?? (due ? null : first(app))),
      h('div', { class: 'yard-side' }, how(app)),
      !alone(app) && h('div', { class: 'yard-jobs' }, list(app)),
      h('div', { class: 'yard-more' }, !alone(app) && fromDisk(app), !alone(app) && isWhole() && real(app), !alone(app) && teachers(), !alone(app) && isWhole() && instructors(app), safety(), kept(app))));
}

/** Inside a learning platform there is one job and no catalogue. */
function alone(app) {
  return app.state.job?.only === true;
}

/** What an instructor's link asks for. */
function assigned(app) {
  const { job, fileError } = app.state;
  if (!job) return null;
  const todo = [job.class, job.who && t('job.for', { who: job.who }), job.mode && t('job.mode', { mode: t(`mode.${job.mode}`) })].filter(Boolean).join(' · ');
  return h('section', { key: 'assigned', class: 'unfinished', 'aria-labelledby': 'assigned' },
    h('h2', { id: 'assigned' }, t('job.title')),
    h('ul', { class: 'jobs' }, h('li', { class: 'job' },
      h('div', null, h('h3', null, pick(job.title)), h('p', { class: 'said' }, t('yard.quote', { text: pick(job.complaint) })),
        todo && h('p', { class: 'mute' }, todo),
        !(job.mode && job.who) && h('p', { class: 'small mute' }, t('job.choose'))),
      h('div', { class: 'job-acts' },
        h('button', { type: 'button', class: 'go', 'data-act': 'start-job', disabled: !app.state.catalogue, onclick: () => app.startJob() }, t('job.start'))))),
    alone(app) && fileError && h('p', { class: 'notice refusal', role: 'alert' }, fileError.text, fileError.detail && quoted(fileError.detail)));
}

function how(app) {
  return h('section', null,
    h('h2', null, t('yard.how')),
    h('label', { class: 'field' }, h('span', null, t('yard.who')),
      h('input', { type: 'text', maxlength: 64, autocomplete: 'name', value: app.state.who, name: 'who',
        onchange: (e) => app.prefer('who', e.target.value.trim()) }),
      h('small', { class: 'mute' }, t('yard.who.hint'))),
    h('fieldset', { class: 'choices' }, h('legend', null, t('yard.mode')),
      modes.map((mode) => h('label', { class: 'choice' },
        h('input', { type: 'radio', name: 'mode', value: mode, checked: app.state.mode === mode,
          onchange: () => app.prefer('mode', mode) }),
        h('span', null, h('b', null, t(`mode.${mode}`)), h('small', null, t(`mode.${mode}.hint`)))))));
}

function fromDisk(app) {
  return h('section', null,
    h('h2', null, t('yard.open')),
    h('p', { class: 'mute' }, t('yard.open.hint')),
    h('label', { class: 'button file' }, t('yard.open.button'),
      h('input', { type: 'file', accept: '.json,application/json', name: 'file',
        onchange: (e) => { app.openFile(e.target.files[0]); e.target.value = ''; } })),
    app.state.fileError && h('p', { class: 'notice error', role: 'alert' }, app.state.fileError.text, app.state.fileError.detail && quoted(app.state.fileError.detail)));
}

/** The way to the Second opinion, where the head of the page has no room for it too. */
function real(app) {
  return h('section', null,
    h('h2', null, t('opinion.real')),
    h('p', { class: 'mute' }, t('opinion.hint')),
    h('button', { type: 'button', class: 'plain', 'data-act': 'to-opinion', onclick: () => app.go('opinion') }, t('opinion.go')));
}

/** Guide and model page are documents of their own; they need no core. */
function teachers() {
  return h('section', null,
    h('h2', null, t('model.title')),
    h('p', { class: 'mute' }, t('guide.hint')),
    h('a', { class: 'plain', href: address(`guide.${lang()}.html`), 'data-act': 'guide' }, t('guide.open')),
    h('p', { class: 'mute' }, t('model.hint')),
    h('a', { class: 'plain', href: address(`model.${lang()}.html`), 'data-act': 'model' }, t('model.open')));
}

/** The way to the Desk, where the head of the page has no room for it too. */
function instructors(app) {
  return h('section', null,
    h('h2', null, t('office.for')),
    h('p', { class: 'mute' }, t('office.hint')),
    h('button', { type: 'button', class: 'plain', 'data-act': 'to-desk-yard', onclick: () => app.go('desk') }, t('office.go')));
}

/** A newer build waits; what is unfinished belongs to the one in use. */
function newer(app) {
  if (!app.state.site.newer) return null;
  return h('section', { key: 'newer', class: 'newer', role: 'status' },
    h('p', null, t(app.attempts().length > 0 ? 'newer.unfinished' : 'newer.ready')),
    h('button', { type: 'button', 'data-act': 'use-newer', onclick: () => app.useNewer() }, t('newer.use')));
}

function kept(app) {
  return app.state.site.kept ? h('p', { key: 'kept', class: 'small mute', 'data-out': 'kept' }, t('yard.kept')) : null;
}

function safety() {
  return h('section', { class: 'small mute' }, h('h2', null, t('yard.safety')), h('p', null, t('yard.safety.text')));
}

/** What was handed in and nobody has got yet. */
function owed(app) {
  return keptJobs(app, 'owed', app.handIns().filter(isOwed), t('yard.owed'), t('yard.owed.open'), t('yard.owed.hint'));
}

function unfinished(app) {
  return keptJobs(app, 'unfinished', [...app.attempts(), ...app.handIns().filter((a) => !isOwed(a))], t('yard.unfinished'), t('yard.resume'));
}

function keptJobs(app, id, kept, title, go, hint = '') {
  if (kept.length === 0) return null;
  return h('section', { key: id, class: 'unfinished', 'aria-labelledby': id },
    h('h2', { id }, title), hint && h('p', { class: 'mute' }, hint),
    h('ul', { class: 'jobs' }, kept.map((a) => h('li', { key: `${a.scenario}/${a.mode}/${a.saved}`, class: 'job' },
      h('div', null, h('h3', null, pick(a.title)),
        h('p', { class: 'mute' }, [t(`mode.${a.mode}`), a.who, t('yard.spent', { time: duration(a.minutes ?? 0) })].filter(Boolean).join(' · '))),
      h('div', { class: 'job-acts' },
        h('button', { type: 'button', class: 'go', 'data-act': id === 'owed' ? 'hand-over' : 'resume', onclick: () => app.resume(a) }, go),
        discard(app, a))))));
}

/** What nobody has got yet is thrown away at a second touch only. */
function discard(app, a) {
  const asks = isOwed(a) && app.state.discarding !== a.saved;
  const again = isOwed(a) && !asks;
  return h('button', { type: 'button', class: 'plain', 'data-act': 'discard', onclick: () => (asks ? app.set({ discarding: a.saved }) : app.discard(a)) }, t(again ? 'yard.discard.sure' : 'yard.discard'));
}

/** Somebody who has nothing unfinished here may be here for the first time. */
function first(app) {
  const { catalogue, job } = app.state;
  if (job || alone(app) || !catalogue?.some((s) => s.id === FIRST)) return null;
  return h('section', { key: 'first', class: 'first', 'aria-labelledby': 'first' },
    h('div', null, h('h2', { id: 'first' }, t('first.title')), h('p', null, t('first.text'))),
    h('button', { type: 'button', class: 'go', 'data-act': 'first', onclick: () => app.openFirst(FIRST) }, t('first.go')));
}

/** What stands in the place of the jobs until the core answers, or when it can't. */
function waiting(app) {
  const { coreError } = app.state;
  if (!coreError) return h('p', { key: 'wait', class: 'waiting', role: 'status' }, h('span', { class: 'waiting-bar', 'aria-hidden': 'true' }), t('yard.loading'));
  return h('div', { key: 'failed', class: 'notice error', role: 'alert' }, h('p', null, coreError),
    h('button', { type: 'button', 'data-act': 'reload', onclick: () => location.reload() }, t('core.again')));
}

function list(app) {
  const { catalogue } = app.state;
  if (!catalogue) return waiting(app);
  const shown = catalogue.filter((s) => wanted(app, s));
  const groups = [];
  for (const s of shown) {
    let group = groups.find((g) => g.id === s.engine.id);
    if (!group) groups.push(group = { id: s.engine.id, name: s.engine.name, jobs: [] });
    group.jobs.push(s);
  }
  return [filters(app, shown.length), h('div', { class: 'engines', key: 'engines' }, groups.map((g, i) => engine(app, g, folds.get(g.id) ?? ((i === 0 && isWide()) || shown.length <= FEW))))];
}

const FEW = 15; // jobs that are shown without a fold
const folds = new Map(); // engine → whether somebody opened or shut it

/** Where there is room the first engine's jobs are in sight at once. */
const isWide = () => matchMedia('(min-width: 861px)').matches;

/** One engine with its jobs, a touch away. */
function engine(app, { id, name, jobs }, isOpen) {
  return h('details', { key: id, class: 'engine-jobs', open: isOpen, ontoggle: (e) => { if (e.target.open !== isOpen) folds.set(id, e.target.open); } },
    h('summary', null, h('h2', null, pick(name)), h('span', { class: 'mute' }, t('yard.engine.jobs', { n: jobs.length }))),
    h('ul', { class: 'jobs' }, [...jobs].sort((a, b) => a.difficulty - b.difficulty).map((s) => job(app, s))));
}

/** Whether a job passes the filters. What it trains isn't asked in an assessed test. */
function wanted(app, s) {
  const { trains: skill, level } = app.state.filter;
  return (!level || s.difficulty === Number(level)) && (!skill || app.state.mode === 'grade' || s.trains.includes(skill));
}

/** Chooses among the jobs by what they train and how hard they are. */
function filters(app, n) {
  const { catalogue, filter, mode } = app.state;
  const one = (name, label, options) => h('label', { class: 'field', key: name }, h('span', null, label),
    h('select', { name: `filter-${name}`, value: filter[name], onchange: (e) => { folds.clear(); app.set({ filter: { ...filter, [name]: e.target.value } }); } },
      options.map(([value, text]) => h('option', { key: value, value, selected: value === filter[name] }, text))));
  const skills = [...new Set(catalogue.flatMap((s) => s.trains))].map((id) => [id, t(`trains.${id}`)]).sort((a, b) => a[1].localeCompare(b[1], lang()));
  return h('div', { class: 'filters', key: 'filters', role: 'group', 'aria-label': t('yard.filter') },
    mode !== 'grade' && one('trains', t('yard.filter.trains'), [['', t('yard.filter.all')], ...skills]),
    one('level', t('yard.filter.level'), [['', t('yard.filter.any')], ...['1', '2', '3'].map((l) => [l, t(`difficulty.${l}`)])]),
    h('p', { class: 'mute', role: 'status', 'data-out': 'filtered' }, t(n === 0 ? 'yard.filter.none' : 'yard.filter.count', { n, all: catalogue.length })));
}

function job(app, s) {
  return h('li', { key: s.id, class: 'job' },
    h('div', null,
      h('h3', null, h('button', { type: 'button', class: 'headline', 'data-act': 'open', 'data-scenario': s.id,
        onclick: () => app.openScenario(s.id) }, pick(s.title))),
      h('p', { class: 'said' }, t('yard.quote', { text: pick(s.complaint) })),
      h('p', { class: 'mute small' }, h('span', { class: 'difficulty' }, t(`difficulty.${s.difficulty}`)), app.state.mode !== 'grade' && h('span', { key: 'trains' }, ` · ${trains(s)}`))));
}

// What a job trains gives its answer away, so it isn't said to someone who
// works for the grade.
function trains(s) {
  return t('yard.trains', { list: (s.trains ?? []).map((id) => t(`trains.${id}`)).join(', ') });
}
