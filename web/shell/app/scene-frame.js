// Runs in the drawing's frame: keeps keys, wheel and touches for the page, loads
// the drawing, hands it the pointer. The page talks to window.crankbayScene.

import { wasm } from './wasm.js';

let touched = null; // pointer that is down on something

// The drawing's engine swallows these events on its canvas; they belong to the
// page. This runs before it starts, so these listeners come first.
for (const type of ['keydown', 'keyup', 'wheel', 'touchstart', 'touchmove', 'touchend']) {
  addEventListener(type, (event) => event.stopImmediatePropagation(), { capture: true, passive: true });
}
addEventListener('contextmenu', (event) => {
  event.stopImmediatePropagation();
  if (touched !== null) event.preventDefault(); // a long press on the switch
}, { capture: true });

/** What is held down rather than tapped: a finger on it must not scroll the page. */
const held = new Set(['switch', 'release']);

function say(what) {
  parent.postMessage({ crankbay: what }, '*');
}

function drawable() {
  const gl = document.createElement('canvas').getContext('webgl2');
  gl?.getExtension('WEBGL_lose_context')?.loseContext();
  return Boolean(gl);
}

async function start() {
  if (!drawable()) {
    say('no-webgl');
    say('scene-gone');
    return;
  }
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiateStreaming(await wasm('scene.wasm'), go.importObject);
  go.run(instance).then(() => say('scene-gone'), () => say('scene-gone'));
  settle();
}

/** The canvas is a picture: no tab stop, nothing for a screen reader. */
function settle() {
  const canvas = document.querySelector('canvas');
  if (!canvas) {
    requestAnimationFrame(settle);
    return;
  }
  canvas.removeAttribute('tabindex');
  canvas.setAttribute('aria-hidden', 'true');
}

function pointer(kind, event) {
  const target = globalThis.crankbayScene?.pointer(kind, event.clientX, event.clientY) ?? '';
  const canvas = document.querySelector('canvas');
  if (canvas) canvas.style.cursor = target ? 'pointer' : 'default';
  for (const pad of document.querySelectorAll('.hold')) pad.style.cursor = 'pointer';
}

addEventListener('pointerdown', (event) => {
  if (touched !== null || event.button > 0) return;
  touched = event.pointerId;
  event.target.setPointerCapture?.(event.pointerId);
  pointer('down', event);
});
addEventListener('pointermove', (event) => pointer('move', event));
for (const [type, kind] of [['pointerup', 'up'], ['pointercancel', 'cancel'], ['lostpointercapture', 'cancel']]) {
  addEventListener(type, (event) => {
    if (event.pointerId !== touched) return;
    touched = null;
    pointer(kind, event);
  });
}
// A held switch must never stick: whatever takes the window away lets go.
for (const type of ['blur', 'pagehide', 'visibilitychange']) {
  (type === 'visibilitychange' ? document : globalThis).addEventListener(type, () => {
    if (touched === null) return;
    touched = null;
    globalThis.crankbayScene?.pointer('cancel', -1, -1);
  });
}

/** Lays a pad over everything that is held, so that only there a drag doesn't scroll. */
function pads() {
  const boxes = JSON.parse(globalThis.crankbayScene?.boxes() ?? '[]').filter((box) => held.has(box.target));
  const old = [...document.querySelectorAll('.hold')];
  boxes.forEach((box, i) => {
    const pad = old[i] ?? document.body.appendChild(document.createElement('div'));
    pad.className = 'hold';
    Object.assign(pad.style, { left: `${box.x}px`, top: `${box.y}px`, width: `${box.w}px`, height: `${box.h}px` });
  });
  old.slice(boxes.length).forEach((pad) => pad.remove());
}

/** Boxes move with the size and with what the page shows. */
function watchPads() {
  let seen = '';
  setInterval(() => {
    const scene = globalThis.crankbayScene;
    if (!scene || document.hidden) return;
    const now = scene.boxes();
    if (now !== seen) {
      seen = now;
      pads();
    }
  }, 500);
}

// A zoomed page has other pixels, which the drawing takes up only when it starts.
matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener('change', () => location.reload(), { once: true });

watchPads();
start().catch((error) => {
  console.error('scene', error);
  say('scene-gone');
});
