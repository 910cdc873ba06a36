// The Desk: the instructor's place. One job, a class of them, what comes back.
// It is fetched when somebody goes there; what it works out it asks the second program.

import { h } from './dom.js';
import { deskHead, isLarge, openPart } from './office-head.js';
import { jobSection } from './office-job.js';
import { classSection } from './office-class.js';
import { collectSection } from './office-collect.js';

export { isLarge, namesHidden, shownName } from './office-head.js';

const sections = { job: jobSection, class: classSection, collect: collectSection };

/** The page of the Desk. */
export function office(app) {
  const part = openPart();
  return h('main', { class: isLarge() ? 'office large' : 'office', id: 'main', key: 'office', tabindex: '-1' },
    deskHead(app),
    h('div', { class: 'office-part', role: 'tabpanel', key: part, id: `desk-${part}`, 'aria-labelledby': `desk-tab-${part}` }, sections[part](app)));
}
