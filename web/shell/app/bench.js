// The student's hands: sends actions to the core, runs the clock while the
// starter turns, watches the strokes go by and keeps the attempt safe.

import * as core from './core.js';
import { t, tFirst } from './i18n.js';
import { createSound, samplesFor } from './sound.js';
import { stateOf } from './state.js';
import { lashText } from './format.js';
import { MAX, Slot, Cyl, at } from './wire.js';

const TICKS_PER_MS = 1.2;
const NEWS = 600; // ticks
const CATCH_UP = 100; // ms; a slow device turns in slow motion
const calm = matchMedia('(prefers-reduced-motion: reduce)'); // then pictures come stroke by stroke

// Actions that change nothing an instrument shows: those of the job sheet, and listening.
const written = new Set(['listen', 'card-tick', 'write', 'erase', 'heard', 'finding', 'finding-clear', 'sure', 'evidence', 'next-test', 'remark']);

/**
 * Makes the bench of the page.
 * @param {{state: Object, redraw: function, announce: function(string), keep: function, frames: Set<function>}} app
 */
export function createBench(app) {
  const snap = new Float64Array(MAX);
  const sound = createSound();
  const watch = { angle: 0, needle: 0 };
  let last = 0;
  let owed = 0;
  let busy = false; // ticks ran in the last frame
  let holding = false; // a finger or key is on the switch
  let turned = false; // the crank turned since the last rest
  let stepping = false; // step mode: starter held, time stands still
  let seen = 0; // ticks since a running engine was last asked for news
  let until = 0; // tick at which a timed crank lets go, 0 none

  const bench = { snap, act, hold, endHold, letGo, toggle, stroke, timed, words, say, release, begin, mute: sound.mute, isStepping: () => stepping };

  /** Takes a fresh view and shows what is new in it. */
  function accept(view) {
    if (!view) return;
    app.state.view = view;
    core.snapshot(snap);
    for (const item of view.news ?? []) app.tell(item);
    for (const draw of app.frames) draw(snap);
    app.redraw();
  }

  /**
   * Does one action; a refusal is told.
   * @returns {boolean} whether it was done
   */
  function act(action) {
    if (action.kind !== 'starter' || action.choice !== 'off') app.hush(); // what a hold brought about is read once it is over
    if (!written.has(action.kind)) app.state.said = {}; // the instruments may show something else now
    let answer;
    try {
      answer = core.act(action);
    } catch (error) {
      app.tell({ kind: 'error', key: error.key, params: error.params, message: error.message });
      app.redraw();
      return false;
    }
    if (answer?.ok) {
      accept(answer.view);
      app.keep();
    } else if (answer?.refusal) {
      app.tell({ kind: 'refusal', ...answer.refusal });
      app.redraw();
    }
    return Boolean(answer?.ok);
  }

  function engage() {
    sound.unlock();
    stepping = false;
    last = performance.now();
    if (stateOf(app.state.view).starter) return true;
    startWatch();
    return act({ kind: 'starter', choice: 'on' });
  }

  /** The starter turns as long as it is held. */
  function hold() {
    holding = engage();
    return holding;
  }

  function endHold() {
    if (holding) letGo();
  }

  /** Cranks for some seconds of bench time and lets go. */
  function timed(seconds) {
    if (!engage()) return;
    core.snapshot(snap);
    until = snap[Slot.Tick] + seconds * 1000 * TICKS_PER_MS;
  }

  function letGo() {
    holding = false;
    until = 0;
    if (!stateOf(app.state.view).starter) return;
    stepping = false;
    last = performance.now();
    busy = true; // the crank coasts, the needle comes to rest
    act({ kind: 'starter', choice: 'off' });
  }

  function toggle() {
    if (stateOf(app.state.view).starter) letGo();
    else engage();
  }

  function stroke() {
    sound.unlock();
    app.hush();
    if (!stateOf(app.state.view).starter) {
      startWatch();
      if (!act({ kind: 'starter', choice: 'on' })) return;
    }
    stepping = true;
    const before = snap[Slot.Needle];
    const ran = core.stroke()?.ticks ?? 0;
    sound.push(core.sound(samplesFor(ran)));
    accept(core.view());
    sayStroke(before);
    app.keep();
  }

  function words() {
    const answer = core.needle();
    if (answer?.refusal) app.tell({ kind: 'refusal', ...answer.refusal });
    else if (answer) app.needleWords(answer);
    accept(core.view());
    app.keep();
  }

  /** Another instrument in words. */
  function say(what) {
    app.hush();
    const answer = core.words(what);
    if (answer?.refusal) app.tell({ kind: 'refusal', ...answer.refusal });
    else if (answer) app.said(what, answer);
    accept(core.view());
    app.keep();
  }

  function release() {
    act({ kind: 'release' });
  }

  function startWatch() {
    core.snapshot(snap);
    watch.angle = angleNow();
    watch.needle = snap[Slot.Needle];
  }

  function angleNow() {
    const cylinder = snap[Slot.Gauged] || 1;
    return snap[at(cylinder, Cyl.Angle)];
  }

  /** One announcement per compression stroke: what an eye would have seen. */
  function watchStroke() {
    if (snap[Slot.Running]) return false; // far too many to be told
    const angle = angleNow();
    const wrapped = angle < watch.angle - Math.PI;
    watch.angle = angle;
    if (!wrapped) return false;
    sayStroke(watch.needle);
    accept(core.view());
    app.keep();
    return true;
  }

  function sayStroke(before) {
    const rise = (snap[Slot.Needle] - before) / (snap[Slot.FullScale] || 2e6);
    watch.needle = snap[Slot.Needle];
    watch.angle = angleNow();
    if (!snap[Slot.Gauged]) return;
    app.announce(t(rise > 0.03 ? 'stroke.rose' : rise > 0.004 ? 'stroke.little' : 'stroke.stayed'));
  }

  function frame(now) {
    requestAnimationFrame(frame);
    const past = Math.min(now - last, CATCH_UP);
    last = now;
    if (app.state.place !== 'bay' || document.hidden) return;
    for (const look of app.idle) look();
    if (stepping) return;
    owed += past * TICKS_PER_MS;
    const n = Math.floor(owed);
    owed -= n;
    if (n < 1) return;
    const ran = core.advance(n);
    if (ran > 0) {
      core.snapshot(snap);
      turned ||= snap[Slot.Speed] !== 0;
      sound.push(core.sound(samplesFor(ran)));
      if (snap[Slot.Running] && (seen += ran) > NEWS) {
        seen = 0;
        accept(core.view());
      }
      if (until && snap[Slot.Tick] >= until) letGo();
      const done = watchStroke();
      if (!done && !calm.matches) for (const draw of app.frames) draw(snap);
    } else if (busy && !stateOf(app.state.view).starter) {
      settle();
    }
    busy = ran > 0;
  }

  function settle() {
    accept(core.view());
    app.keep();
    if (turned) app.announce(t('crank.rest'));
    turned = false;
  }

  /** Takes up a freshly opened or resumed attempt. */
  function begin(view) {
    stepping = false;
    busy = false;
    until = 0;
    owed = 0;
    app.state.view = view;
    if (stateOf(view).starter) core.act({ kind: 'starter', choice: 'off' });
    accept(core.view() ?? view);
  }

  document.addEventListener('visibilitychange', () => {
    last = performance.now();
    if (!document.hidden || app.state.place !== 'bay') return;
    letGo();
    sound.hush();
  });
  requestAnimationFrame(frame);
  return bench;
}

/** The sentence for a piece of news; scenes and lists share it. */
export function newsText(item) {
  if (item.kind === 'fact' && /^lash_/.test(item.key)) return lashText({ number: 0, ...item });
  const params = { cylinder: item.cylinder || '', number: item.number ?? '', n: item.number ?? 0, ...item.params };
  const key = String(item.key ?? '');
  const bare = item.number ? [] : [`${key}.bare`]; // the sentence without its number
  return tFirst([...bare, `${item.kind}.${key}`, key, `${item.kind}.other`], params);
}
