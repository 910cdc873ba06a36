// The Bay: the plate with engine and gauge, the hands' actions under it and
// the job sheet beside it.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { number, duration, temperature, quoted } from './format.js';
import { dialPicture } from './dial.js';
import { lostPicture, vacuumPicture } from './instruments.js';
import { drawEngine } from './engine.js';
import { stateOf, gaugeOf } from './state.js';
import { Slot } from './wire.js';
import { stages, stagePanels } from './actions.js';
import { sheet } from './sheet.js';
import { printed } from './printed.js';
import { seen } from './seen.js';
import { goThere, hasPlace } from './where.js';

/**
 * The page of the Bay.
 * @param {Object} app
 */
export function bay(app) {
  const { view } = app.state;
  const s = stateOf(view);
  return h('main', { class: app.state.sure ? 'bay asking' : 'bay', id: 'main', key: 'bay', tabindex: '-1' },
    h('h1', { class: 'hidden' }, t('bay.title', { job: pick(view.scenario.title) })),
    h('div', { class: 'work' },
      h('div', { class: 'front' },
        h('section', { class: 'watch', 'aria-label': t('bay.plate') }, plate(app, view, s), strip(app, s), around(app, s)),
        crankBar(app, s),
        notices(app)),
      h('section', { class: 'hands', id: 'hands', tabindex: '-1', 'aria-label': t('bay.hands') },
        suggestion(app, view), stageTabs(app), stagePanels(app, s))),
    sheet(app, s),
    bigDial(app, s),
    printed(app));
}

/** The drawing; built once per scenario and gauge, then moved. */
function plate(app, view, s) {
  const gauge = gaugeOf(view);
  return h('div', { class: app.state.scene ? 'plate has-scene' : 'plate', key: `plate-${view.scenario.id}-${gauge.id}` },
    h('div', { class: 'drawing', own: true, ref: (el) => mountEngine(app, el, view, gauge) }),
    h('div', { class: 'frame', own: true, key: 'frame', ref: (el) => app.mountScene(el) }),
    h('p', { class: 'hidden', id: 'bay-facts' }, factsText(app, s)));
}

function mountEngine(app, el, view, gauge) {
  const drawing = drawEngine(view.scenario.engine, gauge, (hit) => app.hit(hit));
  el.append(drawing.el);
  app.show('engine', {
    look: () => {
      drawing.look(stateOf(app.state.view), seen(app));
      drawing.move(app.bench.snap); // what has just come into sight is not where it is yet
    },
    move: drawing.move,
  });
}

/** On a narrow page the needle stays in sight above whatever is being done. */
function strip(app, s) {
  const { key, mount } = inHand(app, s);
  return h('div', { class: app.state.stage === 'tests' ? 'strip low' : 'strip' },
    h('div', { class: 'dial-button' },
      h('div', { own: true, key: `strip-${key}-${app.state.lang}`, ref: (el) => mount(el, 'strip') }),
      h('button', { type: 'button', 'data-act': 'big-dial', onclick: app.openBigDial }, h('span', { class: 'hidden' }, t('dial.open')))),
    h('div', { class: 'told' },
      h('dl', { class: 'facts' }, facts(app, s).map(pair), meters(app, s)),
      h('p', { class: 'jumps narrow-only' }, jump('hands', t('bay.work')), jump('sheet', t('bay.sheet')))),
    h('button', { type: 'button', class: 'plain wide-only enlarge', 'data-act': 'dial', onclick: app.openBigDial }, t('dial.open')));
}

/** On a narrow page: what needn't stay in sight. */
function around(app, s) {
  return h('dl', { class: 'facts around narrow-only', key: 'around' }, facts(app, s).filter(([key]) => !held.has(key)).map(pair));
}

/** What the strip keeps in sight on a narrow page too. */
const held = new Set(['gauge', 'tester']);

function pair([key, value]) {
  return h('div', { key, class: held.has(key) ? '' : 'spare' }, h('dt', null, t(`facts.${key}`)), h('dd', null, value));
}

/** The instrument whose needle matters now: the tester's, the gauge's, else the vacuum gauge's. */
function inHand(app, s) {
  const put = (picture) => (el, name) => {
    el.replaceChildren(picture.el);
    app.show(name, { move: picture.set });
  };
  if (s.tester) return { key: 'tester', words: 'tester', mount: (el, name) => put(lostPicture(t('tester.label')))(el, name) };
  if (s.vacuum && !s.hose) return { key: `vacuum-${app.state.system}`, words: 'vacuum', mount: (el, name) => put(vacuumPicture(t('vacuum.label')))(el, name) };
  const gauge = gaugeOf(app.state.view);
  return { key: s.gauge || 'none', words: '', mount: (el, name) => mountDial(app, el, gauge, name, !s.gauge) };
}

function jump(id, text) {
  return h('a', { class: 'plain', href: `#${id}`, key: id, onclick: (e) => { e.preventDefault(); document.getElementById(id)?.scrollIntoView(); } }, text);
}

function mountDial(app, el, gauge, name, isUntaken) {
  const dial = dialPicture(gauge, t(isUntaken ? 'dial.untaken' : 'dial.label'));
  dial.el.classList.toggle('untaken', isUntaken);
  el.replaceChildren(dial.el);
  app.show(name, { move: (snap) => dial.set(snap[Slot.Needle]) });
}

function facts(app, s) {
  return [
    s.tester ? ['tester', t('facts.gauge.on', { cylinder: s.tester })] : ['gauge', s.hose ? t('facts.gauge.on', { cylinder: s.hose }) : t(s.gauge ? 'facts.gauge.off' : 'facts.gauge.tray')],
    ['throttle', t(`throttle.${s.throttle}`)],
    ['time', duration(s.minutes)],
    s.coolant === null ? null : ['coolant', temperature(s.coolant)],
  ].filter(Boolean);
}

function factsText(app, s) {
  return facts(app, s).map(([key, value]) => `${t(`facts.${key}`)}: ${value}`).join('. ');
}

/** A meter that isn't connected shows nothing at all. */
function meters(app, s) {
  const meter = (name, slot, digits, unit) => h('div', { key: name, class: 'meter' }, h('dt', null, t(`meter.${name}`)),
    h('dd', { own: true, 'data-meter': name, ref: (el) => mountMeter(app, el, name, slot, digits, unit) }),
    kept(name, digits, unit) && h('dd', { class: 'mute', 'data-held': name }, kept(name, digits, unit)));
  function kept(name, digits, unit) {
    const value = { volts: s.raw.volts_low, rpm: s.raw.rpm_mean }[name];
    if (value === null || value === undefined) return '';
    return t(name === 'volts' ? 'meter.low' : 'meter.mean', { value: `${number(value, digits)} ${unit}` });
  }
  return [s.voltmeter && meter('volts', Slot.Volts, 1, 'V'), s.tachometer && meter('rpm', Slot.RPM, 0, 'rpm'), s.clamp && meter('amps', Slot.Current, 0, 'A')];
}

function mountMeter(app, el, name, slot, digits, unit) {
  let text = '';
  let wait = 0; // while it runs the figure stands: readable, not flickering
  const show = () => { if (el.textContent !== text) el.textContent = text; };
  app.show(name, {
    move: (snap) => {
      text = Number.isFinite(snap[slot]) ? `${number(snap[slot], digits)} ${unit}` : '';
      if (wait && el.textContent !== '') return;
      show();
      wait = setTimeout(() => { wait = 0; show(); }, 150);
    },
  });
}

function notices(app) {
  const list = app.state.notices;
  return h('div', { class: 'notices', role: 'status', 'aria-live': 'polite' },
    list.map((n) => h('p', { key: n.id, class: `notice ${n.kind}` }, h('b', null, t(`notice.${n.label}`)), ' ', n.text,
      n.detail && quoted(n.detail), n.why && h('span', { class: 'why' }, n.why))),
    app.state.elsewhere && h('p', { key: 'elsewhere', class: 'notice caution', 'data-out': 'elsewhere' }, t('bay.elsewhere')),
    app.state.unkept && h('p', { key: 'unkept', class: 'notice caution' }, t('bay.unkept')));
}

function suggestion(app, view) {
  const suggest = view.suggest;
  if (!suggest?.key) return null;
  const canDo = suggest.action && suggest.action.kind !== 'hand-in' && !suggest.seconds;
  return h('div', { class: 'suggest', key: 'suggest', 'data-suggest': suggest.key },
    h('p', null, h('b', null, t('suggest.next')), ' ', suggestText(suggest)),
    canDo && h('button', { type: 'button', key: 'do', 'data-act': 'suggested', onclick: () => app.bench.act(suggest.action) }, t('suggest.do')),
    !canDo && hasPlace(suggest) && h('button', { type: 'button', key: 'show', 'data-act': 'suggested-place', onclick: () => goThere(app, suggest) }, t('suggest.show')));
}

function suggestText(suggest) {
  if (suggest.key !== 'write') return t(`coach.${suggest.key}`, { cylinder: suggest.cylinder ?? '' });
  return t(suggest.cylinder ? 'coach.write_of' : 'coach.write', { cylinder: suggest.cylinder, field: t(`short.${suggest.field}`) });
}

function stageTabs(app) {
  return h('div', { class: 'stages', role: 'tablist', 'aria-label': t('bay.stages') },
    stages.map((id, i) => h('button', {
      type: 'button', role: 'tab', id: `tab-${id}`, key: id, 'aria-controls': `stage-${id}`, 'data-stage': id,
      'aria-selected': String(app.state.stage === id), tabindex: app.state.stage === id ? '0' : '-1',
      onclick: () => app.set({ stage: id }),
      onkeydown: (e) => moveTab(app, e, i),
    }, h('span', { class: 'wide-only' }, t(`stage.${id}`)), h('span', { class: 'narrow-only' }, t(`stage.${id}.short`)))));
}

function moveTab(app, event, i) {
  const step = { ArrowRight: 1, ArrowLeft: -1, Home: -i, End: stages.length - 1 - i }[event.key];
  if (step === undefined) return;
  event.preventDefault();
  const id = stages[(i + step + stages.length) % stages.length];
  app.set({ stage: id });
  document.getElementById(`tab-${id}`)?.focus();
}

/** The one thing that is always in reach: the starter. */
function crankBar(app, s) {
  const { bench } = app;
  const down = (e) => {
    if (e.button) return;
    e.currentTarget.setPointerCapture?.(e.pointerId);
    bench.hold();
  };
  const isKey = (e) => e.key === ' ' || e.key === 'Enter';
  return h('section', { class: 'crankbar', 'aria-label': t('bay.crank') },
    h('button', {
      type: 'button', class: 'go', 'data-act': 'hold', 'aria-pressed': String(s.starter && !bench.isStepping()),
      onpointerdown: down, onpointerup: bench.endHold, onpointercancel: bench.endHold, onlostpointercapture: bench.endHold,
      onkeydown: (e) => { if (isKey(e)) { e.preventDefault(); if (!e.repeat) bench.hold(); } },
      onkeyup: (e) => { if (isKey(e)) { e.preventDefault(); bench.endHold(); } },
      onblur: bench.endHold, oncontextmenu: (e) => e.preventDefault(),
    }, t('crank.hold')),
    h('button', { type: 'button', 'data-act': 'stroke', onclick: bench.stroke }, t('crank.stroke')),
    h('button', { type: 'button', 'data-act': 'starter', class: s.starter ? 'lit' : '', onclick: bench.toggle },
      t(s.starter ? 'crank.off' : 'crank.on')),
    h('button', { type: 'button', 'data-act': 'release', onclick: bench.release }, t('crank.release')),
    s.tester
      ? h('button', { type: 'button', key: 'tester-off', 'data-act': 'tester-off', onclick: () => bench.act({ kind: 'tester-off' }) }, t('do.tester-off'))
      : h('button', { type: 'button', key: 'hose-off', 'data-act': 'hose-off', class: s.hose ? '' : 'idle', onclick: () => bench.act({ kind: 'hose-off' }) }, t('do.hose-off')),
    h('p', { class: 'caption', key: 'caption' }, app.state.caption));
}

function bigDial(app, s) {
  if (!app.state.bigDial) return null;
  const { key, words, mount } = inHand(app, s);
  const said = words ? app.state.said[words] : app.state.words;
  const close = () => app.closeBigDial();
  return h('section', { class: 'big-dial', key: 'big-dial', role: 'dialog', 'aria-label': t('dial.big'), onkeydown: (e) => { if (e.key === 'Escape') close(); } },
    h('div', { own: true, key: `${key}-${app.state.lang}`, ref: (el) => mount(el, 'big') }),
    h('div', { class: 'row' },
      h('button', { type: 'button', 'data-act': 'words', onclick: () => (words ? app.bench.say(words) : app.bench.words()) }, t('needle.words')),
      h('button', { type: 'button', 'data-act': 'big-dial-close', ref: (el) => queueMicrotask(() => el.focus()), onclick: close }, t('dial.close'))),
    said && h('p', { class: 'words' }, said));
}
