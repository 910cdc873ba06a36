// Which cylinder the drawing shows in section, and whether it may.

import { Slot } from './wire.js';
import * as core from './core.js';
import { stateOf } from './state.js';

/**
 * @param {Object} app
 * @returns {{cylinder:number, section:boolean}}
 */
export function seen(app) {
  const s = stateOf(app.state.view);
  const cylinder = s.hose || s.tester || app.state.touched || 1;
  if (app.bench.snap[Slot.Selected] !== cylinder) {
    core.select(cylinder);
    core.snapshot(app.bench.snap); // what is seen of it now, at rest too
  }
  return { cylinder, section: app.bench.snap[Slot.Section] === 1 };
}
