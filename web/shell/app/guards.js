// Runs in the scene's frame before anything else: the drawing may not swallow
// keys, the wheel or touches; those belong to the page. Pointer events are
// handed on by frame.js.
for (const type of ['keydown', 'keyup', 'wheel', 'touchstart', 'touchmove', 'touchend', 'contextmenu']) {
  addEventListener(type, (event) => event.stopImmediatePropagation(), { capture: true, passive: true });
}
