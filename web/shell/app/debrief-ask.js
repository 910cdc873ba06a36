// What the Debrief asks of the desk: the grade first, then the parts, one after the
// other, so that the page shows each as soon as it is there.

import { ask } from './desk.js';
import { asked } from './debrief-part.js';
import { askCode } from './handin.js';

/**
 * Has an attempt graded and its parts worked out. What doesn't come can be asked for
 * again.
 * @param {Object} app
 * @param {function()} graded called when the grade is there
 */
export async function askDebrief(app, graded) {
  const { result, custom } = app.state;
  const tell = (change) => { Object.assign(result, change); app.redraw(); };
  if (!result.grade) {
    tell({ error: null });
    try {
      tell(await ask('debrief', { attempt: result.file, scenario: custom }));
    } catch (error) {
      tell({ error });
      return;
    }
    graded();
  }
  await askCode(result).catch(() => {}); // a moment's work now, so that it can be copied at a touch; asked again then
  for (const name of asked) {
    if (app.state.result !== result) return; // another job has been opened
    await askPart(app, name);
  }
}

/** Asks for one part, unless it is there or on its way. */
export async function askPart(app, name) {
  const { result, custom } = app.state;
  const work = (result.work ??= {});
  if (result[name] || (work[name] && !work[name].error)) return;
  const tell = (change) => { work[name] = change; app.redraw(); };
  tell({});
  const body = { attempt: result.file, scenario: custom };
  if (name === 'inside') Object.assign(body, { cylinder: suspect(result), run: 0 });
  try {
    result[name] = await ask(name, body, (done, of) => tell({ done, of }));
    tell(null);
  } catch (error) {
    tell({ error });
  }
}

/** Looks into another cylinder, or into one as it was in a run of the attempt. */
export async function lookInside(app, cylinder, run) {
  const { result, custom } = app.state;
  const wanted = { cylinder, run };
  result.wanted = wanted;
  app.redraw();
  try {
    const seen = await ask('inside', { attempt: result.file, scenario: custom, ...wanted });
    if (result.wanted !== wanted) return; // something else has been asked for since
    Object.assign(result, { inside: seen, insideError: null });
    result.work.inside = null;
  } catch (error) {
    if (result.wanted !== wanted) return;
    result.insideError = error;
  }
  result.wanted = null;
  app.redraw();
}

/** The cylinder to look into first: one of the answer, else the lowest. */
export function suspect({ truth }) {
  const list = truth.readings;
  return truth.key.cylinders?.[0] ?? list.reduce((low, r) => (r.final_psi < low.final_psi ? r : low), list[0])?.cylinder ?? 1;
}
