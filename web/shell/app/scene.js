// The drawn bay in its frame: a window onto the same state. It gets snapshots
// and says what was touched. When it is missing, the page's own drawing stays.

import { has, t } from './i18n.js';
import { isPacked, part } from './parts.js';

/** Whether the drawn bay is wanted (an address with scene=off leaves it out) and this browser can show it. */
export function sceneIsPossible() {
  if (new URLSearchParams(location.search).get('scene') === 'off') return false;
  try {
    const gl = document.createElement('canvas').getContext('webgl2');
    gl?.getExtension('WEBGL_lose_context')?.loseContext();
    return Boolean(gl);
  } catch {
    return false;
  }
}

/**
 * Puts the frame into an element and keeps it fed.
 * @param {HTMLElement} host
 * @param {{plan: function(): Object, onHit: function(Object), onReady: function(boolean)}} how
 * @returns {{frame: function(Float64Array), hits: function, point: function(Object), plan: function, close: function}}
 */
export function openScene(host, how) {
  let scene = null;
  let copy = null;
  let sent = '';
  const element = document.createElement('iframe');
  if (isPacked()) element.srcdoc = new TextDecoder().decode(part('scene.html'));
  else element.src = 'scene.html';
  element.title = has('scene.title') ? t('scene.title') : '';
  element.tabIndex = -1;
  element.setAttribute('aria-hidden', 'true');
  element.className = 'scene';
  element.addEventListener('load', () => {
    if (!element.contentWindow?.crankbayScene) leave(); // else it was quicker than the event
  });
  const heard = (event) => {
    if (event.source !== element.contentWindow || !(isPacked() || event.origin === location.origin)) return;
    if (event.data?.crankbay === 'scene-ready') arrive();
    if (event.data?.crankbay === 'scene-gone') leave();
  };
  addEventListener('message', heard);
  host.append(element);

  function arrive() {
    scene = element.contentWindow.crankbayScene ?? null;
    copy = null;
    sent = '';
    if (!scene) return;
    plan();
    how.onReady(true);
  }

  function leave() {
    scene = null;
    how.onReady(false);
  }

  function plan() {
    if (!scene) return;
    const text = JSON.stringify(how.plan());
    if (text === sent) return;
    sent = text;
    guard(() => scene.setPlan(text));
  }

  function frame(snap) {
    if (!scene) return;
    guard(() => {
      // The frame is another realm: it wants an array of its own making.
      copy ??= new element.contentWindow.Float64Array(snap.length);
      copy.set(snap);
      scene.setSnapshot(copy);
    });
  }

  /** Frames what a control is about. */
  function point({ target, cylinder }) {
    if (scene?.point) guard(() => scene.point(target, cylinder));
  }

  /** What was touched since the last time. */
  function hits() {
    if (!scene) return;
    guard(() => {
      const text = scene.takeHits();
      if (!text || text === '[]') return;
      for (const hit of JSON.parse(text)) how.onHit(hit);
    });
  }

  function guard(run) {
    try {
      run();
    } catch (error) {
      console.error('scene', error);
      leave();
    }
  }

  function close() {
    removeEventListener('message', heard);
    element.remove();
    scene = null;
  }

  return { frame, hits, plan, point, close };
}
