// Where the hands go on with what the coach proposes and can't do for the student:
// writing, deciding, letting go of the switch.

const places = {
  spec: 'select[name="page"]', spec_other_page: 'select[name="page"]', count_then_stop: '[data-act="starter"]', hold_then_stop: '[data-act="starter"]',
  conclude: 'select[name="family"]', sure: '[data-act^="sure."]', evidence: 'input[data-evidence]', next_test: 'select[name="next-test"]',
  remark: 'textarea[name="remark"]', hand_in: '[data-act="hand-in"]',
};

/** The controls that a suggestion is about; '' when it names none. */
function selectorOf(suggest) {
  if (suggest.key !== 'write') return places[suggest.key] ?? '';
  const what = suggest.field === 'heard' ? '[data-act="heard"]' : `[data-field="${suggest.field}"]`;
  return suggest.cylinder ? `${what}[data-cylinder="${suggest.cylinder}"]` : what;
}

/**
 * The control that a suggestion is about, one in sight if there is one.
 * @param {{key: string, field?: string, cylinder?: number}} suggest
 * @returns {Element|null}
 */
export function placeOf(suggest) {
  const selector = selectorOf(suggest);
  const all = selector ? [...document.querySelectorAll(selector)] : [];
  return all.find((el) => el.checkVisibility()) ?? all[0] ?? null;
}

/** Goes there: opens what it lies in, brings it into sight, gives it the focus. */
export function goThere(app, suggest) {
  const el = placeOf(suggest);
  if (!el) return;
  const stage = el.closest('[role="tabpanel"][hidden]')?.id.replace('stage-', '');
  if (stage) app.set({ stage });
  el.closest('details:not([open])')?.setAttribute('open', '');
  requestAnimationFrame(() => {
    el.scrollIntoView({ block: 'center' });
    el.focus({ preventScroll: true });
  });
}

/** Whether there is such a place. */
export const hasPlace = (suggest) => selectorOf(suggest) !== '';
