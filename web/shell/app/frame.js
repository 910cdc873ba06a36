// Starts the drawing in its own frame and hands it the pointer. The page talks
// to window.crankbayScene; without WebGL2 the frame says so and stays empty.

import { wasm } from './core.js';

function say(what) {
  parent.postMessage({ crankbay: what }, location.origin);
}

async function start() {
  const go = new globalThis.Go();
  const { instance } = await WebAssembly.instantiateStreaming(await wasm('scene.wasm'), go.importObject);
  go.run(instance).then(() => say('scene-gone'), () => say('scene-gone'));
  document.querySelector('canvas')?.removeAttribute('tabindex');
}

for (const type of ['pointerdown', 'pointermove', 'pointerup', 'pointercancel', 'pointerleave']) {
  addEventListener(type, (event) => {
    if (!event.isPrimary) return;
    if (type === 'pointerdown') event.target.setPointerCapture?.(event.pointerId);
    globalThis.crankbayScene?.pointer?.(type.slice('pointer'.length), event.clientX, event.clientY);
  });
}

start().catch((error) => {
  console.error('scene', error);
  say('scene-gone');
});
