// The page: one state, five places, and what leads from one to another.

import { keepInSight } from './afloat.js';
import * as core from './core.js';
import { patch, trailOf, keepFocus } from './dom.js';
import { header } from './header.js';
import { foot } from './foot.js';
import { t, tFirst, loadLanguage, languages } from './i18n.js';
import { preference, keepPreference, keepAttempt, dropAttempt, dropSame, attempts, dropHandIn, handIns, holdAttempt, leaveAttempt } from './store.js';
import { createBench } from './bench.js';
import { createCaptions } from './captions.js';
import { createVoice } from './voice.js';
import { createTone } from './tone.js';
import { openScene, sceneIsPossible } from './scene.js';
import { sceneHits, scenePlan, targetOf } from './hits.js';
import { detailOf } from './format.js';
import { systemOf, useSystem } from './units.js';
import { yard } from './yard.js';
import { bay } from './bay.js';
import { debrief } from './debrief.js';
import { askDebrief, askPart } from './debrief-ask.js';
import { opinion } from './opinion.js';
import { keepSite, useNewer } from './offline.js';
import { saveFile, fileName, kindOfFile } from './files.js';
import { beginHandIn, guardLeaving, handInLeft, noteHandIn } from './handin.js';
import { isWhole, openDocuments } from './parts.js';

/**
 * What wants to know how a job goes: a package in a learning platform sets these.
 * started() once the core answers, kept() whenever the attempt was kept,
 * handedIn(file), graded(result).
 */
export const hooks = {};

const state = {
  place: 'yard', lang: 'en', catalogue: null, coreError: '', fileError: null,
  who: preference('who', ''), mode: preference('mode', 'reasons'), unit: preference('unit', 'psi'),
  system: preference('system', systemOf(navigator.language)), muted: preference('muted', false), tone: preference('tone', false),
  view: null, custom: '', result: null, site: {}, job: null, filter: { trains: '', level: '' }, ...freshJob(),
};

/** What belongs to one job and is forgotten with it. */
function freshJob() {
  return {
    stage: 'safe', notices: [], words: '', bigDial: false, scene: false, caption: '', sure: false, page: '', typed: {}, bad: {},
    fieldError: '', amounts: {}, order: 'ordered', fit: 'hand', stop: 'bdc', touched: 0,
    test: '', lines: [], said: {}, isWhole: false,
    draft: { family: '', cylinders: [] }, draftError: '', unkept: false, elsewhere: false,
    seal: '', hand: null, sealing: true, giving: false, giveError: null, copied: '',
  };
}

useSystem(state.system);

const places = { yard, bay, debrief, opinion, desk: null };

/** Places that are fetched when somebody first goes there. */
const later = { desk: async () => (await import('./office.js')).office };

let drawings = new Map(); // name → {look?, move?}, of the Bay that is open
let scene = null;
let dialOpener = null;

/** The page's own doings, as its parts get them. */
export const app = {
  state, attempts, handIns, frames: new Set([moveAll]), idle: new Set([idle]),
  redraw, set, prefer, mute, hearNeedle, measureIn, keep, show, mountScene, speak, go,
  openScenario: (id) => openJob({ scenario: id }), openFirst, openFile, startJob, takeJob, enterWith, resume, discard: (a) => { (isHandIn(a) ? dropHandIn : dropAttempt)(a); redraw(); }, left: (how) => handInLeft(app, how),
  useNewer, handIn, toDebrief, grade, askPart: (name) => askPart(app, name), download, openBigDial, closeBigDial, hit: (hit) => sceneHits(app, hit),
};
const voice = createVoice(app);
const { announce, tell } = voice;
Object.assign(app, voice.offers);
app.bench = createBench(app);
app.bench.mute(state.muted);
const captions = createCaptions(app);
const tone = createTone(() => state.tone && !state.muted);

function moveAll(snap) {
  for (const d of drawings.values()) d.move?.(snap);
  scene?.frame(snap);
  captions(snap);
  tone(snap);
  voice.moved(snap);
}

function idle() {
  scene?.hits();
}

function show(name, drawing) {
  drawings.set(name, drawing);
  drawing.move?.(app.bench.snap);
  drawing.look?.();
}

function mountScene(el) {
  scene?.close();
  scene = null;
  state.scene = false;
  if (!sceneIsPossible()) return;
  scene = openScene(el, {
    plan: () => scenePlan(app),
    onHit: (hit) => sceneHits(app, hit),
    onReady: (ready) => { set({ scene: ready }); scene?.frame(app.bench.snap); },
  });
}

let due = false;
/** Draws the page anew before the next frame. */
function redraw() {
  if (due) return;
  due = true;
  queueMicrotask(() => {
    due = false;
    render();
  });
}

function render() {
  const place = places[state.place];
  const trail = trailOf(document.activeElement);
  patch(document.getElementById('page'), header(app), place(app), foot(app));
  keepFocus(trail);
  for (const d of drawings.values()) d.look?.();
  if (state.place === 'bay') {
    scene?.plan();
    scene?.frame(app.bench.snap); // another cylinder may be looked at now
    keepInSight();
  }
  document.title = state.place === 'yard' ? t('app.title') : `${t(`place.${state.place}`)} · ${t('app.title')}`;
}

function set(change) {
  Object.assign(state, change);
  redraw();
}

function prefer(name, value) {
  keepPreference(name, value);
  set({ [name]: value });
}

function mute(on) {
  prefer('muted', on);
  app.bench.mute(on);
}

/** The needle as a tone; whoever wants to hear it wants sound. */
function hearNeedle(on) {
  if (on && state.muted) mute(false);
  prefer('tone', on);
}

/** One setting for screen and paper. The gauge follows; it can still be chosen by itself afterwards. */
function measureIn(system) {
  useSystem(system);
  if ((system === 'us') !== (state.unit === 'psi')) prefer('unit', system === 'us' ? 'psi' : 'kPa');
  prefer('system', system);
}

async function speak(lang) {
  await loadLanguage(lang);
  prefer('lang', lang);
}

/** Keeps the attempt on this device. */
function keep() {
  const { view } = state;
  if (!view || view.handed_in || state.elsewhere) return;
  const kept = keepAttempt({ ...keptNow(), file: core.save() });
  if (kept === state.unkept) set({ unkept: !kept });
  hooks.kept?.();
}

/** What is kept beside the file of an attempt. */
function keptNow() {
  const { view } = state;
  return {
    scenario: view.scenario.id, mode: view.mode, who: view.who ?? state.who, title: view.scenario.title,
    minutes: view.state?.minutes ?? 0, custom: state.custom, seal: state.seal,
  };
}

/** Takes the assignment out of an address, if one is there, and shows it in the Yard. */
async function takeJob(text) {
  const { carriesJob, readLink } = await import('./link.js');
  if (!carriesJob(text)) return false;
  try {
    const job = readLink(text);
    set({ job: { ...job, title: JSON.parse(job.scenario).title, complaint: JSON.parse(job.scenario).complaint }, fileError: null });
  } catch (error) {
    set({ job: null, fileError: { text: tFirst([`error.${error.key}`, 'error.link_damaged'], error.params) } });
  }
  return true;
}

/** Starts the assignment; way of working and name are the instructor's where they are given. */
function startJob() {
  const { job } = state;
  enter(() => core.open({ scenario_file: JSON.parse(job.scenario), mode: job.mode || state.mode, who: job.who || state.who }), job.scenario, { seal: job.seal });
}

/** Goes on with an attempt that was kept elsewhere. */
function enterWith(file, scenario) {
  return enter(() => core.resume(file, scenario), scenario);
}

function openJob(request, custom = '') {
  enter(() => core.open({ ...request, mode: state.mode, who: state.who }), custom);
}

/** Opens a job for somebody's first time: with reasons. */
function openFirst(id) {
  prefer('mode', 'reasons');
  openJob({ scenario: id });
}

async function resume(kept) {
  if (!(await arrived())) return;
  const more = { seal: kept.seal ?? '', hand: isHandIn(kept) ? kept : null };
  if (enter(() => core.resume(kept.file, kept.custom ?? ''), kept.custom ?? '', more) && !more.hand) announce(t('resume.done'));
}

/** Waits for the core; one that doesn't come is said by the Yard. */
async function arrived() {
  try {
    await core.start();
    return true;
  } catch {
    return false;
  }
}

function enter(call, custom, more = {}) {
  let view;
  try {
    view = call();
  } catch (error) {
    fileTrouble(error);
    return false;
  }
  if (!view) return false;
  leaveBay();
  Object.assign(state, freshJob(), { view, custom, result: null, place: 'bay' }, more);
  if (view.handed_in) {
    toDebrief();
    return true;
  }
  app.bench.begin(view);
  arrive();
  claim(view);
  return true;
}

/** One attempt, one tab: a second tab may look and try, but keeps nothing. */
async function claim(view) {
  const mine = await holdAttempt({ scenario: view.scenario.id, mode: view.mode });
  if (state.view?.scenario.id === view.scenario.id && state.view.mode === view.mode) set({ elsewhere: !mine });
  keep();
}

async function openFile(file) {
  if (!file) return;
  set({ fileError: null });
  const text = await file.text().catch(() => null); // a stick that was pulled out
  if (text === null) {
    set({ fileError: { text: t('file.unreadable', { name: file.name }) } });
    return;
  }
  if (!(await arrived())) return;
  let data;
  try {
    data = JSON.parse(text);
  } catch {
    set({ fileError: { text: t('file.notjson', { name: file.name }) } });
    return;
  }
  const kind = kindOfFile(data);
  if (kind === 'attempt') enter(() => core.resume(text, ''), '');
  else if (kind === 'scenario') openJob({ scenario_file: data }, text);
  else set({ fileError: { text: t('file.neither', { name: file.name }) } });
}

function fileTrouble(error) {
  const text = tFirst([`error.${error.key}`, 'error.other'], error.params);
  if (state.place === 'yard') set({ fileError: { text, detail: detailOf(error) } });
  else { tell({ kind: 'error', key: error.key, params: error.params, message: error.message }); redraw(); }
}

function handIn() {
  app.bench.letGo();
  const answer = core.handIn();
  if (!answer?.file) return;
  state.hand = beginHandIn({ ...keptNow(), file: answer.file });
  state.result = { file: answer.file };
  hooks.handedIn?.(answer.file);
  toDebrief();
}

/** Opens the Debrief and asks for what it shows. */
function toDebrief() {
  state.result ??= { file: core.save() };
  leaveBay();
  state.view = core.view() ?? state.view;
  state.place = 'debrief';
  arrive();
  grade();
}

/** Has the attempt graded and looked into; what didn't come can be asked again. */
function grade() {
  const { view } = state;
  return askDebrief(app, () => {
    hooks.graded?.(state.result);
    if (state.hand) noteHandIn(app, { graded: true });
    else dropSame({ scenario: view.scenario.id, mode: view.mode, file: state.result.file });
    announce(t('debrief.graded'));
  });
}

/** Saves the grade as a file, for another program. */
function download() {
  const { view, result } = state;
  saveFile(fileName(view.scenario.engine.id, view.who ?? state.who, result.file, 'report'), JSON.stringify(result.grade, null, 2));
}

const isHandIn = (kept) => kept.left !== undefined;

async function go(place) {
  if (!places[place] && !(await fetched(place))) return;
  if (state.place === 'bay') {
    app.bench.letGo();
    keep();
  }
  leaveBay();
  Object.assign(state, { place, fileError: null });
  arrive();
}

/** Whether a place that comes later is here now; one that doesn't come is said by the Yard. */
async function fetched(place) {
  try {
    places[place] = await later[place]();
    return true;
  } catch (error) {
    console.error(error);
    set({ fileError: { text: t('error.place_unreachable') } });
    return false;
  }
}

function leaveBay() {
  leaveAttempt();
  scene?.close();
  scene = null;
  drawings = new Map();
}

/** A new place starts at its top, with the focus on it. */
function arrive() {
  render();
  scrollTo(0, 0);
  document.getElementById('main')?.focus({ preventScroll: true });
}

function openBigDial() {
  dialOpener = document.activeElement;
  set({ bigDial: true });
}

function closeBigDial() {
  drawings.delete('big');
  set({ bigDial: false });
  dialOpener?.focus();
}

core.whenRebuilt((view) => {
  state.notices = [];
  if (view && state.place === 'bay') {
    tell({ kind: 'error', key: 'rebuilt' });
    app.bench.begin(view);
    return;
  }
  state.view = null; // so that nothing of it is asked for or kept
  leaveBay();
  Object.assign(state, { place: 'yard', fileError: { text: t('error.core_panic') } });
  arrive();
});

document.addEventListener('focusin', (event) => scene?.point(targetOf(event.target)));
document.addEventListener('focusout', () => scene?.point(targetOf(null)));
for (const query of ['(prefers-color-scheme: dark)', '(prefers-reduced-motion: reduce)', '(max-width: 860px)']) matchMedia(query).addEventListener('change', () => scene?.plan());

addEventListener('hashchange', () => { if (state.place === 'yard' && location.hash.length > 4) takeJob(location.hash); });
guardLeaving(app);
addEventListener('pagehide', () => { if (state.place === 'bay') keep(); });

async function boot() {
  const search = new URLSearchParams(location.search); // a link may choose the language and a place
  const wanted = languages.includes(search.get('lang')) ? search.get('lang') : preference('lang', (navigator.languages ?? ['en']).map((l) => l.slice(0, 2)).find((l) => languages.includes(l)) ?? 'en');
  state.lang = wanted;
  await loadLanguage(wanted);
  await openDocuments();
  document.getElementById('page').replaceChildren();
  render();
  try {
    await core.start();
    set({ catalogue: core.catalogue() });
    if (location.hash.length > 4) await takeJob(location.hash);
    else if (isWhole() && ['opinion', 'desk'].includes(search.get('place'))) await go(search.get('place'));
    await hooks.started?.();
    keepSite((known) => set({ site: { ...state.site, ...known } }));
  } catch (error) {
    console.error(error);
    set({ coreError: t('core.failed') });
  }
}

boot();
