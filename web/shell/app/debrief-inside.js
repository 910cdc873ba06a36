// What was inside: the faults, and one cylinder in section that is turned by hand,
// with what the model says of every degree.

import { h } from './dom.js';
import { t, tFirst, lang } from './i18n.js';
import { number, pressure, cylinders, duration } from './format.js';
import { grid, waiting } from './debrief-part.js';
import { lookInside, suspect } from './debrief-ask.js';
import { mountLook } from './debrief-section.js';

/** The part about the inside. */
export function inside(app, result) {
  const { truth } = result;
  const method = app.state.view.scenario.handed_over?.length && truth.key?.method_fault;
  return h('div', { key: 'inside' },
    h('ul', { class: 'faults' }, truth.faults.map((f, i) => h('li', { key: i }, faultText(f)))),
    truth.faults.length === 0 && h('p', { key: 'none' }, t('fault.none')),
    method && h('p', { key: 'method' }, t('debrief.truth.method', { fault: t(`method.${method}`) })),
    chooser(app, result),
    result.insideError && h('p', { class: 'notice error', key: 'error', role: 'alert' }, tFirst([`error.${result.insideError.key}`, 'error.other'], result.insideError.params)),
    waiting(app, 'inside') ?? look(app, result.inside));
}

function look(app, seen) {
  return [h('div', { class: 'look', own: true, key: `look ${seen.cylinder} ${seen.run} ${app.state.unit} ${lang()}`, ref: (el) => mountLook(app, el, seen) }),
    lost(app, seen), losses(seen)];
}

/** Which cylinder, and by the card or as the student cranked it. */
function chooser(app, result) {
  const at = result.wanted ?? result.inside ?? { cylinder: suspect(result), run: 0 };
  const mine = result.runs.filter((r) => r.cylinder === at.cylinder && r.strokes.length > 0);
  const all = result.truth.readings.map((r) => r.cylinder);
  return h('div', { class: 'chooser', key: 'chooser', 'aria-busy': result.wanted ? 'true' : null },
    h('div', { class: 'segments', role: 'group', 'aria-label': t('debrief.inside.cylinder') }, all.map((c) => h('button', {
      type: 'button', key: c, 'data-act': 'look', 'data-cylinder': c, 'aria-pressed': String(c === at.cylinder), 'aria-label': t('cylinder', { cylinder: c }), onclick: () => lookInside(app, c, 0) }, c))),
    h('label', { class: 'inline grow', key: 'run' }, h('span', null, t('debrief.inside.run')),
      h('select', { name: 'inside-run', value: String(at.run), onchange: (e) => lookInside(app, at.cylinder, Number(e.target.value)) },
        [h('option', { value: '0', key: 0, selected: at.run === 0 }, t('debrief.inside.book')),
          ...mine.map((r) => h('option', { value: String(r.id), key: r.id, selected: at.run === r.id }, t(r.oil_ml > 0 ? 'debrief.inside.wet' : 'debrief.inside.dry', { time: duration(r.minutes) })))])));
}

/** The moment the reading was lost. */
function lost(app, seen) {
  const { unit } = app.state;
  const peaks = { peak: pressure(seen.peak_pa, unit), sound: pressure(seen.sound_peak_pa, unit) };
  if (!seen.lost) return h('p', { key: 'lost' }, t(Math.abs(seen.peak_pa - seen.sound_peak_pa) < 0.03 * seen.sound_peak_pa ? 'debrief.lost.nothing' : 'debrief.lost.elsewhere', peaks));
  const most = seen.losses.reduce((a, b) => (b.share - b.sound_share > a.share - a.sound_share ? b : a));
  return h('p', { key: 'lost', 'data-out': 'lost' }, t('debrief.lost', { ...peaks, deg: number(Math.abs(seen.lost_deg)), path: t(`path.${most.path}`), share: number(100 * (most.share - most.sound_share)) }));
}

function losses(seen) {
  const rows = seen.losses.filter((l) => Math.abs(l.share) >= 0.001 || Math.abs(l.sound_share) >= 0.001);
  if (rows.length === 0) return null;
  return grid(t('debrief.losses.caption'), ['path', 'this', 'sound'].map((c) => t(`debrief.column.${c}`)),
    rows.map((l) => [t(`path.${l.path}`), `${number(100 * l.share, 1)} %`, `${number(100 * l.sound_share, 1)} %`]), { key: 'losses' });
}

// Faults of cylinders that mean all of them when none is named; what is left is of the engine or a tool.
const wherever = new Set(['exhaust_lash', 'intake_lash', 'weak_spring', 'worn_rings', 'dry_bore', 'washed_bore', 'carbon']);

/** One fault in words, with where it is unless that is known. */
export function faultText(f, place = true) {
  const list = f.cylinders?.length ? f.cylinders : f.cylinder ? [f.cylinder] : [];
  if (f.kind === 'cam_timing') {
    const n = Math.abs(f.teeth_late);
    const where = f.bank ? t('fault.bank', { bank: f.bank }) : t('cylinders.all');
    return `${t(f.teeth_late < 0 ? 'fault.cam_timing.early' : 'fault.cam_timing.late', { n, cam: t(`cam.${f.cam}`) })}${place ? ` · ${where}` : ''}`;
  }
  const part = place && (list.length > 0 || wherever.has(f.kind));
  return part ? `${t(`fault.${f.kind}`)} · ${cylinders(list)}` : t(`fault.${f.kind}`);
}
