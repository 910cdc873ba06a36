// The confirming tests: how they are grouped, what they cost, what is written down.

import { t } from './i18n.js';
import { number } from './format.js';

/** Groups of tests by what one works with, each with its tests. */
export const groups = [
  ['again', ['repeat', 'second_gauge', 'refit', 'wet']],
  ['air', ['leakage', 'cooling_pressure']],
  ['starter', ['current', 'vacuum', 'bubbles']],
  ['running', ['power_balance', 'running']],
  ['look', ['plug_look', 'borescope', 'lash', 'timing_marks']],
];

/** Fields of the sheet that belong to a test: of each cylinder, or of the engine. */
export const fieldsOf = {
  repeat: { each: ['repeat_last'] },
  second_gauge: { each: ['second_last'] },
  refit: { each: ['refit_last'] },
  leakage: { whole: ['leakage_supply'], each: ['leakage_percent'] },
  current: { each: ['hump_percent'] },
  vacuum: { whole: ['vacuum'] },
  running: { each: ['running_idle', 'running_snap'] },
  lash: { each: ['lash_intake', 'lash_exhaust'] },
  timing_marks: { banks: ['timing_deg'] },
  cooling_pressure: { whole: ['cooling_drop'] },
};

const minutes = (m) => t('time.minutes', { m: number(m, 1) });
const each = (m) => t('cost.each', { each: minutes(m) });
const first = (m, more) => t('cost.first', { first: minutes(m), each: minutes(more) });

const costs = {
  repeat: (m) => each(m.repeat),
  second_gauge: (m) => first(m.second_gauge, m.repeat),
  refit: (m) => each(m.refit + m.repeat),
  wet: (m) => each(m.wet + m.repeat),
  leakage: (m) => first(m.leakage_setup, m.leakage_each),
  cooling_pressure: (m) => minutes(m.cooling_pressure),
  current: (m) => minutes(m.current),
  vacuum: (m) => minutes(m.vacuum),
  bubbles: (m, c) => minutes(c['coolant-watch'] ?? 1),
  power_balance: (m) => minutes(m.power_balance),
  running: (m) => each(m.running_each),
  plug_look: (m, c) => each(c['plug-look'] ?? 1),
  borescope: (m) => each(m.borescope_each),
  lash: (m) => minutes(m.lash),
  timing_marks: (m) => minutes(m.timing_marks),
};

/** What a test costs on this engine, in words; empty for what is no test of the bench. */
export function costOf(app, test) {
  const { scenario, tests } = app.state.view;
  return costs[test]?.(scenario.card.minutes, tests.costs) ?? '';
}
