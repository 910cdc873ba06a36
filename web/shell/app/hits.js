// Touching a thing acts on it: what a touch on the drawing means.

import { stateOf, gaugeOf } from './state.js';

/**
 * Does what a touch asks for.
 * @param {Object} app
 * @param {{target:string, cylinder?:number, phase?:string}} hit
 */
export function sceneHits(app, hit) {
  const s = stateOf(app.state.view);
  const { bench } = app;
  switch (hit.target) {
    case 'plug': return touchPlug(app, s, hit.cylinder);
    case 'switch': return hit.phase === 'up' ? bench.endHold() : hold(bench);
    case 'gauge': return app.openBigDial();
    case 'release': return hit.phase === 'up' ? null : bench.release();
    case 'wrench': return bench.act({ kind: 'wrench', choice: 'off' });
    case 'hose': return s.tester ? bench.act({ kind: 'tester-off' }) : s.hose ? bench.act({ kind: 'hose-off' }) : toStage(app, 'gauge', '[data-act="hose-on"]');
    case 'cylinder': return app.set({ touched: hit.cylinder });
    case 'tray': return touchTray(app, s, hit.cylinder);
    case 'oil': return toStage(app, 'crank', '[name="amount-oil"]');
    case 'meter': return bench.act({ kind: 'voltmeter', choice: s.voltmeter ? 'off' : 'on' });
    case 'throttle': return bench.act({ kind: 'throttle', choice: s.throttle === 'shut' ? 'open' : 'shut' });
    case 'charger': return bench.act({ kind: 'charger', choice: s.charger ? 'off' : 'on' });
    case 'battery': return bench.act({ kind: 'voltmeter', choice: s.voltmeter ? 'off' : 'on' });
    default: return null;
  }
}

/** The plug comes out, the hose goes in, the hose comes off: one act a touch. */
function touchPlug(app, s, cylinder) {
  if (!cylinder) return;
  app.state.touched = cylinder;
  const plug = s.plug(cylinder).state;
  if (plug === 'in') app.bench.act({ kind: 'plug-out', cylinder, choice: app.state.order });
  else if (plug === 'out') app.bench.act({ kind: 'hose-on', cylinder });
  else app.bench.act({ kind: plug === 'tester' ? 'tester-off' : 'hose-off' });
}

/** A plug on the tray goes back where it came from. */
function touchTray(app, s, cylinder) {
  if (!cylinder || s.plug(cylinder).state !== 'out') return toStage(app, 'back', '[data-act="plug-in"]');
  return app.bench.act({ kind: 'plug-in', cylinder, choice: app.state.fit });
}

/** Opens a stage and puts the focus where the work goes on. */
function toStage(app, stage, selector) {
  app.set({ stage });
  requestAnimationFrame(() => document.querySelector(`#stage-${stage} ${selector}`)?.focus());
}

// What a control is about, for the frame the drawing puts around it.
const about = {
  'plug-out': 'plug', 'plug-look': 'plug', 'plug-in': 'plug', 'hose-on': 'plug', 'hose-off': 'hose', release: 'release',
  'big-dial': 'gauge', dial: 'gauge', hold: 'switch', stroke: 'switch', starter: 'switch', charger: 'charger', voltmeter: 'meter',
  tachometer: 'meter', 'throttle.open': 'throttle', 'throttle.shut': 'throttle', oil: 'oil', 'tester-on': 'plug', 'tester-off': 'hose', wrench: 'wrench', clamp: 'battery',
};

/**
 * The thing in the drawing that a control acts on.
 * @param {Element|null} el what has the focus
 * @returns {{target:string, cylinder:number}}
 */
export function targetOf(el) {
  const button = el?.matches?.(':focus-visible') ? el.closest('[data-act]') : null;
  return { target: about[button?.dataset.act] ?? '', cylinder: Number(button?.dataset.cylinder) || 0 };
}

/** A finger on the switch; the release may come from anywhere. */
function hold(bench) {
  if (!bench.hold()) return;
  const off = () => {
    removeEventListener('pointerup', off);
    removeEventListener('pointercancel', off);
    bench.endHold();
  };
  addEventListener('pointerup', off);
  addEventListener('pointercancel', off);
}

/** What the drawn bay needs to know about this job. */
export function scenePlan(app) {
  const { engine } = app.state.view.scenario;
  const gauge = gaugeOf(app.state.view);
  const s = stateOf(app.state.view);
  return {
    layout: engine.layout, cylinders: engine.cylinders, banks: engine.banks, cam_drive: engine.cam_drive, cams: engine.cams,
    bore_mm: engine.bore_mm, stroke_mm: engine.stroke_mm, rod_mm: engine.rod_mm,
    range_psi: gauge.range_psi, graduation_psi: gauge.graduation_psi,
    theme: matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light',
    reduced: matchMedia('(prefers-reduced-motion: reduce)').matches,
    no_dial: matchMedia('(max-width: 860px)').matches, // there the strip above shows it
    fuel: s.fuel, ignition: s.ignition, charger: s.charger, switch: s.switch, gauge: s.gauge, adapter: s.adapter,
    plugs: s.plugs, leads: s.leads, voltmeter: s.voltmeter, tachometer: s.tachometer,
  };
}
