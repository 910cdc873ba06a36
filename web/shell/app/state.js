// The bench state as the page asks about it. One place reads the core's JSON.

/** @typedef {{cylinder:number, state:'in'|'out'|'gauge', order:string}} Plug */

const truthy = new Set([true, 1, 'on', 'yes', 'done', 'open']);

/**
 * Wraps the state of a view.
 * @param {Object|null} view
 */
export function stateOf(view) {
  const raw = view?.state ?? {};
  const yes = (name) => truthy.has(raw[name]);
  const plugs = new Map((raw.plugs ?? []).map((p) => [p.cylinder, p]));
  const wellsBlown = Array.isArray(raw.wells) ? raw.wells.every(Boolean) : yes('wells');
  return {
    raw,
    glasses: yes('glasses'), brake: yes('brake'), chocks: yes('chocks'), belts: yes('belts'),
    fluids: yes('fluids'), charger: yes('charger'), wells: wellsBlown, starter: yes('starter'),
    voltmeter: yes('voltmeter'), tachometer: yes('tachometer'), proved: yes('proved'), leads: yes('leads'),
    torqued: yes('torqued'), wrench: yes('wrench'),
    tester: raw.tester ?? 0, air: raw.air_kpa ?? 0, clamp: yes('clamp'), vacuum: yes('vacuum_gauge'), disabled: raw.disabled ?? 0,
    running: yes('running'), neck: yes('coolant_watch'), started: raw.started ?? '', codes: yes('codes'), moving: yes('moving'),
    gear: raw.gear ?? 'park', fuel: word(raw.fuel, 'enabled', 'disabled'),
    ignition: word(raw.ignition, 'enabled', 'disabled'), throttle: raw.throttle ?? 'shut',
    switch: raw.switch ?? '', adapter: raw.adapter ?? '', gauge: raw.gauge ?? '', hose: raw.hose_on ?? 0,
    coolant: raw.coolant_c ?? null, minutes: raw.minutes ?? 0, handedIn: raw.handed_in ?? false,
    oil: (cylinder) => raw.oil_ml?.[cylinder - 1] ?? 0,
    plug: (cylinder) => plugs.get(cylinder) ?? { cylinder, state: 'in', order: '' },
    plugs: [...plugs.values()],
  };
}

function word(value, whenTrue, whenFalse) {
  if (value === true) return whenTrue;
  if (value === false || value === undefined || value === '') return whenFalse;
  return value;
}

/** The gauge in hand, or the first of the tray, for drawing a dial. */
export function gaugeOf(view) {
  const tray = view?.scenario?.gauges ?? [];
  return tray.find((g) => g.id === view?.state?.gauge) ?? tray[0] ?? { id: '', range_psi: 300, graduation_psi: 5 };
}
